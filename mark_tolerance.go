package tarry

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"tarry/answer"
	"tarry/chart"
	"tarry/circuit"
)

// usualTolerance is how far an edge may lie off if nothing is said.
const usualTolerance = time.Second / 2

// aSquare is one in the unit that squares are counted in, and mostSquares the widest
// tolerance.
const (
	aSquare     = 1000
	mostSquares = 1000 * aSquare
)

// squaresOf reads a tolerance in squares, half a square, 1 square, 2.5 squares, as
// thousandths.
func squaresOf(text string) (int, bool) {
	number, found := strings.CutSuffix(strings.TrimSuffix(strings.ToLower(strings.TrimSpace(text)), "s"), "square")
	if !found {
		return 0, false
	}
	switch number = strings.Join(strings.Fields(number), " "); number {
	case "half a":
		return aSquare / 2, true
	case "a", "one":
		return aSquare, true
	}
	whole, part, _ := strings.Cut(number, ".")
	if len(part) > 3 || len(whole)+len(part) == 0 || strings.Trim(whole+part, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(whole + (part + "000")[:3])
	return n, err == nil && n > 0 && n <= mostSquares
}

// squareWords writes them so.
func squareWords(n int) string {
	switch n {
	case aSquare / 2:
		return "half a square"
	case aSquare:
		return "1 square"
	}
	part := strings.TrimRight(fmt.Sprintf(".%03d", n%aSquare), ".0")
	return strconv.Itoa(n/aSquare) + part + " squares"
}

// toleranceFor is the one that was asked for, or the one that an answer was revealed
// with, or the usual one: less where a preset is so short that the usual one would
// swallow it. Squares are those that an
// answer was drawn in, or else the chart's.
func (k *marking) toleranceFor(it *markItem, a *answer.Answer) answer.Tolerance {
	t := k.tolerance
	switch {
	case k.squares > 0:
		width := it.chartSquare()
		if a != nil && a.Square > 0 {
			width = a.Square
		}
		t.Time = width * time.Duration(k.squares) / aSquare
	case k.usual && a != nil && a.Tolerance > 0:
		t.Time = a.Tolerance
	case k.usual:
		for i := range it.circuit.Devices {
			for _, p := range it.circuit.Devices[i].Presets {
				if p > 0 {
					t.Time = min(t.Time, p*2/5)
				}
			}
		}
	}
	return t
}

// chartSquare is how wide a square is on the chart of an item's run, a second where
// it can't be drawn.
func (it *markItem) chartSquare() time.Duration {
	if it.square > 0 {
		return it.square
	}
	it.square = time.Second
	t := runOne(it.circuit, it.script)
	if printable(t) != nil || t.End == 0 {
		return it.square
	}
	if _, plan, err := chart.DrawWithPlan(t, chart.Options{Fill: chart.Blank}); err == nil {
		it.square = plan.Square
	}
	return it.square
}

// toleranceWords says how far an edge may lie off, the least of the items' if it is
// a time.
func (k *marking) toleranceWords() string {
	least, most := time.Duration(-1), time.Duration(0)
	for _, it := range k.items {
		t := k.toleranceFor(it, nil).Time
		if least < 0 || t < least {
			least = t
		}
		most = max(most, t)
	}
	if k.squares == 0 {
		if least < 0 {
			least = k.tolerance.Time
		}
		return circuit.FormatTime(least)
	}
	words := squareWords(k.squares)
	if least == most {
		words += " (" + circuit.FormatTime(least) + " on the chart)"
	}
	return words
}
