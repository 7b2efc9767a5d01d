// Package answer marks what learners drew, and says why it may be wrong.
//
//	item := answer.NewItem("1", c, &c.Scripts[0], signals)
//	answers, problems := answer.ReadCSV(file)
//	marked := answer.Mark(item, answers[0], tolerance)
//	answer.NewDiagnoser(item, tolerance).Diagnose(answers[0])
//
// FirstWrong finds the first instant at which a line differs from the right one,
// Wrong.Sentence says it. Overrules are what a human says instead of a mark.
package answer

// Two lines alternate between on and off, so once their starts agree the edges
// belong together by their number: the first to the first, the second to the
// second. The first pair that stands too far apart is the first difference.
// What kind it is shows in what comes later: an edge of the right line is
// missing if the learner's edge fits a later one of the right line, and the
// learner's edge is extra if the right edge fits a later one of the learner's.
//
// Near the ends of a run an edge may fall over the edge of the paper: one that
// stands no further from the start or the end than the tolerance may be left
// out.

import (
	"slices"
	"sort"
	"time"

	"tarry/trace"
)

// Kind is how a line differs.
type Kind uint8

// The kinds.
const (
	NotDrawn   Kind = iota + 1 // the learner drew no line
	WrongStart                 // on at the start and not off, or the other way round
	Early                      // an edge stands before the right one
	Late                       // an edge stands behind the right one
	Missing                    // the right line has an edge that the learner's lacks
	Extra                      // the learner's line has an edge that the right one lacks
)

var kindNames = [...]string{"right", "not drawn", "wrong start", "too early", "too late", "missing", "extra"}

// String returns the kind's name.
func (k Kind) String() string { return kindNames[k] }

// Wrong is a difference. At is the earlier of Right and Given where the kind
// has both, which are Early and Late; Missing has Right only and Extra has
// Given only, and the others stand at zero.
type Wrong struct {
	At           time.Duration
	Kind         Kind
	On           bool // the edge is to on or closed; for WrongStart, the right value
	Right, Given time.Duration
}

// FirstWrong returns the first difference of a given line from the right one
// over a run of length end, and false if there is none. An edge may stand as
// far off as the tolerance and no further. On both lines pulses of no width
// don't count. The right line has at least one edge, as trace.Edges returns it;
// a given line without one is NotDrawn.
func FirstWrong(right, given []trace.Edge, end, tolerance time.Duration) (Wrong, bool) {
	if len(given) == 0 {
		return Wrong{Kind: NotDrawn}, true
	}
	c := comparison{end: max(end, 0), tolerance: Tolerance{Time: max(tolerance, 0)}}
	return c.first(c.read(right), c.read(given))
}

// first finds the first difference.
func (c comparison) first(a, b level) (Wrong, bool) {
	if a.start == b.start {
		return c.compare(a, b)
	}
	w, wrong := Wrong{Kind: WrongStart, On: a.start}, true
	for _, try := range [][2]level{{c.lateRight(a), b}, {a, c.lateGiven(b)}} {
		if try[0].start != try[1].start {
			continue
		}
		v, differs := c.compare(try[0], try[1])
		if !differs {
			return Wrong{}, false
		}
		if v.At > w.At || w.Kind == WrongStart {
			w = v
		}
	}
	return w, wrong
}

// level is a line as a start and the times at which it changes over.
type level struct {
	start bool
	at    []time.Duration
}

// Tolerance is how far an edge may stand from the right one. The zero value
// asks for the exact time.
type Tolerance struct {
	// Time is how far an edge may lie off.
	Time time.Duration
	// Square is the width of the squares that the answer was drawn in, 0 for none.
	// An edge anywhere in the square of the right one counts, and on both its lines;
	// where the right edge is on a line, so must the given one be, or nearer to it
	// than to the next line.
	Square time.Duration
}

// comparison is the rule by which lines are compared.
type comparison struct {
	end       time.Duration
	tolerance Tolerance
	square    time.Duration // of the item, where the tolerance has none
}

// slip is how far an edge may be moved by a slip of the pencil: a square, or as
// much again as the tolerance if that is more than the item's square.
func (c comparison) slip() time.Duration {
	if c.tolerance.Square > 0 {
		return c.tolerance.Square
	}
	return max(2*c.tolerance.Time, c.square)
}

// reach returns the first and the last place that count as the place of an edge.
// Both rise with it.
func (c comparison) reach(at time.Duration) (low, high time.Duration) {
	low, high = at-c.tolerance.Time, at+c.tolerance.Time
	if s := c.tolerance.Square; s > 0 {
		line, half := at.Truncate(s), (s-1)/2
		if line == at {
			return min(low, at-half), max(high, at+half)
		}
		return min(low, line), max(high, line+s)
	}
	return low, high
}

// read puts edges in order, moves what lies outside the run to its ends, and
// drops whatever has no width.
func (c comparison) read(edges []trace.Edge) level {
	if len(edges) == 0 {
		return level{}
	}
	edges = slices.Clone(edges)
	sort.SliceStable(edges, func(i, j int) bool { return edges[i].At < edges[j].At })
	l, _ := c.readFrom(edges)
	return l
}

// readFrom does so with edges that are in order, and says which of them the
// level's changes are.
func (c comparison) readFrom(edges []trace.Edge) (l level, from []int) {
	l = level{start: edges[0].On}
	now := l.start
	for i, e := range edges {
		at := min(max(e.At, 0), c.end)
		last := i+1 == len(edges) || min(max(edges[i+1].At, 0), c.end) > at
		switch {
		case !last:
		case at == 0:
			l.start, now = e.On, e.On
		case e.On != now:
			l.at, now = append(l.at, at), e.On
			from = append(from, i)
		}
	}
	return l, from
}

// lateRight returns the right line as if its first edge had fallen before the
// start, if the tolerance lets it.
func (c comparison) lateRight(l level) level {
	if len(l.at) > 0 && c.near(l.at[0], 0) {
		return level{!l.start, l.at[1:]}
	}
	return l
}

// lateGiven does the same to a learner's line.
func (c comparison) lateGiven(l level) level {
	if len(l.at) > 0 && c.near(0, l.at[0]) {
		return level{!l.start, l.at[1:]}
	}
	return l
}

// compare finds the first difference of two lines that start alike.
func (c comparison) compare(right, given level) (Wrong, bool) {
	on := !right.start
	for i := 0; i < len(right.at) || i < len(given.at); i++ {
		switch {
		case i >= len(given.at):
			r := right.at[i]
			return Wrong{At: r, Kind: Missing, On: on, Right: r}, !c.near(r, c.end)
		case i >= len(right.at):
			g := given.at[i]
			return Wrong{At: g, Kind: Extra, On: on, Given: g}, !c.near(c.end, g)
		case !c.near(right.at[i], given.at[i]):
			return c.differ(right.at[i:], given.at[i:], on), true
		}
		on = !on
	}
	return Wrong{}, false
}

// near reports whether a given edge stands where the right one may.
func (c comparison) near(right, given time.Duration) bool {
	low, high := c.reach(right)
	return low <= given && given <= high
}

// differ names the difference of two lines whose first edges stand too far
// apart.
func (c comparison) differ(right, given []time.Duration, on bool) Wrong {
	r, g := right[0], given[0]
	switch {
	case later(right, func(at time.Duration) bool { return c.near(at, g) }):
		return Wrong{At: r, Kind: Missing, On: on, Right: r}
	case later(given, func(at time.Duration) bool { return c.near(r, at) }):
		return Wrong{At: g, Kind: Extra, On: on, Given: g}
	case g < r:
		return Wrong{At: g, Kind: Early, On: on, Right: r, Given: g}
	}
	return Wrong{At: r, Kind: Late, On: on, Right: r, Given: g}
}

// later reports whether a later edge of the same direction fits.
func later(edges []time.Duration, fits func(time.Duration) bool) bool {
	for i := 2; i < len(edges); i += 2 {
		if fits(edges[i]) {
			return true
		}
	}
	return false
}
