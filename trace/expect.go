package trace

import (
	"time"

	"tarry/circuit"
)

// Spans returns when the signal is on (closed), in order. A stretch that lasts
// to the end of a finished run has ToEnd set; what begins or ends at that very
// end does not count as an edge. A pulse of no width is a span whose ends are
// equal, a drop-out of no width stands between two spans that touch.
func (t *Trace) Spans(s circuit.Signal) []circuit.Span {
	var spans []circuit.Span
	open := false
	for _, e := range t.Edges(s) {
		if t.Ending == Finished && e.At >= t.End && e.At > t.From {
			break
		}
		switch {
		case e.On:
			spans = append(spans, circuit.Span{From: e.At})
			open = true
		case open:
			spans[len(spans)-1].To = e.At
			open = false
		}
	}
	if open {
		last := &spans[len(spans)-1]
		last.ToEnd = t.Ending == Finished || t.Ending == Running
		if !last.ToEnd {
			last.To = t.End
		}
	}
	return spans
}

// Verdict is what came of one expectation.
type Verdict struct {
	Expect circuit.Expect
	OK     bool
	// Want and Got are the spans in which the signal should have been and was
	// on (closed), or off (open) for an expectation that says off.
	Want, Got []circuit.Span
	// Differs is the time of the first edge that is not as expected.
	Differs time.Duration
}

// Check holds the run against an expectation.
func (t *Trace) Check(x circuit.Expect) Verdict {
	v := Verdict{Expect: x, Got: t.Spans(x.Signal)}
	if x.Off {
		v.Got = t.between(v.Got)
	}
	for _, s := range x.Spans {
		if !s.ToEnd && t.Ending == Finished && s.To >= t.End {
			s.To, s.ToEnd = 0, true
		}
		if t.Ending == Finished && s.From >= t.End && s.From > 0 {
			continue
		}
		v.Want = append(v.Want, s)
	}
	v.Differs, v.OK = t.compare(x, v.Want, v.Got)
	return v
}

// between returns the spans between the given ones and at both ends.
func (t *Trace) between(on []circuit.Span) []circuit.Span {
	var off []circuit.Span
	from := t.From
	for _, s := range on {
		if s.From > t.From {
			off = append(off, circuit.Span{From: from, To: s.From})
		}
		if s.ToEnd {
			return off
		}
		from = s.To
	}
	if t.Ending == Finished || t.Ending == Running {
		return append(off, circuit.Span{From: from, ToEnd: true})
	}
	return append(off, circuit.Span{From: from, To: t.End})
}

// compare returns the time of the first edge at which two lists of spans
// differ by more than the expectation allows, and whether there is none.
func (t *Trace) compare(x circuit.Expect, want, got []circuit.Span) (time.Duration, bool) {
	for i := range max(len(want), len(got)) {
		switch {
		case i >= len(want):
			return got[i].From, false
		case i >= len(got):
			return want[i].From, false
		}
		w, g := want[i], got[i]
		if !near(x, w.From, g.From) {
			return min(w.From, g.From), false
		}
		wTo, gTo := t.endOf(w), t.endOf(g)
		if w.ToEnd != g.ToEnd && !x.Tolerant() || !near(x, wTo, gTo) {
			return min(wTo, gTo), false
		}
	}
	return 0, true
}

func (t *Trace) endOf(s circuit.Span) time.Duration {
	if s.ToEnd {
		return t.End
	}
	return s.To
}

// near reports whether an edge lies where it is expected, or close enough.
func near(x circuit.Expect, want, got time.Duration) bool {
	within := x.Within + time.Duration(int64(want)/10000*int64(x.Percent))
	return max(want-got, got-want) <= within
}

// CheckAll holds the run against every expectation of its script.
func (t *Trace) CheckAll(s *circuit.Script) []Verdict {
	var list []Verdict
	for _, x := range s.Expects {
		list = append(list, t.Check(x))
	}
	return list
}
