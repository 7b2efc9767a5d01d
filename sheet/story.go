package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
	"tarry/trace"
	"tarry/why"
)

// A storyboard tells a run in pictures: for each instant at which something
// happens, the drawing with the marks of the state that follows, the sentences
// that say why, and a small chart on which a cursor moves along. All pictures
// of a run are drawn at one size and stand at one place, so that only what
// changes seems to move.

// storyMax is the largest size of the drawing in a storyboard, in percent.
const storyMax = 100

// board is a storyboard in the making: the run, what is drawn of it, and how
// large.
type board struct {
	trace   *trace.Trace
	story   []why.Instant
	states  []*page.Page // the drawing at each instant
	extent  page.Box     // around the ink of all of them
	rows    []string     // of the chart
	cell    page.Point   // size of a frame
	beside  bool         // the drawing stands at the right of words and chart, not between them
	column  page.Unit    // width of words and chart
	percent int          // of the drawing
	small   page.Unit    // width at which the chart is drawn before it is scaled to its column
	chart   page.Unit    // height of the chart in the frame
	heading page.Unit    // size of the step's heading
	words   page.Unit    // and of its sentences
}

// newBoard draws all states of a run.
func (s *setter) newBoard(t *trace.Trace) *board {
	b := &board{trace: t, story: why.Story(t), heading: bodySize, words: noteSize}
	for i, in := range b.story {
		opt := s.drawOptions()
		opt.State = wholeState(t, trace.Settled(in.At))
		p := schematic.Draw(s.circuit, opt)[0]
		p.Elements = slices.DeleteFunc(p.Elements, isWireNumber)
		keepClear(p)
		b.states = append(b.states, p)
		box := inked(p)
		if i == 0 {
			b.extent = box
		}
		b.extent.Min = page.Point{X: min(b.extent.Min.X, box.Min.X), Y: min(b.extent.Min.Y, box.Min.Y)}
		b.extent.Max = page.Point{X: max(b.extent.Max.X, box.Max.X), Y: max(b.extent.Max.Y, box.Max.Y)}
	}
	return b
}

// isWireNumber picks what a small picture leaves out: a live conductor, which
// is always heavy, would run into it.
func isWireNumber(e page.Element) bool { return e.Shows.Class == "wire-number" }

// wholeState is the state at a moment with a ring for every timer, those that
// stand at zero too, so that the drawing keeps its size.
func wholeState(t *trace.Trace, m trace.Moment) *schematic.State {
	state := StateAt(t, m)
	for i := range t.Circuit.Devices {
		id := circuit.DeviceID(i)
		has := slices.ContainsFunc(state.Timers, func(x schematic.Timing) bool { return x.Device == id })
		if t.Circuit.Devices[i].Kind == circuit.Timer && !has {
			state.Timers = append(state.Timers, schematic.Timing{Device: id, Preset: t.Preset(id, m)[0]})
		}
	}
	return state
}

// fit sizes drawing and chart for frames of a size: the drawing between words
// and chart, or at their right where that makes it larger.
func (b *board) fit(cell page.Point) {
	b.cell = cell
	b.fitBelow()
	if cell.X < leastBeside {
		return
	}
	below := *b
	if b.fitBeside(); b.percent <= below.percent {
		*b = below
	}
}

// leastBeside is the width of a frame from which on the chart may stand beside
// the drawing.
const leastBeside page.Unit = 16000

func (b *board) fitBelow() {
	b.beside, b.column = false, b.cell.X
	b.fitChart(b.cell.Y * 38 / 100)
	b.fitDrawing(page.Point{X: b.cell.X, Y: b.cell.Y - b.wordRoom() - b.chart - air})
}

func (b *board) fitBeside() {
	b.beside, b.column = true, b.cell.X*47/100
	b.fitChart(b.cell.Y - b.wordRoom() - air)
	b.fitDrawing(page.Point{X: b.cell.X - b.column - air, Y: b.cell.Y - lineOf(b.heading) - 300})
}

// fitChart chooses the rows so that the chart is no higher than asked for.
func (b *board) fitChart(height page.Unit) {
	b.small = max(b.column*100/75, 12500)
	b.rows = storyRows(b.trace, 0)
	for level := 1; ; level++ {
		b.chart = b.drawChart(0).Height * b.column / b.small
		if b.chart <= height || len(b.rows) < 2 {
			break
		}
		if fewer := storyRows(b.trace, level); level < 4 && len(fewer) > 1 {
			b.rows = fewer
		} else {
			b.rows = b.rows[:len(b.rows)-1]
		}
	}
}

func (b *board) fitDrawing(room page.Point) {
	width, height := max(b.extent.Width(), 1), max(b.extent.Height(), 1)
	b.percent = int(min(room.X*100/width, room.Y*100/height, storyMax))
}

// limit is how many lines of sentences there may be.
func (b *board) limit() int {
	if b.beside {
		return 10
	}
	return 4
}

// wordRoom is the height of the heading and the sentences.
func (b *board) wordRoom() page.Unit {
	return lineOf(b.heading) + page.Unit(b.limit())*lineOf(b.words) + b.heading
}

// storyRows chooses the rows of the small chart: the usual ones without elapsed
// times, which the rings tell; on a higher level fewer.
func storyRows(t *trace.Trace, level int) []string {
	var rows []string
	for _, name := range chart.Rows(t) {
		s, ok := t.Circuit.FindSignal(name)
		if strings.HasSuffix(name, ".elapsed") || ok && rowLevel(t, s) < level {
			continue
		}
		rows = append(rows, name)
	}
	return rows
}

// rowLevel is how long a row stays when the chart has to shrink.
func rowLevel(t *trace.Trace, s circuit.Signal) int {
	class := t.Circuit.Devices[s.Device].Kind.Info().Class
	switch {
	case s.Contact == circuit.NoContact && class != circuit.LoadOnly:
		return 0 // a coil
	case class == circuit.LoadOnly:
		return 2
	case s.Contact.Group() != circuit.Instant:
		return 1
	}
	return 3
}

// drawChart draws the small chart with the cursor at an instant.
func (b *board) drawChart(at time.Duration) *page.Page {
	p, err := chart.Draw(b.trace, chart.Options{Width: b.small, Rows: b.rows, Bare: true, NoLegend: true, Compact: true, Cursor: &at})
	if err != nil {
		panic(err) // the rows are the chart's own
	}
	return p
}

// paint draws frame i with its top left corner at a point.
func (b *board) paint(f *frame, i int, at page.Point) {
	in := b.story[i]
	f.line(page.Thin, at, at.Add(b.cell.X, 0))
	words := "Step " + strconv.Itoa(i) + "  ·  " + circuit.FormatTime(in.At)
	if i == 0 {
		words = "Start  ·  " + circuit.FormatTime(in.At)
	}
	f.lines(at.Add(0, b.heading*2/5), []string{words}, b.heading, true, "step")
	text := page.Fold(strings.Join(in.Sentences, " "), b.words, false, b.column, b.limit())
	f.lines(at.Add(0, b.heading*2/5+50+lineOf(b.heading)), text, b.words, false, "step-words")
	room := page.Box{Min: at.Add(0, b.wordRoom()), Max: at.Add(b.cell.X, b.cell.Y-b.chart-air)}
	chart := at.Add(0, b.cell.Y-b.chart)
	if b.beside {
		room = page.Box{Min: at.Add(b.column+air, lineOf(b.heading)+300), Max: at.Add(b.cell.X, b.cell.Y)}
		chart.Y = at.Y + b.wordRoom() + air
	}
	k := page.Unit(b.percent)
	f.placeDrawing(b.states[i], page.Point{
		X: room.Min.X + (room.Width()-b.extent.Width()*k/100)/2 - b.extent.Min.X*k/100,
		Y: room.Min.Y + (room.Height()-b.extent.Height()*k/100)/2 - b.extent.Min.Y*k/100,
	}, b.percent)
	f.place(b.drawChart(in.At), chart, int(b.column*100/b.small))
	f.page.Description += " " + words + ": " + strings.Join(in.Sentences, " ")
}

// grids are the columns and rows of so many frames, on paper upright and on
// its side.
var grids = map[int][2][2]int{1: {{1, 1}, {1, 1}}, 2: {{1, 2}, {2, 1}}, 4: {{2, 2}, {2, 2}}, 6: {{2, 3}, {3, 2}}}

func (s *setter) storyPages() []*page.Page {
	var pages []*page.Page
	for _, t := range s.traces {
		b := s.newBoard(t)
		landscape, count := s.boardLook(b)
		f := s.newSheet(s.storyLook(t, landscape, ""))
		b.fit(cellOf(f.room, s.grid(count, landscape)))
		sheets := (len(b.story) + count - 1) / count
		for i := range sheets {
			about := ""
			if sheets > 1 {
				about = fmt.Sprintf(" (%d of %d)", i+1, sheets)
			}
			f := s.newSheet(s.storyLook(t, landscape, about))
			s.storyPage(f, b, i*count, s.grid(count, landscape))
			pages = append(pages, f.page)
		}
	}
	return pages
}

func (s *setter) storyLook(t *trace.Trace, landscape bool, about string) look {
	return look{name: "Storyboard", about: t.Script + about, landscape: landscape}
}

func (s *setter) grid(count int, landscape bool) [2]int {
	if landscape {
		return grids[count][1]
	}
	return grids[count][0]
}

// storyGap is the room between two frames.
const storyGap page.Unit = 900

func cellOf(room page.Box, grid [2]int) page.Point {
	columns, rows := page.Unit(grid[0]), page.Unit(grid[1])
	return page.Point{X: (room.Width() - (columns-1)*storyGap) / columns, Y: (room.Height() - (rows-1)*storyGap) / rows}
}

// Below these sizes in percent, fewer frames stand on a page: the first one if
// the number is left open, the second one if it was asked for.
const (
	readable = 55
	legible  = 35
)

// boardLook chooses the paper's side, and how many frames stand on it.
func (s *setter) boardLook(b *board) (landscape bool, count int) {
	most, enough := s.opt.PerPage, legible
	if most == 0 {
		most, enough = 4, readable
	}
	for _, count = range []int{6, 4, 2, 1} {
		if count > most {
			continue
		}
		best := -1
		for _, side := range []bool{false, true} {
			f := s.newSheet(s.storyLook(b.trace, side, ""))
			if b.fit(cellOf(f.room, s.grid(count, side))); b.percent > best {
				best, landscape = b.percent, side
			}
		}
		if best >= enough {
			break
		}
	}
	return landscape, count
}

// storyPage puts the frames from first on onto a sheet.
func (s *setter) storyPage(f *frame, b *board, first int, grid [2]int) {
	for i := first; i < min(first+grid[0]*grid[1], len(b.story)); i++ {
		n := i - first
		b.paint(f, i, f.room.Min.Add(page.Unit(n%grid[0])*(b.cell.X+storyGap), page.Unit(n/grid[0])*(b.cell.Y+storyGap)))
	}
}

// slideWidth and slideHeight are a page for a wall: sixteen by nine.
const (
	slideWidth  page.Unit = 25600
	slideHeight page.Unit = 14400
)

// Frames draws the storyboard of one run as single pages for a projector, one
// for each instant at which something happens. Of opt, the symbols, the layout
// and NoWords count.
func Frames(t *trace.Trace, opt Options) []*page.Page {
	s := &setter{circuit: t.Circuit, wiring: t.Wiring, opt: opt}
	b := s.newBoard(t)
	b.heading, b.words = headSize, 440
	room := page.Box{Min: page.Point{X: topEdge, Y: topEdge}, Max: page.Point{X: slideWidth - topEdge, Y: slideHeight - topEdge}}
	b.fit(page.Point{X: room.Width(), Y: room.Height()})
	var pages []*page.Page
	for i := range b.story {
		f := &frame{page: &page.Page{Width: slideWidth, Height: slideHeight}, room: room}
		f.page.Title = s.circuit.Title + ": " + t.Script
		f.text(page.Text{At: page.Point{X: room.Min.X, Y: topEdge - 250}, Size: aboutSize, Words: page.Fit(f.page.Title, aboutSize, false, room.Width()-2500)}, "slide-title")
		f.text(page.Text{At: page.Point{X: room.Max.X, Y: topEdge - 250}, Anchor: page.End, Size: aboutSize, Words: fmt.Sprintf("%d of %d", i+1, len(b.story))}, "slide-number")
		b.paint(f, i, room.Min)
		pages = append(pages, f.page)
	}
	return pages
}
