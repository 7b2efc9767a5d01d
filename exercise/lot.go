package exercise

import (
	"fmt"
	"math/bits"
	"strings"
)

// lot draws by SplitMix64 (Steele, Lea and Flood 2014, from memory), which is a
// dozen whole-number operations and so gives the same on every machine.
type lot struct{ state uint64 }

// newLot begins a sequence that belongs to the words: a 64-bit FNV-1a hash of them.
func newLot(words ...string) *lot {
	h := uint64(14695981039346656037)
	for _, w := range words {
		for i := range len(w) {
			h = (h ^ uint64(w[i])) * 1099511628211
		}
		h = (h ^ 0xff) * 1099511628211 // no word holds this byte in UTF-8
	}
	return &lot{h}
}

func (l *lot) next() uint64 {
	l.state += 0x9e3779b97f4a7c15
	z := l.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below returns a number from 0 to n-1; n is at least 1.
func (l *lot) below(n int) int {
	hi, _ := bits.Mul64(l.next(), uint64(n))
	return int(hi)
}

// from returns a number from a to b, both of them possible.
func (l *lot) from(a, b int) int { return a + l.below(b-a+1) }

// shuffle puts n things into any order.
func (l *lot) shuffle(n int, swap func(i, j int)) {
	for i := n - 1; i > 0; i-- {
		swap(i, l.below(i+1))
	}
}

// mostOfCode is how many letters a variant code may have.
const mostOfCode = 32

// Code returns a variant code as it is printed: capitals, without space around it.
// An error says what a code may be made of.
func Code(text string) (string, error) {
	code := strings.ToUpper(strings.TrimSpace(text))
	if code == "" {
		return "", fmt.Errorf("exercise: there is no variant code: write one such as SPRING-07, so that the same exercises can be made again")
	}
	for _, r := range code {
		if (r < 'A' || r > 'Z') && (r < '0' || r > '9') && r != '-' {
			return "", fmt.Errorf("exercise: a variant code can't have %q in it: use letters, digits and hyphens, such as SPRING-07", r)
		}
	}
	if len(code) > mostOfCode {
		return "", fmt.Errorf("exercise: the variant code has %d letters: use %d at most, such as SPRING-07", len(code), mostOfCode)
	}
	return code, nil
}
