package exercise

import (
	"slices"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/trace"
)

// Fade is an exercise with so much of it given. In step 1 all is given but one
// edge; in step 2 a row is blank, in step 3 half the asked rows, in step 4 all of
// them, and in step 5 the coils too, so that only what hands do is given. Where the
// exercise gives no coils, step 4 leaves one of the asked rows. With fewer than four
// rows to leave blank, steps may be alike.
type Fade struct {
	Step int // from 1
	// Given are the rows that are drawn, Blank those that are not.
	Given, Blank []string
	// Told are edges of blank rows that are given in words.
	Told []string
	// Edges is how many edges of the rows but for the hands' are left to find.
	Edges int
	// NoStart says that blank rows don't show how they begin either.
	NoStart bool

	rows    []string
	square  time.Duration
	compact bool
}

// ChartOptions returns what chart.Draw needs for the sheet of this step; compact
// for the same reason as Exercise.ChartOptions.
func (f *Fade) ChartOptions() chart.Options {
	return chart.Options{Rows: f.rows, Blank: f.Blank, Square: f.square, Uncut: true, NoStart: f.NoStart, Compact: f.compact}
}

// Faded returns the five steps, from nearly all given to nothing given.
func (e *Exercise) Faded() [5]Fade {
	t := e.Trace()
	most := 0 // the asked row with most edges
	for i, name := range e.Asked {
		if edgesOf(t, name) > edgesOf(t, e.Asked[most]) {
			most = i
		}
	}
	order := []string{e.Asked[most]} // as they become blank
	for i, name := range e.Asked {
		if i != most {
			order = append(order, name)
		}
	}
	n := len(order)
	four := n
	for _, name := range e.Given {
		if s, known := e.Circuit.FindSignal(name); known && s.Contact == circuit.NoContact {
			order = append(order, name)
		}
	}
	if len(order) == n {
		four = max(1, n-1)
	}
	blanks := [5][]string{order[:1], order[:1], order[:(n+1)/2], order[:four], order}
	var steps [5]Fade
	for i := range steps {
		f := Fade{Step: i + 1, rows: e.Rows(), square: e.Square, NoStart: i == 4}
		for _, name := range f.rows {
			if slices.Contains(blanks[i], name) {
				f.Blank = append(f.Blank, name)
				f.Edges += edgesOf(t, name)
			} else {
				f.Given = append(f.Given, name)
			}
		}
		f.compact = e.drawsTimer(f.Given)
		steps[i] = f
	}
	steps[0].Told = edgeWords(t, order[0])
	if n := len(steps[0].Told); n > 0 {
		steps[0].Told = steps[0].Told[:n-1]
		steps[0].Edges = 1
	}
	return steps
}

func edgesOf(t *trace.Trace, name string) int {
	s, _ := t.Circuit.FindSignal(name)
	return len(lineOf(t.Edges(s), t.End).at)
}

// edgeWords says each edge of a row.
func edgeWords(t *trace.Trace, name string) []string {
	s, _ := t.Circuit.FindSignal(name)
	l := lineOf(t.Edges(s), t.End)
	words := [2]string{" goes off at ", " comes on at "}
	if s.Contact != circuit.NoContact {
		words = [2]string{" opens at ", " closes at "}
	}
	var out []string
	on := l.start
	for _, at := range l.at {
		on = !on
		does := words[0]
		if on {
			does = words[1]
		}
		out = append(out, name+does+circuit.FormatTime(at)+".")
	}
	return out
}
