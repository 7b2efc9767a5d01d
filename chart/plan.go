package chart

import (
	"sort"
	"time"

	"tarry/page"
)

// Plan tells where on a chart things are, so that a screen can turn a pointer
// into a row and a time, and a time into a place.
type Plan struct {
	// Left and Right are where the first and the last instant stand, Top and
	// Bottom where the rows begin and the axis stands.
	Left, Right, Top, Bottom page.Unit
	// Scale is the way from times to places and back: straight from each point
	// to the next, cut-out stretches included. It has two points or more, and
	// both At and X rise.
	Scale []PlanPoint
	// Square is the time between two ticks.
	Square time.Duration
	Rows   []PlanRow // from the top down
}

// PlanPoint is an instant and its place.
type PlanPoint struct {
	At time.Duration
	X  page.Unit
}

// PlanRow tells where a row is, and what it is called.
type PlanRow struct {
	Name    string // as in Options.Rows
	Tag     string // KT1
	About   string // which part of it: NOTC
	Label   string // the device's own text
	On, Off string // the words of its two levels; empty for a ramp
	// Top and Bottom are the row's limits, dimensions, label and a learner's
	// line included; High and Low its two levels, GivenHigh and GivenLow those
	// of a learner's line, zeros where there is none.
	Top, High, Low, Bottom page.Unit
	GivenHigh, GivenLow    page.Unit
	// Blank says that the row is left to the learner, and Start that such a row is on
	// or closed before the first edge.
	Blank, Start bool
}

// plan reads off the finished drawing where things are.
func (d *drawing) plan() *Plan {
	p := &Plan{Left: d.zero, Right: d.end, Top: d.top, Bottom: d.bottom, Square: d.scale.step}
	for _, s := range d.scale.spans {
		p.Scale = append(p.Scale, PlanPoint{s.from, page.Unit(s.start)}, PlanPoint{s.to, page.Unit(s.end)})
	}
	for i := range d.lines {
		l := &d.lines[i]
		r := PlanRow{
			Name: l.name, Tag: l.tag(), About: l.about(false), Label: labelOf(l.device), Blank: l.blank, Start: l.blank && l.start,
			Top: l.top, High: l.high, Low: l.low, Bottom: l.bottom, GivenHigh: l.givenHigh, GivenLow: l.givenLow,
		}
		if l.kind != elapsedRow {
			r.On, r.Off = l.word(true), l.word(false)
		}
		p.Rows = append(p.Rows, r)
	}
	return p
}

// At returns the instant that stands at a place; beside the plot the first or
// the last one.
func (p *Plan) At(x page.Unit) time.Duration {
	i := sort.Search(len(p.Scale), func(i int) bool { return p.Scale[i].X > x })
	if i == 0 {
		return p.Scale[0].At
	}
	a := p.Scale[i-1]
	if i == len(p.Scale) {
		return a.At
	}
	b := p.Scale[i]
	return a.At + time.Duration(places(time.Duration(x-a.X), int64(b.At-a.At), time.Duration(b.X-a.X)))
}

// X returns the place of an instant, to within 1/100 mm of where the chart has
// it; what lies outside the window stands at its edge.
func (p *Plan) X(at time.Duration) page.Unit {
	i := sort.Search(len(p.Scale), func(i int) bool { return p.Scale[i].At > at })
	if i == 0 {
		return p.Scale[0].X
	}
	a := p.Scale[i-1]
	if i == len(p.Scale) {
		return a.X
	}
	b := p.Scale[i]
	return a.X + page.Unit(places(at-a.At, int64(b.X-a.X), b.At-a.At))
}
