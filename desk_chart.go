package tarry

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/page"
	"tarry/trace"
)

// Chart draws the chart of the board's record, or of a script's whole run.
func (d *Desk) Chart(r DeskChartRequest) (out DeskChart, err error) {
	defer guard(d.source, &err)
	t, err := d.traceFor(r.Script)
	if err != nil {
		return out, err
	}
	return chartOf(t, r)
}

// traceFor returns the board's record (-1), or a script's whole run.
func (d *Desk) traceFor(script int) (*trace.Trace, error) {
	if script < 0 {
		return d.session.Trace(), nil
	}
	s, err := d.script(script)
	if err != nil {
		return nil, err
	}
	t := runOne(d.file.Circuit, s)
	return t, printable(t)
}

// widestChart is how wide a chart may be asked for.
const widestChart = 5000 * page.MM

// maxWindow is how many events a chart shows.
const maxWindow = 5000

func chartOf(t *trace.Trace, r DeskChartRequest) (out DeskChart, err error) {
	to := r.To
	if to == 0 {
		to = t.End
	}
	from := max(r.From, t.From)
	if r.Width > widestChart {
		return out, badInput("a chart is at most %v mm wide", widestChart)
	}
	if n := eventsUpTo(t, to) - eventsUpTo(t, from); n > maxWindow {
		return out, badInput("%d events lie in this stretch, too many to draw; look at a shorter one", n)
	}
	opt := chart.Options{Width: r.Width, Rows: discreet(t.Circuit, once(r.Rows), r.Blank), From: from, To: to, Blank: r.Blank, Square: r.Square, Uncut: r.Uncut, Bare: true, NoLegend: true}
	for _, g := range r.Given {
		opt.Given = append(opt.Given, g.given())
	}
	p, plan, err := chart.DrawWithPlan(t, opt)
	if err != nil {
		return out, badInput("%s", strings.TrimPrefix(err.Error(), "chart: "))
	}
	return DeskChart{SVG: inner(p), Width: p.Width, Height: p.Height, Plan: planOf(plan), Words: brief(p.Description), Events: t.Len()}, nil
}

// discreet leaves out the rows that would give a blank one away.
func discreet(c *circuit.Circuit, rows, blank []string) (out []string) {
	if len(blank) == 0 {
		return rows
	}
	var asked []circuit.Signal
	for _, name := range blank {
		if s, known := c.FindSignal(name); known {
			asked = append(asked, s)
		}
	}
	tells := circuit.GivesAway(c, asked)
	for _, name := range rows {
		s, known := c.FindSignal(name)
		if slices.Contains(blank, name) || !known || !tells(s) {
			out = append(out, name)
		}
	}
	return out
}

// once returns a list without what stands in it before.
func once(list []string) (out []string) {
	seen := map[string]bool{}
	for _, x := range list {
		if !seen[x] {
			out = append(out, x)
		}
		seen[x] = true
	}
	return out
}

// maxWords is how much of a chart is told in words, in bytes: a listener who
// wants more chooses rows or a shorter stretch.
const maxWords = 6000

// brief cuts a chart's words at the end of a row.
func brief(words string) string {
	if len(words) <= maxWords {
		return words
	}
	lines := strings.SplitAfter(words, "\n")
	var b strings.Builder
	for i, line := range lines {
		if b.Len()+len(line) > maxWords {
			fmt.Fprintf(&b, "And %d more rows: choose fewer rows or a shorter stretch to have them told.", len(lines)-i)
			break
		}
		b.WriteString(line)
	}
	return b.String()
}

// given is a learner's line as the chart draws it.
func (g *DeskLine) given() chart.Given {
	out := chart.Given{Row: g.Row, Levels: g.levels()}
	if g.Wrong >= 0 {
		wrong := g.Wrong
		out.Wrong = &wrong
	}
	return out
}

// levels is a learner's line in the form of a signal.
func (g *DeskLine) levels() []trace.Edge {
	on := g.Start
	list := []trace.Edge{{At: 0, On: on, Event: trace.None}}
	for _, at := range g.Edges {
		on = !on
		list = append(list, trace.Edge{At: at, On: on, Event: trace.None})
	}
	return list
}

func planOf(p *chart.Plan) DeskPlan {
	out := DeskPlan{Left: p.Left, Right: p.Right, Top: p.Top, Bottom: p.Bottom, Square: p.Square, Rows: []DeskRow{}}
	for _, s := range p.Scale {
		out.Scale = append(out.Scale, DeskPoint{s.At, s.X})
	}
	for _, r := range p.Rows {
		out.Rows = append(out.Rows, DeskRow{Name: r.Name, Tag: r.Tag, Words: [2]string{r.Off, r.On}, Top: r.Top, High: r.High, Low: r.Low,
			Bottom: r.Bottom, GivenHigh: r.GivenHigh, GivenLow: r.GivenLow, Blank: r.Blank, Start: r.Start})
	}
	return out
}

// follows reports whether a row is one to ask for if nothing is said: a timed
// contact, and what the circuit is there for: lamps, contactors, motors. Coils
// of relays and timers are given.
func follows(c *circuit.Circuit, row string) bool {
	s, ok := c.FindSignal(row)
	if !ok {
		return false
	}
	if s.Contact != circuit.NoContact {
		return s.Contact.Group() != circuit.Instant
	}
	d := &c.Devices[s.Device]
	return d.Kind.Info().Class == circuit.LoadOnly || d.Kind == circuit.Contactor
}

// DeskAsk is what a learner can be asked about a script's run; Blank marks the
// rows that are asked for if nothing is said.
type DeskAsk struct {
	Rows []DeskRow     `json:"rows"`
	End  time.Duration `json:"end"`
}

// Ask lists the rows of a script's run that a learner can draw.
func (d *Desk) Ask(script int) (out DeskAsk, err error) {
	defer guard(d.source, &err)
	t, err := d.traceFor(max(script, 0))
	if err != nil {
		return out, err
	}
	_, plan, err := chart.DrawWithPlan(t, chart.Options{Bare: true, NoLegend: true})
	if err != nil {
		return out, err
	}
	out.End, out.Rows = t.End, []DeskRow{}
	for _, r := range planOf(plan).Rows {
		if r.Words[1] == "" { // a ramp is not drawn by a learner
			continue
		}
		r.Blank = follows(d.file.Circuit, r.Name)
		out.Rows = append(out.Rows, r)
	}
	return out, nil
}

// thumbnailWidth is the room of a small picture.
const thumbnailWidth = 140 * page.MM
