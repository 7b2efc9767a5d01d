package chart

import (
	"slices"
	"strings"

	"tarry/page"
)

// Fill says which rows a chart leaves for the learner to draw. The zero value
// draws all of them.
type Fill uint8

// The fills.
const (
	Filled     Fill = iota
	PartFilled      // supply, hands and coils are drawn, the rest is blank
	Blank           // everything is blank
)

// A blank row is a strip of squares, one a tick: the upper edge is for closed
// and on, the lower one for open and off. Nothing on a chart with blank rows
// may give them away, so guides, dimensions and notices of what is not drawn
// stay out.
const (
	leastSquare  = 500 // width of a square, in 1/100 mm
	squareHeight = 600
)

// margin is the room around the chart.
func (d *drawing) margin() page.Unit {
	switch {
	case d.opt.Bare:
		return 0
	case d.narrow:
		return margin / 2
	}
	return margin
}

// rowHeight is the height between a row's two levels.
func (d *drawing) rowHeight(l *line) page.Unit {
	switch {
	case d.squared(l):
		return squareHeight
	case l.kind == elapsedRow && (len(l.time.runs) > 0 || !d.shown.whole):
		return rampHeight
	case d.opt.Compact:
		return swing * 3 / 4
	}
	return swing
}

// rowGap is the room between two rows.
func (d *drawing) rowGap() page.Unit {
	if d.opt.Compact {
		return rowGap * 3 / 5
	}
	return rowGap
}

// leftBlank reports whether the options leave a row to the learner.
func (o *Options) leftBlank(r *row) bool {
	if o.Fill == Blank || o.Fill == PartFilled && r.kind != supplyRow && r.kind != handRow && r.kind != coilRow {
		return true
	}
	return slices.ContainsFunc(o.Blank, func(name string) bool { return strings.TrimSpace(name) == r.name })
}

// forLearner reports whether the chart leaves anything to draw.
func (o *Options) forLearner() bool { return o.Fill != Filled || len(o.Blank) > 0 }

// squared reports whether a row has squares to draw in. Where a Fill leaves
// some rows blank the others have them too, so that times can be read across.
func (d *drawing) squared(l *line) bool { return d.opt.Fill != Filled || l.blank }

// shownMarks returns what is said above the rows: for a learner only what a
// hand does to a setting.
func (d *drawing) shownMarks() []mark {
	marks := marksOf(d.trace, d.shown)
	if !d.opt.forLearner() {
		return marks
	}
	var settings []mark
	for _, m := range marks {
		if m.class == "setting" {
			settings = append(settings, m)
		}
	}
	return settings
}

// squares draws the strip of squares of a row.
func (d *drawing) squares(l *line) {
	shows := page.Shows{ID: l.name, Class: "square"}
	hair := func(ink page.Ink, a, b page.Point) {
		d.page.Add(page.Element{Shape: page.Line(a, b), Style: page.Style{Weight: page.Hair, Ink: ink}, Shows: shows})
	}
	for _, p := range d.scale.spans {
		a, b := page.Unit(p.start), page.Unit(p.end)
		hair(page.Faint, page.Point{X: a, Y: l.high}, page.Point{X: b, Y: l.high})
		hair(page.Faint, page.Point{X: a, Y: l.low}, page.Point{X: b, Y: l.low})
	}
	for _, at := range d.scale.ticks() {
		x := d.x(at)
		hair(page.Faint, page.Point{X: x, Y: l.high}, page.Point{X: x, Y: l.low})
	}
}

// lead draws the state in which a blank row begins, unless the learner is to
// find that too.
func (d *drawing) lead(l *line) {
	shows := page.Shows{ID: l.name, Class: l.class()}
	if l.kind == elapsedRow {
		d.rampEnds(l)
		return
	}
	if d.opt.NoStart {
		return
	}
	d.level(l, d.plot, d.zero, l.start, shows)
	d.endWord(l, d.plot-130, l.start, page.End)
}

// cursorRoom is what the head of a cursor takes above the rows.
func (d *drawing) cursorRoom() page.Unit {
	if d.opt.Cursor == nil {
		return 0
	}
	return 350
}

// cursor points out the instant that the options ask for.
func (d *drawing) cursor() {
	if d.opt.Cursor == nil {
		return
	}
	at := *d.opt.Cursor
	if !d.shown.holds(at) {
		return
	}
	at = min(max(at, d.shown.from), d.shown.to)
	x, shows := d.x(at), page.Shows{Class: "cursor"}
	d.stroke(page.Medium, page.Timing, shows, page.Point{X: x, Y: d.top - 100}, page.Point{X: x, Y: d.bottom})
	points := []page.Point{{X: x - 170, Y: d.top - 340}, {X: x + 170, Y: d.top - 340}, {X: x, Y: d.top - 60}}
	d.page.Add(page.Element{Shape: page.Poly{Points: points, Closed: true}, Style: page.Style{Ink: page.Timing, Fill: page.Solid}, Shows: shows})
}
