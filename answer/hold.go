package answer

import "cmp"

// match counts how many edges of lines are where a set has them.
type match struct {
	explained, of int
	slipped       int // one edge is off by no more than a slip: 1, else 0
}

// almost reports whether a match lacks one edge at most, by a slip.
func (m match) almost() bool { return m.explained+m.slipped == m.of }

// hold holds a learner's lines against a set.
func (d *Diagnoser) hold(lines, given []level) match {
	var m match
	for i := range lines {
		a, b := d.now.alike(lines[i], given[i])
		fit, of := d.now.count(a, b)
		m.explained, m.of = m.explained+fit, m.of+of
	}
	if m.of-m.explained == 1 && d.onlySlip(lines, given) {
		m.slipped = 1
	}
	return m
}

// count counts the edges that two lines share, and those that the longer one has.
// Edges that may stand behind the end are left out.
func (c comparison) count(right, given level) (fit, of int) {
	if len(right.at) == 0 && len(given.at) == 0 {
		if right.start == given.start {
			return 1, 1
		}
		return 0, 1
	}
	n, m := 0, 0
	for _, at := range right.at {
		if !c.near(at, c.end) {
			n++
		}
	}
	for _, at := range given.at {
		if !c.near(c.end, at) {
			m++
		}
	}
	if n+m == 0 && right.start == given.start {
		return 1, 1
	}
	for way := range 2 {
		i, j := way, way
		if right.start != given.start {
			j = 1 - way
		}
		for i < len(right.at) && j < len(given.at) {
			low, high := c.reach(right.at[i])
			switch g := given.at[j]; {
			case g < low:
				j += 2
			case g > high:
				i += 2
			default:
				if !c.near(right.at[i], c.end) || !c.near(c.end, g) {
					fit++
				}
				i, j = i+2, j+2
			}
		}
	}
	of = max(n, m, 1)
	return min(fit, of), of
}

// onlySlip reports whether no edge of the lines is further from a set's than by a
// slip.
func (d *Diagnoser) onlySlip(lines, given []level) bool {
	for i := range lines {
		a, b := d.now.alike(lines[i], given[i])
		if a.start != b.start || len(a.at) != len(b.at) {
			return false
		}
		for n := range a.at {
			r, g := a.at[n], b.at[n]
			if !d.now.near(r, g) && max(r-g, g-r) > d.now.slip() {
				return false
			}
		}
	}
	return true
}

// share compares the shares of edges that are explained.
func (m match) share(o match) int { return cmp.Compare(m.explained*o.of, o.explained*m.of) }

// better does so too; of equals, the one that lacks only a slip is better.
func (m match) better(o match) int { return cmp.Or(m.share(o), cmp.Compare(m.slipped, o.slipped)) }
