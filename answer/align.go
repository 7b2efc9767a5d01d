package answer

// Which of a learner's edges is meant for which of the right ones? The cheapest
// way to turn the right line into the learner's is looked for, with edges of one
// direction only put together, and their order kept: an edge in its place costs
// nothing, a moved one 3, a missing or an extra one 2, so that a moved edge is
// cheaper than one missing and one extra. Of ways that cost the same, the one that
// moves edges least is taken, then the one that puts edges together first.

import "time"

const (
	movedCost = 3
	oddCost   = 2
	maxTable  = 1 << 20 // cells
)

// EdgeMark is what became of an edge.
type EdgeMark struct {
	// Kind is 0 for a right edge, else Early, Late, Missing or Extra.
	Kind Kind
	On   bool // the edge is to on or closed
	// Right and Given are where it is and where the learner has it. A missing edge
	// has no Given and an extra one no Right; they are -1. A right edge so near the
	// end that it may be left out has no Given either.
	Right, Given time.Duration
	// FollowOn says that a wrong edge only follows another one, which is wrong too.
	FollowOn bool

	edge   int // place in the right line, -1 for none
	leader int // the signal that it follows
}

// Moved returns how much later than the right edge the learner has it: less than
// zero for earlier, and zero for edges that are not moved.
func (m EdgeMark) Moved() time.Duration {
	if m.Kind == Early || m.Kind == Late {
		return m.Given - m.Right
	}
	return 0
}

// price is a cost, and how far edges are moved in all.
type price struct {
	cost int
	far  time.Duration
}

func (p price) plus(cost int, far time.Duration) price { return price{p.cost + cost, p.far + far} }

func (p price) less(q price) bool { return p.cost < q.cost || p.cost == q.cost && p.far < q.far }

// align marks every edge, in order of time.
func (c comparison) align(right, given level) []EdgeMark {
	n, m := len(right.at), len(given.at)
	if (n+1)*(m+1) > maxTable {
		return c.walk(right, given)
	}
	table := make([]price, (n+1)*(m+1)) // from here to the ends
	at := func(i, j int) *price { return &table[i*(m+1)+j] }
	for i := n; i >= 0; i-- {
		for j := m; j >= 0; j-- {
			switch {
			case i == n && j == m:
			case i == n:
				*at(i, j) = at(i, j+1).plus(c.extraCost(given.at[j]), 0)
			case j == m:
				*at(i, j) = at(i+1, j).plus(c.missingCost(right.at[i]), 0)
			default:
				best := at(i+1, j).plus(c.missingCost(right.at[i]), 0)
				if p := at(i, j+1).plus(c.extraCost(given.at[j]), 0); p.less(best) {
					best = p
				}
				if p, can := c.pairPrice(right, given, i, j); can {
					if p = at(i+1, j+1).plus(p.cost, p.far); !best.less(p) {
						best = p
					}
				}
				*at(i, j) = best
			}
		}
	}
	var marks []EdgeMark
	for i, j := 0, 0; i < n || j < m; {
		if i < n && j < m {
			if p, can := c.pairPrice(right, given, i, j); can && *at(i, j) == at(i+1, j+1).plus(p.cost, p.far) {
				marks = append(marks, c.pair(right, given, i, j))
				i, j = i+1, j+1
				continue
			}
		}
		missing := i < n && *at(i, j) == at(i+1, j).plus(c.missingCost(right.at[i]), 0)
		extra := j < m && *at(i, j) == at(i, j+1).plus(c.extraCost(given.at[j]), 0)
		if missing && (!extra || right.at[i] <= given.at[j]) {
			marks = c.missing(marks, right, i)
			i++
			continue
		}
		marks = c.extra(marks, given, j)
		j++
	}
	return marks
}

func (c comparison) missingCost(at time.Duration) int {
	if c.near(at, c.end) {
		return 0
	}
	return oddCost
}

func (c comparison) extraCost(at time.Duration) int {
	if c.near(c.end, at) {
		return 0
	}
	return oddCost
}

// pairPrice returns the price of putting two edges together, if they go the same
// way.
func (c comparison) pairPrice(right, given level, i, j int) (price, bool) {
	if right.on(i) != given.on(j) {
		return price{}, false
	}
	r, g := right.at[i], given.at[j]
	if c.near(r, g) {
		return price{0, max(r-g, g-r)}, true
	}
	return price{movedCost, max(r-g, g-r)}, true
}

func (c comparison) pair(right, given level, i, j int) EdgeMark {
	r, g := right.at[i], given.at[j]
	m := EdgeMark{On: right.on(i), Right: r, Given: g, edge: i}
	switch {
	case c.near(r, g):
	case g < r:
		m.Kind = Early
	default:
		m.Kind = Late
	}
	return m
}

func (c comparison) missing(marks []EdgeMark, right level, i int) []EdgeMark {
	m := EdgeMark{Kind: Missing, On: right.on(i), Right: right.at[i], Given: -1, edge: i}
	if c.near(right.at[i], c.end) {
		m.Kind = 0
	}
	return append(marks, m)
}

// extra leaves out what is near enough to the end.
func (c comparison) extra(marks []EdgeMark, given level, j int) []EdgeMark {
	if c.near(c.end, given.at[j]) {
		return marks
	}
	return append(marks, EdgeMark{Kind: Extra, On: given.on(j), Right: -1, Given: given.at[j], edge: -1})
}

// walk is for lines that are too long for a table: it puts edges together that are
// in their place, and no others.
func (c comparison) walk(right, given level) []EdgeMark {
	var marks []EdgeMark
	i, j := 0, 0
	for i < len(right.at) && j < len(given.at) {
		r, g := right.at[i], given.at[j]
		switch {
		case right.on(i) == given.on(j) && c.near(r, g):
			marks = append(marks, c.pair(right, given, i, j))
			i, j = i+1, j+1
		case r <= g:
			marks = c.missing(marks, right, i)
			i++
		default:
			marks = c.extra(marks, given, j)
			j++
		}
	}
	for ; i < len(right.at); i++ {
		marks = c.missing(marks, right, i)
	}
	for ; j < len(given.at); j++ {
		marks = c.extra(marks, given, j)
	}
	return marks
}

// alike lets one of two lines begin later, so that they start alike, if the
// tolerance has it.
func (c comparison) alike(right, given level) (level, level) {
	if right.start == given.start {
		return right, given
	}
	if l := c.lateRight(right); l.start == given.start {
		return l, given
	}
	return right, c.lateGiven(given)
}
