package schematic

import (
	"tarry/page"
)

// pen draws a symbol in the symbol's own frame: u runs along the path, from
// the left rail (or the upper one) to the other; w is the way in which a moving
// part goes when its device operates. On a drawing with horizontal rungs u
// points right and w up; with vertical paths u points down and w right. Both
// are turns of one frame, never mirror images, so a symbol is drawn once and
// keeps its sense in both layouts. Angles count in degrees from u towards w.
type pen struct {
	page   *page.Page
	origin page.Point // the middle of the symbol, on the path
	down   bool       // the path runs down
	shows  page.Shows
	weight page.Weight // of the strokes of symbols
}

// at returns the place on the page of a point of the symbol's frame.
func (p *pen) at(u, w page.Unit) page.Point {
	if p.down {
		return p.origin.Add(w, u)
	}
	return p.origin.Add(u, -w)
}

func (p *pen) style(weight page.Weight) page.Style {
	return page.Style{Weight: weight, Ink: page.Black}
}

// add puts a shape on the page as part of what the pen shows.
func (p *pen) add(s page.Shape, style page.Style) {
	p.page.Add(page.Element{Shape: s, Style: style, Shows: p.shows})
}

// line draws strokes through points given as u, w, u, w …
func (p *pen) line(uw ...page.Unit) {
	p.add(page.Poly{Points: p.points(uw)}, p.style(p.weight))
}

// thin draws the same with a thin stroke: for what is joined to a blade or
// only tells more.
func (p *pen) thin(uw ...page.Unit) {
	p.add(page.Poly{Points: p.points(uw)}, p.style(page.Thin))
}

// dashed draws a mechanical link.
func (p *pen) dashed(uw ...page.Unit) {
	style := p.style(page.Thin)
	style.Dash = page.Dashed
	p.add(page.Poly{Points: p.points(uw)}, style)
}

// shape draws a closed outline, filled with ink if solid is set.
func (p *pen) shape(solid bool, uw ...page.Unit) {
	style := p.style(p.weight)
	if solid {
		style.Fill = page.Solid
	}
	p.add(page.Poly{Points: p.points(uw), Closed: true}, style)
}

func (p *pen) points(uw []page.Unit) []page.Point {
	var list []page.Point
	for i := 0; i+1 < len(uw); i += 2 {
		list = append(list, p.at(uw[i], uw[i+1]))
	}
	return list
}

// circle draws a circle, filled with ink if solid is set.
func (p *pen) circle(u, w, radius page.Unit, solid bool) {
	style := p.style(p.weight)
	if solid {
		style.Fill = page.Solid
	}
	p.add(page.Circle(p.at(u, w), radius), style)
}

// arc draws a part of a circle from an angle through sweep degrees, both
// counted from u towards w.
func (p *pen) arc(u, w, radius page.Unit, from, sweep int) {
	start := -from
	if p.down {
		start = 90 - from
	}
	p.add(page.Arc{Centre: p.at(u, w), Radius: radius, From: start, Sweep: -sweep}, p.style(p.weight))
}

// text writes words upright on the page, centred on a point of the frame.
func (p *pen) text(u, w, size page.Unit, bold bool, words string) {
	at := p.at(u, w)
	at.Y += size * 35 / 100
	p.add(page.Text{At: at, Anchor: page.Middle, Size: size, Bold: bold, Words: words}, page.Style{Ink: page.Black})
}

// upright returns, as u and w, a move of x to the right and y upwards on the
// page: for what must not turn with the path.
func (p *pen) upright(x, y page.Unit) (u, w page.Unit) {
	if p.down {
		return -y, x
	}
	return x, y
}

// solid fills an outline with ink and strokes nothing: for the heads of arrows.
func (p *pen) solid(uw ...page.Unit) {
	style := page.Style{Ink: page.Black, Fill: page.Solid}
	p.add(page.Poly{Points: p.points(uw), Closed: true}, style)
}
