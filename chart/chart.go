// Package chart draws a trace as a timing chart: Draw on a page, Text in
// characters for a terminal. Everything on a chart is read from the trace.
package chart

// Draw works in three passes. First what to show: rows with their steps, the
// stretches during which timers ran, the notices. Then where: the scale from
// the instants at which anything happens, then the rows from the top down, each
// as high as its label and its dimensions need. Last the painting, from the
// faint to the heavy: guides, hatches, levels, dimensions, words.
//
// What is on or closed is a heavy line on the upper level, what is off or open
// a thin one on the lower level, so that a chart reads the same as a photocopy
// of a photocopy. Words never stand on a line: a dimension's words break the
// dimension line, stand beside it, or move up a lane, and give way entirely
// where all lanes are full.

import (
	"strings"
	"time"

	"tarry/page"
	"tarry/trace"
)

// Options are the choices for Draw. The zero value is the usual chart.
type Options struct {
	// Width is the width of the page; 0 is 277 mm, an A4 sheet on its side
	// within its margins. At least 80 mm is used, 120 mm if Compact. Below
	// 120 mm labels stand over their rows.
	Width page.Unit
	// From and To are the window of the run that is drawn. To 0 is the trace's
	// End. Behind the End everything goes on as it is: levels stay, and a time
	// that runs goes on to its preset. In a window rows keep their heights
	// while time passes. What happens after To doesn't show.
	From, To time.Duration
	// Square is the time between two ticks, the square in which a learner
	// draws; 0, or one too wide or too narrow for the page, is a chosen one.
	Square time.Duration
	// Rows are the rows to show, in order: signal names as in the notation
	// (S1.no, KT1, KT1.notc), KT1.elapsed for a timer's elapsed time, supply
	// for the rails. Empty means the usual ones.
	Rows []string
	// Beside are rows, named as in Rows, of another chart of the same run that is
	// drawn in the same width and with the same Square and Uncut. If each of the two
	// has the other's rows here, an instant stands at the same place in both.
	Beside []string
	// Uncut draws long quiet stretches at full length.
	Uncut bool
	// Fill leaves rows blank for a learner.
	Fill Fill
	// Blank are more rows to leave blank, named as in Rows. With them, no times are
	// dimensioned: that would say when a blank row moves.
	Blank []string
	// Given are a learner's lines to draw as well.
	Given []Given
	// NoStart leaves the state before the first edge out of blank rows too.
	NoStart bool
	// Bare leaves out the heading, the caution and the margin, for a sheet that
	// has its own.
	Bare bool
	// NoLegend leaves out the legend and the words about the scale as well.
	NoLegend bool
	// Compact leaves out labels and dimensions and draws low rows, for a small
	// chart beside something else.
	Compact bool
	// Cursor, if set, is an instant that a line through all rows points out.
	Cursor *time.Duration
}

const (
	usualWidth = 277 * page.MM
	leastWidth = 80 * page.MM
	wideWidth  = 120 * page.MM // from here on labels stand beside their rows
	margin     = 8 * page.MM
)

// Draw returns the chart of a trace. Errors are a name in opt.Rows or opt.Beside
// that the trace has no row for, one in Blank or Given that the chart has none for,
// with the names that there are, and a window that ends before it begins.
func Draw(t *trace.Trace, opt Options) (*page.Page, error) {
	p, _, err := DrawWithPlan(t, opt)
	return p, err
}

// DrawWithPlan returns the chart and where on it things are. Errors are those
// of Draw.
func DrawWithPlan(t *trace.Trace, opt Options) (*page.Page, *Plan, error) {
	w, err := opt.window(t)
	if err != nil {
		return nil, nil, err
	}
	rows, err := chosenRows(t, opt.Rows, w)
	if err != nil {
		return nil, nil, err
	}
	if err := opt.checkNames(rows); err != nil {
		return nil, nil, err
	}
	var beside []row
	if len(opt.Beside) > 0 {
		if beside, err = chosenRows(t, opt.Beside, w); err != nil {
			return nil, nil, err
		}
	}
	d := newDrawing(t, w, rows, beside, opt)
	d.header()
	d.place()
	d.guides()
	for i := range d.lines {
		d.paintLine(&d.lines[i])
	}
	d.axis()
	d.breaks()
	d.cursor()
	d.paintMarks()
	for i := range d.lines {
		if d.narrow {
			d.label(&d.lines[i])
		}
		d.paintDimWords(&d.lines[i])
		d.paintWrong(&d.lines[i])
	}
	d.footer()
	return d.page, d.plan(), nil
}

// drawing is a chart in the making.
type drawing struct {
	page  *page.Page
	trace *trace.Trace
	shown window
	opt   Options
	lines []line
	marks []placedMark
	scale *scale
	// left is where labels begin, plot where the lead-in begins, zero the
	// place of the first instant, end that of the last and right the edge.
	left, plot, zero, end, right page.Unit
	tail                         page.Unit // how far rows run on, where something happens at the end
	narrow                       bool      // labels stand over their rows
	wordRoom                     page.Unit // for the state's word at either end of a row
	top, bottom                  page.Unit // of the rows
	y                            page.Unit // how far the page is filled
	used                         usage
}

// usage notes which marks a chart uses, for its legend.
type usage struct {
	high, low, live, timing, ramp, cutShort, pulse, cut, notice, setting, given, unworded bool
}

// line is a row with its place on the page.
type line struct {
	row
	blank               bool     // left to the learner
	given               *Given   // the learner's line
	labels              []string // the device's own text, folded
	time                timeline // elapsed rows
	hatched             []run    // timed contacts: the runs that they wait for
	dims                []dim
	dimensioned         bool      // the timer's dimensions belong here
	lanes               int       // lanes of dimensions above the row
	top                 page.Unit // of the lanes
	high, low           page.Unit // the two levels
	givenHigh, givenLow page.Unit // those of the learner's line
	bottom              page.Unit // of all of it
	full                time.Duration
	startGuide          page.Unit // where extension lines of the dimensions begin
}

func newDrawing(t *trace.Trace, w window, rows, beside []row, opt Options) *drawing {
	width := opt.Width
	switch {
	case width == 0:
		width = usualWidth
	case opt.Compact:
		width = max(width, wideWidth)
	}
	width = max(width, leastWidth)
	d := &drawing{trace: t, shown: w, opt: opt, page: &page.Page{Width: width}, narrow: width < wideWidth, wordRoom: wordRoom}
	d.page.Title = strings.Trim(t.Circuit.Title+": "+t.Script, ": ")
	d.left, d.right = d.margin(), width-d.margin()
	for _, r := range rows {
		d.lines = append(d.lines, line{row: r, blank: opt.leftBlank(&r), given: opt.givenFor(&r)})
	}
	if d.narrow {
		d.wordRoom = narrowWordRoom
		d.plot = d.left + d.wordRoom
	} else {
		d.plot = d.left + d.labelRoom(width, beside) + d.wordRoom
	}
	d.zero = d.plot
	if w.from == 0 {
		d.zero += leadIn
	}
	d.readTimes()
	d.page.Description = d.describe()
	d.reserve()
	for _, m := range d.shownMarks() {
		d.marks = append(d.marks, placedMark{mark: m})
	}
	d.makeScale(opt)
	return d
}

const (
	wordRoom       = 1250 // for the state's word at either end of a row
	narrowWordRoom = 1100
	leadIn         = 600 // of the state before the first edge
	// breakWidth is what a break mark takes, breakEdge how far within it its
	// two lines stand.
	breakWidth, breakEdge = 420, 90
)

// labelRoom returns the width that the labels take, those of another chart's rows
// too, within limits.
func (d *drawing) labelRoom(width page.Unit, beside []row) page.Unit {
	room := page.Unit(0)
	count := func(r *row) {
		room = max(room, page.Width(r.tag(), tagSize, true)+tagGap+page.Width(r.about(!d.opt.Compact), labelSize, false))
		if !d.opt.Compact {
			room = max(room, page.Width(labelOf(r.device), labelSize, false))
		}
	}
	for i := range d.lines {
		count(&d.lines[i].row)
	}
	for i := range beside {
		count(&beside[i])
	}
	return min(max(room, 20*page.MM), width*21/100, 60*page.MM)
}

// readTimes looks up the runs of all timers and gives each timer's dimensions
// to one of its lines: the elapsed time, else a timed contact, else the coil.
func (d *drawing) readTimes() {
	best := map[string]int{}
	rank := func(l *line) int {
		switch {
		case l.kind == elapsedRow:
			return 3
		case l.class() == "timed-contact":
			return 2
		}
		return 1
	}
	for i := range d.lines {
		l := &d.lines[i]
		if l.device == nil || l.device.Function == 0 {
			continue
		}
		if i > 0 && d.lines[i-1].device == l.device {
			l.time = d.lines[i-1].time // read only once a device
		} else {
			l.time = timelineOf(d.trace, l.signal.Device, d.shown)
		}
		if l.class() == "timed-contact" {
			for _, r := range l.time.runs {
				if r.concerns(l.signal.Contact) {
					l.hatched = append(l.hatched, r)
				}
			}
		}
		j, ok := best[l.tag()]
		if !ok || rank(&d.lines[j]) < rank(l) {
			best[l.tag()] = i
		}
	}
	for i := range d.lines {
		l := &d.lines[i]
		// Where rows are asked for, a dimension would say when their time is up.
		if j, ok := best[l.tag()]; ok && j == i && !l.blank && !d.opt.Compact && len(d.opt.Blank) == 0 {
			l.dimensioned = true
			for _, r := range l.time.runs {
				if r.from >= d.shown.from {
					l.dims = append(l.dims, dim{run: r})
				}
			}
		}
		if !d.shown.whole && l.kind == elapsedRow {
			p := d.trace.Preset(l.signal.Device, trace.Settled(d.shown.to))
			l.full = max(p[0], p[1])
		}
		for _, r := range l.time.runs {
			l.full = max(l.full, r.target, r.reached)
		}
	}
}

// reserve makes room for about as many elements as the rows will need.
func (d *drawing) reserve() {
	n := 100
	for i := range d.lines {
		n += 8 + 3*len(d.lines[i].steps) + 8*len(d.lines[i].dims)
	}
	d.page.Elements = make([]page.Element, 0, n)
}

// makeScale collects the instants at which anything visible happens.
func (d *drawing) makeScale(opt Options) {
	instants := append(instantsOf(d.lines, marksOf(d.trace, d.shown)), d.givenInstants()...)
	between := int64(850)
	if opt.forLearner() || len(opt.Beside) > 0 {
		between = leastSquare
	}
	d.scale = scaleOf(instants, d.shown, opt.Square, room{
		start: int64(d.zero), width: int64(d.right - d.wordRoom - d.zero),
		least: 8 * 130, gap: breakWidth, grid: 50, between: between,
	}, opt.Uncut)
	d.end = page.Unit(d.scale.end())
	for i := range d.lines {
		if n := len(d.lines[i].steps); n > 0 && d.lines[i].steps[n-1].at >= d.shown.to {
			d.tail = leadIn / 2
		}
	}
}

func instantsOf(lines []line, marks []mark) []time.Duration {
	var instants []time.Duration
	for i := range lines {
		for _, s := range lines[i].steps {
			instants = append(instants, s.at)
		}
		for _, r := range lines[i].time.runs {
			instants = append(instants, r.from, r.to)
		}
	}
	for _, m := range marks {
		instants = append(instants, m.at)
	}
	return instants
}

func (d *drawing) x(at time.Duration) page.Unit { return page.Unit(d.scale.at(at)) }
