package sheet

import (
	"fmt"
	"slices"
	"strings"

	"tarry/page"
	"tarry/schematic"
)

// A ladder is tall and narrow. Above a chart it would have to be made small to fit,
// with most of the paper's width empty beside it. So it is also tried cut into
// columns that stand side by side; current paths, which are wide and low, into rows
// that stand below each other.

const (
	mostPieces           = 3
	pieceGap   page.Unit = 900 // between two pieces, at full size
	// worthPieces is how much the size of the drawing times that of the chart must
	// come to, in percent of what it is with fewer pieces.
	worthPieces page.Unit = 115
)

// arrangements returns the drawing whole, and then cut into two pieces and more
// where it can be, each on one page.
func (s *setter) arrangements() []*page.Page {
	whole := schematic.Draw(s.circuit, s.drawOptions())
	if len(whole) != 1 {
		return nil
	}
	list := whole
	for n := 2; n <= mostPieces; n++ {
		if p := s.pieces(whole[0], n); p != nil {
			list = append(list, p)
		}
	}
	return list
}

// pieces cuts the drawing into n pieces, the longest as short as it can be. It
// returns nil if the drawing can't be cut so, or only by cutting rungs.
func (s *setter) pieces(whole *page.Page, n int) *page.Page {
	length := whole.Ink().Height()
	if s.opt.Layout == schematic.Paths {
		length = whole.Ink().Width()
	}
	for room := length / page.Unit(n); room < length; room += max(length/40, 1) {
		opt := s.drawOptions()
		if s.opt.Layout == schematic.Paths {
			opt.Width = room
		} else {
			opt.Height = room
		}
		drawn := schematic.Draw(s.circuit, opt)
		cut := 0
		for _, p := range drawn {
			cut += len(references(p, false))
		}
		switch {
		case len(drawn) < n:
			return nil
		case len(drawn) == n && cut == len(references(whole, false)):
			return sideBySide(drawn, s.opt.Layout)
		}
	}
	return nil
}

// references lists the references on a page: those to other pieces, or those within
// a piece.
func references(p *page.Page, other bool) []page.Text {
	var list []page.Text
	for _, e := range p.Elements {
		if t, ok := e.Shape.(page.Text); ok && e.Shows.Class == "reference" && strings.Contains(t.Words, "→ drawing ") == other {
			list = append(list, t)
		}
	}
	return list
}

// sideBySide puts pieces of a drawing on one page, side by side or, with current paths,
// below each other. If one refers to another, each has its name above it.
func sideBySide(pieces []*page.Page, layout schematic.Layout) *page.Page {
	all := &page.Page{}
	named := slices.ContainsFunc(pieces, func(p *page.Page) bool { return len(references(p, true)) > 0 })
	at := page.Point{}
	for i, p := range pieces {
		top := at
		if named {
			words := page.Text{At: at.Add(0, page.Above(noteSize)), Size: noteSize, Bold: true, Words: fmt.Sprintf("Drawing %d", i+1)}
			all.Add(page.Element{Shape: words, Shows: page.Shows{Class: "piece"}})
			top.Y += noteSize + 200
		}
		box := p.Ink()
		for _, e := range p.Elements {
			e.Shape = page.Moved(e.Shape, top.Add(-box.Min.X, -box.Min.Y), 100, 0)
			all.Add(e)
		}
		if layout == schematic.Paths {
			at.Y = top.Y + box.Height() + pieceGap
		} else {
			at.X += box.Width() + pieceGap
		}
		all.Description = strings.TrimSpace(all.Description + " " + p.Description)
	}
	box := all.Ink()
	all.Width, all.Height = box.Max.X, box.Max.Y
	return all
}
