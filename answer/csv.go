package answer

import (
	"io"
	"slices"
	"strconv"
	"strings"
)

// ReadCSV reads a table of answers, a learner's line to a row. The first row names
// the columns, in any order: learner, item, signal and answer; sure and again may
// be among them. Others are left out, with a note. The separator is a comma, a
// semicolon or a tab. An answer is written as in ReadText, without the signal: on
// 5 s .. 12 s. Sure is guess, fairly or certain. With yes under again, the row
// stands instead of an earlier one for the same learner, item and signal.
func ReadCSV(r io.Reader) ([]Answer, []Problem) {
	k := newCollector()
	t := &table{lines: newLineReader(r, k), k: k}
	if t.header() {
		for !k.full && t.row() {
		}
	}
	k.named("The row has no learner's name and was not marked. Write the name under learner.")
	return k.result()
}

// columns of a table, as places in table.at.
const (
	learnerColumn = iota
	itemColumn
	signalColumn
	answerColumn
	sureColumn
	againColumn
)

var columnNames = [...]string{"learner", "item", "signal", "answer", "sure", "again"}

// table reads a CSV file.
type table struct {
	lines     *lineReader
	k         *collector
	separator byte
	at        [len(columnNames)]int // the columns' places, -1 for none
	wide      int                   // how many columns there are
}

// header reads the first row, and reports whether the others can be read.
func (t *table) header() bool {
	text, more := t.lines.next()
	for more && strings.TrimSpace(text) == "" {
		text, more = t.lines.next()
	}
	t.separator = ','
	for _, s := range []byte{'\t', ';'} {
		if strings.IndexByte(text, s) >= 0 && strings.IndexByte(text, ',') < 0 {
			t.separator = s
		}
	}
	cells, _ := t.cells(text)
	t.wide = len(cells)
	for i := range t.at {
		t.at[i] = -1
	}
	for i, cell := range cells {
		name := strings.ToLower(strings.TrimSpace(cell))
		column := slices.Index(columnNames[:], name)
		switch {
		case column < 0 && name != "":
			t.k.note(t.lines.number, "The column %s is not known and was left out.", quote(cell))
		case column >= 0 && t.at[column] >= 0:
			t.k.problem(t.lines.number, 0, "There are two columns %s; the first is read. Take one of them out.", name)
		case column >= 0:
			t.at[column] = i
		}
	}
	for i, name := range columnNames[:answerColumn+1] {
		if t.at[i] < 0 {
			t.k.problem(t.lines.number, 0, "There is no column %s. The first row must name the columns: learner,item,signal,answer,sure.", name)
			return false
		}
	}
	return true
}

// row reads one row, and reports whether there may be more.
func (t *table) row() bool {
	cells, number, more := t.record()
	if !more {
		return false
	}
	cell := func(column int) string {
		if i := t.at[column]; i >= 0 && i < len(cells) {
			return unguarded(strings.TrimSpace(cells[i]))
		}
		return ""
	}
	if !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }) {
		return true
	}
	if t.at[answerColumn] >= len(cells) || t.at[signalColumn] >= len(cells) {
		t.k.problem(number, 0, "The row has %s, too few for an answer. Is the separator the same as in the first row?", counted(len(cells), "cell"))
		return true
	}
	if extra := strings.TrimSpace(strings.Join(cells[min(t.wide, len(cells)):], "")); extra != "" {
		t.k.problem(number, 0, "The row has %s, the first row %d. An answer with the separator in it must stand in quotes.", counted(len(cells), "cell"), t.wide)
		return true
	}
	signal, said := cell(signalColumn), cell(answerColumn)
	if word, rest := cutWord(said); word == signal {
		said = rest
	}
	if said == "" && signal != "" { // asked, and nothing drawn
		t.k.add(number, cell(learnerColumn), cell(itemColumn), Line{Signal: signal, Undrawn: true}, strings.EqualFold(cell(againColumn), "yes"))
		return true
	}
	l, fault := readLine(signal+" "+said, 0)
	if fault != nil {
		t.k.problem(number, 0, "%s", fault.reason)
		return true
	}
	if word := cell(sureColumn); word != "" {
		sure, known := sureOf(word)
		if !known && (strings.Contains(word, "..") || strings.ContainsAny(word, "0123456789")) {
			t.k.problem(number, 0, "%s stands under sure, but looks like a piece of the answer. An answer with the separator in it must stand in quotes.", quote(word))
			return true
		}
		if l.Sure = sure; !known {
			t.k.note(number, "%s is not understood under sure: write guess, fairly or certain.", quote(word))
		}
	}
	t.k.add(number, cell(learnerColumn), cell(itemColumn), l, strings.EqualFold(cell(againColumn), "yes"))
	return true
}

// unguarded takes off the mark that keeps a spreadsheet from taking a cell for a
// formula.
func unguarded(cell string) string {
	if len(cell) > 1 && cell[0] == '\'' && strings.IndexByte("=+-@", cell[1]) >= 0 {
		return cell[1:]
	}
	return cell
}

// record reads a row's cells. A quoted cell may go on over several lines; one that
// isn't closed within reason is a problem, and reading goes on behind its first
// line.
func (t *table) record() (cells []string, number int, more bool) {
	const mostLines = 20
	for {
		text, more := t.lines.next()
		if !more {
			return nil, 0, false
		}
		number = t.lines.number
		whole := text
		cells, open := t.cells(whole)
		var extra []string
		for open && len(extra) < mostLines && len(whole) < maxLine {
			if text, more = t.lines.next(); !more {
				break
			}
			extra = append(extra, text)
			whole += "\n" + text
			if strings.IndexByte(text, '"') >= 0 {
				cells, open = t.cells(whole)
			}
		}
		if !open {
			return cells, number, true
		}
		t.lines.giveBack(extra)
		t.k.problem(number, 0, "A quoted cell is not closed. Put a second \" behind it.")
	}
}

// cells cuts a row apart. Open says that a quoted cell isn't closed.
func (t *table) cells(text string) (cells []string, open bool) {
	const most = 1000
	for len(cells) < most {
		var cell string
		if cell, text, open = t.cell(text); open {
			return cells, true
		}
		cells = append(cells, cell)
		if text == "" {
			break
		}
		if text = text[1:]; text == "" {
			cells = append(cells, "")
			break
		}
	}
	return cells, false
}

// cell takes the first cell off a row; the rest begins with a separator.
func (t *table) cell(text string) (cell, rest string, open bool) {
	if !strings.HasPrefix(text, `"`) {
		if i := strings.IndexByte(text, t.separator); i >= 0 {
			return text[:i], text[i:], false
		}
		return text, "", false
	}
	var b strings.Builder
	for text = text[1:]; ; {
		i := strings.IndexByte(text, '"')
		if i < 0 {
			return "", "", true
		}
		b.WriteString(text[:i])
		if text = text[i+1:]; !strings.HasPrefix(text, `"`) {
			break
		}
		b.WriteByte('"')
		text = text[1:]
	}
	end := strings.IndexByte(text, t.separator)
	if end < 0 {
		end = len(text)
	}
	return b.String() + text[:end], text[end:], false
}

// counted writes a number with its word: 1 cell, 2 cells.
func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}
