package schematic

import (
	"strconv"

	"tarry/circuit"
	"tarry/page"
)

// Drawing is a circuit laid out once, for a screen on which its state keeps
// changing. What it returns is shared: do not change it. Several goroutines
// may read it at once.
type Drawing struct {
	pages []*canvas
	parts []Part
}

// Prepare lays a circuit out once, with room for the marks of any state; the
// State of opt counts for nothing.
func Prepare(c *circuit.Circuit, opt Options) *Drawing {
	opt.State, opt.MarkRoom = nil, true
	d := &Drawing{pages: draw(c, opt)}
	for _, p := range d.pages {
		for i := range p.painted {
			p.painted[i].marks.repaint(p.painted[i].shows.ID)
		}
	}
	d.parts = partsOf(d.pages)
	return d
}

// Pages returns the drawing at rest: what Draw returns with MarkRoom.
func (d *Drawing) Pages() []*page.Page {
	list := make([]*page.Page, len(d.pages))
	for i, p := range d.pages {
		list[i] = p.page
	}
	return list
}

// Marks returns, for each page, what a state adds: to be painted over the page
// at rest, in this order. Timer rings are left out; Part says where they stand.
// The marks of one symbol, stroke or joint have a Shows of their own, and look
// the same in every state in which they stand:
//
//	K1.no:13  mark-closed, mark-open   the dot or ring of a contact
//	K1.no:13  live                     the heavy ends of a symbol
//	H1        lit                      the disc in a load, its symbol painted again
//	wire 4 2000,1500 3000,1500  live   a heavy line from there to there
//	joint 2000,1500  joint             a joint's dot painted again
//	KT1       setting                  the times that a timer is set to now
func (d *Drawing) Marks(st *State) [][]page.Element {
	list := make([][]page.Element, len(d.pages))
	for i, p := range d.pages {
		list[i] = p.marks(st)
	}
	return list
}

func (c *canvas) marks(st *State) []page.Element {
	strokes, left := c.flow.carrying(st)
	list := c.liveStrokes(strokes, make([]page.Element, 0, len(strokes)+4*len(c.painted)))
	for i := range c.flow.joints {
		if j := &c.flow.joints[i]; left[j.point] > 0 {
			list = append(list, j.dot)
		}
	}
	for i := range c.painted {
		p := &c.painted[i]
		switch {
		case p.contact >= 0 && st.Closed[p.contact]:
			list = append(list, p.marks.closed)
		case p.contact >= 0:
			list = append(list, p.marks.open)
		case p.carries(st):
			list = append(append(list, p.marks.disc...), p.marks.symbol...)
		}
		if p.carries(st) {
			list = append(list, p.marks.ends[:]...)
		}
		if len(st.Set) > 0 {
			list = append(list, c.settingMarks(p, st)...)
		}
	}
	return list
}

// liveStrokes adds the heavy lines of strokes, each with its place in its name.
// All names are cut from one text and all points from one list: this runs at
// every change of a state.
func (c *canvas) liveStrokes(strokes []stroke, list []page.Element) []page.Element {
	names, ends := make([]byte, 0, 40*len(strokes)), make([]int, len(strokes))
	points := make([]page.Point, 0, 2*len(strokes))
	for i, s := range strokes {
		names = append(append(names, "wire "...), c.numbers.Wires[s.net]...)
		for _, p := range s.ends() {
			names = appendPoint(append(names, ' '), p)
			points = append(points, p)
		}
		ends[i] = len(names)
	}
	text, from := string(names), 0
	for i, end := range ends {
		list = append(list, page.Element{Shape: page.Poly{Points: points[2*i : 2*i+2 : 2*i+2]},
			Style: page.Style{Weight: page.Heavy, Ink: page.Live}, Shows: page.Shows{ID: text[from:end], Class: "live"}})
		from = end
	}
	return list
}

// repaint gives a load's disc and its symbol painted over it one Shows.
func (m *seatMarks) repaint(id string) {
	for _, list := range [][]page.Element{m.disc, m.symbol} {
		for i := range list {
			list[i].Shows = page.Shows{ID: id, Class: "lit"}
		}
	}
}

func appendPoint(to []byte, p page.Point) []byte {
	return strconv.AppendInt(append(strconv.AppendInt(to, int64(p.X), 10), ','), int64(p.Y), 10)
}
