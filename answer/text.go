package answer

import (
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"tarry/notation"
)

// Form is what a typed answer may leave out.
type Form struct {
	Learner, Item string
	// Square is the width of a grid's squares; without it, or a line that says it,
	// no grid can be read.
	Square time.Duration
}

// ReadText reads typed answers, a signal to a line:
//
//	learner Ada Miller
//	item    3
//	square  1 s
//	H1 on 5 s .. 12 s, 15 s .. end
//	KT1.notc closed 5 s .. end   certain
//	H2 never
//	H3 | __####__
//
// The first three are optional and hold until they are said again; form has what
// holds before. In a grid each character is a square: # or x for on or closed, _
// . or - for off or open, blanks between them don't count; the last square holds to
// the end. Behind another answer may stand how sure the learner is: guess, fairly or certain. Lines that
// begin with # are left out.
func ReadText(r io.Reader, form Form) ([]Answer, []Problem) {
	k := newCollector()
	lines := newLineReader(r, k)
	for !k.full {
		text, more := lines.next()
		if !more {
			break
		}
		word, rest := cutWord(text)
		switch {
		case word == "" || word[0] == '#':
		case word == "learner":
			form.Learner = rest
		case word == "item":
			form.Item = rest
		case word == "square":
			square, err := notation.ParseTime(rest)
			if form.Square = square; err != nil || square <= 0 {
				k.problem(lines.number, 0, "%s is no width of a square. Write it like: square 1 s.", quote(rest))
				form.Square = 0
			}
		default:
			l, fault := readLine(text, form.Square)
			if fault != nil {
				k.problem(lines.number, fault.column(text), "%s", fault.reason)
				continue
			}
			k.add(lines.number, form.Learner, form.Item, l, false)
		}
	}
	k.named("No learner is named for this line, and it was not marked. Write learner and the name on a line above.")
	return k.result()
}

// cutWord takes the first word off a text.
func cutWord(text string) (word, rest string) {
	text = strings.TrimSpace(text)
	if i := strings.IndexAny(text, " \t|"); i >= 0 {
		return text[:i], strings.TrimSpace(text[i:])
	}
	return text, ""
}

// fault is what is wrong with a typed line, and from which piece of it on.
type fault struct{ piece, reason string }

// column returns where the piece stands in the line it was cut from.
func (f *fault) column(line string) int {
	i := strings.LastIndex(line, f.piece)
	if f.piece == "" || i < 0 {
		return 0
	}
	return utf8.RuneCountInString(line[:i]) + 1
}

const howToWrite = "Write it like: H1 on 5 s .. 12 s, or H1 never."

// readLine reads a signal and what is said of it.
func readLine(text string, square time.Duration) (Line, *fault) {
	name, rest := cutWord(text)
	if name == "" {
		return Line{}, &fault{text, "The signal is missing. " + howToWrite}
	}
	if cells, grid := strings.CutPrefix(rest, "|"); grid {
		l, f := readGrid(cells, square)
		l.Signal = name
		return l, f
	}
	l, f := readSaid(rest)
	l.Signal = name
	return l, f
}

// readSaid reads what stands behind the signal.
func readSaid(text string) (Line, *fault) {
	var l Line
	word, rest := cutWord(text)
	if i := strings.LastIndexAny(rest, " \t") + 1; rest != "" {
		if sure, said := sureOf(rest[i:]); said {
			l.Sure, rest = sure, strings.TrimSpace(rest[:i])
		}
	}
	switch strings.ToLower(word) {
	case "never", "always":
		l.Start = strings.EqualFold(word, "always")
		if rest != "" {
			return l, &fault{rest, quote(rest) + " behind " + word + " is not understood. " + howToWrite}
		}
		return l, nil
	case "on", "closed":
		return l, l.spans(rest)
	case "off", "open":
		f := l.spans(rest)
		l.Start = !l.Start
		return l, f
	case "":
		return l, &fault{"", "Nothing is said of the signal. " + howToWrite}
	}
	return l, &fault{word, quote(word) + " is not understood. " + howToWrite}
}

// decimalComma finds a number that is written with a comma.
func decimalComma(text string) (whole, part string, found bool) {
	digit := func(r rune) bool { return r >= '0' && r <= '9' }
	for i, r := range text {
		before := text[:i]
		if r != ',' || !digit(rune(text[max(i-1, 0)])) || i+1 == len(text) || !digit(rune(text[i+1])) {
			continue
		}
		behind := text[i+1:]
		whole = before[len(strings.TrimRightFunc(before, digit)):]
		part = behind[:len(behind)-len(strings.TrimLeftFunc(behind, digit))]
		return whole, part, true
	}
	return "", "", false
}

// spans reads stretches: 5 s .. 12 s, 15 s .. end.
func (l *Line) spans(text string) *fault {
	if text == "" {
		return &fault{"", "The times are missing. " + howToWrite}
	}
	last := time.Duration(-1) // where the last stretch ended
	ended := false
	for _, piece := range strings.Split(text, ",") {
		piece = strings.TrimSpace(piece)
		begin, end, two := strings.Cut(piece, "..")
		if whole, part, comma := decimalComma(text); !two && comma {
			return &fault{piece, "Digits behind the decimal point are written with a point: " + quote(whole+"."+part) + "."}
		}
		if !two {
			return &fault{piece, quote(piece) + " is no stretch of time. Write it like: 5 s .. 12 s."}
		}
		from, err := notation.ParseTime(begin)
		if err != nil {
			return &fault{piece, quote(begin) + ": " + err.Error() + "."}
		}
		if ended || from < last {
			return &fault{piece, "The stretch " + quote(piece) + " begins before the last one ends. Write them in order."}
		}
		to := time.Duration(-1)
		if ended = strings.TrimSpace(end) == "end"; !ended {
			if to, err = notation.ParseTime(end); err != nil {
				return &fault{piece, quote(end) + ": " + err.Error() + "."}
			}
			if to <= from {
				return &fault{piece, "The stretch " + quote(piece) + " ends before it has begun. Write the earlier time first."}
			}
		}
		l.stretch(from, to, from == last)
		last = to
	}
	return nil
}

// stretch adds a stretch; to is negative for the end of the run.
func (l *Line) stretch(from, to time.Duration, touches bool) {
	switch {
	case from == 0:
		l.Start = true
	case touches:
		l.At = l.At[:len(l.At)-1]
	default:
		l.At = append(l.At, from)
	}
	if to >= 0 {
		l.At = append(l.At, to)
	}
}

// year is the longest time that is believed, as in the notation.
const year = 8760 * time.Hour

// readGrid reads squares.
func readGrid(cells string, square time.Duration) (Line, *fault) {
	var l Line
	if square <= 0 {
		return l, &fault{"", "How wide is a square? Write it on a line above: square 1 s."}
	}
	l.square = square
	now := false
	n := time.Duration(0)
	for i, r := range strings.TrimSuffix(strings.TrimSpace(cells), "|") {
		on := false
		switch r {
		case '#', 'x', 'X', '█':
			on = true
		case '_', '.', '-':
		case ' ', '\t':
			continue
		default:
			return l, &fault{strings.TrimSpace(cells)[i:], quote(string(r)) + " is no square. Write # for on and _ for off."}
		}
		switch {
		case n > year/square:
			return l, &fault{"", "The squares go on for more than a year. Look at their width."}
		case n == 0:
			l.Start = on
		case on != now:
			l.At = append(l.At, n*square)
		}
		now = on
		n++
	}
	if n == 0 {
		return l, &fault{"", "There are no squares. Write # for on and _ for off."}
	}
	return l, nil
}
