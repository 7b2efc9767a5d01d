package chart

import "tarry/page"

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
			l.labels = page.Fold(labelOf(l.device), labelSize, false, d.plot-wordRoom-d.left, 2)
		}
		d.placeLine(l)
		l.startGuide = l.top
		if i > 0 && !newGroup {
			l.startGuide = d.lines[i-1].low
		}
	}
	d.bottom = d.y + 200 - d.rowGap()
}

func (d *drawing) placeLine(l *line) {
	l.top = d.y
	l.lanes = d.placeDims(l.dims, l.tag())
	height := d.rowHeight(l)
	l.high = l.top + page.Unit(l.lanes)*laneHeight
	l.low = l.high + height
	words := page.Unit(len(l.labels))*(labelSize+70) + tagSize
	d.y = max(l.low, l.top+words) + d.rowGap()
}

// label paints what stands at the left of a row: the tag, what of the device
// it is, and the device's own text.
func (d *drawing) label(l *line) {
	shows := page.Shows{ID: l.name, Class: "row-label"}
	height := page.Unit(len(l.labels)) * (labelSize + 70)
	y := (l.high+l.low-height)/2 + page.Above(tagSize)/2
	y = max(y, l.top+page.Above(tagSize))
	tag := page.Text{At: page.Point{X: d.left, Y: y}, Size: tagSize, Bold: true}
	width := d.plot - wordRoom - d.left
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
