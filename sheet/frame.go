package sheet

// A sheet of paper. newSheet gives a page with what stands on every sheet: the
// head with the sheet's name, the boxes for assumptions and cautions, the title
// block and the standing caution. What is between belongs to the caller: the
// frame's room. The number "page x of y" is written by Set once all sheets are
// known.
//
// A sheet has no border: a heavy line under the head and one over the title
// block are enough, and survive a copier that shifts the paper.

import (
	"strings"

	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
	"tarry/why"
)

// Header is what a college writes into the title blocks; every field may be
// empty.
type Header struct {
	College, Author, Date, Revision, Variant, Exercise string
}

// Paper is a size of paper.
type Paper uint8

// The sizes.
const (
	A4 Paper = iota
	Letter
)

// Size returns the paper's width and height in 1/100 mm, standing upright.
func (p Paper) Size() (width, height page.Unit) {
	if p == Letter {
		return 21590, 27940
	}
	return 21000, 29700
}

// Options are the choices for Set. The zero value makes every sheet on A4 with
// international symbols and level rungs.
type Options struct {
	Header
	Paper   Paper
	Symbols schematic.Tradition
	Layout  schematic.Layout
	// Parts are the names of the parts to print, in order; empty means all.
	Parts []string
	// Scripts are the names of the scripts to print charts, tables and
	// storyboards of; empty means all that traces were given for.
	Scripts []string
	// PerPage is how many frames of a storyboard stand on a page: 1, 2, 4 or
	// 6; 0 means 4, or fewer where they would be too small to read.
	PerPage int
	// NoWords leaves out the words beside timed contacts, for a test.
	NoWords bool
	// Faults are lines about what is wrong with the text of which this is what
	// was understood; they stand on every sheet, and nothing to wire by is made.
	Faults []string
	// NoStart leaves the start-up state out of blank charts.
	NoStart bool
}

// audience says for whom a sheet is.
type audience uint8

const (
	forAll     audience = iota
	forLearner          // with boxes for name, group and date
	forKey              // marked as the instructor's
)

// look is what a sheet is to be.
type look struct {
	name  string // of the sheet: "Timing chart, blank"
	about string // second line: the script's name, say; may be empty
	// landscape lays the paper on its side.
	landscape bool
	audience  audience
	// assumptions and cautions ask for these boxes above the title block.
	assumptions, cautions bool
}

// frame is a sheet whose room is free for its content. Everything on it is in
// 1/100 mm from the paper's top left corner.
type frame struct {
	page *page.Page
	room page.Box
}

// Places on the paper.
const (
	punchEdge page.Unit = 1400 // left: 12 mm for punching, and some air
	sideEdge  page.Unit = 1000
	topEdge   page.Unit = 1200
	footEdge  page.Unit = 900
	blockRow  page.Unit = 900 // each of the two rows of the title block
	air       page.Unit = 400 // between the room and what surrounds it
)

// Sizes of words on a sheet.
const (
	headSize  page.Unit = 560
	aboutSize page.Unit = 330
	bodySize  page.Unit = 290
	noteSize  page.Unit = 240
	fineSize  page.Unit = 205
	labelSize page.Unit = 175 // of the title block's fields
)

// lineOf is the height of a line of words of a size.
func lineOf(size page.Unit) page.Unit { return size * 13 / 10 }

// newSheet returns a sheet with everything but its content and its number.
func (s *setter) newSheet(k look) *frame {
	width, height := s.opt.Paper.Size()
	if k.landscape {
		width, height = height, width
	}
	f := &frame{page: &page.Page{Width: width, Height: height}}
	f.page.Title = strings.Trim(s.circuit.Title+": "+k.name, ": ")
	f.page.Description = strings.TrimSpace(k.name + ". " + k.about)
	f.room = page.Box{Min: page.Point{X: punchEdge, Y: topEdge}, Max: page.Point{X: width - sideEdge, Y: height - footEdge}}
	f.head(k)
	f.fine()
	s.titleBlock(f)
	s.boxes(f, k)
	return f
}

// head writes the sheet's name and what it is for, and draws the line below.
func (f *frame) head(k look) {
	left, right, y := f.room.Min.X, f.room.Max.X, f.room.Min.Y
	upright := f.page.Width < f.page.Height
	if k.audience == forKey {
		right = f.keyMark(right, y)
	}
	if k.audience == forLearner && !upright {
		right -= 13500
		f.learnerBoxes(right+600, f.room.Max.X, y)
	}
	name := page.Fit(k.name, headSize, true, right-left)
	f.text(page.Text{At: page.Point{X: left, Y: y + page.Above(headSize)}, Size: headSize, Bold: true, Words: name}, "sheet-name")
	y += headSize + 130
	about := page.Fit(k.about, aboutSize, false, right-left)
	f.text(page.Text{At: page.Point{X: left, Y: y + page.Above(aboutSize)}, Size: aboutSize, Words: about}, "sheet-about")
	y += aboutSize + 120
	if k.audience == forLearner && upright {
		f.learnerBoxes(left, f.room.Max.X, y+150)
		y += 1100
	}
	f.line(page.Medium, page.Point{X: left, Y: y}, page.Point{X: f.room.Max.X, Y: y})
	f.room.Min.Y = y + air
}

// keyMark marks a sheet as a key, in the upper right corner, and returns where
// it begins.
func (f *frame) keyMark(right, y page.Unit) page.Unit {
	const words = "for the instructor"
	width := page.Width(words, noteSize, false) + 1000 + page.Width("KEY", aboutSize+70, true)
	box := page.Box{Min: page.Point{X: right - width, Y: y}, Max: page.Point{X: right, Y: y + 780}}
	f.rect(box.Grow(-20), page.Medium)
	f.rect(box.Grow(-90), page.Hair)
	at := page.Point{X: box.Min.X + 300, Y: y + 390 + page.Above(aboutSize+70)/2 - 20}
	f.text(page.Text{At: at, Size: aboutSize + 70, Bold: true, Words: "KEY"}, "key-mark")
	at.X = box.Max.X - 300
	f.text(page.Text{At: at, Anchor: page.End, Size: noteSize, Words: words}, "key-mark")
	return box.Min.X - 300
}

// learnerBoxes draws the places for a learner's name, group and date.
func (f *frame) learnerBoxes(left, right, y page.Unit) {
	width := right - left
	for i, field := range []string{"name", "group", "date"} {
		a, b := left+width*[...]page.Unit{0, 52, 76}[i]/100, left+width*[...]page.Unit{50, 74, 100}[i]/100
		f.rect(page.Box{Min: page.Point{X: a, Y: y}, Max: page.Point{X: b, Y: y + 880}}, page.Hair)
		f.text(page.Text{At: page.Point{X: a + 100, Y: y + 100 + page.Above(labelSize)}, Size: labelSize, Words: field}, "learner-box")
	}
}

// fine writes the standing caution at the very foot.
func (f *frame) fine() {
	lines := page.Fold(circuit.StandingCaution, fineSize, false, f.room.Max.X-f.room.Min.X, 0)
	y := f.room.Max.Y - page.Unit(len(lines))*lineOf(fineSize)
	f.room.Max.Y = y - 100
	f.lines(page.Point{X: f.room.Min.X, Y: y}, lines, fineSize, false, "standing-caution")
}

// field is one place of the title block, from and to in thousandths of its
// width.
type field struct {
	row         page.Unit
	from, to    page.Unit
	label       string
	words       string
	large, bold bool
}

const folioLabel = "page"

// stationEnd is where the field of the station ends.
const stationEnd = 220

// titleBlock draws the title block and takes its room off the frame.
func (s *setter) titleBlock(f *frame) {
	symbols := "international (IEC 60617)"
	switch {
	case s.anySymbols:
		symbols = "IEC 60617 and IEEE 315"
	case s.opt.Symbols == schematic.American:
		symbols = "American (IEEE 315)"
	}
	h := s.opt.Header
	top := f.room.Max.Y - 2*blockRow
	f.room.Max.Y = top - air
	left, right := f.room.Min.X, f.room.Max.X
	f.line(page.Medium, page.Point{X: left, Y: top}, page.Point{X: right, Y: top})
	f.line(page.Hair, page.Point{X: left, Y: top + blockRow}, page.Point{X: right, Y: top + blockRow})
	f.line(page.Medium, page.Point{X: left, Y: top + 2*blockRow}, page.Point{X: right, Y: top + 2*blockRow})
	station, label := s.station((right-left)*stationEnd/1000 - 100)
	for _, k := range []field{
		{0, 0, 480, "title", s.circuit.Title, true, true},
		{0, 480, 720, "college", h.College, false, false},
		{0, 720, 820, "exercise", h.Exercise, false, false},
		{0, 820, 910, "variant", h.Variant, false, false},
		{0, 910, 1000, folioLabel, "", false, true},
		{1, 0, stationEnd, label, station, false, false},
		{1, stationEnd, 480, "symbols", symbols + "; drawn de-energised, nothing operated", false, false},
		{1, 480, 720, "author", h.Author, false, false},
		{1, 720, 870, "date", h.Date, false, false},
		{1, 870, 1000, "revision", h.Revision, false, false},
	} {
		a, b := left+(right-left)*k.from/1000, left+(right-left)*k.to/1000
		f.field(page.Box{Min: page.Point{X: a, Y: top + k.row*blockRow}, Max: page.Point{X: b, Y: top + (k.row+1)*blockRow}}, k)
	}
}

// station returns the station with the supply's voltage beside it, and the
// field's label. A station too long for both is cut short: the voltage stands.
func (s *setter) station(width page.Unit) (words, label string) {
	station, voltage := s.circuit.Station, s.circuit.Supply.String()
	switch {
	case voltage == "":
		return station, "station"
	case station == "":
		return voltage, "supply"
	}
	words = station + " · " + voltage
	if page.Width(words, bodySize, false) > width && len(page.Fold(words, fineSize, false, width, 0)) > 2 {
		voltage = " · " + voltage
		words = page.Fit(station, fineSize, false, width-page.Width(voltage, fineSize, false)) + voltage
	}
	return words, "station"
}

// field writes one field of the title block: its words on one line, or smaller
// on two.
func (f *frame) field(box page.Box, k field) {
	pad := page.Unit(120)
	if k.from == 0 {
		pad = 0
	} else {
		f.line(page.Hair, box.Min, page.Point{X: box.Min.X, Y: box.Max.Y})
	}
	left, width := box.Min.X+pad, box.Width()-pad-100
	f.text(page.Text{At: page.Point{X: left, Y: box.Min.Y + 90 + page.Above(labelSize)}, Size: labelSize, Words: k.label}, "field-label")
	size := bodySize
	if k.large {
		size = aboutSize
	}
	if page.Width(k.words, size, k.bold) <= width {
		f.text(page.Text{At: page.Point{X: left, Y: box.Max.Y - 190}, Size: size, Bold: k.bold, Words: page.Clean(k.words)}, k.label)
		return
	}
	size = fineSize
	lines := page.Fold(k.words, size, k.bold, width, 2)
	for i, words := range lines {
		at := page.Point{X: left, Y: box.Max.Y - 130 - page.Unit(len(lines)-1-i)*(size+50)}
		f.text(page.Text{At: at, Size: size, Bold: k.bold, Words: words}, k.label)
	}
}

// number writes "x of y" into the title block of a finished sheet.
func number(p *page.Page, words string) {
	for _, e := range p.Elements {
		t, ok := e.Shape.(page.Text)
		if ok && e.Shows.Class == "field-label" && t.Words == folioLabel {
			at := page.Point{X: t.At.X, Y: t.At.Y - 90 - page.Above(labelSize) + blockRow - 190}
			f := frame{page: p}
			f.text(page.Text{At: at, Size: bodySize, Bold: true, Words: words}, "folio")
			return
		}
	}
}

// boxes draws the boxes for assumptions and cautions side by side above the
// title block.
func (s *setter) boxes(f *frame, k look) {
	var notes []note
	if len(s.opt.Faults) > 0 {
		notes = append(notes, note{"Faults", s.opt.Faults})
	}
	if k.assumptions {
		notes = append(notes, note{"Assumed", why.Assumptions(s.circuit)})
	}
	if c := s.circuit.NotesOf("caution"); k.cautions && len(c) > 0 {
		notes = append(notes, note{"Caution", c})
	}
	if len(notes) == 0 {
		return
	}
	width := (f.room.Width() - page.Unit(len(notes)-1)*air) / page.Unit(len(notes))
	height := page.Unit(0)
	for _, n := range notes {
		height = max(height, n.height(width))
	}
	x, y := f.room.Min.X, f.room.Max.Y-height
	for _, n := range notes {
		f.note(page.Box{Min: page.Point{X: x, Y: y}, Max: page.Point{X: x + width, Y: y + height}}, n)
		x += width + air
	}
	f.room.Max.Y = y - air
}

// note is a box with a heading and short paragraphs.
type note struct {
	heading string
	lines   []string
}

const notePad page.Unit = 200

// headingRoom is what the heading of a note takes at its left.
func (n note) headingRoom() page.Unit { return page.Width(n.heading, noteSize, true) + 300 }

func (n note) folded(width page.Unit) []string {
	var lines []string
	for _, l := range n.lines {
		lines = append(lines, page.Fold(l, noteSize, false, width-2*notePad-n.headingRoom(), 0)...)
	}
	return lines
}

func (n note) height(width page.Unit) page.Unit {
	return 2*notePad - 60 + page.Unit(max(len(n.folded(width)), 1))*lineOf(noteSize)
}

// note draws a note, its heading at the left of its lines.
func (f *frame) note(box page.Box, n note) {
	f.rect(box, page.Hair)
	at := box.Min.Add(notePad, notePad-30)
	f.lines(at, []string{n.heading}, noteSize, true, "note-heading")
	f.lines(at.Add(n.headingRoom(), 0), n.folded(box.Width()), noteSize, false, "note")
}

// text writes one line of words, if there are any, with a class.
func (f *frame) text(t page.Text, class string) {
	if t.Words != "" {
		f.page.Add(page.Element{Shape: t, Shows: page.Shows{Class: class}})
	}
}

// lines writes lines below each other, the first one's top at a point, and
// returns where the next would have its top.
func (f *frame) lines(at page.Point, lines []string, size page.Unit, bold bool, class string) page.Point {
	for _, words := range lines {
		f.text(page.Text{At: at.Add(0, page.Above(size)), Size: size, Bold: bold, Words: words}, class)
		at.Y += lineOf(size)
	}
	return at
}

// line draws a straight line.
func (f *frame) line(w page.Weight, a, b page.Point) {
	f.page.Add(page.Element{Shape: page.Line(a, b), Style: page.Style{Weight: w}, Shows: page.Shows{Class: "frame"}})
}

// rect draws an upright rectangle.
func (f *frame) rect(box page.Box, w page.Weight) {
	f.page.Add(page.Element{Shape: page.Rect{Box: box}, Style: page.Style{Weight: w}, Shows: page.Shows{Class: "frame"}})
}
