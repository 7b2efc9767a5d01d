package chart

import (
	"strings"

	"tarry/page"
)

// Sizes of type and of rows, in 1/100 mm.
const (
	titleSize = 560
	lineSize  = 340
	tagSize   = 330
	labelSize = 275
	wordSize  = 260
	dimSize   = 270
	smallSize = 240

	swing      = 480 // between the two levels of a signal
	rampHeight = 850
	tagGap     = 180 // between a tag and what stands behind it
	rowGap     = 450
	groupGap   = 120 // more of it where the device changes
	laneHeight = 400
)

// header paints the title and what is run.
func (d *drawing) header() {
	width := d.right - d.left
	d.y = d.margin() - 100
	if d.opt.Bare {
		d.y = 120 // break marks rise above the rows
		return
	}
	for _, words := range page.Fold(d.trace.Circuit.Title, titleSize, true, width, 2) {
		d.y += titleSize + 80
		d.say(page.Text{At: page.Point{X: d.left, Y: d.y}, Size: titleSize, Bold: true, Words: words}, page.Black, page.Shows{Class: "title"})
	}
	words := d.trace.Script
	if s := d.trace.Circuit.Station; s != "" {
		words += "  ·  " + s
	}
	for _, words := range page.Fold(words, lineSize, false, width, 2) {
		d.y += lineSize + 180
		d.say(page.Text{At: page.Point{X: d.left, Y: d.y}, Size: lineSize, Words: words}, page.Black, page.Shows{Class: "subtitle"})
	}
	d.y += 500
}

// say paints one line of words, if there are any.
func (d *drawing) say(t page.Text, ink page.Ink, shows page.Shows) {
	if t.Words != "" {
		d.page.Add(page.Element{Shape: t, Style: page.Style{Ink: ink}, Shows: shows})
	}
}

// place gives every row its place, from the top down.
func (d *drawing) place() {
	d.placeMarks()
	d.y += d.cursorRoom()
	d.top = d.y
	d.y += 200
	for i := range d.lines {
		l := &d.lines[i]
		newGroup := i > 0 && d.lines[i-1].device != l.device
		if newGroup && !d.opt.Compact {
			d.y += groupGap
		}
		if (newGroup || i == 0) && !d.opt.Compact {
			l.labels = d.foldLabel(labelOf(l.device))
		}
		d.placeLine(l)
		l.startGuide = l.top + d.labelLane()
		if i > 0 && !newGroup && !d.narrow {
			l.startGuide = max(d.lines[i-1].low, d.lines[i-1].givenLow)
		}
	}
	d.bottom = d.y + 200 - d.rowGap()
}

// labelLane is what a label takes above its row.
func (d *drawing) labelLane() page.Unit {
	if d.narrow {
		return tagSize + 180
	}
	return 0
}

// foldLabel returns the lines of a device's own text: beneath the tag, or, in
// a narrow chart, behind it.
func (d *drawing) foldLabel(words string) []string {
	if d.narrow && words != "" {
		return []string{words}
	}
	return page.Fold(words, labelSize, false, d.plot-d.wordRoom-d.left, 2)
}

func (d *drawing) placeLine(l *line) {
	l.top = d.y
	l.lanes = d.placeDims(l.dims, l.tag())
	if l.dimensioned && !d.shown.whole {
		l.lanes = d.mostLanes()
	}
	height := d.rowHeight(l)
	l.high = l.top + d.labelLane() + page.Unit(l.lanes)*laneHeight
	l.low = l.high + height
	words := page.Unit(len(l.labels))*(labelSize+70) + tagSize
	if d.narrow {
		words = 0
	}
	l.bottom = max(l.low+d.placeGiven(l), l.top+words)
	d.y = l.bottom + d.rowGap()
}

// labelOver paints a label on one line over its row.
func (d *drawing) labelOver(l *line) {
	shows := page.Shows{ID: l.name, Class: "row-label"}
	tag := page.Text{At: page.Point{X: d.left + 60, Y: l.top + page.Above(tagSize)}, Size: tagSize, Bold: true}
	tag.Words = page.Fit(l.tag(), tagSize, true, d.right-d.left-120)
	d.paintClear(tag, page.Black, shows)
	about := tag
	about.At.X, about.Size, about.Bold = tag.Bounds().Max.X+tagGap, labelSize, false
	words := l.about(!d.opt.Compact)
	for _, label := range l.labels {
		words = strings.TrimPrefix(words+"  ·  "+label, "  ·  ")
	}
	about.Words = page.Fit(words, labelSize, false, d.right-60-about.At.X)
	d.paintClear(about, page.Black, shows)
}

// label paints what stands at the left of a row: the tag, what of the device
// it is, and the device's own text.
func (d *drawing) label(l *line) {
	if d.narrow {
		d.labelOver(l)
		return
	}
	shows := page.Shows{ID: l.name, Class: "row-label"}
	height := page.Unit(len(l.labels)) * (labelSize + 70)
	y := (l.high+l.low-height)/2 + page.Above(tagSize)/2
	y = max(y, l.top+page.Above(tagSize))
	tag := page.Text{At: page.Point{X: d.left, Y: y}, Size: tagSize, Bold: true}
	width := d.plot - d.wordRoom - d.left
	tag.Words = page.Fit(l.tag(), tagSize, true, width)
	d.say(tag, page.Black, shows)
	x := tag.Bounds().Max.X + tagGap
	about := l.about(!d.opt.Compact)
	if page.Width(about, labelSize, false) > d.left+width-x {
		about = l.about(false)
	}
	about = page.Fit(about, labelSize, false, d.left+width-x)
	d.say(page.Text{At: page.Point{X: x, Y: y}, Size: labelSize, Words: about}, page.Black, shows)
	for _, words := range l.labels {
		y += labelSize + 70
		d.say(page.Text{At: page.Point{X: d.left, Y: y}, Size: labelSize, Words: words}, page.Black, shows)
	}
}
