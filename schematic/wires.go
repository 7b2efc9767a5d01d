package schematic

import (
	"cmp"
	"slices"
	"strconv"

	"tarry/circuit"
	"tarry/page"
)

// Wires are collected before they are drawn: stretches of one net that lie on
// one line become one stroke, so that no line looks heavier where two meet.

// stroke is a straight wire on a page, level or upright.
type stroke struct {
	net      circuit.NetID
	rail     bool
	upright  bool
	at       page.Unit // where it lies: its x if upright, else its y
	from, to page.Unit
}

func (s stroke) line() page.Poly {
	if s.upright {
		return page.Line(page.Point{X: s.at, Y: s.from}, page.Point{X: s.at, Y: s.to})
	}
	return page.Line(page.Point{X: s.from, Y: s.at}, page.Point{X: s.to, Y: s.at})
}

// wire collects a wire of a net.
func (c *canvas) wire(a, b page.Point, net circuit.NetID, rail bool) {
	if a == b {
		return
	}
	if net == circuit.RightRail && !rail && c.wiring.RailsJoined {
		net = circuit.LeftRail
	}
	s := stroke{net: net, rail: rail, upright: a.X == b.X, at: a.Y, from: min(a.X, b.X), to: max(a.X, b.X)}
	if s.upright {
		s.at, s.from, s.to = a.X, min(a.Y, b.Y), max(a.Y, b.Y)
	}
	c.strokes = append(c.strokes, s)
	if !rail {
		c.ends[meeting{a, net}], c.ends[meeting{b, net}] = true, true
	}
}

// meeting is a point at which a wire of a net ends, and others may.
type meeting struct {
	page.Point
	net circuit.NetID
}

// ink draws the collected wires, and over them the heavy lines of what carries
// current.
func (c *canvas) ink() {
	merged := mergeStrokes(c.strokes)
	for _, s := range merged {
		c.page.Add(page.Element{Shape: s.line(), Style: page.Style{Weight: page.Medium, Ink: page.Black}, Shows: c.shows(s)})
	}
	joints := c.joinings(merged)
	if c.marked() {
		c.flow = c.newFlow(merged, joints)
	}
	if c.opt.State != nil {
		list, _ := c.flow.carrying(c.opt.State)
		for _, s := range list {
			c.page.Add(c.liveStroke(s))
		}
	}
	for _, m := range joints {
		c.page.Add(jointDot(m.Point))
	}
}

// liveStroke is the heavy line of a stroke that carries current.
func (l *layout) liveStroke(s stroke) page.Element {
	shows := l.shows(s)
	shows.Class = "live"
	return page.Element{Shape: s.line(), Style: page.Style{Weight: page.Heavy, Ink: page.Live}, Shows: shows}
}

func jointDot(at page.Point) page.Element {
	return page.Element{Shape: page.Circle(at, dotSize), Style: page.Style{Ink: page.Black, Fill: page.Solid}, Shows: page.Shows{Class: "joint"}}
}

func (l *layout) shows(s stroke) page.Shows {
	shows := page.Shows{Class: "wire"}
	if s.rail {
		shows.Class = "rail"
	}
	if s.net >= 0 {
		shows.ID = "wire " + l.numbers.Wires[s.net]
	}
	return shows
}

func mergeStrokes(list []stroke) []stroke {
	slices.SortFunc(list, func(a, b stroke) int {
		return cmp.Or(compareBool(b.rail, a.rail), cmp.Compare(a.net, b.net), compareBool(a.upright, b.upright),
			cmp.Compare(a.at, b.at), cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	var merged []stroke
	for _, s := range list {
		merged = joined(merged, s)
	}
	return merged
}

// joined adds a stroke to a list in order, as part of the last one where it
// goes on from that.
func joined(list []stroke, s stroke) []stroke {
	if n := len(list); n > 0 {
		last := &list[n-1]
		if last.rail == s.rail && last.net == s.net && last.upright == s.upright && last.at == s.at && s.from <= last.to {
			last.to = max(last.to, s.to)
			return list
		}
	}
	return append(list, s)
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// shortName is how wide a rail's name may be to stand over the rail's middle.
const shortName page.Unit = 600

// rails draws the two rails with their names.
func (c *canvas) rails() {
	s := c.g.pages[c.number]
	for i, along := range []page.Unit{c.g.left, c.g.right} {
		a, b := c.at(along, s.top-250), c.at(along, s.depth)
		c.wire(a, b, circuit.NetID(i), true)
		name := page.Text{At: a.Add(0, -120), Anchor: page.Middle, Size: tagSize, Bold: true, Words: c.circuit.Supply.Rails[i]}
		if c.opt.Layout == Paths {
			name.At, name.Anchor = a.Add(-150, tagSize/3), page.End
		} else if page.Width(name.Words, tagSize, true) > shortName { // outwards, away from the conductors
			name.At, name.Anchor = a.Add(page.Unit(2*i-1)*-100, -120), []page.Anchor{page.End, page.Start}[i]
		}
		c.say(name, "rail-name")
	}
}

// stretch is the part of a conductor that stands on a page. Earlier and later
// are the pages on which it goes on, -1 for none.
type stretch struct {
	conductor
	first, last    page.Unit
	earlier, later int
}

// conductorsOf draws the nodes' conductors of this page, and references where
// they go on.
func (c *canvas) conductorsOf() {
	found := map[conductor]*stretch{}
	var list []*stretch
	for _, j := range part(c.joints, func(j joint) int { return j.band }, c.g.pages[c.number]) {
		y := c.g.rows[j.band][0]
		s, ok := found[j.conductor]
		if !ok {
			s = &stretch{conductor: j.conductor, first: y}
			s.earlier, s.later = c.otherPages(j.conductor)
			found[j.conductor] = s
			list = append(list, s)
		}
		s.last = y
	}
	slices.SortFunc(list, func(a, b *stretch) int { return cmp.Compare(c.g.track[a.conductor], c.g.track[b.conductor]) })
	up, down := 0, 0
	for _, s := range list {
		if s.earlier >= 0 {
			s.first = c.reference(s, up, s.earlier)
			up++
		}
		if s.later >= 0 {
			s.last = c.reference(s, down, s.later)
			down++
		}
		along := c.g.track[s.conductor]
		net := c.nodes[s.n].net
		if s.earlier >= 0 {
			c.held[meeting{c.at(along, s.first), net}] = true
		}
		if s.later >= 0 {
			c.held[meeting{c.at(along, s.last), net}] = true
		}
		c.wire(c.at(along, s.first), c.at(along, s.last), net, false)
	}
}

// otherPages returns the nearest pages on which a conductor goes on.
func (c *canvas) otherPages(k conductor) (earlier, later int) {
	pages := c.stands[k]
	i, _ := slices.BinarySearch(pages, c.number)
	earlier, later = -1, -1
	if i > 0 {
		earlier = pages[i-1]
	}
	if i+1 < len(pages) {
		later = pages[i+1]
	}
	return earlier, later
}

// reference names a conductor that goes on on another page, below or behind
// step others, and returns where it ends.
func (c *canvas) reference(s *stretch, step, other int) page.Unit {
	span, back := c.g.pages[c.number], other < c.number
	label := c.labelOf(s.n) + " → drawing " + strconv.Itoa(other+1)
	across := span.depth + page.Unit(step+1)*referenceStep
	t := page.Text{Anchor: page.End, Size: numberSize, Bold: true, Words: label}
	move := page.Point{X: -80, Y: 60}
	switch {
	case back && c.opt.Layout == Rungs:
		across = span.top - referenceHead - page.Unit(step)*referenceStep
	case back:
		across = -150
	case c.opt.Layout == Paths:
		across, t.Anchor, move.X = span.depth+100, page.Start, 80
	}
	t.At = c.at(c.g.track[s.conductor], across).Add(move.X, move.Y)
	c.page.Add(page.Element{Shape: t, Style: page.Style{Ink: page.Black}, Shows: page.Shows{ID: "reference " + c.labelOf(s.n), Class: "reference"}})
	return across
}

// bandWires draws the wires of the bands with their numbers.
func (c *canvas) bandWires() {
	for _, w := range part(c.wires, func(w wire) int { return w.band }, c.g.pages[c.number]) {
		rows := c.g.rows[w.band]
		from, to := c.spot(c.g, w.from), c.spot(c.g, w.to)
		a, b := c.at(from, rows[w.row]), c.at(to, rows[w.toRow])
		c.wire(a, b, w.net, false)
		c.holdEnds(w, a, b)
		c.wireNumber(w, a, b)
	}
}

// line is where strokes of one net lie.
type line struct {
	net     circuit.NetID
	upright bool
	at      page.Unit
}

// joinings lists the points at which three or more ways of a net meet, where a
// dot stands. A rail needs none.
func (c *canvas) joinings(merged []stroke) []meeting {
	lines := map[line][]stroke{}
	for _, s := range merged {
		key := line{s.net, s.upright, s.at}
		lines[key] = append(lines[key], s)
	}
	var list []meeting
	for m := range c.ends {
		level, levelRail := ways(lines[line{m.net, false, m.Y}], m.X)
		upright, uprightRail := ways(lines[line{m.net, true, m.X}], m.Y)
		if level+upright >= 3 && !levelRail && !uprightRail {
			list = append(list, m)
		}
	}
	slices.SortFunc(list, func(a, b meeting) int {
		return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X), cmp.Compare(a.net, b.net))
	})
	return list
}

// ways counts in how many ways strokes of one line leave a place on it, and
// says whether one is a rail.
func ways(list []stroke, at page.Unit) (n int, rail bool) {
	for _, s := range list {
		if s.from > at || s.to < at {
			continue
		}
		rail = rail || s.rail
		if s.from < at {
			n++
		}
		if s.to > at {
			n++
		}
	}
	return n, rail
}

// wireNumber writes the number of a net at a wire behind a symbol, or before
// one. In a path it stands left of the wire in a frame: the terminals on the
// other side are numbers too.
func (c *canvas) wireNumber(w wire, a, b page.Point) {
	if w.number == noNumber {
		return
	}
	t := page.Text{At: a.Add(45, -95), Size: numberSize, Words: c.numbers.Wires[w.net]}
	if w.number == numberAhead {
		t.At, t.Anchor = b.Add(-45, -95), page.End
	}
	shows := page.Shows{ID: "wire " + t.Words, Class: "wire-number"}
	if c.opt.Layout == Paths {
		t.At, t.Anchor = a.Add(-115, 230), page.End
		if w.number == numberAhead {
			t.At = b.Add(-115, -130)
		}
		frame := t.Bounds().Grow(35)
		c.page.Add(page.Element{Shape: page.Rect{Box: frame, Round: frame.Height() / 2}, Style: page.Style{Weight: page.Hair, Ink: page.Black},
			Shows: shows})
	}
	c.page.Add(page.Element{Shape: t, Style: page.Style{Ink: page.Black}, Shows: shows})
}

// tagsOf draws the references at the ends of wires, each on a short end of its
// own.
func (c *canvas) tagsOf() {
	for _, t := range part(c.tags, func(t tag) int { return t.band }, c.g.pages[c.number]) {
		start, lead := c.spot(c.g, t.at), tagLead
		if t.right {
			lead = -tagLead
		}
		at := c.at(start+lead, c.g.rows[t.band][0])
		c.wire(c.at(start, c.g.rows[t.band][0]), at, t.net, false)
		c.held[meeting{at, t.net}] = true
		text := page.Text{At: at.Add(90, 70), Anchor: page.Start, Size: wordSize, Bold: true, Words: t.text()}
		if t.right {
			text.At, text.Anchor = at.Add(-90, 70), page.End
		}
		if c.opt.Layout == Paths {
			text.Anchor, text.At = page.Middle, at.Add(0, 90+page.Above(wordSize))
			if t.right {
				text.At = at.Add(0, -90-page.Below(wordSize))
			}
		}
		c.page.Add(page.Element{Shape: text, Style: page.Style{Ink: page.Black}, Shows: page.Shows{ID: "reference " + t.words, Class: "reference"}})
	}
}
