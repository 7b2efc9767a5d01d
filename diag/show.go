package diag

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// How many diagnostics are shown before "and N more", and how wide the text is
// folded.
const (
	shown    = 20
	foldAt   = 78
	tabWidth = 4
	indent   = "    "
)

// Show writes ds as text for a terminal: place and summary, the line with the
// fault marked, the detail, and the fix if there is one. At most 20 are shown.
func Show(name string, text []byte, ds []Diagnostic) string {
	var b strings.Builder
	lines := NewLines(string(text))
	for i := range ds {
		if i == shown {
			fmt.Fprintf(&b, "and %d more\n", len(ds)-shown)
			break
		}
		show(&b, name, lines, &ds[i])
	}
	return b.String()
}

func show(b *strings.Builder, name string, lines *Lines, d *Diagnostic) {
	at := lines.Position(d.At.Start)
	fmt.Fprintf(b, "%s:%d:%d: %s %s: %s\n", name, at.Line, at.Column, d.Grade, d.Code, d.Summary)
	excerpt(b, lines, d.At)
	for _, line := range fold(d.Detail, foldAt-len(indent)) {
		b.WriteString(indent + line + "\n")
	}
	for _, n := range d.Notes {
		fmt.Fprintf(b, "%sline %d: %s\n", indent, lines.Position(n.At.Start).Line, n.Text)
	}
	if d.Fix != nil {
		fmt.Fprintf(b, "%sfix: %s\n", indent, d.Fix.Label)
	}
}

// excerpt writes the line of a range with ^~~~ under the range. Of a long line
// only the surroundings are shown.
func excerpt(b *strings.Builder, lines *Lines, at Range) {
	text, start := lines.Text(at.Start)
	from := max(0, min(at.Start-start, len(text)))
	to := max(from, min(at.End-start, len(text)))
	head, hidden := tail(strings.TrimLeft(text[:from], "\ufeff"), 60)
	mark, _ := lead(text[from:to], 60)
	rest, more := lead(text[to:], max(0, 74-width(head)-width(mark)))
	before := paint(head, 0)
	marked := paint(mark, width(before))
	after := paint(rest, width(before)+width(marked))
	if hidden {
		before = "…" + before
	}
	if more {
		after += "…"
	}
	b.WriteString(strings.TrimRight(indent+before+marked+after, " ") + "\n")
	b.WriteString(indent + strings.Repeat(" ", width(before)) + "^" + strings.Repeat("~", max(0, width(marked)-1)) + "\n")
}

// tail returns at most the last n runes of s, lead at most the first n, and
// whether anything was left out.
func tail(s string, n int) (string, bool) {
	if len(s) <= n {
		return s, false
	}
	cut := max(0, len(s)-4*n)
	for cut > 0 && cut < len(s) && !utf8.RuneStart(s[cut]) {
		cut++
	}
	runes := []rune(s[cut:])
	if len(runes) <= n {
		return string(runes), cut > 0
	}
	return string(runes[len(runes)-n:]), true
}

func lead(s string, n int) (string, bool) {
	for i := range s {
		if n == 0 {
			return s[:i], true
		}
		n--
	}
	return s, false
}

// paint makes s fit to be shown from a column on: tabs become spaces, and what
// has no picture becomes a replacement character.
func paint(s string, column int) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\t':
			n := tabWidth - column%tabWidth
			b.WriteString(strings.Repeat(" ", n))
			column += n
			continue
		case !unicode.IsGraphic(r):
			r = unicode.ReplacementChar
		}
		b.WriteRune(r)
		column += runeWidth(r)
	}
	return b.String()
}

func width(s string) int {
	n := 0
	for _, r := range s {
		n += runeWidth(r)
	}
	return n
}

// runeWidth is how many cells a terminal gives a rune: none for combining
// marks, two for the wide scripts and pictures, one for the rest.
func runeWidth(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case r >= 0x1100 && r <= 0x115f, r >= 0x2e80 && r <= 0xa4cf, r >= 0xac00 && r <= 0xd7a3,
		r >= 0xf900 && r <= 0xfaff, r >= 0xfe30 && r <= 0xfe6f, r >= 0xff00 && r <= 0xff60,
		r >= 0xffe0 && r <= 0xffe6, r >= 0x1f300 && r <= 0x1faff, r >= 0x20000 && r <= 0x3fffd:
		return 2
	}
	return 1
}

// fold breaks a text between words so that no line is wider than columns,
// unless a word is.
func fold(text string, columns int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case width(line)+1+width(word) > columns:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
