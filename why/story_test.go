package why_test

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"
	"unicode"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/trace"
	"tarry/why"
)

func TestStory(t *testing.T) {
	r := run(t, warning)
	for at, want := range map[time.Duration]string{
		0: "Everything is at rest.",
		second: "S1 (Start) is pressed. That completes S0 – S1 – K1: K1 picks up. " +
			"That completes K1 – KT1: KT1 (Warning time) picks up and begins to time its 4 s.",
		1500 * time.Millisecond: "S1 is let go.",
		5 * second:              "KT1 has been energised for its whole 4 s, so KT1.notc closes. That completes KT1 – M1: M1 (Packing belt) picks up.",
		12 * second: "S0 is pressed. That interrupts S0 – K1.no – K1: K1 drops out. That interrupts K1 – KT1: " +
			"KT1 drops out; KT1.notc opens at once. That interrupts KT1 – M1: M1 drops out.",
	} {
		if got := told(r, at); got != want {
			t.Errorf("at %v:\n  %s\nnot\n  %s", at, got, want)
		}
	}
}

// The acts and the events of each instant are its own.
func TestInstants(t *testing.T) {
	r := run(t, warning)
	next := trace.ID(0)
	for _, in := range why.Story(r) {
		if in.First != next || in.Last < in.First || r.Event(in.First).At != in.At || r.Event(in.Last).At != in.At {
			t.Errorf("at %v: events %d to %d, not from %d", in.At, in.First, in.Last, next)
		}
		next = in.Last + 1
		if hands := in.At == second || in.At == 12*second; hands && len(in.Acts) != 1 {
			t.Errorf("at %v: the acts %q", in.At, in.Acts)
		}
	}
	if int(next) != r.Len() {
		t.Errorf("the story ends at event %d of %d", next, r.Len())
	}
}

func TestTabulate(t *testing.T) {
	r := run(t, warning)
	table := why.Tabulate(r, why.Story(r))
	names := ""
	for _, s := range table.Columns {
		names += r.Circuit.SignalName(s) + " "
	}
	if names != "K1 KT1 KT1.notc M1 " {
		t.Errorf("the columns are %s", names)
	}
	for i, row := range table.Rows {
		if row.Number != i || len(row.States) != len(table.Columns) {
			t.Errorf("row %d has number %d and %d states", i, row.Number, len(row.States))
		}
	}
	last := table.Rows[4]
	if last.At != 12*second || last.States[0] != (why.State{Changed: true}) || table.Rows[3].States[3] != (why.State{On: true, Changed: true}) {
		t.Errorf("the states at %v are %v", last.At, last.States)
	}
}

// Whatever a circuit does can be told, in sentences that are well formed.
func TestSentencesAreWellFormed(t *testing.T) {
	for i := range uint64(300) {
		c, s := oracle.Random(rand.New(rand.NewPCG(4, i)))
		r := engine.Run(c, s, engine.Options{})
		for _, in := range why.Story(r) {
			for _, text := range in.Sentences {
				wellFormed(t, c, text)
			}
			for _, text := range in.Acts {
				wellFormed(t, c, text+".")
			}
		}
		for _, n := range r.Notices {
			wellFormed(t, c, why.Notice(r, n))
		}
		for _, text := range why.Assumptions(c) {
			wellFormed(t, c, text)
		}
		for _, sig := range r.Signals() {
			explained(t, r, sig)
			wellFormed(t, c, why.Verdict(r, r.Check(circuit.Expect{Signal: sig, Spans: r.Spans(sig)}))+".")
		}
	}
}

// explained asks for a signal at a few moments.
func explained(t *testing.T, r *trace.Trace, s circuit.Signal) {
	for at := time.Duration(0); at <= r.End; at += max(r.End/7, time.Nanosecond) {
		x := why.Explain(r, s, at)
		if len(x.Answer) == 0 || x.On != r.SignalAt(s, trace.Settled(at)) {
			t.Fatalf("%s at %v: %+v", r.Circuit.SignalName(s), at, x)
		}
		for _, text := range x.Answer {
			wellFormed(t, r.Circuit, text)
		}
		for _, text := range x.Story {
			_, rest, _ := strings.Cut(text, ": ")
			wellFormed(t, r.Circuit, rest)
		}
	}
}

// wellFormed fails unless a sentence begins with a capital, ends with a full
// stop and has no gaps.
func wellFormed(t *testing.T, c *circuit.Circuit, text string) {
	t.Helper()
	first, _, _ := strings.Cut(text, " ")
	switch {
	case !strings.HasSuffix(text, "."), !unicode.IsUpper([]rune(text)[0]) && c.Find(first) == circuit.NoDevice && first != "the",
		strings.Contains(text, "  "), strings.Contains(text, ".."+"."), strings.Contains(text, " ,"), strings.Contains(text, " . "),
		strings.Contains(text, ": ."), strings.Contains(text, " ;"), strings.Contains(text, "a contact "):
		t.Errorf("not well formed: %q", text)
	}
}
