package notation

// Printing keeps the order of the lines, the remarks and, squeezed to one, the
// blank lines. A line with a fault in it is copied as it is. The others are
// cut into cells: what a line of their class has before the first column,
// before the second one, and so on. All lines of one class in the text share
// their columns. A cell that is wider than the class allows does not widen the
// column, so that one long path doesn't push all loads off the screen.

import (
	"strings"
	"unicode/utf8"

	"tarry/diag"
)

// Format lays a text out. The model that Read makes of it stays the same.
// Diagnostics are those of the lines alone, not of what they mean together. A
// text beyond the size limit is returned as it is.
func Format(_ string, text []byte) ([]byte, []diag.Diagnostic) {
	r := &reporter{}
	source := lineEnds(cut(text, r))
	tree := parse(source, r)
	if len(source) < len(text) {
		return text, r.result(len(source))
	}
	return []byte(printTree(tree)), r.result(len(source))
}

// class is what lines must share to share columns. The zero value has none.
type class uint8

const (
	classNone class = iota
	classText
	classDevice
	classRung
	classAction
)

// gaps are the blanks behind the columns of a class, widest the widest cell
// that widens each.
var gaps = [...][]int{classText: {2}, classDevice: {2, 3}, classRung: {2, 3}, classAction: {3}, classNone: nil}

var widest = [...]int{classText: 16, classDevice: 32, classRung: 40, classAction: 16, classNone: 0}

// row is one line to print.
type row struct {
	class   class
	indent  string
	cells   []string // one more than the class has columns, or fewer
	comment string
}

func printTree(t *tree) string {
	rows := rowsOf(t)
	widths := columnWidths(rows)
	var b strings.Builder
	for i := range rows {
		b.WriteString(rows[i].text(widths[rows[i].class]))
		b.WriteByte('\n')
	}
	// A mark of the byte order can only come first in the text by having been
	// in a faulty line, and would be lost when the text is read again.
	return strings.TrimLeft(b.String(), "\ufeff")
}

// rowsOf lays out the lines of the tree, blank ones squeezed.
func rowsOf(t *tree) []row {
	var rows []row
	blank, inScript := false, false
	for i := range t.lines {
		l := &t.lines[i]
		if isBlank(l, t) {
			blank = len(rows) > 0
			continue
		}
		if blank {
			rows = append(rows, row{})
			blank = false
		}
		inScript = staysInScript(l, inScript)
		rows = append(rows, rowOf(t, l, inScript))
	}
	return rows
}

func isBlank(l *line, t *tree) bool {
	return strings.TrimFunc(t.text[l.at.Start:l.at.End], isSpace) == ""
}

// staysInScript reports whether a line stands inside a script's block.
func staysInScript(l *line, was bool) bool {
	switch l.node.(type) {
	case *scriptNode:
		return true
	case nil, *actionNode, *expectNode, *endNode:
		return was
	}
	return false
}

func rowOf(t *tree, l *line, inScript bool) row {
	source := t.text[l.at.Start:l.at.End]
	switch {
	case l.faulty:
		return row{cells: []string{source}}
	case l.node == nil:
		r := row{comment: l.comment}
		if inScript && strings.IndexByte(source, '#') > 0 {
			r.indent = "  "
		}
		return r
	}
	r := cellsOf(l.node)
	r.comment = l.comment
	return r
}

// columnWidths works out the columns of every class.
func columnWidths(rows []row) [len(gaps)][]int {
	var widths [len(gaps)][]int
	for c := range widths {
		widths[c] = make([]int, len(gaps[c]))
	}
	for _, r := range rows {
		of := widths[r.class]
		for i := range of {
			if i+1 >= len(r.cells) {
				break
			}
			if n := utf8.RuneCountInString(r.cells[i]); n <= widest[r.class] {
				of[i] = max(of[i], n)
			}
		}
	}
	return widths
}

// text writes the row with its columns at the widths.
func (r *row) text(widths []int) string {
	var b strings.Builder
	b.WriteString(r.indent)
	for i, cell := range r.cells {
		b.WriteString(cell)
		if i+1 < len(r.cells) {
			pad := gaps[r.class][i] + max(0, widths[i]-utf8.RuneCountInString(cell))
			b.WriteString(strings.Repeat(" ", pad))
		}
	}
	if r.comment != "" {
		if len(r.cells) > 0 {
			b.WriteString("  ")
		}
		b.WriteString(r.comment)
	}
	return b.String()
}
