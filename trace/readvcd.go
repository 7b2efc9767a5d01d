package trace

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// Recorded is one variable of a value change dump.
type Recorded struct {
	Name    string // scopes and name, joined by dots
	Event   bool   // fires at its edges instead of having a level
	Changes []Level
}

// Level is a value from a time on.
type Level struct {
	At time.Duration
	On bool
}

// ReadVCD reads the one-bit variables of a value change dump (IEEE 1364-2005
// clause 18, from memory). Values x and z count as off; wider variables are
// passed over. Times finer than 1 ns are cut off.
func ReadVCD(text []byte) ([]Recorded, error) {
	r := vcdReader{byCode: map[string]int{}, num: 1, den: 1}
	words := bufio.NewScanner(bytes.NewReader(text))
	words.Buffer(nil, 1<<20)
	words.Split(bufio.ScanWords)
	for words.Scan() {
		if err := r.word(words.Text(), words); err != nil {
			return r.list, err
		}
	}
	return r.list, words.Err()
}

// maxScopes is how deep scopes may be nested.
const maxScopes = 100

type vcdReader struct {
	list   []Recorded
	byCode map[string]int
	scopes []string
	now    time.Duration
	// one unit of time is num/den ns
	num, den int64
}

func (r *vcdReader) word(w string, words *bufio.Scanner) error {
	switch {
	case w == "$var":
		return r.variable(section(words))
	case w == "$scope":
		if len(r.scopes) == maxScopes {
			return fmt.Errorf("scopes are nested more than %d deep", maxScopes)
		}
		if s := section(words); len(s) == 2 {
			r.scopes = append(r.scopes, s[1])
		}
	case w == "$upscope":
		section(words)
		r.scopes = r.scopes[:max(len(r.scopes)-1, 0)]
	case w == "$timescale":
		return r.timescale(strings.Join(section(words), ""))
	case w == "$dumpvars" || w == "$dumpon" || w == "$dumpoff" || w == "$dumpall" || w == "$end":
	case w[0] == '$':
		section(words)
	case w[0] == '#':
		return r.time(w[1:])
	case w[0] == 'b' || w[0] == 'B' || w[0] == 'r' || w[0] == 'R':
		words.Scan()
	default:
		r.change(w)
	}
	return nil
}

// section returns the words up to $end.
func section(words *bufio.Scanner) []string {
	var list []string
	for words.Scan() && words.Text() != "$end" {
		list = append(list, words.Text())
	}
	return list
}

func (r *vcdReader) variable(s []string) error {
	if len(s) < 4 {
		return fmt.Errorf("a variable is declared with %d words instead of at least 4", len(s))
	}
	if s[1] != "1" {
		return nil
	}
	r.byCode[s[2]] = len(r.list)
	r.list = append(r.list, Recorded{Name: strings.Join(append(r.scopes[:len(r.scopes):len(r.scopes)], s[3]), "."), Event: s[0] == "event"})
	return nil
}

func (r *vcdReader) timescale(s string) error {
	digits := strings.TrimRight(s, "abcdefghijklmnopqrstuvwxyz")
	n, err := strconv.ParseInt(digits, 10, 64)
	if err != nil || n != 1 && n != 10 && n != 100 {
		return fmt.Errorf("the time unit %q is not 1, 10 or 100 of a unit", s)
	}
	units := map[string][2]int64{"s": {1e9, 1}, "ms": {1e6, 1}, "us": {1e3, 1}, "ns": {1, 1}, "ps": {1, 1e3}, "fs": {1, 1e6}}
	u, ok := units[s[len(digits):]]
	if !ok {
		return fmt.Errorf("the time unit %q is not known", s)
	}
	r.num, r.den = n*u[0], u[1]
	return nil
}

func (r *vcdReader) time(s string) error {
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil || n < 0 || n > math.MaxInt64/r.num {
		return fmt.Errorf("%q is not a time", s)
	}
	at := time.Duration(n * r.num / r.den)
	if at < r.now {
		return fmt.Errorf("time runs backwards at #%s", s)
	}
	r.now = at
	return nil
}

func (r *vcdReader) change(w string) {
	i, ok := r.byCode[w[1:]]
	if !ok {
		return
	}
	v := &r.list[i]
	v.Changes = append(v.Changes, Level{r.now, w[0] == '1'})
}
