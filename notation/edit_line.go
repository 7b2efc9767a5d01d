package notation

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"tarry/circuit"
	"tarry/diag"
)

// tokens cuts line i into tokens once more.
func (e *editor) tokens(i int) []token {
	at := e.tree.lines[i].at
	toks, _ := scanLine(e.text, at.Start, at.End, &reporter{}, nil)
	return toks
}

// first returns the place of the first token of a kind in line i, from an
// offset on.
func (e *editor) first(i int, kind tokenKind, from int) (diag.Range, bool) {
	for _, t := range e.tokens(i) {
		if t.kind == kind && t.at.Start >= from {
			return t.at, true
		}
	}
	return diag.Range{}, false
}

// next is where the line behind line i begins.
func (e *editor) next(i int) int {
	if i+1 < len(e.tree.lines) {
		return e.tree.lines[i+1].at.Start
	}
	return len(e.text)
}

// start is where line i begins, behind a mark of the byte order.
func (e *editor) start(i int) int {
	start := 0
	if i < len(e.tree.lines) {
		start = e.tree.lines[i].at.Start
	}
	if start == 0 && strings.HasPrefix(e.text, "\ufeff") {
		start = len("\ufeff")
	}
	return start
}

func (e *editor) blank(i int) bool {
	return i >= 0 && i < len(e.tree.lines) && isBlank(&e.tree.lines[i], e.tree)
}

// deleteLine takes line i away with its line end.
func (e *editor) deleteLine(i int) { e.replace(e.start(i), e.next(i), "") }

// insert puts lines behind line i, or at the top if i is -1.
func (e *editor) insert(i int, lines ...string) {
	text := strings.Join(lines, e.nl)
	at := e.start(0)
	if i >= 0 {
		at = e.next(i)
	}
	if i >= 0 && !strings.HasSuffix(e.text[:at], "\n") {
		e.replace(at, at, e.nl+text)
		return
	}
	e.replace(at, at, text+e.nl)
}

// insertBlock does the same with a blank line on both sides, where there is
// none yet and something stands there.
func (e *editor) insertBlock(i int, lines ...string) {
	if i >= 0 && !e.blank(i) || len(e.edits) > 0 {
		lines = append([]string{""}, lines...)
	}
	if i+1 < len(e.tree.lines) && !e.blank(i+1) {
		lines = append(lines, "")
	}
	e.insert(i, lines...)
}

// last returns the last line of a sort, or -1.
func last[N node](t *tree) int {
	for i := len(t.lines) - 1; i >= 0; i-- {
		if _, ok := t.lines[i].node.(N); ok {
			return i
		}
	}
	return -1
}

// isRemark reports whether line i is a remark and nothing else.
func (e *editor) isRemark(i int) bool {
	l := &e.tree.lines[i]
	return l.node == nil && l.comment != "" && !l.faulty
}

// topRemark returns the last line of the remark at the top of the text, if a
// blank line sets it apart, else -1.
func (e *editor) topRemark() int {
	end := -1
	for end+1 < len(e.tree.lines) && e.isRemark(end+1) {
		end++
	}
	if !e.blank(end + 1) {
		return -1
	}
	return end
}

// headEnd returns the last line of the head: of the title, the notes and the
// supply above everything else.
func (e *editor) headEnd() int {
	end := e.topRemark()
	for i := range e.tree.lines {
		switch e.tree.lines[i].node.(type) {
		case *textNode, *supplyNode:
			end = i
		case nil:
		default:
			return end
		}
	}
	return end
}

// column counts the letters of line i before an offset; -1 if a tab makes the
// count worthless.
func (e *editor) column(i, offset int) int {
	before := e.text[e.start(i):offset]
	if strings.Contains(before, "\t") {
		return -1
	}
	return utf8.RuneCountInString(before)
}

// gapLike returns the blanks between what a new line has so far and its next
// column, in the way of line i, where the gap before that column stands at
// gap.
func (e *editor) gapLike(i int, gap diag.Range, soFar string) string {
	blanks := e.text[gap.Start:gap.End]
	column := e.column(i, gap.End)
	if column < 0 {
		return blanks
	}
	if n := column - utf8.RuneCountInString(soFar); n > 0 {
		return strings.Repeat(" ", n)
	}
	return strings.Repeat(" ", max(1, min(2, len(blanks))))
}

// anchor is a column that the lines of a sort share.
type anchor uint8

const (
	arrowAnchor anchor = iota // the arrow of rungs
	labelAnchor               // the label of devices
)

// hold keeps a column of line i in its place when the text before the gap
// becomes longer by grown letters, if the line stood in the column that most
// lines have. A line that was too long for it, with one blank left, counts as
// standing in it too, so that taking back a change gives the same bytes.
func (e *editor) hold(i int, gap diag.Range, grown int, a anchor) {
	blanks := e.text[gap.Start:gap.End]
	at := e.column(i, gap.End)
	if grown == 0 || at < 0 || strings.Trim(blanks, " ") != "" {
		return
	}
	usual := e.usual(i, a)
	if usual < 0 || at != usual && (at < usual || len(blanks) != 1) {
		return
	}
	want := max(1, usual-(at-len(blanks)+grown))
	if want != len(blanks) {
		e.replace(gap.Start, gap.End, strings.Repeat(" ", want))
	}
}

// usual is the commonest place of a column in all lines but one, the leftmost
// of several, -1 for none.
func (e *editor) usual(but int, a anchor) int {
	if e.columns[a] == nil {
		e.columns[a] = map[int]int{}
		for i := range e.tree.lines {
			e.columns[a][e.anchored(i, a)]++
		}
	}
	own, best, most := e.anchored(but, a), -1, 0
	for c, n := range e.columns[a] {
		if c == own {
			n--
		}
		if c >= 0 && (n > most || n == most && n > 0 && c < best) {
			best, most = c, n
		}
	}
	return best
}

// anchored is the place of a column in line i, -1 for none.
func (e *editor) anchored(i int, a anchor) int {
	if e.tree.lines[i].faulty {
		return -1
	}
	kind := tokArrow
	switch e.node(i).(type) {
	case *rungNode:
		if a != arrowAnchor {
			return -1
		}
	case *deviceNode:
		if a != labelAnchor {
			return -1
		}
		kind = tokString
	default:
		return -1
	}
	at, ok := e.first(i, kind, 0)
	if !ok {
		return -1
	}
	return e.column(i, at.Start)
}

// grown is by how many letters the edits gathered since mark lengthen the text.
func (e *editor) grown(mark int) int {
	n := 0
	for _, x := range e.edits[mark:] {
		n += utf8.RuneCountInString(x.Text) - utf8.RuneCountInString(e.text[x.Start:x.End])
	}
	return n
}

// cut takes text away and leaves a blank where two names would grow together.
func (e *editor) cut(start, end int) {
	a, _ := utf8.DecodeLastRuneInString(e.text[:start])
	b, _ := utf8.DecodeRuneInString(e.text[end:])
	if start > 0 && isNameRune(a) && isNameRune(b) && !strings.HasPrefix(e.text[end:], "->") {
		e.replace(start, end, " ")
		return
	}
	e.replace(start, end, "")
}

func isNameRune(r rune) bool {
	return unicode.IsLetter(r) || isDigit(r) || r == '_' || r == '-' || r == '+'
}

// quotable reports what cannot stand in a text in quotes.
func quotable(text string) error {
	switch {
	case strings.Contains(text, `"`):
		return refuse("a text in quotes cannot hold a quotation mark. Leave it out, or write ’")
	case !utf8.ValidString(text) || strings.ContainsFunc(text, isControl):
		return refuse("a text in quotes stands on one line and holds no control characters")
	}
	return nil
}

// declare adds a device's line behind the last one.
func (e *editor) declare(text string) error {
	n, err := readOne(text)
	if err != nil {
		return err
	}
	d, ok := n.(*deviceNode)
	if !ok {
		return refuse("%q is no line of a device. Write a tag, what it is, and a label: S1 button \"Start\"", shorten(text))
	}
	if e.file.Circuit.Find(d.tag.text) != circuit.NoDevice {
		return refuse("%s is there already. Choose another tag", d.tag.text)
	}
	at := last[*deviceNode](e.tree)
	if at < 0 {
		e.insertBlock(e.headEnd(), e.deviceLine(at, d))
	} else {
		e.insert(at, e.deviceLine(at, d))
	}
	return nil
}

// deviceLine writes a device in the way of line i, in the usual columns if i
// is -1.
func (e *editor) deviceLine(i int, d *deviceNode) string {
	cells := d.cells().cells
	like, _ := e.node(i).(*deviceNode)
	if like == nil || e.tree.lines[i].faulty {
		return strings.Join([]string{cells[0], strings.Join(cells[1:], "   ")}, "  ")
	}
	line := e.text[e.start(i):like.tag.at.Start] + cells[0]
	line += e.gapLike(i, diag.Range{Start: like.tag.at.End, End: like.kindAt.Start}, line) + cells[1]
	if len(cells) < 3 {
		return line
	}
	for ; i >= 0; i-- {
		if n, ok := e.node(i).(*deviceNode); ok && n.labelled && !e.tree.lines[i].faulty {
			label, _ := e.first(i, tokString, 0)
			return line + e.gapLike(i, diag.Range{Start: n.end(), End: label.Start}, line) + cells[2]
		}
	}
	return line + "   " + cells[2]
}

// node is the node of line i, nil for a line that is not there.
func (e *editor) node(i int) node {
	if i < 0 || i >= len(e.tree.lines) {
		return nil
	}
	return e.tree.lines[i].node
}

// end is where a device's kind and parameters end.
func (n *deviceNode) end() int {
	end := n.kindAt.End
	for i := range n.params {
		end = max(end, n.params[i].at.End)
	}
	return end
}
