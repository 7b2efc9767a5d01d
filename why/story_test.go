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
			"That completes K1.no – KT1: KT1 (Warning time) picks up and begins to time its 4 s.",
		1500 * time.Millisecond: "S1 is let go.",
		5 * second:              "KT1 has been energised for its whole 4 s, so KT1.notc closes. That completes KT1.notc – M1: M1 (Packing belt) picks up.",
		12 * second: "S0 is pressed. That interrupts S0 – K1.no – K1: K1 drops out. That interrupts K1.no – KT1: " +
			"KT1 drops out; KT1.notc opens at once. That interrupts KT1.notc – M1: M1 drops out.",
	} {
		if got := told(r, at); got != want {
			t.Errorf("at %v:\n  %s\nnot\n  %s", at, got, want)
		}
	}
}

// A timer's contact that waits and the one that does not are told apart on a
// path, and so are a contact and the coil at its end.
func TestContactsOnAPath(t *testing.T) {
	r := run(t, runOn)
	for at, want := range map[time.Duration]string{
		second: "S1 is pressed. That completes S0 – S1.no – KT1: KT1 picks up; KT1.noto closes at once. " +
			"S1.nc interrupts S1.nc – H1: H1 goes out. KT1.noto completes KT1.noto – F2 – M2: M2 picks up. " +
			"That completes S2.auto – KT1.no – M2.no – M1: M1 picks up.",
		10 * second: "S0 is pressed. That interrupts S0 – KT1.no – KT1: KT1 drops out and begins to time its 8 s. " +
			"That interrupts S2.auto – KT1.no – M2.no – M1: M1 drops out.",
		18 * second: "KT1 has been de-energised for its whole 8 s, so KT1.noto opens. That interrupts KT1.noto – F2 – M2: M2 drops out.",
	} {
		if got := told(r, at); got != want {
			t.Errorf("at %v:\n  %s\nnot\n  %s", at, got, want)
		}
	}
}

// The same names stand in an answer.
func TestContactsOnAPathOfAnAnswer(t *testing.T) {
	answers(t, runOn, `
M2 at 12 s: M2 is energised at 12 s, since 1 s: it is fed through KT1.noto – F2. KT1, an off-delay timer, has been de-energised since 10 s and has run 2 s of its 8 s.
M1 at 12 s: M1 is not energised at 12 s: in S2.auto – KT1.no – M2.no – M1, KT1.no is open. KT1 is not energised: in S0 – S1.no – KT1, S1.no is open. S1 was let go at 2 s. M1 does not pick up again before the run ends at 20 s.
`)
}

// runOn has a timer with both kinds of contact, a button with two and hands
// with one.
const runOn = `S0 button
S1 button
S2 selector auto hand
F2 overload
KT1 off-delay 8 s
M1 contactor
M2 contactor
H1 lamp
1: S0.nc (S1.no | KT1.no) -> KT1
2: KT1.noto -> M2 -> F2.nc
3: S2.auto KT1.no M2.no -> M1
4: S1.nc -> H1
script "Run-on"
  1 s press S1 for 1 s
  10 s press S0 for 1 s
  end 20 s
`

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
