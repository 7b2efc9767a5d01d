package notation

// A time is a number and a unit, or several with the units descending. Its
// value is worked out in whole nanoseconds: the digits behind the point are
// multiplied by the unit in 128 bits and must divide without a rest, so that
// 0.1 s is exactly 100 000 000 ns and a time that no nanosecond can hold is
// reported instead of rounded.

import (
	"math/bits"
	"strconv"
	"strings"
	"time"

	"tarry/diag"
)

// maxTime is the longest time that is believed: a year of 365 days.
const maxTime = 8760 * time.Hour

// units in descending order.
var units = []struct {
	word  string
	value time.Duration
}{
	{"h", time.Hour}, {"min", time.Minute}, {"s", time.Second}, {"ms", time.Millisecond},
}

// unitSlips are the units that people write instead.
var unitSlips = map[string]string{
	"sec": "s", "secs": "s", "second": "s", "seconds": "s", "S": "s",
	"m": "min", "mins": "min", "minute": "min", "minutes": "min", "Min": "min", "MIN": "min",
	"hr": "h", "hrs": "h", "hour": "h", "hours": "h", "H": "h",
	"msec": "ms", "msecs": "ms", "millisecond": "ms", "milliseconds": "ms", "MS": "ms", "Ms": "ms",
}

// foreignUnits are units of time that the notation does without.
var foreignUnits = map[string]bool{
	"ns": true, "us": true, "µs": true, "d": true, "day": true, "days": true, "w": true, "week": true, "weeks": true,
}

// unitPlace returns the place of a unit in units, or -1.
func unitPlace(text string) int {
	for i, u := range units {
		if u.word == text {
			return i
		}
	}
	return -1
}

// unit returns the unit that token t names, slips included, or "".
func unit(t token) string {
	if t.kind != tokWord {
		return ""
	}
	if unitPlace(t.text) >= 0 {
		return t.text
	}
	return unitSlips[t.text]
}

// time reads a time that may be zero. What is wrong with it has been reported
// when it returns; it always takes at least the number it begins with.
func (p *parser) time() timeLit {
	lit := timeLit{at: p.peek().at}
	if t := p.peek(); t.kind == tokMinus && p.peekAt(1).kind == tokNumber {
		lit.negative = true
		p.next()
	}
	if p.peek().kind != tokNumber {
		p.want("a time such as 4 s")
		return lit
	}
	lit.parts = append(lit.parts, p.timePart(""))
	for p.peek().kind == tokNumber {
		last := lit.parts[len(lit.parts)-1].unit
		if u := unit(p.peekAt(1)); u == "" || unitPlace(u) <= unitPlace(last) {
			break
		}
		lit.parts = append(lit.parts, p.timePart(last))
	}
	lit.at.End = lit.parts[len(lit.parts)-1].end
	p.value(&lit)
	return lit
}

// timePart reads a number and its unit.
func (p *parser) timePart(after string) timePart {
	number := p.next()
	t := p.peek()
	part := timePart{number: number.text, unit: unit(t), end: t.at.End}
	switch {
	case p.decimalComma(number):
		return p.commaPart(number)
	case part.unit == "" && foreignUnits[t.text]:
		part.unit = "s"
		p.r.report(codeUnit, t.at, "%s is no unit of time here", t.text).
			Explain("The units are ms, s, min and h; decimals are allowed: 0.5 ms, 36 h.")
	case part.unit == "":
		part.unit, part.end = "s", number.at.End
		end := diag.Range{Start: number.at.End, End: number.at.End}
		p.r.report(codeMissingUnit, number.at, "%s has no unit", shorten(number.text)).
			Explain("A time is written with its unit: ms, s, min or h.").
			Offer(end, " s", "did you mean "+shorten(number.text)+" s?")
		return part
	case part.unit != t.text:
		p.r.report(codeUnit, t.at, "%s is no unit of time", t.text).
			Explain("The units are ms, s, min and h.").
			Offer(t.at, part.unit, "did you mean "+part.unit+"?")
	}
	p.next()
	return part
}

// decimalComma reports whether a number goes on behind a comma: 0,3 s.
func (p *parser) decimalComma(number token) bool {
	comma, rest := p.peek(), p.peekAt(1)
	return comma.kind == tokComma && rest.kind == tokNumber &&
		comma.at.Start == number.at.End && rest.at.Start == comma.at.End
}

// commaPart reads a number with a decimal comma as if it had a point.
func (p *parser) commaPart(number token) timePart {
	comma, rest := p.next(), p.next()
	text := number.text + "." + strings.ReplaceAll(rest.text, ".", "")
	p.r.report(codeMissingUnit, number.at, "%s has no unit", shorten(number.text)).
		Explain("Digits behind the decimal point are written with a point: %s.", shorten(text)).
		Offer(comma.at, ".", "did you mean "+shorten(text)+"?")
	part := timePart{number: text, unit: "s", end: rest.at.End}
	if u := unit(p.peek()); u != "" {
		part.unit, part.end = u, p.next().at.End
	}
	return part
}

// value works out what lit says.
func (p *parser) value(lit *timeLit) {
	sum := time.Duration(0)
	for _, part := range lit.parts {
		v, state := scaled(part.number, int64(units[unitPlace(part.unit)].value), int64(maxTime))
		switch state {
		case tooFine:
			p.r.report(codeTooFine, lit.at, "the time is finer than a nanosecond").
				Explain("Times are exact to the nanosecond; nothing is rounded. Leave digits out, or use a smaller unit.")
			return
		case tooLarge:
			p.absurd(lit)
			return
		}
		sum += time.Duration(v)
	}
	if sum > maxTime {
		p.absurd(lit)
		return
	}
	if lit.negative && sum > 0 {
		p.r.report(codeNegativeTime, lit.at, "a time cannot be negative").
			Explain("Times count from the start of the run, and settings run forwards. Leave the minus out.")
		return
	}
	lit.value = sum
}

func (p *parser) absurd(lit *timeLit) {
	p.r.report(codeAbsurdTime, lit.at, "the time is longer than 8760 h").
		Explain("That is a year; no timer on a bench waits so long. Write a shorter time, and look at its unit.")
}

// preset reads a time that must not be zero.
func (p *parser) preset() timeLit {
	before := p.r.faults
	lit := p.time()
	if lit.value == 0 && p.r.faults == before && !p.quiet {
		p.r.report(codeZeroTime, lit.at, "a time of zero delays nothing").
			Explain("Give the time that the device really takes, or leave the device out.")
	}
	return lit
}

// share reads the number and the % of a tolerance in 1/100 %.
func (p *parser) share() int {
	t := p.next()
	v, state := scaled(t.text, 100, 9999)
	switch state {
	case tooFine:
		p.r.report(codeTooFine, t.at, "the tolerance is finer than 1/100 %%")
	case tooLarge:
		p.r.report(codeBadNumber, t.at, "a tolerance of %s%% is absurd", shorten(t.text)).
			Explain("A tolerance is less than 100 %%.")
	}
	if !p.take(tokPercent) {
		p.want("%")
	}
	return int(v)
}

// scaling tells how exactly a number could be scaled.
type scaling uint8

const (
	exactly scaling = iota
	tooFine
	tooLarge
)

// scaled returns number × unit as a whole number, where number is digits with
// at most one point. The result is 0 unless it is exact and at most limit.
func scaled(number string, unit, limit int64) (int64, scaling) {
	whole, fraction, _ := strings.Cut(number, ".")
	whole = strings.TrimLeft(whole, "0")
	fraction = strings.TrimRight(fraction, "0")
	if len(whole) > 12 {
		return 0, tooLarge
	}
	if len(fraction) > 18 {
		return 0, tooFine
	}
	w, _ := strconv.ParseUint("0"+whole, 10, 64)
	f, _ := strconv.ParseUint("0"+fraction, 10, 64)
	high, v := bits.Mul64(w, uint64(unit))
	if high != 0 || v > uint64(limit) {
		return 0, tooLarge
	}
	power := uint64(1)
	for range fraction {
		power *= 10
	}
	high, low := bits.Mul64(f, uint64(unit)) // f < power, so the quotient fits
	part, rest := bits.Div64(high, low, power)
	if rest != 0 {
		return 0, tooFine
	}
	if v+part > uint64(limit) {
		return 0, tooLarge
	}
	return int64(v + part), exactly
}
