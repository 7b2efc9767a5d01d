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
// Where it is too small to be read, only its tags and lines are left.
func (f *frame) placeDrawing(p *page.Page, at page.Point, percent int) {
	start := len(f.page.Elements)
	if percent < legible {
		p = &page.Page{Elements: slices.DeleteFunc(slices.Clone(p.Elements), isSmallPrint)}
	}
	f.place(p, at, percent)
	if percent >= 70 {
		return
	}
	for i := start; i < len(f.page.Elements); i++ {
		e := &f.page.Elements[i]
		if e.Style.Weight > page.Thin {
			e.Style.Weight--
		}
		if t, ok := e.Shape.(page.Text); ok && percent < legible {
			less := t.Size / 8
			t.Size -= less
			t.At.Y -= less
			if e.Shows.Class == "rail-name" { // off the rail's end
				t.At.Y -= 40
			}
			e.Shape = t
		}
	}
}

// legible is the size in percent below which a drawing's small print cannot be
// read.
const legible = 40

// isSmallPrint picks the words of a drawing that are smaller than its tags, and
// the numbers and tables beside it.
func isSmallPrint(e page.Element) bool {
	switch e.Shows.Class {
	case "cross-reference", "closed-reference", "contact-table", "rung-number":
		return true
	}
	t, ok := e.Shape.(page.Text)
	return ok && t.Size < 290
}

// moved returns a shape scaled by percent and then moved by at.
func moved(s page.Shape, at page.Point, percent page.Unit) page.Shape {
	return page.Moved(s, at, percent, 6+max(70-percent, 0)/4)
}
