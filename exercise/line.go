package exercise

import (
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// line is what is drawn for a signal: what it starts with, and when it changes.
// Pulses of no width are no part of it.
type line struct {
	start bool
	at    []time.Duration
}

// lineOf reads a line from edges as trace.Edges returns them. What happens at the
// end or after it doesn't show.
func lineOf(edges []trace.Edge, end time.Duration) line {
	var l line
	now := false
	for i, e := range edges {
		switch {
		case i+1 < len(edges) && edges[i+1].At == e.At || e.At >= end && e.At > 0:
		case e.At == 0:
			l.start, now = e.On, e.On
		case e.On != now:
			l.at, now = append(l.at, e.At), e.On
		}
	}
	return l
}

// key writes a line so that equal lines have equal keys.
func (l line) key() string {
	b := make([]byte, 0, 1+8*len(l.at))
	b = append(b, '-')
	if l.start {
		b[0] = '+'
	}
	for _, at := range l.at {
		for s := 56; s >= 0; s -= 8 {
			b = append(b, byte(at>>s))
		}
	}
	return string(b)
}

// edges returns the line as trace.Edges would.
func (l line) edges() []trace.Edge {
	on := l.start
	list := []trace.Edge{{On: on, Event: trace.None}}
	for _, at := range l.at {
		on = !on
		list = append(list, trace.Edge{At: at, On: on, Event: trace.None})
	}
	return list
}

// differ returns the longest stretch for which two lines differ.
func differ(a, b line, end time.Duration) time.Duration {
	var longest, since time.Duration
	i, j, apart := 0, 0, a.start != b.start
	for i < len(a.at) || j < len(b.at) {
		var at time.Duration
		switch {
		case j == len(b.at) || i < len(a.at) && a.at[i] < b.at[j]:
			at = a.at[i]
			i++
		case i == len(a.at) || b.at[j] < a.at[i]:
			at = b.at[j]
			j++
		default: // both change: they differ as before, the other way round
			i++
			j++
			continue
		}
		if apart {
			longest = max(longest, at-since)
		}
		apart, since = !apart, at
	}
	if apart {
		longest = max(longest, end-since)
	}
	return longest
}

// words says when a signal is on or closed.
func (l line) words(name string, s circuit.Signal, end time.Duration) string {
	state := [2]string{"off", "on"}
	if s.Contact != circuit.NoContact {
		state = [2]string{"open", "closed"}
	}
	if len(l.at) == 0 {
		if l.start {
			return name + " is " + state[1] + " all the time."
		}
		return name + " is " + state[0] + " all the time."
	}
	var spans []string
	from, on := time.Duration(0), l.start
	for _, at := range append(append([]time.Duration{}, l.at...), end) {
		if on {
			to := circuit.FormatTime(at)
			if at == end {
				to = "the end"
			}
			spans = append(spans, circuit.FormatTime(from)+" to "+to)
		}
		from, on = at, !on
	}
	return name + " is " + state[1] + " from " + list(spans, "and from") + "."
}

// list joins words: a, b and c.
func list(words []string, and string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " " + and + " " + words[n-1]
}
