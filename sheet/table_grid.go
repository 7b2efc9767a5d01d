package sheet

import (
	"strings"

	"tarry/page"
)

// A grid is a table on paper. Its columns are as wide as their words, and share
// what is left of the width. Rows are divided by thin lines and the head set
// apart by a heavier one; upright lines stand only where somebody writes.

// column is one column of a grid. The zero value is as wide as its words.
type column struct {
	head string
	// share is the part of the width that is left over which the column takes;
	// 0 for as much as its words need, but not more than most (0 for any).
	share       page.Unit
	least, most page.Unit
	bold        bool
	middle      bool // words stand in the middle
	ruled       bool // upright lines on both sides: a place to write
}

// cell is one field of a grid. The zero value is an empty one.
type cell struct {
	words string
	bold  bool
	// framed marks a value that has just changed, pulsed one that moved to and
	// fro, ticked an empty box to tick.
	framed, pulsed, ticked bool
}

// row is one row; follows keeps it on a sheet with the one before.
type row struct {
	cells   []cell
	follows bool
	// heavy draws a heavier line above: a new group begins.
	heavy bool
}

// grid is a table.
type grid struct {
	columns []column
	rows    []row
	size    page.Unit // of the words, 0 for bodySize
	least   page.Unit // height of a row at least
}

const (
	cellPad page.Unit = 130 // at the left and right of the words
	rowPad  page.Unit = 95  // above and below them
)

// words makes a row of plain words.
func words(list ...string) row {
	var r row
	for _, w := range list {
		r.cells = append(r.cells, cell{words: w})
	}
	return r
}

// laid is a grid with the width of its columns known.
type laid struct {
	*grid
	widths []page.Unit
}

// strips lays the grid out for a width.
func (g *grid) strips(width page.Unit) []strip {
	if g.size == 0 {
		g.size = bodySize
	}
	l := &laid{g, g.widths(width)}
	head := l.headStrip()
	list := []strip{head}
	list[0].with = true
	for i := range g.rows {
		parts := l.rowStrips(&g.rows[i], i == len(g.rows)-1)
		for j := range parts {
			parts[j].head = []strip{head}
		}
		parts[len(parts)-1].with = i+1 < len(g.rows) && g.rows[i+1].follows
		list = append(list, parts...)
	}
	if n := len(list); n > 3 { // no row is left alone at the foot or the top of a sheet
		list[1].with, list[n-2].with = true, true
	}
	return list
}

// leastShare is what a column that shares gets at least.
const leastShare page.Unit = 1600

// widths shares the width out. Where words of their own length leave nothing to
// share, their columns give way.
func (g *grid) widths(width page.Unit) []page.Unit {
	widths := make([]page.Unit, len(g.columns))
	shares, fixed := page.Unit(0), page.Unit(0)
	left := width
	for i, c := range g.columns {
		widths[i] = max(g.natural(i), c.least)
		if c.most > 0 {
			widths[i] = min(widths[i], c.most)
		}
		if c.share > 0 {
			widths[i] = max(c.least, leastShare)
		} else {
			fixed += widths[i]
		}
		left -= widths[i]
		shares += c.share
	}
	for i, c := range g.columns {
		if c.share == 0 && left < 0 {
			widths[i] += left * widths[i] / fixed
		}
	}
	for i, c := range g.columns {
		if c.share > 0 && left > 0 {
			add := left * c.share / shares
			widths[i] += add
			left, shares = left-add, shares-c.share
		}
	}
	return widths
}

// natural is the width of a column's longest words.
func (g *grid) natural(i int) page.Unit {
	size := g.size
	if size == 0 {
		size = bodySize
	}
	w := page.Unit(0)
	for _, line := range strings.Split(g.columns[i].head, "\n") {
		w = max(w, page.Width(line, noteSize, true))
	}
	for _, r := range g.rows {
		if i < len(r.cells) {
			for _, line := range strings.Split(r.cells[i].words, "\n") {
				w = max(w, page.Width(line, size, r.cells[i].bold || g.columns[i].bold))
			}
		}
	}
	return w + 2*cellPad + 10
}

// units are not torn from the numbers before them.
var units = map[string]bool{"ms": true, "s": true, "min": true, "h": true, "V": true}

// fold breaks words at their own line ends and then to a width. A number keeps
// its unit.
func fold(text string, size page.Unit, bold bool, width page.Unit) []string {
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		line := ""
		for _, word := range whole(strings.Fields(page.Clean(part))) {
			long := strings.TrimSpace(line + " " + word)
			if line != "" && page.Width(long, size, bold) > width {
				lines = append(lines, line)
				long = word
			}
			line = page.Fit(long, size, bold, width)
		}
		lines = append(lines, line)
	}
	if len(lines) == 1 && lines[0] == "" {
		return nil
	}
	return lines
}

// whole joins numbers with the units behind them.
func whole(words []string) []string {
	var list []string
	for _, w := range words {
		last := len(list) - 1
		if units[strings.TrimRight(w, ".,;:)")] && last >= 0 && strings.Trim(list[last], "0123456789.(") == "" {
			list[last] += " " + w
			continue
		}
		list = append(list, w)
	}
	return list
}

func (l *laid) headStrip() strip {
	most := 0
	heads := make([][]string, len(l.columns))
	for i, c := range l.columns {
		heads[i] = fold(c.head, noteSize, true, l.widths[i]-2*cellPad)
		most = max(most, len(heads[i]))
	}
	height := page.Unit(most)*lineOf(noteSize) + 2*rowPad
	return strip{height: height, draw: func(f *frame, at page.Point) {
		for i, x := range l.lefts(at.X) {
			y := at.Y + height - rowPad - page.Unit(len(heads[i]))*lineOf(noteSize)
			l.write(f, i, x, y, heads[i], noteSize, true, "table-head")
		}
		f.line(page.Medium, at.Add(0, height), at.Add(l.width(), height))
	}}
}

// lefts returns where each column begins.
func (l *laid) lefts(x page.Unit) []page.Unit {
	list := make([]page.Unit, len(l.widths))
	for i, w := range l.widths {
		list[i] = x
		x += w
	}
	return list
}

func (l *laid) width() page.Unit {
	sum := page.Unit(0)
	for _, w := range l.widths {
		sum += w
	}
	return sum
}

// write puts lines into a column, the first one's top at y.
func (l *laid) write(f *frame, i int, x, y page.Unit, lines []string, size page.Unit, bold bool, class string) {
	t := page.Text{At: page.Point{X: x + cellPad}, Size: size, Bold: bold, Tabular: true}
	if l.columns[i].middle {
		t.At.X, t.Anchor = x+l.widths[i]/2, page.Middle
	}
	for _, words := range lines {
		t.At.Y, t.Words = y+page.Above(size), words
		f.text(t, class)
		y += lineOf(size)
	}
}

// mostLines is how many lines of a row stay together on a sheet.
const mostLines = 18

// rowStrips lays a row out: one strip, or several for a very high row.
func (l *laid) rowStrips(r *row, last bool) []strip {
	lines, most := make([][]string, len(l.columns)), 1
	for i := range r.cells {
		lines[i] = fold(r.cells[i].words, l.size, l.bold(r, i), l.widths[i]-2*cellPad)
		most = max(most, len(lines[i]))
	}
	var list []strip
	for from := 0; from < most; from += mostLines {
		part := make([][]string, len(lines))
		for i := range lines {
			part[i] = lines[i][min(from, len(lines[i])):min(from+mostLines, len(lines[i]))]
		}
		t := l.rowStrip(r, part, from == 0)
		if from+mostLines >= most {
			t = closed(t, l.foot(last), l.width())
		}
		list = append(list, t)
	}
	return list
}

// rowStrip is the part of a row with these lines.
func (l *laid) rowStrip(r *row, lines [][]string, first bool) strip {
	most := 1
	for i := range lines {
		most = max(most, len(lines[i]))
	}
	height := max(l.least, page.Unit(most)*lineOf(l.size)+2*rowPad)
	down := rowPad + lineOf(l.size)/2
	if most == 1 {
		down = height / 2
	}
	return strip{height: height, draw: func(f *frame, at page.Point) {
		if r.heavy && first {
			f.line(l.rule()+1, at, at.Add(l.width(), 0))
		}
		for i, x := range l.lefts(at.X) {
			l.cell(f, r, i, page.Box{Min: page.Point{X: x, Y: at.Y}, Max: page.Point{X: x + l.widths[i], Y: at.Y + height}}, down, lines[i])
		}
	}}
}

// closed draws a line along the foot of a strip.
func closed(t strip, w page.Weight, width page.Unit) strip {
	draw := t.draw
	t.draw = func(f *frame, at page.Point) {
		draw(f, at)
		f.line(w, at.Add(0, t.height), at.Add(width, t.height))
	}
	return t
}

// rule is the weight of the lines between rows and columns: fine in a table to
// read, stouter in one to write in, whose lines a worn copier must not lose.
func (l *laid) rule() page.Weight {
	if l.least > 0 {
		return page.Thin
	}
	return page.Hair
}

func (l *laid) foot(last bool) page.Weight {
	if last {
		return page.Medium
	}
	return l.rule()
}

func (l *laid) bold(r *row, i int) bool { return r.cells[i].bold || l.columns[i].bold }

// cell paints one cell, the middle of its first line so far down.
func (l *laid) cell(f *frame, r *row, i int, box page.Box, down page.Unit, lines []string) {
	if l.columns[i].ruled {
		f.line(l.rule(), box.Min, page.Point{X: box.Min.X, Y: box.Max.Y})
		f.line(l.rule(), page.Point{X: box.Max.X, Y: box.Min.Y}, box.Max)
	}
	if i >= len(r.cells) {
		return
	}
	c := r.cells[i]
	if c.ticked {
		f.tickBox(page.Point{X: box.Min.X + box.Width()/2 - 150, Y: box.Min.Y + down}, 150)
	}
	l.write(f, i, box.Min.X, box.Min.Y+down-page.Above(l.size)/2-10, lines, l.size, l.bold(r, i), "cell")
	l.marks(f, c, page.Point{X: box.Min.X + box.Width()/2, Y: box.Min.Y + down - 10}, box.Max.X, lines)
}

// marks frames a value that has changed and draws the tick of a pulse of no
// width, at the right edge of the cell.
func (l *laid) marks(f *frame, c cell, middle page.Point, right page.Unit, lines []string) {
	if c.framed && len(lines) > 0 {
		half := page.Width(lines[0], l.size, true)/2 + 85
		box := page.Box{Min: middle.Add(-half, -185), Max: middle.Add(half, 205)}
		f.page.Add(page.Element{Shape: page.Rect{Box: box}, Style: page.Style{Weight: page.Thin}, Shows: page.Shows{Class: "changed"}})
	}
	if c.pulsed {
		f.pulse(page.Point{X: right - 120, Y: middle.Y})
	}
}

// pulse draws the mark of a pulse of no width, a tick with a diamond, as on a
// chart.
func (f *frame) pulse(at page.Point) {
	shows := page.Shows{Class: "pulse"}
	f.page.Add(page.Element{Shape: page.Line(at.Add(0, -170), at.Add(0, 170)), Style: page.Style{Weight: page.Thin}, Shows: shows})
	points := []page.Point{at.Add(0, -70), at.Add(70, 0), at.Add(0, 70), at.Add(-70, 0)}
	f.page.Add(page.Element{Shape: page.Poly{Points: points, Closed: true}, Style: page.Style{Weight: page.Hair, Fill: page.Solid}, Shows: shows})
}
