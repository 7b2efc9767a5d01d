package pdf

import "tarry/page"

// Paper is a size of sheet. The zero value is each page's own.
type Paper uint8

// The papers.
const (
	Own    Paper = iota
	A4           // 210 by 297 mm
	Letter       // 8.5 by 11 in
)

// The edges of a sheet that stay free, in 1/100 mm: what printers can't reach,
// and at the left what is punched.
const (
	freeEdge = 8 * page.MM
	freeLeft = 12 * page.MM
)

// size returns the sheet, upright.
func (p Paper) size() (width, height page.Unit) {
	if p == A4 {
		return 21000, 29700
	}
	return 21590, 27940
}

// placement is where a page stands on a sheet, lengths in 1/100 mm: the
// sheet's size, the page's top left corner on it, the scale.
type placement struct {
	width, height page.Unit
	left, top     float64
	scale         float64
}

// place puts a page in the middle of the free part of a sheet, scaled down if
// it is too large for it, the sheet upright or on its side, whichever leaves
// the page larger. If both leave it whole, the sheet lies as the page does. A
// page that is a sheet itself, its edges free, stays as it is.
func (p Paper) place(q *page.Page) placement {
	if p == Own {
		return placement{q.Width, q.Height, 0, 0, 1}
	}
	w, h := p.size()
	upright, lying := placed(q, w, h), placed(q, h, w)
	switch {
	case upright.scale > lying.scale:
		return upright
	case lying.scale > upright.scale || q.Width > q.Height:
		return lying
	}
	return upright
}

func placed(q *page.Page, width, height page.Unit) placement {
	if q.Width == width && q.Height == height && edgesFree(q) {
		return placement{width, height, 0, 0, 1}
	}
	room := page.Point{X: width - freeLeft - freeEdge, Y: height - 2*freeEdge}
	scale := min(1, float64(room.X)/float64(q.Width), float64(room.Y)/float64(q.Height))
	return placement{
		width: width, height: height, scale: scale,
		left: float64(freeLeft) + (float64(room.X)-scale*float64(q.Width))/2,
		top:  float64(freeEdge) + (float64(room.Y)-scale*float64(q.Height))/2,
	}
}

// edgesFree reports whether a page keeps the edges of a sheet free itself.
func edgesFree(q *page.Page) bool {
	room := page.Box{
		Min: page.Point{X: freeLeft, Y: freeEdge},
		Max: page.Point{X: q.Width - freeEdge, Y: q.Height - freeEdge},
	}
	for _, e := range q.Elements {
		if !room.Holds(e.Shape.Bounds()) {
			return false
		}
	}
	return true
}

// points converts 1/100 mm to points, 72 to the inch.
func points(u page.Unit) float64 { return float64(u) * 72 / 2540 }
