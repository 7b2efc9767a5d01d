package schematic

// Which wires carry current? The state says which nets and contacts do, but a
// net may have ends that lead nowhere: to an open contact, to a load that is
// off. The heavy line must not run there, or a learner takes them for part of
// the path. So the strokes of a live net are cut at every point where wires
// meet, and whatever ends free is taken away until nothing does. An end is not
// free at a rail, at the symbol of a live contact or an energised load, and at
// a reference to where the wire goes on.

import (
	"cmp"
	"slices"

	"tarry/page"
)

// held notes that a wire of a net does not end free at a point.
func (c *canvas) hold(at page.Point, w wire) { c.held[meeting{at, w.net}] = true }

// holdEnds notes which ends of a band's wire are held by a symbol.
func (c *canvas) holdEnds(w wire, a, b page.Point) {
	if c.opt.State == nil || w.row != w.toRow {
		return
	}
	if c.carries(w, w.from) {
		c.hold(a, w)
	}
	if c.carries(w, w.to) {
		c.hold(b, w)
	}
}

// carries reports whether a wire's end is held: a symbol that carries current,
// a rail, a reference.
func (c *canvas) carries(w wire, s spot) bool {
	switch s.kind {
	case railLeft, railRight, cellTag:
		return true
	case cellIn, cellOut:
		return c.liveSeats[[3]int{w.band, w.row, s.at}]
	}
	return false
}

// seatsThatCarry lists where the symbols stand that carry current.
func (l *layout) seatsThatCarry() map[[3]int]bool {
	live := map[[3]int]bool{}
	st := l.opt.State
	if st == nil {
		return live
	}
	for _, s := range l.seats {
		if s.contact >= 0 && st.LiveContacts[s.contact] || s.contact < 0 && st.Energised[s.load] {
			live[[3]int{s.band, s.row, s.cell}] = true
		}
	}
	return live
}

// carrying returns the parts of the merged strokes that carry current.
func (c *canvas) carrying(merged []stroke) []stroke {
	var pieces []stroke
	for _, s := range merged {
		if c.netLive(s.net) {
			pieces = append(pieces, c.cut(s)...)
		}
	}
	at := map[meeting][]int{}
	for i, s := range pieces {
		for _, p := range s.ends() {
			at[meeting{p, s.net}] = append(at[meeting{p, s.net}], i)
		}
	}
	gone := make([]bool, len(pieces))
	var free []meeting
	look := func(m meeting) {
		left := 0
		for _, i := range at[m] {
			if !gone[i] {
				left++
			}
		}
		if left == 1 && !c.held[m] {
			free = append(free, m)
		}
	}
	for m := range at {
		look(m)
	}
	for len(free) > 0 {
		m := free[len(free)-1]
		free = free[:len(free)-1]
		for _, i := range at[m] {
			if gone[i] || pieces[i].rail {
				continue
			}
			gone[i] = true
			for _, p := range pieces[i].ends() {
				look(meeting{p, m.net})
			}
		}
	}
	var kept []stroke
	for i, s := range pieces {
		if !gone[i] {
			kept = append(kept, s)
		}
	}
	return mergeStrokes(kept)
}

// ends returns the two ends of a stroke.
func (s stroke) ends() [2]page.Point {
	l := s.line()
	return [2]page.Point{l.Points[0], l.Points[1]}
}

// cut parts a stroke where wires of its net meet it.
func (c *canvas) cut(s stroke) []stroke {
	var cuts []page.Unit
	for _, p := range c.pointsOn(s) {
		if p > s.from && p < s.to {
			cuts = append(cuts, p)
		}
	}
	slices.SortFunc(cuts, cmp.Compare[page.Unit])
	cuts = append(slices.Compact(cuts), s.to)
	var pieces []stroke
	for _, to := range cuts {
		piece := s
		piece.to = to
		pieces = append(pieces, piece)
		s.from = to
	}
	return pieces
}

// pointsOn lists where wires end on a stroke, counted along it.
func (c *canvas) pointsOn(s stroke) []page.Unit {
	if c.meetings == nil {
		c.meetings = map[line][]page.Unit{}
		for m := range c.ends {
			c.meetings[line{m.net, true, m.X}] = append(c.meetings[line{m.net, true, m.X}], m.Y)
			c.meetings[line{m.net, false, m.Y}] = append(c.meetings[line{m.net, false, m.Y}], m.X)
		}
	}
	return c.meetings[line{s.net, s.upright, s.at}]
}
