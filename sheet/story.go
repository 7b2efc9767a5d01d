package sheet

import (
	"fmt"
	"slices"
	"sort"
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
	title   string // of a slide
	trace   *trace.Trace
	story   []why.Instant
	left    int          // how many more instants are not drawn
	states  []*page.Page // the drawing at each instant
	extent  page.Box     // around the ink of all of them
	rows    []string     // of the chart
	hidden  int          // how many rows it has no room for
	cell    page.Point   // size of a frame
	beside  bool         // the drawing stands at the right of words and chart, not between them
	column  page.Unit    // width of words and chart
	percent int          // of the drawing
	small   page.Unit    // width at which the chart is drawn before it is scaled to its column
	chart   page.Unit    // height of the chart in the frame
	heading page.Unit    // size of the step's heading
	words   page.Unit    // and of its sentences
}

// mostInstants is how many instants of a run are drawn.
const mostInstants = 60

// newBoard draws the states of a run.
func (s *setter) newBoard(t *trace.Trace) *board {
	b := &board{trace: t, story: why.Story(t), heading: bodySize, words: noteSize}
	if n := len(b.story) - mostInstants; n > 0 {
		b.story, b.left = b.story[:mostInstants], n
	}
	for i, in := range b.story {
		opt := s.drawOptions()
		opt.State = wholeState(t, trace.Settled(in.At))
		p := schematic.Draw(s.circuit, opt)[0]
		p.Elements = slices.DeleteFunc(p.Elements, isWireNumber)
		keepClear(p)
		b.states = append(b.states, p)
		box := p.Ink()
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

// fitChart chooses the rows so that the chart is no higher than asked for: as
// many as fit of those that matter most, in their usual order.
func (b *board) fitChart(height page.Unit) {
	b.small = max(b.column*100/75, 12500)
	all := storyRows(b.trace)
	ranks := slices.Clone(all)
	slices.SortStableFunc(ranks, func(x, y string) int { return rowRank(b.trace, x) - rowRank(b.trace, y) })
	fits := func(n int) bool {
		b.rows = slices.DeleteFunc(slices.Clone(all), func(name string) bool { return !slices.Contains(ranks[:n], name) })
		b.hidden = len(all) - n
		b.chart = b.drawChart(0).Height * b.column / b.small
		if b.hidden > 0 {
			b.chart += lineOf(b.hiddenSize()) + 60
		}
		return b.chart <= height
	}
	if len(all) < 2 || fits(len(all)) {
		fits(len(all))
		return
	}
	fits(1 + sort.Search(len(all)-2, func(i int) bool { return !fits(i + 2) }))
}

// hiddenSize is the size of the words about rows that are left out.
func (b *board) hiddenSize() page.Unit { return min(b.words*85/100, bodySize) }

func (b *board) fitDrawing(room page.Point) {
	width, height := max(b.extent.Width(), 1), max(b.extent.Height(), 1)
	b.percent = max(int(min(room.X*100/width, room.Y*100/height, storyMax)), 1)
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

// storyRows are the rows of the small chart: the usual ones without elapsed
// times, which the rings tell.
func storyRows(t *trace.Trace) []string {
	return slices.DeleteFunc(chart.Rows(t), func(name string) bool { return strings.HasSuffix(name, ".elapsed") })
}

// rowRank orders the rows by what matters: those of the highest rank are left
// out first where the chart has to shrink.
func rowRank(t *trace.Trace, name string) int {
	s, ok := t.Circuit.FindSignal(name)
	if !ok {
		return 2 // the supply
	}
	class := t.Circuit.Devices[s.Device].Kind.Info().Class
	switch {
	case class == circuit.LoadOnly:
		return 0
	case s.Contact == circuit.NoContact:
		return 3 // a coil
	case s.Contact.Group() != circuit.Instant:
		return 1
	}
	return 2
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
	if b.hidden > 0 {
		size := b.hiddenSize()
		f.lines(chart.Add(0, b.chart-lineOf(size)), []string{b.hiddenWords()}, size, false, "not-shown")
	}
	f.page.Description += " " + words + ": " + strings.Join(in.Sentences, " ")
}

func (b *board) hiddenWords() string {
	if b.hidden == 1 {
		return "1 more signal is not shown"
	}
	return strconv.Itoa(b.hidden) + " more signals are not shown"
}

// grids are the columns and rows of so many frames, on paper upright and on
// its side.
var grids = map[int][2][2]int{1: {{1, 1}, {1, 1}}, 2: {{1, 2}, {2, 1}}, 4: {{2, 2}, {2, 2}}, 6: {{2, 3}, {3, 2}}}

func (s *setter) storyPages() []*page.Page {
	var pages []*page.Page
	for _, t := range s.traces {
		b := s.newBoard(t)
		landscape, count := s.boardLook(b)
		f := s.storySheet(b, landscape, "")
		b.fit(cellOf(f.room, s.grid(count, landscape)))
		sheets := (len(b.story) + count - 1) / count
		for i := range sheets {
			about := ""
			if sheets > 1 {
				about = fmt.Sprintf(" (%d of %d)", i+1, sheets)
			}
			f := s.storySheet(b, landscape, about)
			s.storyPage(f, b, i*count, s.grid(count, landscape))
			if i == sheets-1 {
				f.text(page.Text{At: f.room.Max.Add(0, air+page.Above(noteSize)), Anchor: page.End, Size: noteSize, Bold: true, Words: b.leftWords()}, "not-drawn")
			}
			pages = append(pages, f.page)
		}
	}
	return pages
}

// storySheet is a sheet for frames, with what their marks mean at its foot. It
// gives answers, so it is a key.
func (s *setter) storySheet(b *board, landscape bool, about string) *frame {
	f := s.newSheet(look{name: "Storyboard", about: b.trace.Script + about, landscape: landscape, audience: forKey})
	f.room.Max.Y -= lineOf(noteSize)
	f.lines(page.Point{X: f.room.Min.X, Y: f.room.Max.Y}, []string{page.Fit(marksWords(), noteSize, false, f.room.Width())}, noteSize, false, "story-legend")
	if b.left > 0 {
		f.room.Max.Y -= lineOf(noteSize)
	}
	f.room.Max.Y -= air
	return f
}

// marksWords says what the marks of a drawing mean, whatever the supply does.
func marksWords() string {
	on := schematic.State{}
	return strings.TrimSpace(strings.Replace(on.Legend(), "The supply is on.", "", 1))
}

// leftWords says how many instants are not drawn; empty if all are.
func (b *board) leftWords() string {
	switch b.left {
	case 0:
		return ""
	case 1:
		return "… and 1 more instant is not drawn."
	}
	return fmt.Sprintf("… and %d more instants are not drawn.", b.left)
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

// readable is the size in percent below which fewer frames stand on a page if
// their number is left open.
const readable = 55

// boardLook chooses the paper's side, and how many frames stand on it where
// that was not asked for.
func (s *setter) boardLook(b *board) (landscape bool, count int) {
	counts := []int{4, 2, 1}
	if s.opt.PerPage > 0 {
		counts = []int{s.opt.PerPage}
	}
	for _, count = range counts {
		best := -1
		for _, side := range []bool{false, true} {
			f := s.storySheet(b, side, "")
			if b.fit(cellOf(f.room, s.grid(count, side))); b.percent > best {
				best, landscape = b.percent, side
			}
		}
		if best >= readable {
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
	b := newSlides(t, opt)
	var pages []*page.Page
	for i := range b.story {
		pages = append(pages, b.slide(i))
	}
	return pages
}

// FrameAt draws the one frame of Frames that shows an instant: the latest that
// does not lie after it.
func FrameAt(t *trace.Trace, at time.Duration, opt Options) *page.Page {
	b := newSlides(t, opt)
	i := sort.Search(len(b.story), func(i int) bool { return b.story[i].At > at })
	return b.slide(max(i-1, 0))
}

// slideRoom is the room for a frame on a slide.
var slideRoom = page.Box{Min: page.Point{X: topEdge, Y: topEdge}, Max: page.Point{X: slideWidth - topEdge, Y: slideHeight - topEdge}}

// newSlides prepares a storyboard of one frame a page.
func newSlides(t *trace.Trace, opt Options) *board {
	s := &setter{circuit: t.Circuit, wiring: t.Wiring, opt: opt}
	b := s.newBoard(t)
	b.heading, b.words, b.title = headSize, 440, t.Circuit.Title
	if t.Script != "" { // a free run has no name
		b.title += ": " + t.Script
	}
	b.fit(page.Point{X: slideRoom.Width(), Y: slideRoom.Height()})
	return b
}

func (b *board) slide(i int) *page.Page {
	f := &frame{page: &page.Page{Width: slideWidth, Height: slideHeight}, room: slideRoom}
	room := f.room
	f.page.Title = b.title
	right := room.Max.X - 2500
	f.text(page.Text{At: page.Point{X: room.Min.X, Y: topEdge - 250}, Size: aboutSize, Words: page.Fit(f.page.Title, aboutSize, false, right-room.Min.X)}, "slide-title")
	f.text(page.Text{At: page.Point{X: room.Max.X, Y: topEdge - 250}, Anchor: page.End, Size: aboutSize, Words: fmt.Sprintf("%d of %d", i+1, len(b.story))}, "slide-number")
	b.paint(f, i, room.Min)
	foot := []string{page.Fit(marksWords(), bodySize, false, room.Width())}
	if i == len(b.story)-1 && b.left > 0 {
		foot = append(foot, b.leftWords())
	}
	f.lines(page.Point{X: room.Min.X, Y: room.Max.Y + 150}, foot, bodySize, false, "story-legend")
	return f.page
}
