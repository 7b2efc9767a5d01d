package page

import (
	"fmt"
	"slices"
)

// Moved returns a shape scaled by percent about the page's corner and then moved
// by at. Strokes keep their weight, so words that were made smaller are made a
// little smaller still, by so many percent of their size, to keep away from them.
func Moved(s Shape, at Point, percent, smaller Unit) Shape {
	point := func(p Point) Point { return at.Add(p.X*percent/100, p.Y*percent/100) }
	box := func(b Box) Box { return Box{Min: point(b.Min), Max: point(b.Max)} }
	switch s := s.(type) {
	case Poly:
		s.Points = slices.Clone(s.Points)
		for i := range s.Points {
			s.Points[i] = point(s.Points[i])
		}
		return s
	case Rect:
		return Rect{Box: box(s.Box), Round: s.Round * percent / 100}
	case Arc:
		s.Centre, s.Radius = point(s.Centre), s.Radius*percent/100
		return s
	case Hatch:
		return Hatch{Box: box(s.Box), Pitch: s.Pitch * percent / 100}
	case Text:
		s.At, s.Size = point(s.At), s.Size*percent/100
		if percent < 100 {
			less := s.Size * smaller / 100
			s.Size -= less
			s.At.Y -= less * 35 / 100
		}
		return s
	}
	panic(fmt.Sprintf("page: unknown shape %T", s))
}
