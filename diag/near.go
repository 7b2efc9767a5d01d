package diag

// Near-misses are found by the restricted Damerau distance: the number of
// letters to insert, delete, change or swap with their neighbour. One slip is
// allowed in a short word and two in a long one; more would offer nonsense.

import (
	"strings"
	"unicode/utf8"
)

// Nearest returns the candidate that word was most likely meant to be, or ""
// if none is near enough. Of those that are equally near it is the one that
// begins most like word, and then the first.
func Nearest(word string, candidates []string) string {
	best, least, alike := "", slips(word)+1, -1
	for _, c := range candidates {
		if strings.EqualFold(word, c) {
			return c
		}
		d := distance(word, c, least+1)
		if n := common(word, c); d < least || (d == least && best != "" && n > alike) {
			best, least, alike = c, d, n
		}
	}
	return best
}

// common is how many bytes two words have in common at their start.
func common(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// slips is how many slips a word of this length may hold.
func slips(word string) int {
	switch n := utf8.RuneCountInString(word); {
	case n < 2:
		return 0
	case n < 5:
		return 1
	}
	return 2
}

// distance returns how many slips lie between a and b, or limit if there are
// at least that many.
func distance(a, b string, limit int) int {
	if len(a) > 64 || len(b) > 64 || len(a)-len(b) >= limit*4 || len(b)-len(a) >= limit*4 {
		return limit
	}
	s, t := []rune(strings.ToLower(a)), []rune(strings.ToLower(b))
	if len(s)-len(t) >= limit || len(t)-len(s) >= limit {
		return limit
	}
	var before, last, row [66]int
	for j := range t {
		last[j+1] = j + 1
	}
	for i := range s {
		row[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			row[j+1] = min(row[j]+1, last[j+1]+1, last[j]+cost)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return min(last[len(t)], limit)
}
