package exercise

import (
	"fmt"
	"slices"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/trace"
)

// Variants of a circuit are drawn on squares. Everything that is varied is a whole
// number of them: whole seconds where all of the original's times are, half-seconds
// otherwise, and longer round times where a chart of seconds would have too many.
// Settings and dabs of less than a second are left as they are. One rule keeps what
// cannot be drawn away: no two edges of asked rows may stand less than half a
// square apart unless they stand at the same instant. A script that has such edges
// is refused, and a variant that would have them is not taken.

// tiny is what counts as a dab or as a gap between two contactors: it keeps its
// length, since it is there to be short.
const tiny = time.Second

// mostSquares is how many squares a chart should have at most.
const mostSquares = 100

// roundSquares are the squares that there are, but for half a second.
var roundSquares = []time.Duration{time.Second, 2 * time.Second, 5 * time.Second, 10 * time.Second, 15 * time.Second, 30 * time.Second,
	time.Minute, 2 * time.Minute, 5 * time.Minute, 10 * time.Minute, 15 * time.Minute, 30 * time.Minute, time.Hour}

// squareOf chooses the square for variants of a circuit and a script that lasts
// until end: the shortest that all their times fall on and that a chart has not too
// many of, else the longest that they fall on, and half a second if they fall on
// none.
func squareOf(c *circuit.Circuit, s *circuit.Script, end time.Duration) time.Duration {
	chosen := time.Second / 2
	for _, square := range roundSquares {
		if slices.ContainsFunc(timesOf(c, s), func(d time.Duration) bool { return d%square != 0 }) {
			continue
		}
		chosen = square
		if end <= mostSquares*square {
			break
		}
	}
	return chosen
}

// timesOf lists the times that variants change: settings, instants and how long
// something is held.
func timesOf(c *circuit.Circuit, s *circuit.Script) []time.Duration {
	var list []time.Duration
	for _, d := range settingsOf(c, s) {
		if d >= tiny {
			list = append(list, d)
		}
	}
	for _, a := range s.Actions {
		list = append(list, a.At)
		if a.For >= tiny {
			list = append(list, a.For)
		}
	}
	return list
}

// settingsOf lists what the timers are set to, in the circuit and by the script,
// each once and the shortest first.
func settingsOf(c *circuit.Circuit, s *circuit.Script) []time.Duration {
	var list []time.Duration
	add := func(presets [2]time.Duration) {
		for _, p := range presets {
			if p > 0 {
				list = append(list, p)
			}
		}
	}
	for i := range c.Devices {
		add(c.Devices[i].Presets)
	}
	for _, a := range s.Actions {
		add(a.Presets)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// undrawable says which edges of the asked rows a learner could not draw apart on
// the chart; nothing if all is well.
func undrawable(t *trace.Trace, e *Exercise) (string, error) {
	var at []time.Duration
	for _, s := range e.signals() {
		at = append(at, lineOf(t.Edges(s), t.End).at...)
	}
	opt := e.ChartOptions()
	opt.Bare, opt.NoLegend, opt.Width = true, true, pictureWidth
	_, plan, err := chart.DrawWithPlan(t, opt)
	if err != nil {
		return "", err
	}
	slices.Sort(at)
	at = slices.Compact(at)
	for i := 1; i < len(at); i++ {
		if 2*(at[i]-at[i-1]) < plan.Square {
			return fmt.Sprintf("the edges at %s and %s are too near to each other to be drawn on squares of %s",
				circuit.FormatTime(at[i-1]), circuit.FormatTime(at[i]), circuit.FormatTime(plan.Square)), nil
		}
	}
	return "", nil
}
