package sheet

import (
	"fmt"
	"strings"

	"tarry/page"
	"tarry/schematic"
)

// A drawing sheet holds one page of the schematic and the legend of its
// symbols. The schematic is asked for without a limit first; if it then fits at
// some size that can still be read, that is it. Otherwise it is asked again for
// the room that there is, and folds its rungs and goes on over pages. Paper
// upright and on its side are both tried, and the better one wins.

// Sizes of a drawing on a sheet in percent: never below the smallest at which a
// wire number can be read, a little above full size where there is plenty of
// room.
const (
	leastPercent = 75
	mostPercent  = 130
)

// plan is one way to put the schematic on paper.
type plan struct {
	landscape bool
	pages     []*page.Page
	percent   int
}

func (s *setter) drawingPages() []*page.Page { return s.drawingPagesOf("") }

// drawingPagesOf heads the sheets with what the drawing belongs to, if that is not
// the circuit alone.
func (s *setter) drawingPagesOf(what string) []*page.Page {
	upright, across := s.planFor(false), s.planFor(true)
	best := upright
	if across.better(upright) {
		best = across
	}
	var pages []*page.Page
	for i, p := range best.pages {
		name := "Drawing"
		if n := len(best.pages); n > 1 {
			name = fmt.Sprintf("Drawing, %d of %d", i+1, n)
		}
		if what != "" {
			name = what + ": " + strings.ToLower(name)
		}
		f := s.drawingFrame(best.landscape, name)
		s.paintDrawing(f, p, best.percent)
		pages = append(pages, f.page)
	}
	return pages
}

// better reports whether p is to be preferred: fewer pages, then larger. The
// longer side lies along the paths where both are alike.
func (p plan) better(q plan) bool {
	if len(p.pages) != len(q.pages) {
		return len(p.pages) < len(q.pages)
	}
	return p.percent >= q.percent
}

// aim is what the circuit is for, in the text's own words.
func (s *setter) aim() string {
	if aims := s.circuit.NotesOf("aim"); len(aims) > 0 {
		return aims[0]
	}
	return ""
}

func (s *setter) drawingFrame(landscape bool, name string) *frame {
	return s.newSheet(look{name: name, about: s.aim(), landscape: landscape, assumptions: true, cautions: true})
}

// planFor finds the best way for paper upright or on its side.
func (s *setter) planFor(landscape bool) plan {
	f := s.drawingFrame(landscape, "Drawing")
	width, height := f.room.Width(), f.room.Height()-s.newLegend(f.room.Width()).height()-air
	whole := schematic.Draw(s.circuit, s.drawOptions())
	if p := fitting(whole, width, height); p >= leastPercent {
		return plan{landscape, whole, min(p, mostPercent)}
	}
	best := plan{landscape: landscape}
	for percent := 100; percent >= leastPercent; percent -= 5 {
		opt := s.drawOptions()
		opt.Width, opt.Height = width*100/page.Unit(percent), height*100/page.Unit(percent)
		pages := schematic.Draw(s.circuit, opt)
		fits := min(fitting(pages, width, height), percent)
		if best.pages == nil || best.percent < leastPercent && fits > best.percent ||
			fits >= leastPercent && len(pages) < len(best.pages) {
			best.pages, best.percent = pages, fits
		}
	}
	return best
}

func (s *setter) drawOptions() schematic.Options {
	return schematic.Options{Symbols: s.opt.Symbols, Layout: s.opt.Layout, NoWords: s.opt.NoWords, Bare: true}
}

// fitting returns at which percent all drawings fit into a room.
func fitting(drawings []*page.Page, width, height page.Unit) int {
	percent := 1000
	for _, p := range drawings {
		box := p.Ink()
		percent = min(percent, int(width*100/max(box.Width(), 1)), int(height*100/max(box.Height(), 1)))
	}
	return percent
}

// paintDrawing puts a page of the schematic into the middle of the room, and
// the legend below.
func (s *setter) paintDrawing(f *frame, p *page.Page, percent int) {
	l := s.newLegend(f.room.Width())
	room := f.room
	room.Max.Y -= l.height() + air
	if words := ReadOnly(s.circuit); words != "" {
		f.page.Add(lettering(room, readOnlyLines(words))...)
	}
	box := p.Ink()
	k := page.Unit(percent)
	at := page.Point{
		X: room.Min.X + (room.Width()-box.Width()*k/100)/2 - box.Min.X*k/100,
		Y: room.Min.Y + (room.Height()-box.Height()*k/100)*2/5 - box.Min.Y*k/100,
	}
	start := len(f.page.Elements)
	f.placeDrawing(p, at, percent)
	if ReadOnly(s.circuit) != "" {
		drawn := f.page.Elements[start:]
		f.page.Elements = append(f.page.Elements[:start:start], append(papers(drawn), drawn...)...)
	}
	f.page.Description += " " + p.Description
	l.paint(s, f, page.Point{X: f.room.Min.X, Y: f.room.Max.Y - l.height()})
}
