package chart

import (
	"strconv"
	"strings"
	"time"
	"unicode"

	"tarry/page"
	"tarry/trace"
)

// The text chart has one character cell for a stretch of time. All rows share
// one list of cells for the instants at which anything happens: each instant
// is moved as far as it takes to leave every stretch a cell of its own, but by
// no more than two, so that no edge vanishes, simultaneous edges stay under each
// other and the chart stays to scale. Only where that is not enough do several
// edges of a row share a cell; it then carries a mark of its own.

// TextOptions are the choices for Text. The zero value is a chart of 80
// columns in box characters.
type TextOptions struct {
	Width int      // in columns; 0 is 80, at least 50 are used
	Rows  []string // as in Options
	Ascii bool     // plain ASCII marks
	Uncut bool     // as in Options
}

// glyphs are the marks of a text chart.
type glyphs struct {
	low, high, timing, timingHigh, pulse, many, cut, flag string
	first, tick, line, last                               string
	dot, cutShort                                         string
}

var boxGlyphs = glyphs{"_", "▄", "░", "▓", "╿", "*", "/", "▼", "├", "┴", "─", "┤", " · ", "…"}
var asciiGlyphs = glyphs{"_", "#", ":", "%", "!", "*", "/", "v", "+", "+", "-", "+", ", ", "..."}

// textLead is how many cells of the state before time zero are shown.
const textLead = 2

// textChart is a text chart in the making.
type textChart struct {
	trace  *trace.Trace
	lines  []line
	glyph  glyphs
	scale  *scale
	cells  map[time.Duration]int // of the instants, counted from time zero
	labels int                   // columns of the labels
	tags   int                   // of these, of the tag
	kinds  int                   // and of the word behind it
	width  int                   // cells from time zero on
	room   int                   // cells of a whole row
	used   struct{ high, low, timing, pulse, many, cut, moved bool }
	out    strings.Builder
}

// Text returns the chart of a trace in characters, each line ending in a line
// feed. Errors are those of Draw.
func Text(t *trace.Trace, opt TextOptions) (string, error) {
	rows, err := chosenRows(t, opt.Rows, wholeOf(t))
	if err != nil {
		return "", err
	}
	c := &textChart{trace: t, glyph: boxGlyphs}
	if opt.Ascii {
		c.glyph = asciiGlyphs
	}
	for _, r := range rows {
		l := line{row: r}
		if r.device != nil && r.device.Function != 0 {
			l.time = timelineOf(t, r.signal.Device, wholeOf(t))
		}
		c.lines = append(c.lines, l)
	}
	width := opt.Width
	if width == 0 {
		width = 80
	}
	c.measure(max(width, 50), opt.Uncut)
	c.header(max(width, 50))
	c.rows()
	c.legend(max(width, 50))
	return c.out.String(), nil
}

// stateRoom is the columns for the word at the end of a row.
const stateRoom = 8

func (c *textChart) measure(width int, uncut bool) {
	for i := range c.lines {
		c.tags = max(c.tags, cellsOf(c.lines[i].tag()))
		c.kinds = max(c.kinds, cellsOf(c.lines[i].about(false)))
	}
	for i := range c.lines {
		c.labels = max(c.labels, cellsOf(c.label(&c.lines[i], i)))
	}
	c.labels = min(c.labels, width*3/10+2)
	c.room = width - c.labels - 2
	c.width = c.room - textLead - stateRoom
	instants := instantsOf(c.lines, marksOf(c.trace, wholeOf(c.trace)))
	c.scale = newScale(instants, c.trace.End, room{width: int64(c.width), least: 1, gap: 2, grid: 1, between: 4}, uncut)
	c.width = int(c.scale.end())
	c.used.cut = c.scale.cutOut > 0
	c.spread(distinct(append(instants, 0, c.trace.End), c.trace.End))
}

// mostMoved is how many cells an instant may stand off its place.
const mostMoved = 2

// spread gives every instant its cell.
func (c *textChart) spread(instants []time.Duration) {
	c.cells = map[time.Duration]int{}
	for _, p := range c.scale.spans {
		var inside []time.Duration
		for _, t := range instants {
			if t >= p.from && t <= p.to {
				inside = append(inside, t)
			}
		}
		last := int(p.start) - 1
		for _, t := range inside {
			ideal := int(c.scale.at(t))
			if last+1 <= ideal+mostMoved {
				last = max(ideal, last+1)
			}
			c.cells[t] = last
		}
		limit := int(p.end)
		for i := len(inside) - 1; i >= 0; i-- {
			t := inside[i]
			ideal := int(c.scale.at(t))
			c.cells[t] = max(min(c.cells[t], limit), ideal-mostMoved, int(p.start))
			limit = c.cells[t] - 1
			c.used.moved = c.used.moved || c.cells[t] != ideal
		}
	}
}

// cell returns where a row's state from t on begins.
func (c *textChart) cell(t time.Duration) int {
	if i, ok := c.cells[t]; ok {
		return i
	}
	return int(c.scale.at(t))
}

func (c *textChart) header(width int) {
	title := c.trace.Circuit.Title
	if title == "" {
		title = c.trace.Script
	} else if c.trace.Script != "" {
		title += c.glyph.dot + c.trace.Script
	}
	c.say(page.Clean(title), width)
	c.out.WriteString("\n")
	marks := blank(c.width + 1)
	for _, m := range marksOf(c.trace, wholeOf(c.trace)) {
		marks[min(c.cell(m.at), c.width)] = c.glyph.flag
	}
	indent := strings.Repeat(" ", c.labels+2+textLead)
	if words := join(marks); words != "" {
		c.out.WriteString(indent + words + "\n")
	}
	numbers, ruler := c.axis()
	c.out.WriteString(indent + numbers + "\n" + indent + ruler + "\n")
}

// axis returns the numbers and the ruler above the rows.
func (c *textChart) axis() (numbers, ruler string) {
	words, line := blank(c.width+20), blank(c.width+1)
	for i := range line {
		line[i] = c.glyph.line
	}
	for _, t := range c.scale.ticks() {
		line[c.scale.at(t)] = c.glyph.tick
	}
	for _, t := range c.scale.labelled(func(t time.Duration) (int64, int64) {
		x := c.scale.at(t)
		return x, x + int64(len(c.scale.tickWords(t))) + 1
	}) {
		x, s := int(c.scale.at(t)), c.scale.tickWords(t)
		if x+len(s) < len(words) {
			for i := range s {
				words[x+i] = s[i : i+1]
			}
		}
	}
	line[0] = c.glyph.first
	line[c.width] = c.glyph.last
	c.cutCells(line)
	return join(words), join(line) + " " + c.scale.unit()
}

// cutCells marks where time is cut out.
func (c *textChart) cutCells(line []string) {
	for i := 1; i < len(c.scale.spans); i++ {
		for x := c.scale.spans[i-1].end; x < c.scale.spans[i].start; x++ {
			line[x] = c.glyph.cut
		}
	}
}

func (c *textChart) rows() {
	for i := range c.lines {
		l := &c.lines[i]
		if i > 0 && apart(&c.lines[i-1].row, &l.row) {
			c.out.WriteString("\n")
		}
		words := pad(clip(c.label(l, i), c.labels, c.glyph.cutShort), c.labels+2)
		if l.kind == elapsedRow {
			words += c.timeRow(l)
		} else {
			_, last := l.ends()
			words += c.levelRow(l) + "  " + l.word(last)
		}
		c.out.WriteString(strings.TrimRight(words, " ") + "\n")
	}
}

// apart reports whether an empty line parts two rows: not those of one device,
// nor hands from hands and loads from loads.
func apart(a, b *row) bool {
	alike := a.kind == b.kind && (a.kind == handRow || a.kind == loadRow)
	return a.device != b.device && !alike
}

// label is tag, part and, in the first of a device's rows, its own text.
func (c *textChart) label(l *line, i int) string {
	words := pad(l.tag(), c.tags) + " " + pad(l.about(false), c.kinds)
	if i == 0 || c.lines[i-1].device != l.device {
		words += " " + page.Clean(labelOf(l.device))
	}
	return strings.TrimRight(words, " ")
}

// levelRow writes a signal.
func (c *textChart) levelRow(l *line) string {
	cells := blank(textLead + c.width)
	on := l.start
	from := 0
	for _, s := range append(l.steps, step{at: -1}) {
		to := len(cells)
		if s.at >= 0 {
			to = min(textLead+c.cell(s.at), len(cells))
		}
		for x := from; x < to; x++ {
			cells[x] = c.levelGlyph(on)
		}
		from, on = to, s.on
	}
	if c.hatches(l) {
		c.hatchCells(cells, l)
	}
	c.cutCells(cells[textLead:])
	c.pulses(cells, l)
	return join(cells)
}

func (c *textChart) levelGlyph(on bool) string {
	if on {
		c.used.high = true
		return c.glyph.high
	}
	c.used.low = true
	return c.glyph.low
}

// pulses puts a mark where a signal moves there and back, and another where
// several changes share a cell.
func (c *textChart) pulses(cells []string, l *line) {
	before := -1
	for _, s := range l.steps {
		x := min(textLead+c.cell(s.at), len(cells)-1)
		switch {
		case x == before:
			cells[x] = c.glyph.many
			c.used.many = true
		case s.pulse:
			cells[x] = c.glyph.pulse
			c.used.pulse = true
		}
		before = x
	}
}

// hatches reports whether a timed contact's row must show the running time
// because no row of elapsed time does.
func (c *textChart) hatches(l *line) bool {
	if l.class() != "timed-contact" {
		return false
	}
	for i := range c.lines {
		if c.lines[i].kind == elapsedRow && c.lines[i].device == l.device {
			return false
		}
	}
	return true
}

func (c *textChart) hatchCells(cells []string, l *line) {
	for i := range l.time.runs {
		r := &l.time.runs[i]
		if !r.concerns(l.signal.Contact) {
			continue
		}
		for x := c.cell(r.from); x < c.cell(r.to) && textLead+x < len(cells); x++ {
			c.used.timing = true
			if cells[textLead+x] == c.glyph.high {
				cells[textLead+x] = c.glyph.timingHigh
			} else {
				cells[textLead+x] = c.glyph.timing
			}
		}
	}
}

// timeRow writes the stretches during which a timer's time runs, each with its
// length in words where there is room.
func (c *textChart) timeRow(l *line) string {
	cells := blank(c.room)
	for i := range l.time.runs {
		r := &l.time.runs[i]
		for x := c.cell(r.from); x < c.cell(r.to); x++ {
			cells[textLead+x] = c.glyph.timing
			c.used.timing = true
		}
	}
	c.cutCells(cells[textLead:])
	for i := range l.time.runs {
		r := &l.time.runs[i]
		words := r.label("")
		from, to := textLead+c.cell(r.from), textLead+c.cell(r.to)
		n := len(words)
		middle := (from + to - n) / 2
		inside := n+4 <= to-from && isAll(cells, middle-1, middle+n+1, c.glyph.timing)
		switch {
		case isAll(cells, to, min(to+n+2, max(len(cells), to+n+1)), " "):
			copyInto(cells, to+1, words)
		case inside:
			copyInto(cells, middle-1, " "+words+" ")
		case isAll(cells, from-n-2, from, " "):
			copyInto(cells, from-n-1, words)
		}
	}
	return join(cells)
}

// isAll reports whether the cells lie within the row and are all the same.
func isAll(cells []string, from, to int, glyph string) bool {
	if from < 0 || to > len(cells) {
		return false
	}
	for _, s := range cells[from:to] {
		if s != glyph {
			return false
		}
	}
	return true
}

func copyInto(cells []string, at int, words string) {
	for i := range words {
		cells[at+i] = words[i : i+1]
	}
}

// legend explains the marks that are used, the scale and the notices.
func (c *textChart) legend(width int) {
	var items []string
	add := func(used bool, glyph, words string) {
		if used {
			items = append(items, glyph+" "+words)
		}
	}
	add(c.used.high, c.glyph.high, "closed or on")
	add(c.used.low, c.glyph.low, "open or off")
	add(c.used.timing, c.glyph.timing, "timing")
	add(c.used.pulse, c.glyph.pulse, "there and back at one instant")
	add(c.used.many, c.glyph.many, "several changes")
	add(c.used.cut, c.glyph.cut+c.glyph.cut, "time left out")
	c.out.WriteString("\n")
	c.say(strings.Join(items, "   "), width)
	scale := "To scale: " + strconv.FormatInt(c.scale.per, 10) + " columns = " + span(c.scale.step) + "."
	if c.used.moved {
		scale += " Edges that crowd stand up to two columns off."
	}
	c.say(scale, width)
	c.notices(width)
}

// notices lists what is marked above the rows, each kind with its times.
func (c *textChart) notices(width int) {
	var kinds []string
	times := map[string][]string{}
	for _, m := range marksOf(c.trace, wholeOf(c.trace)) {
		if len(times[m.words]) == 0 {
			kinds = append(kinds, m.words)
		}
		times[m.words] = append(times[m.words], span(m.at))
	}
	for _, words := range kinds {
		at := times[words]
		if more := len(at) - spoken; more > 0 {
			at = append(at[:spoken:spoken], "and "+strconv.Itoa(more)+" times more")
		}
		words = strings.ReplaceAll(words, "…", c.glyph.cutShort)
		c.say(c.glyph.flag+" "+words+" at "+strings.Join(at, ", "), width)
	}
}

// say writes words in lines of at most so many columns.
func (c *textChart) say(words string, width int) {
	for _, line := range foldCells(words, width) {
		c.out.WriteString(line + "\n")
	}
}

func blank(n int) []string {
	cells := make([]string, n)
	for i := range cells {
		cells[i] = " "
	}
	return cells
}

func join(cells []string) string { return strings.TrimRight(strings.Join(cells, ""), " ") }

func pad(s string, n int) string { return s + strings.Repeat(" ", max(n-cellsOf(s), 0)) }

// cellsOf returns how many columns a terminal gives to s: two for the signs of
// the East Asian scripts, none for marks that combine.
func cellsOf(s string) int {
	n := 0
	for _, r := range s {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me):
		case unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul), r >= 0xFF01 && r <= 0xFF60, r >= 0x1F300 && r <= 0x1FAFF:
			n += 2
		default:
			n++
		}
	}
	return n
}

// clip shortens s to n columns, with a sign at the end that it is cut.
func clip(s string, n int, sign string) string {
	if cellsOf(s) <= n {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 && cellsOf(string(runes)) > n-cellsOf(sign) {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimRight(string(runes), " ") + sign
}

// foldCells breaks words at blanks into lines of at most n columns; runs of
// blanks within a line stay.
func foldCells(words string, n int) []string {
	var lines []string
	for cellsOf(words) > n {
		cut := n
		runes := []rune(words)
		for cut > 0 && runes[cut] != ' ' {
			cut--
		}
		if cut == 0 {
			cut = n
		}
		lines = append(lines, strings.TrimRight(string(runes[:cut]), " "))
		words = strings.TrimLeft(string(runes[cut:]), " ")
	}
	return append(lines, words)
}
