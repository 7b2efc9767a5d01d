package sheet

import (
	"slices"

	"tarry/page"
)

// place puts everything of a drawing onto the sheet, its top left corner at a
// point, all lengths scaled by percent; strokes keep their weight.
func (f *frame) place(p *page.Page, at page.Point, percent int) {
	for _, e := range p.Elements {
		e.Shape = moved(e.Shape, at, page.Unit(percent))
		f.page.Add(e)
	}
}

// placeDrawing does the same with a schematic. At two thirds of its size or
// less, strokes become one class lighter, or they would close up its symbols.
func (f *frame) placeDrawing(p *page.Page, at page.Point, percent int) {
	start := len(f.page.Elements)
	f.place(p, at, percent)
	if percent >= 70 {
		return
	}
	for i := start; i < len(f.page.Elements); i++ {
		if style := &f.page.Elements[i].Style; style.Weight > page.Thin {
			style.Weight--
		}
	}
}

// moved returns a shape scaled by percent and then moved by at.
func moved(s page.Shape, at page.Point, percent page.Unit) page.Shape {
	point := func(p page.Point) page.Point { return at.Add(p.X*percent/100, p.Y*percent/100) }
	box := func(b page.Box) page.Box { return page.Box{Min: point(b.Min), Max: point(b.Max)} }
	switch s := s.(type) {
	case page.Poly:
		s.Points = slices.Clone(s.Points)
		for i := range s.Points {
			s.Points[i] = point(s.Points[i])
		}
		return s
	case page.Rect:
		return page.Rect{Box: box(s.Box), Round: s.Round * percent / 100}
	case page.Arc:
		s.Centre, s.Radius = point(s.Centre), s.Radius*percent/100
		return s
	case page.Hatch:
		return page.Hatch{Box: box(s.Box), Pitch: s.Pitch * percent / 100}
	case page.Text:
		s.At, s.Size = point(s.At), s.Size*percent/100
		if percent < 100 { // strokes keep their weight, so words keep away from them
			less := s.Size * (6 + max(70-percent, 0)/4) / 100
			s.Size -= less
			s.At.Y -= less * 35 / 100
		}
		return s
	}
	panic("sheet: unknown shape")
}
