package chart

import "tarry/page"

// dim is a dimension: a line from where a time began to where it ended, with
// the time in words.
type dim struct {
	run
	from, to page.Unit
	words    string
	lane     int // of the words, 0 is that of the line; counted upwards
	middle   page.Unit
}

// arrowRoom is what a dimension line needs at each side of words within it.
const arrowRoom = 260

// stretch is a piece of a lane that is taken.
type stretch struct{ from, to page.Unit }

// lanes notes what is taken.
type lanes [][]stretch

func (l lanes) free(lane int, s stretch) bool {
	for _, t := range l[lane] {
		if s.from < t.to && t.from < s.to {
			return false
		}
	}
	return true
}

// mostLanes is how many lanes of words may stand over each other: in a window
// one, so that its rows stand still while time passes.
func (d *drawing) mostLanes() int {
	if d.shown.whole {
		return 3
	}
	return 1
}

// placeDims finds room for the words of a row's dimensions and returns how
// many lanes that takes. Words within their line come first; what is too
// narrow for that takes the room that is left, beside its line or above it.
func (d *drawing) placeDims(dims []dim, tag string) int {
	if len(dims) == 0 {
		return 0
	}
	taken := make(lanes, d.mostLanes())
	for i := range dims {
		m := &dims[i]
		m.from, m.to = d.x(m.run.from), d.x(m.run.to)
		taken[0] = append(taken[0], stretch{m.from - 60, m.to + 60})
		m.within(tag)
	}
	most := 0
	said := map[string]bool{}
	for i := range dims {
		if m := &dims[i]; m.words == "" {
			d.placeWords(m, tag, taken, said[m.label("")])
		}
		said[dims[i].label("")] = said[dims[i].label("")] || dims[i].words != ""
		most = max(most, dims[i].lane)
	}
	return most + 1
}

// within puts the words into the line if they fit, without the tag if need be.
func (m *dim) within(tag string) {
	m.middle = (m.from + m.to) / 2
	for _, words := range []string{m.label(tag), m.label("")} {
		if page.Width(words, dimSize, false)+2*arrowRoom <= m.to-m.from {
			m.words = words
			return
		}
	}
}

// placeWords tries beside and above the line, the full words before the short.
// What was said in this row already is not stacked up again.
func (d *drawing) placeWords(m *dim, tag string, taken lanes, said bool) {
	const pad = 90
	for lane := range taken {
		if said && lane > 0 {
			break
		}
		for _, words := range []string{m.label(tag), m.label("")} {
			half := page.Width(words, dimSize, false)/2 + pad
			middles := []page.Unit{m.to + pad + half, m.from - pad - half}
			if lane > 0 {
				middles = []page.Unit{max((m.from+m.to)/2, d.zero+half+1)}
			}
			for _, x := range middles {
				s := stretch{x - half, x + half}
				if s.from > d.zero && s.to < d.right && taken.free(lane, s) {
					taken[lane] = append(taken[lane], s)
					m.words, m.middle, m.lane = words, x, lane
					return
				}
			}
		}
	}
	d.used.unworded = true
}

// paintDims paints a row's dimensions. Each begins at the foot of the row
// above, where the edge that starts it usually stands.
func (d *drawing) paintDims(l *line) {
	shows := page.Shows{ID: l.name, Class: "dimension"}
	style := page.Style{Weight: page.Hair}
	y := l.high - laneHeight + 190
	for i := range l.dims {
		m := &l.dims[i]
		if m.words == "" && m.to-m.from < crowded {
			continue
		}
		for _, x := range []page.Unit{m.from, m.to} {
			top := y - 90
			if x == m.from {
				top = min(top, l.startGuide)
			}
			d.page.Add(page.Element{Shape: page.Line(page.Point{X: x, Y: top}, page.Point{X: x, Y: l.low}), Style: style, Shows: shows})
		}
		d.page.Add(page.Element{Shape: page.Line(page.Point{X: m.from, Y: y}, page.Point{X: m.to, Y: y}), Style: style, Shows: shows})
		d.arrow(m.from, y, min(130, (m.to-m.from)/3), shows)
		d.dimEnd(m, y, shows)
	}
}

// paintDimWords paints the words of a row's dimensions, over everything else.
func (d *drawing) paintDimWords(l *line) {
	shows := page.Shows{ID: l.name, Class: "dimension-words"}
	y := l.high - laneHeight + 190
	for i := range l.dims {
		m := &l.dims[i]
		at := page.Point{X: m.middle, Y: y - page.Unit(m.lane)*laneHeight + page.Above(dimSize)/2}
		d.paintClear(page.Text{At: at, Anchor: page.Middle, Size: dimSize, Tabular: true, Words: m.words}, page.Black, shows)
	}
}

// dimEnd paints the end of a dimension: an arrow where the time ran out, a
// slanting stroke where it was cut short, nothing where it still runs.
func (d *drawing) dimEnd(m *dim, y page.Unit, shows page.Shows) {
	switch {
	case m.done:
		d.arrow(m.to, y, -min(130, (m.to-m.from)/3), shows)
	case !m.open:
		d.used.cutShort = true
		for _, dx := range []page.Unit{0, -70} {
			a, b := page.Point{X: m.to + dx - 60, Y: y + 100}, page.Point{X: m.to + dx + 60, Y: y - 100}
			d.page.Add(page.Element{Shape: page.Line(a, b), Style: page.Style{Weight: page.Thin}, Shows: shows})
		}
	}
}

// arrow paints an arrow head whose tip is at x; it points to the left if size
// is positive.
func (d *drawing) arrow(x, y, size page.Unit, shows page.Shows) {
	half := max(size, -size) * 2 / 5
	points := []page.Point{{X: x, Y: y}, {X: x + size, Y: y - half}, {X: x + size, Y: y + half}}
	d.page.Add(page.Element{Shape: page.Poly{Points: points, Closed: true}, Style: page.Style{Fill: page.Solid}, Shows: shows})
}

// paintClear paints words on a piece of paper of their own, so that no guide
// runs through them.
func (d *drawing) paintClear(t page.Text, ink page.Ink, shows page.Shows) {
	if t.Words == "" {
		return
	}
	b := t.Bounds()
	under := page.Rect{Box: page.Box{Min: b.Min.Add(-60, 0), Max: b.Max.Add(60, 0)}}
	d.page.Add(page.Element{Shape: under, Style: page.Style{Ink: page.Paper, Fill: page.Knockout}, Shows: shows})
	d.say(t, ink, shows)
}
