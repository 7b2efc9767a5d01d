package page

import (
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Every width of text comes from Width and its one table, so that a chart that
// left room for a word and the file that shows it agree.

// perEm is what the widths in the table are counted in.
const perEm = 2048

// unknownWidth is taken for characters that the table lacks: a full square, as
// wide as the signs of most other scripts.
const unknownWidth = perEm

// Width returns the width of one line of words of a size, both in 1/100 mm,
// rounded up.
func Width(words string, size Unit, bold bool) Unit {
	var sum int64
	for _, r := range Clean(words) {
		sum += int64(advance(r, bold))
	}
	return Unit((sum*int64(size) + perEm - 1) / perEm)
}

func advance(r rune, bold bool) uint16 {
	table := plainWidths
	if bold {
		table = boldWidths
	}
	for i := range table {
		b := &table[i]
		if r >= b.first && int(r-b.first) < len(b.widths) {
			if w := b.widths[r-b.first]; w > 0 {
				return w
			}
			break
		}
	}
	if unicode.Is(unicode.Mn, r) {
		return 0
	}
	return unknownWidth
}

// Above returns how far the tallest letters of a size rise over the baseline.
func Above(size Unit) Unit { return size * 3 / 4 }

// Below returns how far the tails of a size hang below the baseline.
func Below(size Unit) Unit { return size * 11 / 50 }

// Clean returns words as they may be drawn: without control characters and
// marks that turn the direction of writing, and with U+FFFD for bytes that are
// no UTF-8. Tabs and line ends become blanks.
func Clean(words string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case unicode.IsControl(r), r == 0xFFFE, r == 0xFFFF, r&0xFFFE == 0xFFFE:
			return -1
		case unicode.Is(unicode.Bidi_Control, r), r == 0xFEFF:
			return -1
		case r == utf8.RuneError:
			return 0xFFFD
		}
		return r
	}, words)
}

// Fit returns words shortened, with an ellipsis at the end, until they are at
// most so wide; empty if not even the ellipsis fits.
func Fit(words string, size Unit, bold bool, width Unit) string {
	words = strings.TrimSpace(Clean(words))
	if Width(words, size, bold) <= width {
		return words
	}
	runes := []rune(words)
	cut := func(n int) string { return strings.TrimRight(string(runes[:n]), " ,.;:–-") + "…" }
	// More runes are never narrower, so the longest that fits is found by halves.
	n := sort.Search(len(runes), func(n int) bool { return Width(cut(n), size, bold) > width }) - 1
	if n < 0 {
		return ""
	}
	return cut(n)
}

// Fold breaks words into lines that are at most so wide, between words where
// it can, and never between a number and its unit of time if the two fit on a
// line; what does not fit into the last of so many lines is cut with an
// ellipsis. A limit of 0 is none.
func Fold(words string, size Unit, bold bool, width Unit, limit int) []string {
	var lines []string
	line := ""
	fields := unbroken(strings.Fields(Clean(words)), size, bold, width)
	for i, word := range fields {
		long := strings.TrimSpace(line + " " + word)
		if Width(long, size, bold) <= width {
			line = long
			continue
		}
		if limit > 0 && len(lines) == limit-1 {
			rest := strings.TrimSpace(line + " " + strings.Join(fields[i:], " "))
			return append(lines, Fit(rest, size, bold, width))
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = Fit(word, size, bold, width)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// unbroken joins numbers with the units behind them, where both are no wider than
// a line.
func unbroken(fields []string, size Unit, bold bool, width Unit) []string {
	var joined []string
	for i := 0; i < len(fields); i++ {
		word := fields[i]
		if i+1 < len(fields) && isNumber(word) && isTimeUnit(fields[i+1]) {
			if pair := word + " " + fields[i+1]; Width(pair, size, bold) <= width {
				word = pair
				i++
			}
		}
		joined = append(joined, word)
	}
	return joined
}

// isNumber reports whether a word ends in a figure and has nothing but signs and
// figures before it: 12, 2.5, (4.
func isNumber(word string) bool {
	last, _ := utf8.DecodeLastRuneInString(word)
	return unicode.IsDigit(last) && !strings.ContainsFunc(word, unicode.IsLetter)
}

// isTimeUnit reports whether a word is a unit of time, with or without punctuation
// behind it.
func isTimeUnit(word string) bool {
	switch strings.TrimRightFunc(word, unicode.IsPunct) {
	case "ms", "s", "min", "h":
		return true
	}
	return false
}
