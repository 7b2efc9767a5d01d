package answer

// What learners hand in is read a line at a time, so that a file of any size
// takes little memory. What can't be understood is listed and left out, and the
// rest is kept. Lists have limits; what lies beyond is said once.

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"tarry/trace"
)

// Answer is what a learner says of an item: a line for each signal.
type Answer struct {
	// Learner and Item are as the file has them, "" if it says nothing.
	Learner, Item string
	Lines         []Line
	// Circuit, Script and Text are the item itself, where the file brings it: the
	// circuit's name, the script's name and the circuit as text.
	Circuit, Script, Text string
	// Square is the width of the squares that it was drawn in, the widest of several;
	// 0 for none.
	Square time.Duration
	// Tolerance is how far an edge might lie off where it was revealed; 0 for unsaid.
	Tolerance time.Duration
}

// Line is what a learner says of a signal: what it starts with, and the times at
// which it changes over, rising.
type Line struct {
	Signal string // as the notation writes it: H1, KT1.notc
	Start  bool   // on or closed
	At     []time.Duration
	Sure   Sure
	Number int // of its line in the file, from 1; 0 for none
	// Undrawn says that the signal was asked for and left as it was: there is no line.
	Undrawn bool

	square time.Duration // of a grid, else 0
}

// Number returns the number of the answer's first line in its file, 0 for none.
func (a *Answer) Number() int {
	first := 0
	for i := range a.Lines {
		if n := a.Lines[i].Number; first == 0 || n > 0 && n < first {
			first = n
		}
	}
	return first
}

// Edges returns the line as trace.Edges would.
func (l Line) Edges() []trace.Edge {
	edges := make([]trace.Edge, 1, len(l.At)+1)
	edges[0] = trace.Edge{On: l.Start, Event: trace.None}
	on := l.Start
	for _, at := range l.At {
		on = !on
		edges = append(edges, trace.Edge{At: at, On: on, Event: trace.None})
	}
	return edges
}

// Sure is how certain a learner is of a line.
type Sure uint8

// The grades. The zero value is a learner who doesn't say.
const (
	Unsaid Sure = iota
	Guess
	Fairly
	Certain
)

var sureWords = [...]string{"", "guess", "fairly", "certain"}

// String returns the word that stands in a file.
func (s Sure) String() string { return sureWords[s] }

func sureOf(word string) (Sure, bool) {
	for i, w := range sureWords {
		if strings.EqualFold(w, word) {
			return Sure(i), true
		}
	}
	return Unsaid, false
}

// Problem is what is wrong with an answer, or with a line of a file.
type Problem struct {
	Line   int    // from 1; 0 for the whole
	Column int    // in characters, from 1; 0 for the whole line
	Reason string // a sentence or two, with the way out
	Note   bool   // nothing is lost by it
}

// String says where and what.
func (p Problem) String() string {
	switch {
	case p.Line == 0:
		return p.Reason
	case p.Column == 0:
		return fmt.Sprintf("line %d: %s", p.Line, p.Reason)
	}
	return fmt.Sprintf("line %d, column %d: %s", p.Line, p.Column, p.Reason)
}

// The limits of a file.
const (
	maxFile     = 256 << 20 // bytes
	maxLine     = 64 << 10  // bytes
	maxEndless  = 1 << 20   // bytes behind which a line is taken to have no end
	maxLines    = 100_000   // learners' lines
	maxEdges    = 1_000_000
	maxName     = 200 // bytes
	maxProblems = 100
)

// collector gathers answers and problems within the limits.
type collector struct {
	answers  []*Answer
	at       map[[2]string]*Answer
	lines    map[[3]string]int // where each learner's line stands
	edges    int
	nameless []Problem // second lines of nobody
	problems []Problem
	more     int // problems beyond the limit
	full     bool
}

func newCollector() *collector {
	return &collector{at: map[[2]string]*Answer{}, lines: map[[3]string]int{}}
}

func (k *collector) problem(line, column int, format string, values ...any) {
	if len(k.problems) >= maxProblems {
		k.more++ // without writing it out: there may be millions
		return
	}
	k.problems = append(k.problems, Problem{line, column, fmt.Sprintf(format, values...), false})
}

func (k *collector) list(p Problem) {
	if len(k.problems) >= maxProblems {
		k.more++
		return
	}
	k.problems = append(k.problems, p)
}

// last says why nothing more is read, however many problems there are.
func (k *collector) last(line int, format string, values ...any) {
	k.full = true
	k.problems = append(k.problems, Problem{Line: line, Reason: fmt.Sprintf(format, values...)})
}

func (k *collector) note(line int, format string, values ...any) {
	before := len(k.problems)
	k.problem(line, 0, format, values...)
	if len(k.problems) > before {
		k.problems[before].Note = true
	}
}

// add keeps a line of an answer. A second one of a learner for the same signal of
// an item is a problem, unless it is to replace the first.
func (k *collector) add(where int, learner, item string, l Line, again bool) {
	for _, name := range []string{learner, item, l.Signal} {
		if len(name) > maxName {
			k.problem(where, 0, "The name %s is longer than %d bytes. Shorten it.", quote(name), maxName)
			return
		}
	}
	k.edges += len(l.At)
	if len(k.lines) >= maxLines || k.edges > maxEdges {
		k.full = true
		k.problem(where, 0, "The file holds more than %d lines or %d edges; nothing from here on was read. Split it.", maxLines, maxEdges)
		return
	}
	l.Number = where
	a := k.keep(learner, item)
	a.Square = max(a.Square, l.square)
	if again && a.replace(l) {
		return
	}
	key := [3]string{learner, item, l.Signal}
	first, twice := k.lines[key]
	if !twice {
		k.lines[key] = where
		a.Lines = append(a.Lines, l)
		return
	}
	stays := "the first"
	if first > 0 {
		stays = fmt.Sprintf("the one of line %d", first)
	}
	p := Problem{Line: where, Reason: fmt.Sprintf("This is a second answer for %s%s; %s stays. Take one of them out.", quote(l.Signal), of(learner, item), stays)}
	switch {
	case learner != "":
		k.list(p)
	case len(k.nameless) < maxProblems:
		k.nameless = append(k.nameless, p) // whether it is one depends on the names to come
	default:
		k.more++
	}
}

// replace puts a line in place of an earlier one of its signal, whatever the case of
// the name, and reports whether there is one.
func (a *Answer) replace(l Line) bool {
	i := slices.IndexFunc(a.Lines, func(o Line) bool { return o.Signal == l.Signal })
	if i < 0 {
		i = slices.IndexFunc(a.Lines, func(o Line) bool { return strings.EqualFold(o.Signal, l.Signal) })
	}
	if i >= 0 {
		a.Lines[i] = l
	}
	return i >= 0
}

// named leaves out the lines without a learner's name, each with its reason, where
// others have one: nobody can say whose they are. In a file without any name they
// are those of one person.
func (k *collector) named(reason string) {
	nobody := func(a *Answer) bool { return a.Learner == "" }
	left := k.nameless
	if slices.ContainsFunc(k.answers, func(a *Answer) bool { return !nobody(a) }) {
		for i := range left {
			left[i].Reason = reason
		}
		for _, a := range k.answers {
			for i := range a.Lines {
				if nobody(a) {
					left = append(left, Problem{Line: a.Lines[i].Number, Reason: reason})
				}
			}
		}
		k.answers = slices.DeleteFunc(k.answers, nobody)
	}
	slices.SortStableFunc(left, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
	for _, p := range left {
		k.list(p)
	}
	slices.SortStableFunc(k.problems, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
}

// keep returns a learner's answer to an item, a new one if there is none yet.
func (k *collector) keep(learner, item string) *Answer {
	a := k.at[[2]string{learner, item}]
	if a == nil {
		a = &Answer{Learner: learner, Item: item}
		k.at[[2]string{learner, item}] = a
		k.answers = append(k.answers, a)
	}
	return a
}

// of says whose line it is, as far as that is known.
func of(learner, item string) string {
	text := ""
	if learner != "" {
		text += " by " + quote(learner)
	}
	if item != "" {
		text += " in item " + quote(item)
	}
	return text
}

// result returns what was gathered.
func (k *collector) result() ([]Answer, []Problem) {
	list := make([]Answer, len(k.answers))
	for i, a := range k.answers {
		list[i] = *a
	}
	if k.more > 0 {
		k.problems = append(k.problems, Problem{Reason: fmt.Sprintf("There are %d more problems. Cure these first.", k.more)})
	}
	return list, k.problems
}

// lineReader reads lines, leaves out those that are too long, and can be given
// lines back.
type lineReader struct {
	from   *bufio.Reader
	number int // of the line read last
	read   int // bytes
	back   []string
	k      *collector
}

func newLineReader(r io.Reader, k *collector) *lineReader {
	return &lineReader{from: bufio.NewReaderSize(r, maxLine), k: k}
}

// next returns the next line without its end, and false at the end of the file.
func (r *lineReader) next() (string, bool) {
	if n := len(r.back); n > 0 {
		line := r.back[n-1]
		r.back = r.back[:n-1]
		r.number++
		return line, true
	}
	for !r.k.full {
		line, err := r.from.ReadSlice('\n')
		if len(line) == 0 && err != nil {
			r.fail(err)
			return "", false
		}
		r.number++
		if r.read += len(line); r.read > maxFile {
			r.k.last(r.number, "The file is larger than %d MiB; nothing from here on was read. Is this the right file?", maxFile>>20)
			return "", false
		}
		if errors.Is(err, bufio.ErrBufferFull) {
			if !r.skip() {
				return "", false
			}
			continue
		}
		r.fail(err)
		text := strings.TrimRight(string(line), "\r\n")
		if r.number == 1 {
			text = strings.TrimPrefix(text, "\ufeff")
		}
		return text, true
	}
	return "", false
}

// skip leaves out the rest of a line that is too long, and reports whether it came
// to its end: one without an end isn't read for ever.
func (r *lineReader) skip() bool {
	long := maxLine
	for {
		rest, err := r.from.ReadSlice('\n')
		long += len(rest)
		r.read += len(rest)
		full := errors.Is(err, bufio.ErrBufferFull)
		switch {
		case full && long > maxEndless:
			r.k.last(r.number, "The line is longer than %d bytes; nothing from here on was read. Is this the right file?", maxEndless)
			return false
		case !full:
			r.k.problem(r.number, 0, "The line is longer than %d bytes and was left out. Is this the right file?", maxLine)
			r.fail(err)
			return true
		}
	}
}

// fail says that a file could not be read to its end.
func (r *lineReader) fail(err error) {
	if err != nil && !errors.Is(err, io.EOF) {
		r.k.problem(r.number, 0, "The file could not be read further: %v.", err)
	}
}

// giveBack puts lines back, the first one first.
func (r *lineReader) giveBack(lines []string) {
	for i := len(lines) - 1; i >= 0; i-- {
		r.back = append(r.back, lines[i])
	}
	r.number -= len(lines)
}

// quote writes what a user wrote, shortened and without control characters.
func quote(text string) string {
	const most = 40
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == utf8.RuneError {
			return '?'
		}
		return r
	}, text[:min(len(text), 4*most)])
	if utf8.RuneCountInString(text) > most {
		text = string([]rune(text)[:most]) + "…"
	}
	return "“" + text + "”"
}
