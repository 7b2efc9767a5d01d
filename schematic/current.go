package schematic

// Which wires carry current? The state says which nets and contacts do, but a
// net may have ends that lead nowhere: to an open contact, to a load that is
// off. The heavy line must not run there, or a learner takes them for part of
// the path. So the strokes of a live net are cut at every point where wires
// meet, and whatever ends free is taken away until nothing does. An end is not
// free at a rail, at the symbol of a live contact or an energised load, and at
// a reference to where the wire goes on.
//
// The cuts and the points depend on the layout alone and are worked out once;
// a state only says what is live on them.

import (
	"cmp"
	"slices"

	"tarry/circuit"
	"tarry/page"
)

// flow is the wires of one page, cut at the points where they meet. The pieces
// are in the order of mergeStrokes.
type flow struct {
	pieces []stroke
	ends   [][2]int32 // of each piece, as places in points
	points []flowPoint
	joints []flowJoint
}

// flowPoint is a point at which pieces end.
type flowPoint struct {
	pieces []int32
	held   bool   // never free: at a rail or a reference
	seats  []seat // and symbols that hold it while they carry current
}

// flowJoint is a joint's dot at a point, painted again over heavy lines.
type flowJoint struct {
	point int32
	dot   page.Element
}

// holdEnds notes what holds the ends of a band's wire.
func (c *canvas) holdEnds(w wire, a, b page.Point) {
	if !c.marked() || w.row != w.toRow {
		return
	}
	c.holdEnd(w, w.from, a)
	c.holdEnd(w, w.to, b)
}

// holdEnd notes that a wire's end is held by a rail or a reference, or by a
// symbol that carries current.
func (c *canvas) holdEnd(w wire, s spot, at page.Point) {
	m := meeting{at, w.net}
	switch s.kind {
	case railLeft, railRight, cellTag:
		c.held[m] = true
	case cellIn, cellOut:
		if s, ok := c.seatAt[[3]int{w.band, w.row, s.at}]; ok {
			c.holders[m] = append(c.holders[m], s)
		}
	}
}

// seatsByPlace finds the symbols by band, row and cell.
func (l *layout) seatsByPlace() map[[3]int]seat {
	at := map[[3]int]seat{}
	if l.marked() {
		for _, s := range l.seats {
			at[[3]int{s.band, s.row, s.cell}] = s
		}
	}
	return at
}

// carries reports whether a symbol carries current.
func (s seat) carries(st *State) bool {
	if s.contact >= 0 {
		return st.LiveContacts[s.contact]
	}
	return st.Energised[s.load]
}

// newFlow cuts the merged strokes where wires meet, and finds the dots of the
// joints again.
func (c *canvas) newFlow(merged []stroke, joints []meeting) *flow {
	f := &flow{}
	meetings := c.meetings()
	at := map[meeting]int32{}
	for _, s := range merged {
		for _, piece := range s.cut(meetings[line{s.net, s.upright, s.at}]) {
			if piece.net < 0 {
				continue // belongs to no net, so nothing says that it is live
			}
			var ends [2]int32
			for i, p := range piece.ends() {
				ends[i] = c.flowPoint(f, at, meeting{p, s.net})
				f.points[ends[i]].pieces = append(f.points[ends[i]].pieces, int32(len(f.pieces)))
			}
			f.pieces, f.ends = append(f.pieces, piece), append(f.ends, ends)
		}
	}
	for _, m := range joints {
		if i, ok := at[m]; ok {
			dot := jointDot(m.Point)
			dot.Shows.ID = string(appendPoint([]byte("joint "), m.Point))
			f.joints = append(f.joints, flowJoint{i, dot})
		}
	}
	return f
}

func (c *canvas) flowPoint(f *flow, at map[meeting]int32, m meeting) int32 {
	i, ok := at[m]
	if !ok {
		i = int32(len(f.points))
		at[m] = i
		f.points = append(f.points, flowPoint{held: c.held[m], seats: c.holders[m]})
	}
	return i
}

// free reports whether a point holds no end.
func (p *flowPoint) free(st *State) bool {
	return !p.held && !slices.ContainsFunc(p.seats, func(s seat) bool { return s.carries(st) })
}

// carrying returns the strokes that carry current, and how many pieces of
// them end at each point.
func (f *flow) carrying(st *State) (kept []stroke, left []int32) {
	gone := make([]bool, len(f.pieces))
	left = make([]int32, len(f.points))
	for i, s := range f.pieces {
		if gone[i] = !st.netLive(s.net); !gone[i] {
			left[f.ends[i][0]]++
			left[f.ends[i][1]]++
		}
	}
	var free []int32
	look := func(i int32) {
		if left[i] == 1 && f.points[i].free(st) {
			free = append(free, i)
		}
	}
	for i := range f.points {
		look(int32(i))
	}
	for len(free) > 0 {
		at := free[len(free)-1]
		free = free[:len(free)-1]
		for _, i := range f.points[at].pieces {
			if gone[i] || f.pieces[i].rail {
				continue
			}
			gone[i] = true
			for _, p := range f.ends[i] {
				left[p]--
				look(p)
			}
		}
	}
	for i, s := range f.pieces {
		if !gone[i] {
			kept = joined(kept, s)
		}
	}
	return kept, left
}

func (s *State) netLive(net circuit.NetID) bool { return net >= 0 && s.LiveNets[net] }

// ends returns the two ends of a stroke.
func (s stroke) ends() [2]page.Point {
	if s.upright {
		return [2]page.Point{{X: s.at, Y: s.from}, {X: s.at, Y: s.to}}
	}
	return [2]page.Point{{X: s.from, Y: s.at}, {X: s.to, Y: s.at}}
}

// cut parts a stroke at those of the points that lie on it.
func (s stroke) cut(points []page.Unit) []stroke {
	var cuts []page.Unit
	for _, p := range points {
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

// meetings lists where wires end on each line, counted along it.
func (c *canvas) meetings() map[line][]page.Unit {
	list := map[line][]page.Unit{}
	for m := range c.ends {
		upright, level := line{m.net, true, m.X}, line{m.net, false, m.Y}
		list[upright], list[level] = append(list[upright], m.Y), append(list[level], m.X)
	}
	return list
}
