package page

import "fmt"

// Faults lists what is badly placed on a page, for the tests of whatever draws:
// anything beyond the page's edge, text over text, and text with a stroke
// through it. A faint line or a hatch behind text counts too, unless a
// knocked-out box under the words keeps it away.
func Faults(p *Page) []string {
	var faults []string
	sheet := Box{Max: Point{p.Width, p.Height}}
	bounds := make([]Box, len(p.Elements)) // an arc's take long to work out
	for i, e := range p.Elements {
		bounds[i] = e.Shape.Bounds()
	}
	for i, e := range p.Elements {
		if !sheet.Holds(bounds[i]) {
			faults = append(faults, "beyond the page: "+brief(e.Shape))
		}
		if t, ok := e.Shape.(Text); ok {
			faults = append(faults, textFaults(p, bounds, i, t)...)
		}
	}
	return faults
}

func textFaults(p *Page, bounds []Box, at int, t Text) []string {
	var faults []string
	box := bounds[at]
	for i := clearFrom(p, at, box); i < len(p.Elements); i++ {
		e := &p.Elements[i]
		if i == at || !bounds[i].Grow(e.Style.Weight.Width()/2+1).Overlaps(box) {
			continue
		}
		switch s := e.Shape.(type) {
		case Text:
			if i > at && bounds[i].Overlaps(box) {
				faults = append(faults, fmt.Sprintf("text over text: %q, %q at %v,%v", t.Words, s.Words, s.At.X, s.At.Y))
			}
		default:
			if strikes(*e, box) || i > at && e.Style.Fill == Knockout {
				faults = append(faults, fmt.Sprintf("%q struck by %s", t.Words, brief(s)))
			}
		}
	}
	return faults
}

// brief is the beginning of a shape's line in a listing.
func brief(s Shape) string {
	words := []rune(shapeWords(s))
	if len(words) > 80 {
		return string(words[:80]) + "…"
	}
	return string(words)
}

// clearFrom returns the element from which on something could spoil the text
// in box: the last knockout before it that covers it, or 0.
func clearFrom(p *Page, at int, box Box) int {
	for i := at - 1; i >= 0; i-- {
		e := &p.Elements[i]
		if e.Style.Fill == Knockout && covers(e.Shape, box) {
			return i + 1
		}
	}
	return 0
}

// covers reports whether a rectangle or a whole circle covers a box.
func covers(s Shape, box Box) bool {
	switch s := s.(type) {
	case Rect:
		return s.Box.Holds(box)
	case Arc:
		dx := int64(max(s.Centre.X-box.Min.X, box.Max.X-s.Centre.X))
		dy := int64(max(s.Centre.Y-box.Min.Y, box.Max.Y-s.Centre.Y))
		return (s.Sweep == 360 || s.Sweep == -360) && dx*dx+dy*dy <= int64(s.Radius)*int64(s.Radius)
	}
	return false
}

// strikes reports whether ink of e, which is no text, runs through the box.
func strikes(e Element, box Box) bool {
	box = box.Grow(e.Style.Weight.Width() / 2)
	if e.Style.Fill == Solid {
		return true // its bounds overlap already
	}
	if e.Style.Weight == NoStroke {
		return false
	}
	switch s := e.Shape.(type) {
	case Hatch:
		return s.Box.Overlaps(box)
	case Rect:
		b := s.Box
		corners := []Point{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
		return crosses(corners, true, box)
	case Arc:
		return crosses(s.Points(5), false, box)
	case Poly:
		return crosses(s.Points, s.Closed, box)
	}
	return false
}

func crosses(points []Point, closed bool, box Box) bool {
	for i := 1; i < len(points); i++ {
		if segmentCrosses(points[i-1], points[i], box) {
			return true
		}
	}
	return closed && len(points) > 2 && segmentCrosses(points[len(points)-1], points[0], box)
}

// segmentCrosses looks for a line that keeps the segment and the box apart:
// one of the box's sides, or the segment's own line.
func segmentCrosses(a, b Point, box Box) bool {
	if max(a.X, b.X) <= box.Min.X || min(a.X, b.X) >= box.Max.X || max(a.Y, b.Y) <= box.Min.Y || min(a.Y, b.Y) >= box.Max.Y {
		return false
	}
	var left, right bool
	for _, c := range [4]Point{box.Min, {box.Max.X, box.Min.Y}, box.Max, {box.Min.X, box.Max.Y}} {
		side := int64(b.X-a.X)*int64(c.Y-a.Y) - int64(b.Y-a.Y)*int64(c.X-a.X)
		left = left || side < 0
		right = right || side > 0
	}
	return left && right
}
