package answer_test

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/answer"
	"tarry/circuit"
	"tarry/trace"
)

const s = time.Second

// from makes a line of a start and the seconds at which it changes over.
func from(on bool, at ...time.Duration) []trace.Edge {
	edges := []trace.Edge{{On: on}}
	for _, a := range at {
		on = !on
		edges = append(edges, trace.Edge{At: a * s, On: on})
	}
	return edges
}

func TestKinds(t *testing.T) {
	right := from(false, 5, 10, 20, 30)
	for _, c := range []struct {
		given []trace.Edge
		kind  answer.Kind
		at    time.Duration
		words string
	}{
		{from(false, 5, 10, 20, 30), 0, 0, ""},
		{from(false, 6, 9, 21, 29), 0, 0, ""},
		{nil, answer.NotDrawn, 0, "H1 has no line yet."},
		{from(true, 5, 10, 20, 30), answer.WrongStart, 0, "H1 is off at the start, not on."},
		{from(false, 3, 10, 20, 30), answer.Early, 3, "H1 comes on at 5 s, not at 3 s."},
		{from(false, 5, 12, 20, 30), answer.Late, 10, "H1 goes off at 10 s, not at 12 s."},
		{from(false, 20, 30), answer.Missing, 5, "H1 comes on at 5 s; your line stays off there."},
		{from(false, 5, 30), answer.Missing, 10, "H1 goes off at 10 s; your line stays on there."},
		{from(false, 5, 10, 20), answer.Missing, 30, "H1 goes off at 30 s; your line stays on there."},
		{from(false, 5, 7, 8, 10, 20, 30), answer.Extra, 7, "H1 stays on at 7 s; your line goes off there."},
		{from(false, 5, 10, 20, 30, 35), answer.Extra, 35, "H1 stays off at 35 s; your line comes on there."},
		{from(false, 5, 10, 20, 30, 39), 0, 0, ""},
	} {
		w, wrong := answer.FirstWrong(right, c.given, 40*s, 1*s)
		if w.Kind != c.kind && wrong || wrong != (c.kind != 0) || wrong && w.At != c.at*s {
			t.Errorf("%v: %v at %v, want %v at %v", c.given, w.Kind, w.At, c.kind, c.at*s)
		}
		if wrong && w.Sentence(lamp(), circuit.Signal{}) != c.words {
			t.Errorf("%q, want %q", w.Sentence(lamp(), circuit.Signal{}), c.words)
		}
	}
}

func lamp() *circuit.Circuit {
	return &circuit.Circuit{Devices: []circuit.Device{{Tag: "H1", Kind: circuit.Lamp},
		{Tag: "KT1", Kind: circuit.Timer, Function: circuit.OnDelay}}}
}

func TestContactsCloseAndOpen(t *testing.T) {
	contact := circuit.Signal{Device: 1, Contact: circuit.NOTC}
	for want, given := range map[string][]trace.Edge{
		"KT1.notc closes at 5 s, not at 8 s.":                  from(false, 8),
		"KT1.notc is open at the start, not closed.":           from(true),
		"KT1.notc closes at 5 s; your line stays open there.":  from(false),
		"KT1.notc stays closed at 9 s; your line opens there.": from(false, 5, 9),
	} {
		w, _ := answer.FirstWrong(from(false, 5), given, 20*s, 0)
		if got := w.Sentence(lamp(), contact); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Near the ends of the run, and in an instant, an edge may be left out.
func TestWhatMayBeLeftOut(t *testing.T) {
	for name, c := range map[string]struct {
		right, given []trace.Edge
		tolerance    time.Duration
	}{
		"at the end":             {from(false, 20), from(false), 0},
		"beyond the end":         {from(false, 19), from(false, 25), s},
		"near the start":         {from(false, 1, 8), from(true, 8), s},
		"the learner's at start": {from(true, 8), from(false, 1, 8), s},
		"of no width":            {from(false, 5, 5, 8), from(false, 8), 0},
		"the learner's no width": {from(false, 8), from(false, 5, 5, 8), 0},
		"settling at time zero":  {from(false, 0, 0, 0), from(true), 0},
		"drawn in another order": {from(false, 5, 8), []trace.Edge{{}, {At: 8 * s}, {At: 5 * s, On: true}}, 0},
	} {
		if w, wrong := answer.FirstWrong(c.right, c.given, 20*s, c.tolerance); wrong {
			t.Errorf("%s: %v at %v", name, w.Kind, w.At)
		}
	}
	if w, wrong := answer.FirstWrong(from(false, 1, 8), from(true, 9), 20*s, s/2); !wrong || w.Kind != answer.WrongStart {
		t.Errorf("beyond the tolerance: %v", w.Kind)
	}
	if w, wrong := answer.FirstWrong(from(false, 1, 8), from(true, 12), 20*s, s); !wrong || w.Kind != answer.Late || w.At != 8*s {
		t.Errorf("after a start within the tolerance: %v at %v", w.Kind, w.At)
	}
}

const end = 100_000

// line draws a line within a run of length end.
func line(t *rapid.T, name string) []trace.Edge {
	times := rapid.SliceOfNDistinct(rapid.IntRange(1, end-1), 0, 12, rapid.ID[int]).Draw(t, name)
	slices.Sort(times)
	on := rapid.Bool().Draw(t, name+" starts")
	edges := []trace.Edge{{On: on}}
	for _, at := range times {
		on = !on
		edges = append(edges, trace.Edge{At: time.Duration(at), On: on})
	}
	return edges
}

func TestRightIsRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		right := line(t, "right")
		tolerance := time.Duration(rapid.IntRange(0, 2*end).Draw(t, "tolerance"))
		if w, wrong := answer.FirstWrong(right, right, end, tolerance); wrong {
			t.Fatalf("%v at %v", w.Kind, w.At)
		}
	})
}

// An edge that is moved by the tolerance is right, by more it is the first
// difference, at the earlier of its two places.
func TestMovedEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		right := append(line(t, "right"), trace.Edge{At: end})
		if len(right) < 3 {
			return
		}
		i := rapid.IntRange(1, len(right)-2).Draw(t, "edge")
		low, high := right[i-1].At+1, right[i+1].At-1
		at := time.Duration(rapid.IntRange(int(low), int(high)).Draw(t, "to"))
		off := max(at-right[i].At, right[i].At-at)
		given := slices.Clone(right[:len(right)-1])
		given[i].At = at
		if w, wrong := answer.FirstWrong(right[:len(right)-1], given, end, off); wrong {
			t.Fatalf("off by the tolerance: %v at %v", w.Kind, w.At)
		}
		if off == 0 || right[i].At <= off || at <= off {
			return
		}
		w, wrong := answer.FirstWrong(right[:len(right)-1], given, end, off-1)
		if !wrong || w.At != min(at, right[i].At) {
			t.Fatalf("%v at %v, want %v", w.Kind, w.At, min(at, right[i].At))
		}
	})
}

// The two lines change places: the same instant, and the kind turned round.
func TestBothWays(t *testing.T) {
	turned := map[answer.Kind]answer.Kind{answer.Early: answer.Late, answer.Late: answer.Early, answer.Missing: answer.Extra,
		answer.Extra: answer.Missing, answer.WrongStart: answer.WrongStart}
	rapid.Check(t, func(t *rapid.T) {
		a, b := line(t, "a"), line(t, "b")
		tolerance := time.Duration(rapid.IntRange(0, end/20).Draw(t, "tolerance"))
		v, one := answer.FirstWrong(a, b, end, tolerance)
		w, other := answer.FirstWrong(b, a, end, tolerance)
		if one != other || v.At != w.At {
			t.Fatalf("%v at %v, the other way %v at %v", v.Kind, v.At, w.Kind, w.At)
		}
		if one && a[0].On == b[0].On && w.Kind != turned[v.Kind] {
			t.Fatalf("%v, the other way %v", v.Kind, w.Kind)
		}
		if more, still := answer.FirstWrong(a, b, end, tolerance+end/50); still && one && more.At < v.At {
			t.Fatalf("with more tolerance the first difference comes at %v, before %v", more.At, v.At)
		}
	})
}
