package schematic

import (
	"slices"
	"sort"

	"tarry/circuit"
	"tarry/page"
)

// Room around the drawing in 1/100 mm.
const (
	edge       page.Unit = 600
	headSize   page.Unit = 460
	dotSize    page.Unit = 55 // radius of a joint
	markSize   page.Unit = 85 // radius of a contact's mark
	numberRoom page.Unit = 900
	headRoom   page.Unit = 1000
	footLine   page.Unit = 270
	leastWide  page.Unit = 12000
)

// canvas is one page being painted.
type canvas struct {
	*layout
	g      *grid
	page   *page.Page
	number int        // of the page, from 0
	origin page.Point // of along 0, across 0
	ends   map[page.Point]int
}

// acrossRoom is the room across the rungs on one page, 0 for no limit.
func (l *layout) acrossRoom() page.Unit {
	room, other := l.opt.Height, l.around()
	if l.opt.Layout == Paths {
		room = l.opt.Width
	}
	if room == 0 {
		return 0
	}
	if l.opt.Layout == Paths {
		return max(room-2*edge-numberRoom, 3000)
	}
	return max(room-other.Y-page.Unit(len(l.foot(l.opt.Width)))*footLine, 3000)
}

// around is the room that a page needs besides the drawing itself, but for the
// foot, which depends on the page's width.
func (l *layout) around() page.Point {
	p := page.Point{X: 2*edge + numberRoom, Y: 2*edge + 900}
	if !l.opt.Bare {
		p.Y += headRoom
	}
	if l.opt.Layout == Rungs {
		p.X += l.referenceRoom()
	} else {
		p.Y += 600 + l.tableRoom()
	}
	return p
}

// foot returns the lines below the drawing.
func (l *layout) foot(width page.Unit) []string {
	if l.opt.Bare {
		return nil
	}
	words := "Drawn de-energised, nothing operated."
	if l.opt.State != nil {
		words += " Filled dot: closed now. Ring: open now. Heavy line: live."
	}
	var lines []string
	for _, text := range append(slices.Clone(l.opt.Faults), words+" "+circuit.StandingCaution) {
		lines = append(lines, page.Fold(text, numberSize, false, width-2*edge, 0)...)
	}
	return lines
}

// paint paints all pages.
func (l *layout) paint(g *grid) []*page.Page {
	var pages []*page.Page
	for n := range g.depth {
		c := &canvas{layout: l, g: g, number: n, page: &page.Page{}, ends: map[page.Point]int{}}
		c.setUp()
		c.rails()
		c.conductorsOf()
		c.paintWires()
		c.paintTags()
		c.paintSeats()
		c.rungNumbers()
		c.heading(len(g.depth))
		pages = append(pages, c.page)
	}
	return pages
}

// setUp sizes the page and finds the origin.
func (c *canvas) setUp() {
	along, across := c.g.right-c.g.left, c.g.depth[c.number]
	around := c.around()
	head := edge
	if !c.opt.Bare {
		head += headRoom
	}
	if c.opt.Layout == Paths {
		c.page.Width, c.page.Height = across+around.X, along+around.Y
		c.origin = page.Point{X: edge + numberRoom, Y: head + 500 - c.g.left}
	} else {
		c.page.Width, c.page.Height = along+around.X, across+around.Y
		c.origin = page.Point{X: edge + numberRoom - c.g.left, Y: head + 500}
	}
	c.page.Width = max(c.page.Width, c.opt.Width, leastWide)
	c.page.Height += page.Unit(len(c.foot(c.page.Width))) * footLine
}

// at returns a place on the page.
func (c *canvas) at(along, across page.Unit) page.Point {
	if c.opt.Layout == Paths {
		return c.origin.Add(across, along)
	}
	return c.origin.Add(along, across)
}

// on reports whether a band stands on this page.
func (c *canvas) on(band int) bool { return c.g.page[band] == c.number }

func (c *canvas) netLive(net circuit.NetID) bool {
	return c.opt.State != nil && net >= 0 && c.opt.State.LiveNets[net]
}

// conductor draws a wire of a net.
func (c *canvas) conductor(a, b page.Point, net circuit.NetID, class string) {
	if a == b {
		return
	}
	style := page.Style{Weight: page.Medium, Ink: page.Black}
	shows := page.Shows{Class: class}
	if net >= 0 {
		shows.ID = "wire " + c.numbers.Wires[net]
	}
	c.page.Add(page.Element{Shape: page.Line(a, b), Style: style, Shows: shows})
	if c.netLive(net) {
		shows.Class = "live"
		c.page.Add(page.Element{Shape: page.Line(a, b), Style: page.Style{Weight: page.Heavy, Ink: page.Live}, Shows: shows})
	}
}

// rails draws the two rails with their names.
func (c *canvas) rails() {
	depth := c.g.depth[c.number]
	for i, along := range []page.Unit{c.g.left, c.g.right} {
		a, b := c.at(along, -250), c.at(along, depth)
		c.conductor(a, b, circuit.NetID(i), "rail")
		name := page.Text{At: a.Add(0, -120), Anchor: page.Middle, Size: tagSize, Bold: true, Words: c.circuit.Supply.Rails[i]}
		if c.opt.Layout == Paths {
			name.At, name.Anchor = a.Add(-150, tagSize/3), page.End
		}
		c.say(name, "rail-name")
	}
}

func (c *canvas) say(t page.Text, class string) {
	c.page.Add(page.Element{Shape: t, Style: page.Style{Ink: page.Black}, Shows: page.Shows{Class: class}})
}

// stretch is the part of a node's conductor that stands on a page.
type stretch struct {
	n      node
	zone   int
	across []page.Unit
	above  bool // goes on on an earlier page
	below  bool // and on a later one
}

// conductorsOf draws the nodes' conductors of this page, and references where
// they go on.
func (c *canvas) conductorsOf() {
	found := map[[2]int]*stretch{}
	var list []*stretch
	for _, j := range c.joints {
		key := [2]int{int(j.n), j.zone}
		s, ok := found[key]
		if !ok {
			s = &stretch{n: j.n, zone: j.zone}
			found[key] = s
			list = append(list, s)
		}
		switch p := c.g.page[j.band]; {
		case p < c.number:
			s.above = true
		case p > c.number:
			s.below = true
		default:
			s.across = append(s.across, c.g.rows[j.band][0])
		}
	}
	sort.Slice(list, func(i, j int) bool { return c.trackOf(list[i]) < c.trackOf(list[j]) })
	up, down := page.Unit(0), page.Unit(0)
	for _, s := range list {
		if len(s.across) > 0 {
			c.stretch(s, &up, &down)
		}
	}
}

func (c *canvas) trackOf(s *stretch) page.Unit { return c.g.track[s.zone][s.n] }

// stretch draws one conductor; up and down say how far the references of the
// ones before reach.
func (c *canvas) stretch(s *stretch, up, down *page.Unit) {
	along, j := c.trackOf(s), c.nodes[s.n]
	first, last := s.across[0], s.across[0]
	for _, y := range s.across {
		first, last = min(first, y), max(last, y)
	}
	label := c.labelOf(s.n)
	if s.above {
		*up += 320
		first = -150 - *up
		c.pageReference(c.at(along, first), label)
	}
	if s.below {
		*down += 320
		last = c.g.depth[c.number] + *down
		c.pageReference(c.at(along, last), label)
	}
	c.conductor(c.at(along, first), c.at(along, last), j.net, "wire")
	for _, y := range s.across {
		c.ends[c.at(along, y)] |= c.directions(y > first, y < last)
	}
}

// directions are the bits of the ways in which wires leave a point: 1 and 2
// across the rungs, 4 and 8 along them.
func (c *canvas) directions(before, after bool) int {
	d := 0
	if before {
		d |= 1
	}
	if after {
		d |= 2
	}
	return d
}

// pageReference names a conductor that goes on on another page.
func (c *canvas) pageReference(at page.Point, label string) {
	c.say(page.Text{At: at.Add(-80, 60), Anchor: page.End, Size: numberSize, Words: "→ " + label}, "reference")
}

// paintWires draws the wires of the bands and the dots where they meet.
func (c *canvas) paintWires() {
	printed := map[[2]int]bool{}
	for _, w := range c.wires {
		if !c.on(w.band) {
			continue
		}
		rows := c.g.rows[w.band]
		from, to := c.spot(c.g, w.from), c.spot(c.g, w.to)
		a, b := c.at(from, rows[w.row]), c.at(to, rows[w.toRow])
		c.conductor(a, b, w.net, "wire")
		if w.row != w.toRow {
			c.joinAcross(w, from)
			continue
		}
		if from == to {
			continue
		}
		back := from > to
		c.end(a, w.from, back)
		c.end(b, w.to, !back)
		if key := [2]int{w.band, int(w.net)}; w.net > circuit.RightRail && !printed[key] && c.wireNumber(w, from, to, a) {
			printed[key] = true
		}
	}
	c.dots()
}

// end notes that a wire along the path ends at a point, coming from the left
// if left is set.
func (c *canvas) end(at page.Point, s spot, left bool) {
	if s.kind == railLeft || s.kind == railRight || s.kind == cellIn || s.kind == cellOut {
		return
	}
	bit := 8
	if left {
		bit = 4
	}
	c.ends[at] |= bit
}

// joinAcross notes a group's upright wire at each row that it passes.
func (c *canvas) joinAcross(w wire, along page.Unit) {
	rows := c.g.rows[w.band]
	for r := w.row; r <= w.toRow; r++ {
		c.ends[c.at(along, rows[r])] |= c.directions(r > w.row, r < w.toRow)
	}
}

// dots marks the points at which three or more wires meet.
func (c *canvas) dots() {
	var list []page.Point
	for p, d := range c.ends {
		if n := d&1 + d>>1&1 + d>>2&1 + d>>3&1; n >= 3 {
			list = append(list, p)
		}
	}
	sort.Slice(list, func(i, j int) bool {
		return list[i].Y < list[j].Y || list[i].Y == list[j].Y && list[i].X < list[j].X
	})
	for _, p := range list {
		c.page.Add(page.Element{Shape: page.Circle(p, dotSize), Style: page.Style{Ink: page.Black, Fill: page.Solid},
			Shows: page.Shows{Class: "joint"}})
	}
}

// wireNumber writes the number of a net at a wire behind a symbol, and reports
// whether there was room.
func (c *canvas) wireNumber(w wire, from, to page.Unit, a page.Point) bool {
	words := c.numbers.Wires[w.net]
	if w.from.kind != cellOut || to-from < 200 {
		return false
	}
	t := page.Text{At: a.Add(45, -70), Size: numberSize, Words: words}
	if c.opt.Layout == Paths {
		t.At = a.Add(80, 80+2*(30+page.Above(numberSize)))
	}
	c.page.Add(page.Element{Shape: t, Style: page.Style{Ink: page.Black},
		Shows: page.Shows{ID: "wire " + words, Class: "wire-number"}})
	return true
}

// paintTags draws the references at the ends of wires.
func (c *canvas) paintTags() {
	for _, t := range c.tags {
		if !c.on(t.band) {
			continue
		}
		at := c.at(c.spot(c.g, t.at), c.g.rows[t.band][0])
		words, anchor, dx := t.words+" →", page.Start, page.Unit(90)
		if t.right {
			words, anchor, dx = "→ "+t.words, page.End, -90
		}
		text := page.Text{At: at.Add(dx, 70), Anchor: anchor, Size: wordSize, Bold: true, Words: words}
		if c.opt.Layout == Paths {
			text.Anchor, text.At = page.Middle, at.Add(0, 90+page.Above(wordSize))
			if t.right {
				text.At = at.Add(0, -90)
			}
		}
		c.page.Add(page.Element{Shape: text, Style: page.Style{Ink: page.Black}, Shows: page.Shows{ID: "reference " + t.words, Class: "reference"}})
	}
}
