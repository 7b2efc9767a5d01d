package report

import (
	"strconv"

	"tarry/page"
)

// Column is a column of a table.
type Column struct {
	Head string
	// Share is how much of the width it takes, beside the shares of the others.
	Share int
	// Right sets numbers flush right; Bar draws a number as a bar as well.
	Right, Bar bool
}

const (
	cellSize           = bodySize - 30
	cellGap  page.Unit = 350
	rowGap   page.Unit = 160
)

// Table writes rows under the heads of the columns, which stand again on every
// sheet. A cell that is missing is empty.
func (d *Doc) Table(columns []Column, rows [][]string) {
	if len(columns) == 0 {
		return
	}
	heads := make([]string, len(columns))
	for i, c := range columns {
		heads[i] = c.Head
	}
	g := grid{Doc: d, columns: columns}
	g.measure(rows)
	first := lineOf(cellSize)
	if len(rows) > 0 {
		first = g.height(rows[0], false)
	}
	d.need(g.height(heads, true) + first)
	g.row(heads, true)
	for _, cells := range rows {
		sheets := len(d.pages)
		d.need(g.height(cells, false))
		if len(d.pages) > sheets {
			g.row(heads, true)
		}
		g.row(cells, false)
	}
	d.y += 250
}

// grid is a table in the making.
type grid struct {
	*Doc
	columns []Column
	at      []page.Unit // left edges, and the right edge of the last
	most    []int       // the highest number of a column with bars
}

func (g *grid) measure(rows [][]string) {
	sum := 0
	for _, c := range g.columns {
		sum += max(c.Share, 1)
	}
	x, share := leftEdge, 0
	for _, c := range g.columns {
		g.at = append(g.at, x)
		share += max(c.Share, 1)
		x = leftEdge + g.Room()*page.Unit(share)/page.Unit(sum)
	}
	g.at = append(g.at, x)
	g.most = make([]int, len(g.columns))
	for _, cells := range rows {
		for i := range min(len(cells), len(g.most)) {
			if n, err := strconv.Atoi(cells[i]); err == nil {
				g.most[i] = max(g.most[i], n)
			}
		}
	}
}

func (g *grid) lines(cells []string, i int, bold bool) []string {
	if i >= len(cells) || cells[i] == "" {
		return nil
	}
	return page.Fold(cells[i], cellSize, bold, g.at[i+1]-g.at[i]-cellGap, 0)
}

// mostLines is how many lines of a cell are shown: a row must fit on a sheet.
const mostLines = 40

func (g *grid) height(cells []string, bold bool) page.Unit {
	n := 1
	for i := range g.columns {
		n = max(n, len(g.lines(cells, i, bold)))
	}
	return page.Unit(min(n, mostLines))*lineOf(cellSize) + rowGap
}

func (g *grid) row(cells []string, head bool) {
	height := g.height(cells, head)
	for i, c := range g.columns {
		lines := g.lines(cells, i, head)
		for n, line := range lines[:min(len(lines), mostLines)] {
			t := page.Text{At: page.Point{X: g.at[i], Y: g.y + page.Unit(n+1)*lineOf(cellSize) - page.Below(cellSize)},
				Size: cellSize, Bold: head, Tabular: c.Right, Words: line}
			if c.Right {
				t.At.X, t.Anchor = g.at[i+1]-cellGap, page.End
			}
			if c.Bar && !head {
				g.bar(i, line)
				t.At.X, t.Anchor = g.at[i]+600, page.End
			}
			g.add(t, page.Style{})
		}
	}
	g.y += height
	weight := page.Hair
	if head {
		weight = page.Medium
	}
	g.rule(weight)
}

// bar draws a number of a column as a solid bar beside the number.
func (g *grid) bar(i int, words string) {
	n, err := strconv.Atoi(words)
	if err != nil || n <= 0 || g.most[i] == 0 {
		return
	}
	from := g.at[i] + 750
	room := g.at[i+1] - cellGap - from
	if room <= 0 {
		return
	}
	box := page.Box{Min: page.Point{X: from, Y: g.y + 110}, Max: page.Point{X: from + room*page.Unit(n)/page.Unit(g.most[i]), Y: g.y + 340}}
	g.add(page.Rect{Box: box}, page.Style{Fill: page.Solid})
}
