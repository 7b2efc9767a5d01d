package why_test

import (
	"strings"
	"testing"
	"time"

	"tarry/engine"
	"tarry/notation"
	"tarry/why"
)

func TestExplainOnDelay(t *testing.T) {
	answers(t, warning, `
M1 at 500 ms: M1 (Packing belt) is not energised at 500 ms: in KT1.notc – M1, KT1.notc is open. KT1 (Warning time), an on-delay timer, has not been energised yet. KT1 is not energised: in K1.no – KT1, K1.no is open. K1 is not energised: in S0 – S1 – K1, S1.no is open. S1 (Start) has not been pressed yet. M1 picks up at 5 s.
M1 at 3.2 s: M1 (Packing belt) is not energised at 3.2 s: in KT1.notc – M1, KT1.notc is open. KT1 (Warning time), an on-delay timer, has been energised since 1 s and has run 2.2 s of its 4 s. M1 picks up at 5 s.
M1 at 5 s: M1 (Packing belt) is energised at 5 s, since this very instant: it is fed through KT1.notc. KT1 (Warning time), an on-delay timer, has been energised since 1 s and has run its whole 4 s.
M1 at 13 s: M1 (Packing belt) is not energised at 13 s: in KT1.notc – M1, KT1.notc is open. KT1 (Warning time), an on-delay timer, has been de-energised since 12 s. KT1 is not energised: in K1.no – KT1, K1.no is open. K1 is not energised: in S0 – S1 – K1, S1.no is open. S1 (Start) was let go at 1.5 s. M1 does not pick up again before the run ends at 20 s.
K1 at 12.2 s: K1 is not energised at 12.2 s: in S0 – S1 – K1, S0.nc and S1.no are open. S0 was pressed at 12 s. S1 (Start) was let go at 1.5 s. K1 does not pick up again before the run ends at 20 s.
KT1.notc at 3 s: KT1.notc is open at 3 s: KT1 (Warning time), an on-delay timer, has been energised since 1 s and has run 2 s of its 4 s.
S1.no at 1.2 s: S1.no is closed at 1.2 s: S1 (Start) was pressed at 1 s.
S0.nc at 0 s: S0.nc is closed at 0 s: S0 has not been pressed yet.
`)
}

func TestExplainCutShort(t *testing.T) {
	cut := strings.Replace(strings.Replace(warning, "12 s   press", "3 s   press", 1), "end 20 s", "end 10 s", 1)
	answers(t, cut, `
KT1.notc at 6 s: KT1.notc is open at 6 s: KT1 (Warning time), an on-delay timer, has been de-energised since 3 s; it had run 2 s of its 4 s when S0 was pressed at 3 s. KT1 is not energised: in K1.no – KT1, K1.no is open. K1 is not energised: in S0 – S1 – K1, S1.no is open. S1 (Start) was let go at 1.5 s.
M1 at 2 s: M1 (Packing belt) is not energised at 2 s: in KT1.notc – M1, KT1.notc is open. KT1 (Warning time), an on-delay timer, has been energised since 1 s and has run 1 s of its 4 s. M1 does not pick up before the run ends at 10 s.
`)
}

func TestExplainOtherTimers(t *testing.T) {
	answers(t, `S1 switch
KT1 off-delay 4 s electronic
KT2 on-off-delay 3 s, 2 s
KT3 flasher 1 s, 500 ms
KT4 star-delta 2 s gap 100 ms
KT5 pulse-on-release 2 s
KT6 accumulating 5 s
1: S1.no -> KT1, KT2, KT3, KT4, KT5, KT6
2: KT1.noto KT2.tno KT3.tno KT4.star KT4.delta KT5.tno KT6.tno -> H1
H1 lamp
script "All"
  1 s close S1 for 3 s
  6 s supply off for 1 s
  8 s close S1
  10.05 s open S1
  end 14 s
`, `
KT1.noto at 5 s: KT1.noto is closed at 5 s: KT1, an off-delay timer, has been de-energised since 4 s and has run 1 s of its 4 s.
KT1.noto at 7.5 s: KT1.noto is open at 7.5 s: KT1, an off-delay timer, has been de-energised since 4 s; it had run 2 s of its 4 s when the supply failed at 6 s. KT1 is not energised: in S1 – KT1, S1.no is open. S1 was opened at 4 s.
KT2.tno at 2 s: KT2.tno is open at 2 s: KT2, an on-off-delay timer, has been energised since 1 s and has run 1 s of its 3 s.
KT3.tno at 1.2 s: KT3.tno is closed at 1.2 s: KT3, a flasher timer, has been energised since 1 s and has run 200 ms of its on time, 1 s.
KT3.tno at 2.2 s: KT3.tno is open at 2.2 s: KT3, a flasher timer, has been energised since 1 s and has run 200 ms of its off time, 500 ms.
KT4.star at 2 s: KT4.star is closed at 2 s: KT4, a star-delta timer, has been energised since 1 s and has run 1 s of its 2 s in star.
KT4.delta at 3.05 s: KT4.delta is open at 3.05 s: KT4, a star-delta timer, has been energised since 1 s and has run 50 ms of its gap, 100 ms.
KT4.star at 3.5 s: KT4.star is open at 3.5 s: KT4, a star-delta timer, has been energised since 1 s and has changed over to delta.
KT4.delta at 11 s: KT4.delta is open at 11 s: KT4, a star-delta timer, has been de-energised since 10.05 s; it had run 50 ms of its 100 ms when S1 was opened at 10.05 s. KT4 is not energised: in S1 – KT4, S1.no is open. S1 was opened at 10.05 s.
KT5.tno at 2 s: KT5.tno is open at 2 s: KT5, a pulse-on-release timer, has been energised since 1 s; its pulse begins when it drops out.
KT6.tno at 5 s: KT6.tno is open at 5 s: KT6, an accumulating timer, has been de-energised since 4 s; its time stands at 3 s of its 5 s. KT6 is not energised: in S1 – KT6, S1.no is open. S1 was opened at 4 s.
`)
}

func TestExplainHands(t *testing.T) {
	answers(t, `S1 selector hand auto
B1 limit
F1 overload
M1 motor
H1 lamp
1: S1.auto B1.no -> M1 -> F1.nc
2: S1.hand       -> H1
script "Hands"
  1 s turn S1 to auto
  2 s close B1
  3 s trip F1
  4 s reset F1
  5 s supply off
  end 6 s
`, `
M1 at 500 ms: M1 is off at 500 ms: in S1.auto – B1 – F1 – M1, S1.auto and B1.no are open. S1 stands in hand. B1 has not operated yet. M1 comes on at 2 s.
M1 at 2.5 s: M1 is on at 2.5 s, since 2 s: it is fed through S1.auto – B1 – F1.
M1 at 3.5 s: M1 is off at 3.5 s: in S1.auto – B1 – F1 – M1, F1.nc is open. F1 tripped at 3 s. M1 comes on again at 4 s.
M1 at 5.5 s: M1 is off at 5.5 s: the supply is off. M1 does not come on again before the run ends at 6 s.
S1.hand at 4 s: S1.hand is open at 4 s: S1 was turned to auto at 1 s.
F1.nc at 4 s: F1.nc is closed at 4 s: F1 was reset at 4 s.
B1.no at 5 s: B1.no is closed at 5 s: B1 operated at 2 s.
`)
}

func TestExplainKeptPositions(t *testing.T) {
	answers(t, `S1 button
S2 button
K1 latching relay
K2 stepping relay
C1 counter 2
H1 lamp
1: S1.no -> K1.set, K2, C1
2: S2.no -> K1.reset
3: K1.no K2.nc C1.no -> H1
script "Kept"
  1 s press S1 for 200 ms
  2 s press S1 for 200 ms
  3 s press S2
  end 4 s
`, `
K1 at 500 ms: K1 is at rest at 500 ms: K1 has not been set yet. The set coil of K1 is not energised: in S1 – K1.set, S1.no is open. S1 has not been pressed yet.
K1 at 1.5 s: K1 is operated at 1.5 s: K1 was set at 1 s.
K1.no at 3.5 s: K1.no is open at 3.5 s: K1 was reset at 3 s.
K2.nc at 1.5 s: K2.nc is open at 1.5 s: K2 changed over at 1 s.
K2.nc at 2.5 s: K2.nc is closed at 2.5 s: K2 changed back at 2 s.
C1.no at 1.5 s: C1.no is open at 1.5 s: C1 has counted 1 of its 2. C1 is not energised: in S1 – C1, S1.no is open. S1 was let go at 1.2 s.
C1.no at 2.5 s: C1.no is closed at 2.5 s: C1 has counted 2 of its 2.
H1 at 2.5 s: H1 is on at 2.5 s, since 2 s: it is fed through K1.no – K2.nc – C1.no.
`)
}

func TestExplainRelays(t *testing.T) {
	answers(t, `S1 switch
K1 relay operate 20 ms release 10 ms
K2 relay
H1 lamp
H2 lamp
H3 lamp
1: S1.no -> K1
2: K1.no -> K2
3: K2.nc -> H1
4: K1.no K2.nc -> H2
5: K2.no -> H3 -> @m
6: @m -> H4
H4 lamp
script "Relays"
  1 s close S1
  end 2 s
`, `
H1 at 500 ms: H1 is on at 500 ms, since the start: it is fed through K2.nc.
H1 at 1.5 s: H1 is off at 1.5 s: in K2.nc – H1, K2.nc is open. K2 is energised, since 1.02 s: it is fed through K1.no. H1 does not come on again before the run ends at 2 s.
K1.no at 1.01 s: K1.no is open at 1.01 s: K1 has been energised since 1 s, but its contacts are still on their way. K1 is energised, since 1 s: it is fed through S1.no.
K2.nc at 1.5 s: K2.nc is open at 1.5 s: it follows the coil. K2 is energised, since 1.02 s: it is fed through K1.no.
H2 at 1.02 s: H2 is off at 1.02 s: in K1.no – K2.nc – H2, K2.nc is open. K2 is energised, since this very instant: it is fed through K1.no. H2 does not come on again before the run ends at 2 s. H2 moved to and fro within this instant.
H3 at 1.5 s: H3 is off at 1.5 s: contacts alone do not join it to both rails; it stands in series with H4, and the two share the supply. H3 does not come on before the run ends at 2 s.
`)
}

// Where a run broke off, the answer is why.
func TestExplainABrokenRun(t *testing.T) {
	text := "S1 switch\nS2 switch\nK1 relay\n1: S1.no K1.nc -> K1\n2: @L+ S2.no -> @L-\nscript \"a\"\n  1 s close S1\n  end 3 s\n"
	answers(t, text, `
K1 at 1 s: Chatter: K1 never settles. It drops itself out through its own contact K1.nc in S1 – K1.nc – K1. The run ends here; with declared travel times it would buzz.
`)
	answers(t, strings.Replace(text, "close S1", "close S2", 1), `
K1 at 1 s: Short circuit: S2.no joins the two rails. The run ends here.
`)
}

// The story leads from the hand to the signal.
func TestExplainTellsTheStory(t *testing.T) {
	r := run(t, warning)
	s, _ := r.Circuit.FindSignal("M1")
	at, _ := notation.ParseTime("6 s")
	got := strings.Join(why.Explain(r, s, at).Story, "\n")
	want := `1 s: S1 (Start) is pressed.
1 s: That completes S0 – S1 – K1: K1 picks up.
1 s: That completes K1.no – KT1: KT1 (Warning time) picks up and begins to time its 4 s.
5 s: KT1 has been energised for its whole 4 s, so KT1.notc closes.
5 s: That completes KT1.notc – M1: M1 (Packing belt) picks up.`
	if got != want {
		t.Errorf("the story is\n%s", got)
	}
}

// TestSupply: nothing but a hand or the line moves the supply.
func TestSupply(t *testing.T) {
	file, _ := notation.Read("t", []byte("S1 switch\nH1 lamp\n1: S1.no -> H1\nscript \"a\"\n2 s supply off\n4 s supply on\nend 9 s\n"))
	tr := engine.Run(file.Circuit, &file.Circuit.Scripts[0], engine.Options{})
	for _, x := range []struct {
		at   time.Duration
		on   bool
		says string
	}{
		{time.Second, true, "has been on since the run began"},
		{2 * time.Second, false, "switched off, at 2 s"},
		{3 * time.Second, false, "switched off, at 2 s"},
		{5 * time.Second, true, "came back at 4 s"},
	} {
		if on, answer := why.Supply(tr, x.at); on != x.on || !strings.Contains(answer, x.says) {
			t.Errorf("at %v: %v, %s", x.at, on, answer)
		}
	}
}
