package why_test

import (
	"flag"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/trace"
	"tarry/why"
)

// A failure prints the circuit, shrunk; rapid need not keep a file of its own.
func init() { flag.Set("rapid.nofailfile", "true") }

// source lets rapid choose the numbers that a random circuit is made from.
type source struct{ t *rapid.T }

func (s source) IntN(n int) int { return rapid.IntRange(0, n-1).Draw(s.t, "n") }

// A trace that begins later tells and answers what the whole one does from
// there on.
func TestTailsAreToldAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := oracle.Random(source{t})
		whole := engine.Run(c, s, engine.Options{})
		from := whole.Event(trace.ID(rapid.IntRange(0, whole.Len()-1).Draw(t, "from"))).At
		tail, _ := whole.Tail(from)
		var want []why.Instant
		for _, in := range why.Story(whole) {
			if in.At >= from {
				want = append(want, in)
			}
		}
		got := why.Story(tail)
		if len(got) != len(want) {
			t.Fatalf("%d instants from %v instead of %d\n%s", len(got), from, len(want), oracle.Describe(c, s))
		}
		for i, in := range got {
			if in.At != want[i].At || !slices.Equal(in.Sentences, want[i].Sentences) || !slices.Equal(in.Acts, want[i].Acts) {
				t.Fatalf("from %v, at %v: %q\ninstead of %q\n%s", from, in.At, in.Sentences, want[i].Sentences, oracle.Describe(c, s))
			}
			answeredAlike(t, whole, tail, in.At, s)
			answeredAlike(t, whole, tail, in.At+1, s)
		}
	})
}

// answeredAlike asks both traces about every signal. Whether a load comes on for
// the first time is something that a tail cannot know.
func answeredAlike(t *rapid.T, whole, tail *trace.Trace, at time.Duration, s *circuit.Script) {
	for _, sig := range whole.Signals() {
		w, g := why.Explain(whole, sig, at), why.Explain(tail, sig, at)
		want := strings.ReplaceAll(strings.Join(w.Answer, " "), " again", "")
		got := strings.ReplaceAll(strings.Join(g.Answer, " "), " again", "")
		if want != got {
			t.Fatalf("from %v, %s at %v: %s\ninstead of\n%s\n%s", tail.From, tail.Circuit.SignalName(sig), at, got, want, oracle.Describe(tail.Circuit, s))
		}
		for i, line := range g.Story {
			cut := i == 0 && strings.HasPrefix(line, "What led here began before "+circuit.FormatTime(tail.From))
			if !cut && !slices.Contains(w.Story, line) {
				t.Fatalf("from %v, %s at %v: tells %q instead of %q\n%s", tail.From, tail.Circuit.SignalName(sig), at, g.Story, w.Story, oracle.Describe(tail.Circuit, s))
			}
		}
	}
}

// What was dropped is not told; that there was something is.
func TestExplainSaysWhereTheRecordBegins(t *testing.T) {
	r := run(t, warning)
	tail, _ := r.Tail(5 * second)
	cut := "What led here began before 5 s, where the record begins."
	x := why.Explain(tail, signalOf(t, r, "M1"), 6*second)
	if len(x.Story) != 3 || x.Story[0] != cut || strings.Contains(strings.Join(x.Story, " "), "S1") {
		t.Errorf("the story is %q", x.Story)
	}
	tail, _ = r.Tail(12 * second)
	early := why.Explain(tail, signalOf(t, r, "K1"), 2*second)
	if early.At != 12*second || early.On || len(early.Story) == 0 {
		t.Errorf("asked about 2 s, it answers %+v", early)
	}
}

func signalOf(t *testing.T, r *trace.Trace, name string) circuit.Signal {
	t.Helper()
	s, ok := r.Circuit.FindSignal(name)
	if !ok {
		t.Fatalf("there is no signal %s", name)
	}
	return s
}

// A run that breaks off between two positions of a selector can be told.
func TestARunThatBreaksOffInATurn(t *testing.T) {
	r := run(t, `S1  selector a b
S2  switch
K1  relay
K2  relay
1:  S1.a         -> K1
2:  K1.nc @x     -> K2
3:  @x S2.no      -> @L-
script "Short"
  1 s  close S2
  2 s  turn S1 to b
  end 5 s
`)
	got := told(r, 2*second)
	want := "S1 is turned from a. That interrupts S1.a – K1: K1 drops out. Short circuit: K1.nc – S2 joins the two rails. The run ends here."
	if got != want {
		t.Errorf("it is told as\n%s\nnot\n%s", got, want)
	}
}
