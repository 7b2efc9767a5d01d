package why_test

import (
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/trace"
	"tarry/why"
)

func TestAssumptions(t *testing.T) {
	ideal := run(t, warning)
	if got := strings.Join(why.Assumptions(ideal.Circuit), " "); got != "Contacts and coils take no time and do not bounce. A hand and a time-out at one instant: the hand first." {
		t.Error(got)
	}
	r := run(t, `S1 switch
K1 relay operate 20 ms
KT1 off-delay 1 s
KT2 off-delay 1 s
KT3 pulse 1 s electronic
KT4 on-delay 1 s
H1 lamp
1: S1.no -> K1, KT1, KT2, KT3, KT4
2: K1.no KT1.noto KT2.noto KT3.tno KT4.notc -> H1
script "a"
  end 1 s
`)
	want := "Contacts take no time but those of K1 (20 ms to operate, no time to release). Without supply, KT1 and KT2 finish timing (air). " +
		"Without supply, KT3 returns to rest at once (electronic). A hand and a time-out at one instant: the hand first."
	if got := strings.Join(why.Assumptions(r.Circuit), " "); got != want {
		t.Error(got)
	}
}

// Notices that a small circuit does not bring about.
func TestRareNotices(t *testing.T) {
	r := run(t, warning)
	k1, m1 := r.Circuit.Find("K1"), r.Circuit.Find("M1")
	for _, c := range []struct {
		n    trace.Notice
		want string
	}{
		{trace.Notice{Kind: trace.RaceSkip, Devices: []circuit.DeviceID{k1, m1}},
			"Race not looked into: K1 and M1 react in the same moment, too many (or too often) to try every order."},
		{trace.Notice{Kind: trace.Limit},
			"Stopped: too many events. What was found until here is shown; look for a circuit that switches without end."},
		{trace.Notice{Kind: trace.Short}, "Short circuit: wire alone joins the two rails. The run ends here."},
		{trace.Notice{Kind: trace.Race, Devices: []circuit.DeviceID{k1, m1}, Outcomes: [2][]trace.Outcome{
			{{Device: circuit.NoDevice, Value: int(trace.Chattering)}}, {{Device: circuit.NoDevice, Value: int(trace.Finished)}}}},
			"Race: K1 and M1 react in the same moment. All at once, it ends with chatter; one after the other, it can end with a settled circuit."},
	} {
		if got := why.Notice(r, c.n); got != c.want {
			t.Errorf("%s\nnot\n%s", got, c.want)
		}
	}
}

// Ways in which a hand has no effect, on every kind of thing.
func TestNoEffect(t *testing.T) {
	r := run(t, `S1 button
S2 switch
B1 float
F1 overload
H1 lamp
1: S1.no S2.no B1.no F1.nc -> H1
script "a"
  1 s release S1
  2 s press S1
  3 s press S1
  4 s open S2
  5 s open B1
  6 s close B1
  7 s close B1
  8 s trip F1
  9 s trip F1
  end 10 s
`)
	var got []string
	for _, n := range r.Notices {
		got = append(got, strings.TrimSuffix(strings.TrimPrefix(why.Notice(r, n), "No effect: "), "."))
	}
	want := "S1 is not pressed, S1 is pressed already, S2 is open already, B1 is at rest already, B1 has operated already, F1 has tripped already"
	if text := strings.Join(got, ", "); text != want {
		t.Error(text)
	}
}
