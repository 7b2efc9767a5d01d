package chart

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	"tarry/page"
	"tarry/trace"
)

// Given is a line that a learner drew. It stands below the right one, dashed
// and thinner, with a word at its end; in a blank row it stands in the row.
type Given struct {
	Row string // as in Options.Rows; not a row of elapsed time
	// Levels is where the line goes, as trace.Edges returns it; only At and On
	// are looked at. The line begins at the first of them. Empty is no line.
	Levels []trace.Edge
	// Wrong, if set, is the instant of the first difference, to be marked.
	Wrong *time.Duration
	// Word says whose line it is; empty is "yours".
	Word string
}

const (
	givenGap   = 170 // from the right line down to the learner's
	givenSwing = 320
	wrongLane  = 520
	wrongRing  = 150 // its radius
	wrongWords = "first difference"
)

// checkNames holds the names in Blank and Given against the rows.
func (o *Options) checkNames(rows []row) error {
	names := slices.Clone(o.Blank)
	for _, g := range o.Given {
		names = append(names, g.Row)
	}
	for n, name := range names {
		i := find(rows, strings.TrimSpace(name))
		if i < 0 {
			return fmt.Errorf("chart: no row on this chart is called %q; its rows are %s", name, nameList(rows))
		}
		if n >= len(o.Blank) && rows[i].kind == elapsedRow {
			return fmt.Errorf("chart: a learner's line can't be drawn for %q, which is a ramp; draw one for the timer's coil or contact", name)
		}
	}
	return nil
}

// givenFor returns the learner's line for a row, its levels in order of time.
func (o *Options) givenFor(r *row) *Given {
	for _, g := range o.Given {
		if strings.TrimSpace(g.Row) != r.name {
			continue
		}
		g.Levels = slices.Clone(g.Levels)
		sort.SliceStable(g.Levels, func(i, j int) bool { return g.Levels[i].At < g.Levels[j].At })
		if g.Word == "" {
			g.Word = "yours"
		}
		return &g
	}
	return nil
}

// givenInstants returns what must not be cut out of the scale because a learner
// put an edge there.
func (d *drawing) givenInstants() []time.Duration {
	var at []time.Duration
	for i := range d.lines {
		g := d.lines[i].given
		if g == nil {
			continue
		}
		for _, e := range g.Levels {
			at = append(at, e.At)
		}
		if g.Wrong != nil {
			at = append(at, *g.Wrong)
		}
	}
	return at
}

// placeGiven gives a learner's line its place and returns what it takes below
// the row.
func (d *drawing) placeGiven(l *line) page.Unit {
	if l.given == nil {
		return 0
	}
	below := page.Unit(0)
	l.givenHigh, l.givenLow = l.high, l.low
	if !l.blank {
		l.givenHigh, l.givenLow = l.low+givenGap, l.low+givenGap+givenSwing
		below = givenGap + givenSwing
	}
	if l.given.Wrong != nil {
		below += wrongLane
	}
	return below
}

// paintGiven paints a learner's line.
func (d *drawing) paintGiven(l *line) {
	g := l.given
	if g == nil || len(g.Levels) == 0 || g.Levels[0].At > d.shown.to {
		return
	}
	d.used.given = true
	shows := page.Shows{ID: l.name, Class: "given"}
	on, x := g.Levels[0].On, d.x(g.Levels[0].At)
	for _, e := range g.Levels[1:] {
		if e.At > d.shown.to {
			break
		}
		next := d.x(e.At)
		d.givenLevel(l, x, next, on, shows)
		if e.On != on && e.At >= d.shown.from {
			d.stroke(page.Thin, page.Black, shows, page.Point{X: next, Y: l.givenHigh}, page.Point{X: next, Y: l.givenLow})
		}
		x, on = next, e.On
	}
	end := d.x(d.shown.to) + d.tail
	d.givenLevel(l, x, end, on, shows)
	y := (l.givenHigh + l.givenLow) / 2 // clear of the right line's word
	word := page.Text{At: page.Point{X: end + 150, Y: y + page.Above(wordSize)/2 - 10}, Size: wordSize}
	word.Words = page.Fit(g.Word, wordSize, false, d.right-word.At.X)
	d.say(word, page.Black, shows)
}

// givenLevel paints a stretch of a learner's line.
func (d *drawing) givenLevel(l *line, from, to page.Unit, on bool, shows page.Shows) {
	y, style := l.givenLow, page.Style{Weight: page.Thin, Dash: page.Dashed}
	if on {
		y, style.Weight = l.givenHigh, page.Medium
	}
	if to > from {
		d.page.Add(page.Element{Shape: page.Line(page.Point{X: from, Y: y}, page.Point{X: to, Y: y}), Style: style, Shows: shows})
	}
}

// paintWrong marks the first difference: a ringed cross below both lines, and
// a thin line up through them.
func (d *drawing) paintWrong(l *line) {
	g := l.given
	if g == nil || g.Wrong == nil || !d.shown.holds(*g.Wrong) {
		return
	}
	shows := page.Shows{ID: l.name, Class: "first-difference"}
	c := page.Point{X: d.x(*g.Wrong), Y: l.givenLow + wrongLane - wrongRing - 40}
	d.page.Add(
		page.Element{Shape: page.Line(page.Point{X: c.X, Y: l.high}, c.Add(0, -wrongRing)), Style: page.Style{Weight: page.Hair}, Shows: shows},
		page.Element{Shape: page.Circle(c, wrongRing), Style: page.Style{Weight: page.Thin, Fill: page.Knockout}, Shows: shows})
	const arm = wrongRing * 6 / 10
	d.stroke(page.Medium, page.Black, shows, c.Add(-arm, -arm), c.Add(arm, arm))
	d.stroke(page.Medium, page.Black, shows, c.Add(-arm, arm), c.Add(arm, -arm))
	words := page.Text{At: c.Add(wrongRing+120, page.Above(wordSize)/2), Size: wordSize, Words: wrongWords}
	if words.Bounds().Max.X+60 > d.right {
		words.At.X, words.Anchor = c.X-wrongRing-120, page.End
	}
	d.paintClear(words, page.Black, shows)
}

// describe says in a sentence where a learner's line goes.
func (g *Given) describe(r *row) string {
	words := fmt.Sprintf("The line given for %s (%s): ", r.name, g.Word)
	if len(g.Levels) == 0 {
		return words + "not drawn."
	}
	var parts []string
	for i, e := range g.Levels {
		if i == spoken {
			parts = append(parts, fmt.Sprintf("and %s more", plural(len(g.Levels)-spoken, "change")))
			break
		}
		parts = append(parts, r.word(e.On)+" from "+span(e.At))
	}
	words += strings.Join(parts, ", ") + "."
	if g.Wrong != nil {
		words += " First difference at " + span(*g.Wrong) + "."
	}
	return words
}
