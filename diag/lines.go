package diag

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// Position is a place for people: line and column both start at 1.
type Position struct {
	Line   int `json:"line"`
	Column int `json:"column"`
}

// Lines finds the line and column of a byte offset. Lines end with LF or CRLF.
type Lines struct {
	text   string
	starts []int
}

// NewLines indexes a text.
func NewLines(text string) *Lines {
	l := &Lines{text: text, starts: []int{0}}
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			l.starts = append(l.starts, i+1)
		}
	}
	return l
}

// line returns the place of the offset's line in starts, and the offset
// brought inside the text.
func (l *Lines) line(offset int) (int, int) {
	offset = max(0, min(offset, len(l.text)))
	return sort.SearchInts(l.starts, offset+1) - 1, offset
}

// lead returns what stands before the offset on its line. A byte order mark
// at the start of the text takes no column.
func (l *Lines) lead(offset int) (line int, lead string) {
	line, offset = l.line(offset)
	lead = l.text[l.starts[line]:offset]
	if line == 0 {
		lead = strings.TrimLeft(lead, "\ufeff")
	}
	return line, lead
}

// Position returns the place of the offset with the column in runes, as a
// terminal or a person counts.
func (l *Lines) Position(offset int) Position {
	line, lead := l.lead(offset)
	return Position{line + 1, utf8.RuneCountInString(lead) + 1}
}

// UTF16 returns the place of the offset with the column in UTF-16 units, as a
// browser counts. Unlike Position it counts a byte order mark.
func (l *Lines) UTF16(offset int) Position {
	line, offset := l.line(offset)
	column := 1
	for _, r := range l.text[l.starts[line]:offset] {
		column++
		if r > 0xffff {
			column++
		}
	}
	return Position{line + 1, column}
}

// Text returns the line that holds the offset, without its end, and the
// offset at which it starts.
func (l *Lines) Text(offset int) (text string, start int) {
	line, _ := l.line(offset)
	start, end := l.starts[line], len(l.text)
	if line+1 < len(l.starts) {
		end = l.starts[line+1] - 1
	}
	return strings.TrimSuffix(l.text[start:end], "\r"), start
}
