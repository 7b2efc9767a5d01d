package sheet

import (
	"tarry/page"
)

// keepClear keeps the marks of energised loads away from words: a symbol that
// is thin has its words close by, and some have a letter inside. There the mark
// becomes smaller, or a ring around the letter.
func keepClear(p *page.Page) {
	for i := range p.Elements {
		e := &p.Elements[i]
		mark, ok := e.Shape.(page.Arc)
		if !ok || e.Shows.Class != "live" || e.Style.Fill != page.Solid {
			continue
		}
		for _, other := range p.Elements {
			t, ok := other.Shape.(page.Text)
			if !ok || !t.Bounds().Overlaps(mark.Bounds().Grow(clearance)) {
				continue
			}
			b := t.Bounds()
			if b.Holds(page.Box{Min: mark.Centre, Max: mark.Centre}) {
				e.Style = page.Style{Weight: page.Heavy, Ink: page.Live}
				mark.Radius = around(mark.Centre, b)
				continue
			}
			mark.Radius = max(min(mark.Radius, away(mark.Centre, b)-clearance), 60)
		}
		e.Shape = mark
	}
}

const clearance page.Unit = 25

// around is the radius of a ring that a box's corners lie within.
func around(p page.Point, b page.Box) page.Unit {
	x, y := max(p.X-b.Min.X, b.Max.X-p.X), max(p.Y-b.Min.Y, b.Max.Y-p.Y)
	r := max(x, y)
	for r*r < x*x+y*y {
		r++
	}
	return r + page.Heavy.Width()/2 + 2*clearance
}

// away is how far a point lies from a box, counted along the nearer axis.
func away(p page.Point, b page.Box) page.Unit {
	x := max(b.Min.X-p.X, p.X-b.Max.X)
	y := max(b.Min.Y-p.Y, p.Y-b.Max.Y)
	return max(x, y)
}
