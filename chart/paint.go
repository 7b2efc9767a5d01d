package chart

import (
	"time"

	"tarry/page"
)

// guides paints a faint vertical at every edge, through all rows; where they
// would become a texture, only so many that they stay apart.
func (d *drawing) guides() {
	var at []time.Duration
	for i := range d.lines {
		if d.lines[i].blank {
			continue
		}
		for _, s := range d.lines[i].steps {
			at = append(at, s.at)
		}
	}
	at = within(at, d.shown.from, d.shown.to)
	apart := page.Unit(1)
	if page.Unit(len(at))*crowded > d.end-d.zero {
		apart = crowded
	}
	last := d.zero
	for _, t := range at {
		x := d.x(t)
		if x-last < apart {
			continue
		}
		last = x
		d.page.Add(page.Element{
			Shape: page.Line(page.Point{X: x, Y: d.top}, page.Point{X: x, Y: d.bottom}),
			Style: page.Style{Weight: page.Hair, Dash: page.Dotted, Ink: page.Faint},
			Shows: page.Shows{Class: "guide"},
		})
	}
}

// crowded is how near guides, or the ends of a dimension, may be on average
// before some of them are left out.
const crowded = 250

func (d *drawing) paintLine(l *line) {
	if !d.narrow {
		d.label(l)
	}
	if d.squared(l) {
		d.squares(l)
	}
	d.paintGiven(l)
	if l.blank {
		d.lead(l)
		return
	}
	for i := range l.hatched {
		d.hatch(l, &l.hatched[i])
	}
	if l.kind == elapsedRow {
		d.paintTime(l)
	} else {
		d.paintLevels(l)
	}
	if len(l.dims) > 0 {
		d.paintDims(l)
	}
}

// hatch fills the space between a timed contact's levels while it waits.
func (d *drawing) hatch(l *line, r *run) {
	from, to := d.x(r.from), d.x(r.to)
	if to <= from {
		return
	}
	d.used.timing = true
	box := page.Box{Min: page.Point{X: from, Y: l.high}, Max: page.Point{X: to, Y: l.low}}
	d.page.Add(page.Element{
		Shape: page.Hatch{Box: box, Pitch: 150},
		Style: page.Style{Weight: page.Hair, Ink: page.Timing},
		Shows: page.Shows{ID: l.name, Class: "timing"},
	})
}

// paintLevels paints a signal: thin on the lower level, heavy on the upper.
func (d *drawing) paintLevels(l *line) {
	shows := page.Shows{ID: l.name, Class: l.class()}
	on, last := l.ends()
	x := d.plot
	var pulses []page.Unit
	for _, s := range l.steps {
		next := d.x(s.at)
		d.level(l, x, next, on, shows)
		if s.on != on {
			d.stroke(page.Thin, page.Black, shows, page.Point{X: next, Y: l.high}, page.Point{X: next, Y: l.low})
		}
		if s.pulse {
			pulses = append(pulses, next)
		}
		x, on = next, s.on
	}
	d.level(l, x, d.x(d.shown.to)+d.tail, on, shows)
	for _, x := range pulses {
		d.pulse(l, x, shows)
	}
	d.endWord(l, d.plot-130, l.start, page.End)
	d.endWord(l, d.end+d.tail+150, last, page.Start)
}

// level paints a stretch at one level. Loads and coils that are on are live.
func (d *drawing) level(l *line, from, to page.Unit, on bool, shows page.Shows) {
	if to <= from {
		return
	}
	if !on {
		d.used.low = true
		d.stroke(page.Thin, page.Black, shows, page.Point{X: from, Y: l.low}, page.Point{X: to, Y: l.low})
		return
	}
	ink := page.Black
	if l.kind == coilRow || l.kind == loadRow || l.kind == supplyRow {
		ink = page.Live
		d.used.live = true
	} else {
		d.used.high = true
	}
	d.stroke(page.Heavy, ink, shows, page.Point{X: from, Y: l.high}, page.Point{X: to, Y: l.high})
}

func (d *drawing) stroke(w page.Weight, ink page.Ink, shows page.Shows, points ...page.Point) {
	d.page.Add(page.Element{Shape: page.Poly{Points: points}, Style: page.Style{Weight: w, Ink: ink}, Shows: shows})
}

// pulse paints a movement there and back within an instant: a stroke with a
// diamond on it.
func (d *drawing) pulse(l *line, x page.Unit, shows page.Shows) {
	d.used.pulse = true
	d.stroke(page.Thin, page.Black, shows, page.Point{X: x, Y: l.high}, page.Point{X: x, Y: l.low})
	d.diamond(x, (l.high+l.low)/2, shows)
}

func (d *drawing) diamond(x, y page.Unit, shows page.Shows) {
	points := []page.Point{{X: x - 80, Y: y}, {X: x, Y: y - 130}, {X: x + 80, Y: y}, {X: x, Y: y + 130}}
	d.page.Add(page.Element{Shape: page.Poly{Points: points, Closed: true}, Style: page.Style{Fill: page.Solid}, Shows: shows})
}

// endWord names the state at an end of a row, at the height of its line.
func (d *drawing) endWord(l *line, x page.Unit, on bool, anchor page.Anchor) {
	y := l.low
	if on {
		y = l.high
	}
	at := page.Point{X: x, Y: y + page.Above(wordSize)/2 - 10}
	d.say(page.Text{At: at, Anchor: anchor, Size: wordSize, Words: l.word(on)}, page.Black, page.Shows{ID: l.name, Class: "state"})
}

// paintTime paints a timer's elapsed time as a ramp from 0 to its preset.
func (d *drawing) paintTime(l *line) {
	d.used.ramp = true
	shows := page.Shows{ID: l.name, Class: l.class()}
	y := func(elapsed time.Duration) page.Unit {
		if l.full == 0 {
			return l.low
		}
		return l.low - page.Unit(places(min(elapsed, l.full), int64(l.low-l.high), l.full))
	}
	for i := range l.time.runs {
		r := &l.time.runs[i]
		d.page.Add(page.Element{
			Shape: page.Line(page.Point{X: d.x(r.from), Y: y(r.target)}, page.Point{X: d.x(r.to), Y: y(r.target)}),
			Style: page.Style{Weight: page.Hair, Dash: page.Dashed, Ink: page.Timing}, Shows: shows,
		})
	}
	var before corner
	if d.shown.from > 0 {
		before = l.time.ramp[0]
	}
	points := []page.Point{{X: d.plot, Y: y(before.elapsed)}}
	add := func(x, y page.Unit) {
		if p := (page.Point{X: x, Y: y}); p != points[len(points)-1] {
			points = append(points, p)
		}
	}
	for _, c := range l.time.ramp {
		for _, at := range d.corners(before.at, c.at) { // the ramp jumps at breaks
			run := at - before.at
			if c.elapsed == before.elapsed {
				run = 0 // it stands still
			}
			x, into := d.x(at), d.intoBreak(at)
			add(x+min(into, 0), y(before.elapsed+run))
			add(x+max(into, 0), y(before.elapsed+run))
		}
		add(d.x(c.at), y(c.elapsed))
		before = c
	}
	add(points[len(points)-1].X+d.tail, points[len(points)-1].Y)
	d.stroke(page.Medium, page.Timing, shows, points...)
	d.rampEnds(l)
}

// rampEnds writes what the two levels of a ramp stand for.
func (d *drawing) rampEnds(l *line) {
	words := page.Shows{ID: l.name, Class: "state"}
	low := page.Text{At: page.Point{X: d.plot - 130, Y: l.low + 80}, Anchor: page.End, Size: wordSize, Tabular: true, Words: "0"}
	d.say(low, page.Black, words)
	if l.full > 0 {
		low.At.Y, low.Words = l.high+page.Above(wordSize)/2, page.Fit(span(l.full), wordSize, false, d.wordRoom-150)
		d.say(low, page.Black, words)
	}
}

// corners returns the ends of the drawn stretches between two instants.
func (d *drawing) corners(from, to time.Duration) []time.Duration {
	var list []time.Duration
	for _, p := range d.scale.spans {
		for _, at := range []time.Duration{p.from, p.to} {
			if at > from && at < to {
				list = append(list, at)
			}
		}
	}
	return list
}

// intoBreak is how far a line goes on into the break at whose edge an instant
// stands, so that its jump is hidden.
func (d *drawing) intoBreak(at time.Duration) page.Unit {
	for i, p := range d.scale.spans {
		if i > 0 && at == p.from {
			return -breakWidth/2 + 20
		}
		if i+1 < len(d.scale.spans) && at == p.to {
			return breakWidth/2 - 20
		}
	}
	return 0
}
