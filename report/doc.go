// Package report puts words, tables and charts on paper: what a class answered,
// how answers were marked, what to see after a package was taken in. Whoever calls
// it has worked everything out; it takes plain structs and returns finished pages.
//
//	d := report.New("Answers", report.A4)
//	d.Sheet("Class report", "Start with a dab")
//	d.Words("12 answers by 4 learners.")
//	pages := d.Pages()
package report

// A Doc is filled from the top down. What does not fit on a sheet goes onto the
// next one, which has the same head; a chart or a row of a table is never cut. All
// is black on white: bars are solid, and nothing is told by a colour.

import (
	"fmt"

	"tarry/circuit"
	"tarry/page"
)

// Paper is a size of paper.
type Paper uint8

// The sizes.
const (
	A4 Paper = iota
	Letter
)

// size returns the paper's width and height, standing upright.
func (p Paper) size() (width, height page.Unit) {
	if p == Letter {
		return 21590, 27940
	}
	return 21000, 29700
}

// Places on the paper and sizes of words, in 1/100 mm.
const (
	leftEdge  page.Unit = 1600
	rightEdge page.Unit = 1200
	topEdge   page.Unit = 1300
	footRoom  page.Unit = 1900
	headSize  page.Unit = 520
	partSize  page.Unit = 360
	bodySize  page.Unit = 290
	fineSize  page.Unit = 210
)

// lineOf is the height of a line of words.
func lineOf(size page.Unit) page.Unit { return size * 135 / 100 }

// Doc is a document in the making. New makes one.
type Doc struct {
	title         string
	width, height page.Unit
	pages         []*page.Page
	head, about   string
	y             page.Unit // how far the sheet is filled
}

// New returns an empty document with the title that stands at the foot of each
// sheet.
func New(title string, paper Paper) *Doc {
	d := &Doc{title: title}
	d.width, d.height = paper.size()
	return d
}

// Room is the width that charts and tables have, in 1/100 mm.
func (d *Doc) Room() page.Unit { return d.width - leftEdge - rightEdge }

// Sheet begins a sheet with a head; about stands below it and may be empty.
func (d *Doc) Sheet(head, about string) {
	d.head, d.about = head, about
	d.next()
}

// next begins another sheet with the same head.
func (d *Doc) next() {
	p := &page.Page{Title: d.head, Description: d.head + ". " + d.about, Width: d.width, Height: d.height}
	d.pages = append(d.pages, p)
	d.y = topEdge
	d.folded(d.head, headSize, true, d.Room())
	if d.about != "" {
		d.folded(d.about, bodySize, false, d.Room())
	}
	d.y += 120
	d.rule(page.Heavy)
	d.y += 450
}

func (d *Doc) add(s page.Shape, style page.Style) {
	p := d.pages[len(d.pages)-1]
	p.Add(page.Element{Shape: s, Style: style, Shows: page.Shows{Class: "report"}})
}

// rule draws a line over the whole width.
func (d *Doc) rule(w page.Weight) {
	d.add(page.Line(page.Point{X: leftEdge, Y: d.y}, page.Point{X: d.width - rightEdge, Y: d.y}), page.Style{Weight: w})
}

// need begins another sheet if so much height is not left on this one.
func (d *Doc) need(height page.Unit) {
	if len(d.pages) == 0 || d.y+height > d.height-footRoom {
		d.next()
	}
}

// folded writes words within a width, without asking for room.
func (d *Doc) folded(words string, size page.Unit, bold bool, width page.Unit) {
	for _, line := range page.Fold(words, size, bold, width, 0) {
		d.y += lineOf(size)
		d.add(page.Text{At: page.Point{X: leftEdge, Y: d.y - page.Below(size)}, Size: size, Bold: bold, Words: line}, page.Style{})
	}
}

// paragraph writes words, line by line, over as many sheets as they take.
func (d *Doc) paragraph(words string, size page.Unit, bold bool) {
	for _, line := range page.Fold(words, size, bold, d.Room(), 0) {
		d.need(lineOf(size))
		d.folded(line, size, bold, d.Room())
	}
}

// Heading writes the heading of a part, with room for something below it.
func (d *Doc) Heading(words string) {
	d.need(2400)
	d.y += 350
	d.paragraph(words, partSize, true)
	d.y += 120
}

// Words writes paragraphs.
func (d *Doc) Words(list ...string) {
	for _, words := range list {
		d.paragraph(words, bodySize, false)
		d.y += 110
	}
}

// what belongs together.
func (d *Doc) Together(height page.Unit) { d.need(min(height, d.sheetRoom())) }

// Strong writes a line that stands out, with room for something below it.
func (d *Doc) Strong(words string) {
	d.need(1800)
	d.paragraph(words, bodySize, true)
	d.y += 60
}

// Gap leaves some room, in 1/100 mm.
func (d *Doc) Gap(height page.Unit) { d.y += height }

// Picture places a drawing over the width of the sheet, smaller if it is higher
// than most, which is 0 for what a sheet holds. What is narrow stands in the middle.
func (d *Doc) Picture(p *page.Page, most page.Unit) {
	if whole := d.sheetRoom(); most <= 0 || most > whole {
		most = whole
	}
	box := p.Ink()
	percent := min(100, d.Room()*100/max(box.Width(), 1), most*100/max(box.Height(), 1))
	percent = max(percent, 1)
	height := box.Height() * percent / 100
	d.need(height)
	at := page.Point{X: leftEdge + (d.Room()-box.Width()*percent/100)/2 - box.Min.X*percent/100, Y: d.y - box.Min.Y*percent/100}
	to := d.pages[len(d.pages)-1]
	for _, e := range p.Elements {
		e.Shape = page.Moved(e.Shape, at, percent, 8)
		if percent < 70 && e.Style.Weight > page.Thin {
			e.Style.Weight--
		}
		to.Add(e)
	}
	to.Description += " " + p.Description
	d.y += height + 300
}

// sheetRoom is the height that a sheet surely has below its head.
func (d *Doc) sheetRoom() page.Unit { return d.height - footRoom - topEdge - 2800 }

// Pages finishes the sheets with their foot and returns them. Call it once.
func (d *Doc) Pages() []*page.Page {
	if len(d.pages) == 0 {
		d.next()
	}
	for i, p := range d.pages {
		y := d.height - footRoom + 500
		foot := func(at page.Point, anchor page.Anchor, size page.Unit, words string) {
			p.Add(page.Element{Shape: page.Text{At: at, Anchor: anchor, Size: size, Words: words}, Shows: page.Shows{Class: "foot"}})
		}
		p.Add(page.Element{Shape: page.Line(page.Point{X: leftEdge, Y: y}, page.Point{X: d.width - rightEdge, Y: y}),
			Style: page.Style{Weight: page.Thin}, Shows: page.Shows{Class: "foot"}})
		number := fmt.Sprintf("page %d of %d", i+1, len(d.pages))
		room := d.Room() - page.Width(number, fineSize, false) - 400
		foot(page.Point{X: leftEdge, Y: y + 350}, page.Start, fineSize, page.Fit(d.title, fineSize, false, room))
		foot(page.Point{X: d.width - rightEdge, Y: y + 350}, page.End, fineSize, number)
		for n, line := range page.Fold(circuit.StandingCaution, fineSize-30, false, d.Room(), 2) {
			foot(page.Point{X: leftEdge, Y: y + 680 + page.Unit(n)*260}, page.Start, fineSize-30, line)
		}
	}
	return d.pages
}
