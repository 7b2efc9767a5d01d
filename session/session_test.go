package session_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/diag"
	"tarry/notation"
	"tarry/session"
	"tarry/trace"
)

// read reads a circuit without faults.
func read(t *testing.T, text string) *circuit.Circuit {
	t.Helper()
	file, diagnostics := notation.Read("test", []byte(text))
	if diag.HasErrors(diagnostics) {
		t.Fatal(diag.Show("test", []byte(text), diagnostics))
	}
	return file.Circuit
}

// hand makes an action of words: "press S1", "turn S2 to 1".
func hand(t *testing.T, c *circuit.Circuit, words string) circuit.Action {
	t.Helper()
	verb, rest, _ := strings.Cut(words, " ")
	a := circuit.Action{Verb: circuit.VerbOf(verb), Device: circuit.NoDevice}
	tag, position, _ := strings.Cut(rest, " to ")
	for i := range c.Devices {
		if c.Devices[i].Tag == tag {
			a.Device = circuit.DeviceID(i)
			a.Position = slices.Index(c.Devices[i].Positions, position)
		}
	}
	if a.Verb == circuit.NoVerb || a.Device == circuit.NoDevice {
		t.Fatalf("nobody can %q", words)
	}
	return a
}

// on reports whether the signal is on where the cursor stands.
func on(t *testing.T, s *session.Session, name string) bool {
	t.Helper()
	sig, found := s.Trace().Circuit.FindSignal(name)
	if !found {
		t.Fatalf("there is no signal %s", name)
	}
	return s.Trace().SignalAt(sig, trace.Settled(s.Now()))
}

const second = time.Second

const delayed = `S1  switch
S2  button
S3  selector off slow fast
KT1 on-delay 5 s
K1  relay
H1  lamp
1:  S1.no             -> KT1
2:  KT1.notc          -> H1
3:  (S2.no | S3.fast) -> K1
`

const flashing = `S1  switch
KT1 flasher 100 ms 100 ms
H1  lamp
1:  S1.no    -> KT1
2:  KT1.tno  -> H1
`

// An hour of flashing takes no more room than a minute.
func TestAnHourOfFlashing(t *testing.T) {
	c := read(t, flashing)
	s := session.New(c, nil, session.Options{Keep: 1000})
	s.Move(second)
	s.Do(hand(t, c, "close S1"))
	most := 0
	for s.Now() < time.Hour {
		if !s.Move(s.Now() + 7*second) {
			t.Fatalf("gave up at %v", s.Now())
		}
		most = max(most, s.Trace().Len())
	}
	if most > 1020 {
		t.Errorf("%d events were on record", most)
	}
	if kept := s.Known() - s.From(); kept < 20*second || s.Trace().Len() < 500 {
		t.Errorf("the record goes back over %v and has %d events", kept, s.Trace().Len())
	}
	s.Move(0)
	if s.Now() != s.From() {
		t.Errorf("the cursor went back to %v instead of %v", s.Now(), s.From())
	}
	s.Do(hand(t, c, "open S1"))
	s.Move(s.Now() + second)
	if on(t, s, "H1") || s.Known() != s.Now() || len(s.Actions()) != 2 {
		t.Errorf("opening S1 at %v did not count: %v", s.Now(), s.Actions())
	}
}

// A Move that would make very many events gives up and can be gone on with.
func TestMoveGivesUp(t *testing.T) {
	text := strings.Replace(flashing, "100 ms 100 ms", "1 ms 1 ms", 1)
	for i := range 20 {
		text += fmt.Sprintf("H%d lamp\n%d: KT1.tno -> H%d\n", i+2, i+3, i+2)
	}
	c := read(t, text)
	s := session.New(c, nil, session.Options{Keep: 1_500_000}) // more than one instant may make
	s.Do(hand(t, c, "close S1"))
	to := 2 * time.Minute
	moves := 1
	for ; !s.Move(to); moves++ {
		if s.Now() != s.Known() || s.Now() >= to {
			t.Fatalf("gave up at %v of %v", s.Now(), s.Known())
		}
	}
	if moves != 3 || s.Now() != to || s.Trace().Ending != trace.Running {
		t.Errorf("got to %v in %d moves, ending %v", s.Now(), moves, s.Trace().Ending)
	}
}

// A hand comes after what was seen to fall due, and hands at one instant
// together.
func TestHandsActOnWhatIsSeen(t *testing.T) {
	c := read(t, delayed)
	s := session.New(c, nil, session.Options{})
	s.Do(hand(t, c, "close S1"))
	if at, any := s.Next(); !any || at != 5*second {
		t.Fatalf("after the start comes %v", at)
	}
	s.Move(5 * second)
	s.Do(hand(t, c, "open S1"))
	if on(t, s, "H1") || s.Now() != 5*second+time.Millisecond || len(s.Trace().Notices) != 0 {
		t.Errorf("opened at %v, with %v", s.Now(), s.Trace().Notices)
	}
	s.Move(5 * second)
	if !on(t, s, "H1") {
		t.Error("what fell due at 5 s was undone")
	}
	s.Move(2 * second)
	s.Do(hand(t, c, "press S2"))
	s.Do(hand(t, c, "open S1"))
	s.Move(20 * second)
	if s.Move(2 * second); !on(t, s, "K1") || on(t, s, "KT1") || len(s.Actions()) != 3 {
		t.Errorf("at 2 s were done %v", s.Actions())
	}
}

// What nobody can do is left out, wherever it comes from.
func TestImpossibleActions(t *testing.T) {
	c := read(t, delayed)
	none := circuit.NoDevice
	bad := []circuit.Action{
		{Verb: circuit.Press, Device: 0}, {Verb: circuit.Press, Device: 99}, {Verb: circuit.Close, Device: none},
		{Verb: circuit.SupplyOff, Device: 0}, {Verb: circuit.Turn, Device: 2, Position: 3}, {Verb: circuit.Turn, Device: 2, Position: -1},
		{Verb: circuit.SetPreset, Device: 3}, {Verb: circuit.SetPreset, Device: 3, Presets: [2]time.Duration{second, second}},
		{Verb: circuit.SetPreset, Device: 3, Presets: [2]time.Duration{-second}}, {Device: 0},
	}
	s := session.New(c, bad, session.Options{})
	s.Do(bad...)
	if got := s.Actions(); len(got) != 0 || s.Trace().Len() != 1 {
		t.Errorf("done: %v", got)
	}
}

// Presses become "press … for …" where that says the same.
func TestScriptHoldsButtons(t *testing.T) {
	c := read(t, delayed+"S4 button\nH4 lamp\n4: S4.no -> H4\n")
	type step struct {
		at    time.Duration
		hands string
	}
	for _, x := range []struct {
		steps []step
		want  string
	}{
		{[]step{{1, "press S2"}, {3, "release S2"}}, "[1s press 1 2s]"},
		{[]step{{1, "press S2"}}, "[1s press 1 0s]"},
		{[]step{{1, "press S2"}, {1, "release S2"}}, "[1s press 1 0s 1s release 1 0s]"},
		{[]step{{1, "press S2"}, {2, "press S4"}, {3, "release S2"}, {3, "release S4"}}, "[1s press 1 2s 2s press 6 1s]"},
		{[]step{{1, "press S2"}, {2, "press S4"}, {3, "release S4"}, {3, "release S2"}}, "[1s press 1 0s 2s press 6 1s 3s release 1 0s]"},
		{[]step{{1, "press S2"}, {3, "close S1"}, {3, "release S2"}}, "[1s press 1 0s 3s close 0 0s 3s release 1 0s]"},
		{[]step{{1, "press S2"}, {3, "release S2"}, {3, "close S1"}}, "[1s press 1 2s 3s close 0 0s]"},
		{[]step{{1, "press S2"}, {2, "press S2"}, {3, "release S2"}}, "[1s press 1 0s 2s press 1 1s]"},
	} {
		s := session.New(c, nil, session.Options{})
		for _, h := range x.steps {
			s.Move(h.at * second)
			s.Do(hand(t, c, h.hands))
		}
		script := s.Script("by hand")
		var got []string
		for _, a := range script.Actions {
			got = append(got, fmt.Sprint(a.At, a.Verb, a.Device, a.For))
		}
		if fmt.Sprint(got) != x.want {
			t.Errorf("%v becomes %v, not %s", x.steps, got, x.want)
		}
		if last := x.steps[len(x.steps)-1].at * second; script.Name != "by hand" || script.End != last+second {
			t.Errorf("%q ends at %v after a last action at %v", script.Name, script.End, last)
		}
	}
}

// An edited circuit gets the same actions, found by tag and position.
func TestRebuild(t *testing.T) {
	c := read(t, delayed)
	s := session.New(c, nil, session.Options{})
	for i, words := range []string{"close S1", "press S2", "turn S3 to slow", "turn S3 to fast", "release S2"} {
		s.Move(time.Duration(i+1) * second)
		s.Do(hand(t, c, words))
	}
	s.Move(4 * second)
	edited := read(t, `S3  selector off fast
S1  switch
S2  switch
K1  relay
H1  lamp
1:  S3.fast  -> K1
2:  S1.no    -> H1
3:  S2.no    -> H2
H2  lamp
`)
	n, left := s.Rebuild(edited)
	if left != 3 || n.Now() != s.Now() || !on(t, n, "K1") || !on(t, n, "H1") {
		t.Errorf("%d actions left out, at %v: %v", left, n.Now(), n.Actions())
	}
	if got := n.Actions(); len(got) != 2 || got[1].At != 4*second || got[1].Position != 1 {
		t.Errorf("it does %v", got)
	}
}

// A run that ends by itself takes no more hands, but one can go back.
func TestARunThatEndsByItself(t *testing.T) {
	c := read(t, `S1  switch
S2  switch
K1  relay
1:  S1.no K1.nc  -> K1
2:  S2.no        -> H1
H1  lamp
`)
	s := session.New(c, nil, session.Options{})
	s.Move(second)
	s.Do(hand(t, c, "close S1"))
	if s.Move(5 * second); s.Now() != second || s.Trace().Ending != trace.Chattering {
		t.Fatalf("stands at %v, ending %v", s.Now(), s.Trace().Ending)
	}
	s.Do(hand(t, c, "close S2"))
	if _, any := s.Next(); any || len(s.Actions()) != 1 {
		t.Errorf("after its end, %v", s.Actions())
	}
	s.Move(second / 2)
	s.Do(hand(t, c, "close S2"))
	if s.Move(5 * second); !on(t, s, "H1") || s.Now() != 5*second || s.Trace().Ending != trace.Running {
		t.Errorf("stands at %v, ending %v", s.Now(), s.Trace().Ending)
	}
}
