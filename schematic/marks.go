package schematic

import (
	"slices"

	"tarry/page"
)

// painted is a symbol on a page: which of the page's elements it and its words
// are, and what marks it may get.
type painted struct {
	seat
	shows     page.Shows
	from, end int // places in page.Elements
	marks     seatMarks
	// Of a load: where its words begin in page.Elements, and what they are.
	words  int
	depths depths
	block  block
	origin page.Point
}

// seatMarks are all the marks that a symbol may get. They depend on the layout
// alone; a state says which of them stand.
type seatMarks struct {
	closed, open page.Element    // of a contact
	ends         [2]page.Element // heavy ends of what carries current
	disc, symbol []page.Element  // of a load: the disc behind it, and itself again
}

// marksOfContact returns a dot and a ring, which tell whether a contact
// conducts now, and the heavy line through one that carries the current of a
// load.
func marksOfContact(p *pen, d depths) seatMarks {
	mark := page.Element{Shape: page.Circle(p.at(0, -d.minus-markRoom/2-20), markSize),
		Style: page.Style{Weight: page.Thin, Ink: page.Black, Fill: page.Knockout}, Shows: page.Shows{ID: p.shows.ID, Class: "mark-open"}}
	m := seatMarks{open: mark, closed: mark, ends: liveEnds(p)}
	m.closed.Style.Fill, m.closed.Shows.Class = page.Solid, "mark-closed"
	return m
}

// ofContact returns the marks of a contact in a state.
func (m *seatMarks) ofContact(closed, live bool) []page.Element {
	list := []page.Element{m.open}
	if closed {
		list[0] = m.closed
	}
	if live {
		list = append(list, m.ends[:]...)
	}
	return list
}

// marksOfLoad returns how an energised load is marked: a disc behind its
// symbol, from which letters are kept clear, and a heavy line on both sides.
func marksOfLoad(p *pen, symbol []page.Element) seatMarks {
	m := seatMarks{ends: liveEnds(p), symbol: slices.Clone(symbol)}
	shows := page.Shows{ID: p.shows.ID, Class: "live"}
	radius := litSize
	var clear []page.Element
	for _, e := range symbol {
		if t, ok := e.Shape.(page.Text); ok {
			radius = litLettered
			clear = append(clear, page.Element{Shape: clearing(t.Bounds()), Style: page.Style{Fill: page.Knockout}, Shows: shows})
		}
	}
	disc := page.Element{Shape: page.Circle(p.at(0, 0), radius), Style: page.Style{Ink: page.Live, Fill: page.Solid}, Shows: shows}
	m.disc = append([]page.Element{disc}, clear...)
	return m
}

// liveEnds is a heavy line at both ends of a symbol.
func liveEnds(p *pen) (list [2]page.Element) {
	for i, side := range []page.Unit{-1, 1} {
		list[i] = page.Element{Shape: page.Line(p.at(side*(reach+shy), 0), p.at(side*(reach-150), 0)),
			Style: page.Style{Weight: page.Heavy, Ink: page.Live}, Shows: page.Shows{ID: p.shows.ID, Class: "live"}}
	}
	return list
}

// clearing is what is left free of the disc behind words: a round place for a
// single letter, a square one for more.
func clearing(box page.Box) page.Shape {
	if box.Width() > box.Height() {
		return page.Rect{Box: box.Grow(20)}
	}
	middle := page.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
	return page.Circle(middle, (box.Width()+box.Height())*38/100)
}
