package chart

import (
	"time"

	"tarry/page"
)

// axis paints the time line below the rows.
func (d *drawing) axis() {
	shows := page.Shows{Class: "axis"}
	y := d.bottom
	for _, p := range d.scale.spans {
		d.stroke(page.Thin, page.Black, shows, page.Point{X: page.Unit(p.start), Y: y}, page.Point{X: page.Unit(p.end), Y: y})
	}
	d.stroke(page.Hair, page.Black, shows, page.Point{X: d.zero, Y: d.top}, page.Point{X: d.zero, Y: y})
	label := func(at time.Duration) page.Text {
		return page.Text{At: page.Point{X: d.x(at), Y: y + 430}, Anchor: page.Middle, Size: wordSize, Tabular: true, Words: d.scale.tickWords(at)}
	}
	labelled := d.scale.labelled(func(at time.Duration) (from, to int64) {
		b := label(at).Bounds()
		return int64(b.Min.X), int64(b.Max.X + 120)
	})
	taken := page.Unit(0)
	last := d.page.Width - page.Width(d.scale.unit(), wordSize, false) - 120 // the unit stands behind them
	for _, at := range d.scale.ticks() {
		x := d.x(at)
		d.stroke(page.Thin, page.Black, shows, page.Point{X: x, Y: y}, page.Point{X: x, Y: y + 130})
		if len(labelled) == 0 || labelled[0] != at {
			continue
		}
		labelled = labelled[1:]
		if t := label(at); t.Bounds().Max.X <= last {
			d.say(t, page.Black, shows)
			taken = t.Bounds().Max.X + 120
		}
	}
	unit := page.Text{At: page.Point{X: max(min(d.end+200, last+120), taken), Y: y + 430}, Size: wordSize, Words: d.scale.unit()}
	d.say(unit, page.Black, shows)
	d.y = y + 700
}

// breaks paints the marks where time is cut out: two wavering lines with the
// paper showing between them, through all rows.
func (d *drawing) breaks() {
	for i := 1; i < len(d.scale.spans); i++ {
		d.used.cut = true
		a, b := page.Unit(d.scale.spans[i-1].end), page.Unit(d.scale.spans[i].start)
		left, right := d.waver(a+breakEdge), d.waver(b-breakEdge)
		ground := page.Poly{Closed: true, Points: append([]page.Point(nil), left...)}
		for j := len(right) - 1; j >= 0; j-- {
			ground.Points = append(ground.Points, right[j])
		}
		shows := page.Shows{Class: "break"}
		d.page.Add(page.Element{Shape: ground, Style: page.Style{Ink: page.Paper, Fill: page.Knockout}, Shows: shows})
		d.stroke(page.Hair, page.Black, shows, left...)
		d.stroke(page.Hair, page.Black, shows, right...)
	}
}

// waver returns a zigzag from above the rows to below the axis.
func (d *drawing) waver(x page.Unit) []page.Point {
	var points []page.Point
	side := page.Unit(45)
	for y := d.top - 50; y < d.bottom+120; y += 150 {
		points = append(points, page.Point{X: x + side, Y: y})
		side = -side
	}
	return append(points, page.Point{X: x + side, Y: d.bottom + 120})
}

// placedMark is a notice with the lane that its words stand in.
type placedMark struct {
	mark
	lane  int
	x     page.Unit
	words string // empty where there was no room
	left  bool   // the words stand at the left of the flag
	bare  bool   // no room even for the flag
}

// mostMarkLanes is how many lanes of notices may stand above the rows.
const mostMarkLanes = 5

// placeMarks finds lanes for the notices, from the right to the left, so that
// the line that goes down from one hardly ever runs through the words of
// another.
func (d *drawing) placeMarks() {
	taken := make(lanes, mostMarkLanes)
	most := -1
	if !d.shown.whole {
		most = 0 // the rows stand still when a notice comes in
	}
	for i := len(d.marks) - 1; i >= 0; i-- {
		m := &d.marks[i]
		m.x = d.x(m.at)
		if d.placeMark(m, taken) {
			for lane := 0; lane < m.lane; lane++ {
				taken[lane] = append(taken[lane], m.foot())
			}
		} else {
			d.used.unworded = true
			m.bare = true
		}
		most = max(most, m.lane)
	}
	d.y += page.Unit(most+1) * laneHeight
	if most >= 0 {
		d.y += 150
	}
}

// foot is what the line down from a flag takes of each lane below it.
func (m *placedMark) foot() stretch { return stretch{m.x - 100, m.x + 100} }

// placeMark puts a mark's words into the lowest lane that has room for them,
// at the right of the flag if possible.
func (d *drawing) placeMark(m *placedMark, taken lanes) bool {
	width := page.Width(m.mark.words, wordSize, false)
	for lane := 0; lane < mostMarkLanes; lane++ {
		for _, left := range []bool{false, true} {
			s := stretch{m.x - 120, m.x + 300 + width}
			if left {
				s = stretch{m.x - 300 - width, m.x + 120}
			}
			if s.from < d.left || s.to > d.right || !taken.free(lane, s) {
				continue
			}
			taken[lane] = append(taken[lane], s)
			m.words, m.lane, m.left = m.mark.words, lane, left
			return true
		}
		if !taken.free(lane, m.foot()) {
			return false // higher up, the line would run through words
		}
	}
	return false
}

// paintMarks paints the notices: a line through all rows, a flag on top.
func (d *drawing) paintMarks() {
	for i := range d.marks {
		m := &d.marks[i]
		shows := page.Shows{Class: m.class}
		d.used.notice = d.used.notice || m.class == "notice"
		d.used.setting = d.used.setting || m.class == "setting"
		y, foot := d.top-d.cursorRoom()-150-page.Unit(m.lane)*laneHeight, d.bottom
		if m.bare {
			y, foot = d.top-100, d.top+100
		}
		d.page.Add(page.Element{
			Shape: page.Line(page.Point{X: m.x, Y: y}, page.Point{X: m.x, Y: foot}),
			Style: page.Style{Weight: page.Hair, Dash: page.Dashed}, Shows: shows,
		})
		if m.bare {
			continue
		}
		d.flag(m.x, y, m.class, shows)
		words := page.Text{At: page.Point{X: m.x + 200, Y: y - 20}, Size: wordSize, Words: m.words}
		if m.left {
			words.At.X, words.Anchor = m.x-200, page.End
		}
		d.say(words, page.Black, shows)
	}
}

// flag paints the head of a notice's line, filled, or of a changed setting's,
// hollow.
func (d *drawing) flag(x, y page.Unit, class string, shows page.Shows) {
	points := []page.Point{{X: x - 100, Y: y - 190}, {X: x + 100, Y: y - 190}, {X: x, Y: y}}
	style := page.Style{Weight: page.Thin, Fill: page.Solid}
	if class == "setting" {
		style.Fill = page.Knockout
	}
	d.page.Add(page.Element{Shape: page.Poly{Points: points, Closed: true}, Style: style, Shows: shows})
}
