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
	// within its margins. At least 120 mm is used.
	Width page.Unit
	// Rows are the rows to show, in order: signal names as in the notation
	// (S1.no, KT1, KT1.notc), KT1.elapsed for a timer's elapsed time, supply
	// for the rails. Empty means the usual ones.
	Rows []string
	// Uncut draws long quiet stretches at full length.
	Uncut bool
	// Fill leaves rows blank for a learner.
	Fill Fill
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
	leastWidth = 120 * page.MM
	margin     = 8 * page.MM
)

// Draw returns the chart of a trace. The only error is a name in opt.Rows that
// the trace has no row for; it lists the names that there are.
func Draw(t *trace.Trace, opt Options) (*page.Page, error) {
	rows, err := chosenRows(t, opt.Rows)
	if err != nil {
		return nil, err
	}
	d := newDrawing(t, rows, opt)
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
		d.paintDimWords(&d.lines[i])
	}
	d.footer()
	return d.page, nil
}

// drawing is a chart in the making.
type drawing struct {
	page  *page.Page
	trace *trace.Trace
	opt   Options
	lines []line
	marks []placedMark
	scale *scale
	// left is where labels begin, plot where the lead-in begins, zero the
	// place of time zero, end that of the last instant and right the edge.
	left, plot, zero, end, right page.Unit
	tail                         page.Unit // how far rows run on, where something happens at the end
	top, bottom                  page.Unit // of the rows
	y                            page.Unit // how far the page is filled
	used                         usage
}

// usage notes which marks a chart uses, for its legend.
type usage struct {
	high, low, live, timing, ramp, cutShort, pulse, cut, notice, setting, unworded bool
}

// line is a row with its place on the page.
type line struct {
	row
	labels     []string // the device's own text, folded
	time       timeline // elapsed rows
	hatched    []run    // timed contacts: the runs that they wait for
	dims       []dim
	lanes      int       // lanes of dimensions above the row
	top        page.Unit // of the lanes
	high, low  page.Unit // the two levels
	full       time.Duration
	startGuide page.Unit // where extension lines of the dimensions begin
}

func newDrawing(t *trace.Trace, rows []row, opt Options) *drawing {
	width := opt.Width
	if width == 0 {
		width = usualWidth
	}
	width = max(width, leastWidth)
	d := &drawing{trace: t, opt: opt, page: &page.Page{Width: width}}
	d.page.Title = strings.Trim(t.Circuit.Title+": "+t.Script, ": ")
	d.page.Description = d.describe(rows)
	d.left, d.right = d.margin(), width-d.margin()
	for _, r := range rows {
		d.lines = append(d.lines, line{row: r})
	}
	d.plot = d.left + d.labelRoom(width) + wordRoom
	d.zero = d.plot + leadIn
	d.readTimes()
	for _, m := range d.shownMarks() {
		d.marks = append(d.marks, placedMark{mark: m})
	}
	d.makeScale(opt)
	return d
}

const (
	wordRoom = 1250 // for the state's word at either end of a row
	leadIn   = 600  // of the state before the first edge
	// breakWidth is what a break mark takes, breakEdge how far within it its
	// two lines stand.
	breakWidth, breakEdge = 420, 90
)

// labelRoom returns the width that the labels take, within limits.
func (d *drawing) labelRoom(width page.Unit) page.Unit {
	room := page.Unit(0)
	for i := range d.lines {
		l := &d.lines[i]
		room = max(room, page.Width(l.tag(), tagSize, true)+tagGap+page.Width(l.about(!d.opt.Compact), labelSize, false))
		if !d.opt.Compact {
			room = max(room, page.Width(labelOf(l.device), labelSize, false))
		}
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
		l.time = timelineOf(d.trace, l.signal.Device)
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
		if j, ok := best[l.tag()]; ok && j == i && !d.blank(l) && !d.opt.Compact {
			for _, r := range l.time.runs {
				l.dims = append(l.dims, dim{run: r})
			}
		}
		for _, r := range l.time.runs {
			l.full = max(l.full, r.target, r.reached)
		}
	}
}

// makeScale collects the instants at which anything visible happens.
func (d *drawing) makeScale(opt Options) {
	instants := instantsOf(d.lines, d.trace)
	between := int64(850)
	if opt.Fill != Filled {
		between = leastSquare
	}
	d.scale = newScale(instants, d.trace.End, room{
		start: int64(d.zero), width: int64(d.right - wordRoom - d.zero),
		least: 8 * 130, gap: breakWidth, grid: 50, between: between,
	}, opt.Uncut)
	d.end = page.Unit(d.scale.end())
	for i := range d.lines {
		if n := len(d.lines[i].steps); n > 0 && d.lines[i].steps[n-1].at >= d.trace.End {
			d.tail = leadIn / 2
		}
	}
}

func instantsOf(lines []line, t *trace.Trace) []time.Duration {
	var instants []time.Duration
	for i := range lines {
		for _, s := range lines[i].steps {
			instants = append(instants, s.at)
		}
		for _, r := range lines[i].time.runs {
			instants = append(instants, r.from, r.to)
		}
	}
	for _, m := range marksOf(t) {
		instants = append(instants, m.at)
	}
	return instants
}

func (d *drawing) x(at time.Duration) page.Unit { return page.Unit(d.scale.at(at)) }
