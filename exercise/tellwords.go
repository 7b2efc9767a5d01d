package exercise

import (
	"fmt"
	"strings"

	"tarry/circuit"
	"tarry/misread"
)

// ScriptWords tells the presses of a script in one line.
func ScriptWords(c *circuit.Circuit, s *circuit.Script) string {
	var acts []string
	for _, a := range s.Actions {
		act := "at " + circuit.FormatTime(a.At) + " " + a.Verb.String()
		if a.Device != circuit.NoDevice {
			act += " " + c.Devices[a.Device].Tag
		}
		if a.Verb == circuit.Turn {
			act += " to " + c.Devices[a.Device].Positions[a.Position]
		}
		if a.For > 0 {
			act += " for " + circuit.FormatTime(a.For)
		}
		acts = append(acts, act)
	}
	return strings.Join(append(acts, "end at "+circuit.FormatTime(s.End)), "; ")
}

// words says what was found, and how sure that is.
func (t *Told) words(readings int) string {
	var b strings.Builder
	n := len(t.Items)
	switch {
	case n == 0 && len(t.Never) == 0:
		b.WriteString("There is nothing to tell apart: only the right answer is in play.")
	case t.Scripts == 0:
		return "No script of the grid can be used: each has a tie, a race or a fault on the way. Take another step."
	case n == 0:
		b.WriteString("None of the presses that were tried tells any of these readings apart.")
	default:
		fmt.Fprintf(&b, "%s of %d answers apart, each by at least %s.",
			plural(n, "item tells", "items tell")+" "+plural(len(t.Apart), "pair", "pairs"), readings, circuit.FormatTime(t.Least))
	}
	looked := plural(t.Scripts, "script", "scripts")
	grid := looked + " of the grid"
	if t.Whole {
		looked, grid = "all "+grid, "all "+grid
	}
	switch {
	case n == 0:
	case t.Exact && !t.Whole && n == 1:
		fmt.Fprintf(&b, " A shorter one may do: %s were looked at, and there are more on the grid.", looked)
	case t.Exact && !t.Whole:
		fmt.Fprintf(&b, " That is the best of the %s that were looked at; there are more on the grid, so fewer or shorter ones may do.", looked)
	case t.Exact && t.Shortest && n == 1:
		fmt.Fprintf(&b, " No other is shorter: %s were looked at.", looked)
	case t.Exact && t.Shortest:
		fmt.Fprintf(&b, " Fewer can't do it, and no other %d are shorter: %s were looked at.", n, looked)
	case t.Exact:
		fmt.Fprintf(&b, " Fewer can't do it; others might be shorter: %s were looked at.", looked)
	default:
		fmt.Fprintf(&b, " It takes at least %d; whether fewer than %d can do it is not known, among %s.", t.Bound, n, grid)
	}
	if n := len(t.Own); n > 0 {
		fmt.Fprintf(&b, " The circuit's own scripts tell %s more apart.", plural(n, "pair", "pairs"))
	}
	if len(t.Never) > 0 {
		fmt.Fprintf(&b, " Nothing among %s tells apart by %s: %s.", grid, circuit.FormatTime(t.Margin), pairsWords(t.Never))
	}
	for _, l := range t.Left {
		fmt.Fprintf(&b, " %s is not in play: %s.", l.ID, strings.TrimSuffix(l.Reason, "."))
	}
	return b.String()
}

// fewPairs is how many pairs are named one by one.
const fewPairs = 12

// pairsWords names pairs; of many, only what can't be told from the right answer.
func pairsWords(never []Pair) string {
	var pairs, right []string
	for _, p := range never {
		pairs = append(pairs, p.A+" and "+p.B)
		if p.A == misread.Right {
			right = append(right, p.B)
		}
	}
	switch {
	case len(pairs) <= fewPairs:
		return strings.Join(pairs, "; ")
	case len(right) == 0:
		return strings.Join(pairs[:fewPairs], "; ") + fmt.Sprintf("; and %d more pairs", len(pairs)-fewPairs)
	case len(right) == len(pairs):
		return "right and " + list(right, "or")
	}
	return fmt.Sprintf("right and %s; and %s of misreadings", list(right, "or"), plural(len(pairs)-len(right), "pair", "pairs"))
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
