package engine_test

import (
	"flag"
	"fmt"
	"slices"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/trace"
)

// What the properties share: random circuits and scripts that rapid can
// shrink, and traces in a form that can be compared.

// A failure prints the circuit, shrunk; rapid need not keep a file of its own.
func init() { flag.Set("rapid.nofailfile", "true") }

// source lets rapid choose the numbers that a random circuit is made from.
type source struct{ t *rapid.T }

func (s source) IntN(n int) int { return rapid.IntRange(0, n-1).Draw(s.t, "n") }

func randomCircuit(t *rapid.T) (*circuit.Circuit, *circuit.Script) { return oracle.Random(source{t}) }

// calm leaves out what turns adjusting screws.
func calm(s *circuit.Script) *circuit.Script {
	out := *s
	out.Actions = slices.DeleteFunc(slices.Clone(s.Actions), func(a circuit.Action) bool { return a.Verb == circuit.SetPreset })
	return &out
}

// edgesByName has every signal's edges, by the signal's name.
func edgesByName(r *trace.Trace) map[string]string {
	out := map[string]string{}
	for _, s := range r.Signals() {
		text := ""
		for _, e := range r.Edges(s) {
			text += fmt.Sprintf("%v/%d=%t ", e.At, e.Step, e.On)
		}
		out[r.Circuit.SignalName(s)] = text
	}
	return out
}

// sameEdges fails unless two runs have the same edges and end alike.
func sameEdges(t *rapid.T, c *circuit.Circuit, s *circuit.Script, want, got *trace.Trace) {
	t.Helper()
	w, g := edgesByName(want), edgesByName(got)
	for name := range w {
		if w[name] != g[name] {
			t.Fatalf("%s\n  is  %s\n  not %s\n%s", name, g[name], w[name], oracle.Describe(c, s))
		}
	}
	if len(w) != len(g) || want.Ending != got.Ending || want.End != got.End {
		t.Fatalf("%d signals, %v at %v, instead of %d signals, %v at %v\n%s",
			len(g), got.Ending, got.End, len(w), want.Ending, want.End, oracle.Describe(c, s))
	}
}

// instants groups a script's actions by instant, as Play does.
func instants(s *circuit.Script) [][]circuit.Action {
	var groups [][]circuit.Action
	for _, a := range s.Timeline() {
		if last := len(groups) - 1; last >= 0 && groups[last][0].At == a.At {
			groups[last] = append(groups[last], a)
			continue
		}
		groups = append(groups, []circuit.Action{a})
	}
	return groups
}

// perform plays the part of a script from one time on up to another, both
// included, on a machine that stands before it.
func perform(m *engine.Machine, s *circuit.Script, from, to time.Duration) {
	for _, acts := range instants(s) {
		if at := acts[0].At; at >= from && at <= to {
			m.Act(at, acts...)
		}
	}
	m.Advance(to)
}

// told writes a trace's events from one number on, times counted from base.
// The numbers of presets and notices are a trace's own, so they are left out, and
// so is whom a notice is about.
func told(r *trace.Trace, from int, base time.Duration) []string {
	var list []string
	for id := from; id < r.Len(); id++ {
		e := r.Event(trace.ID(id))
		if e.Part == trace.PresetPart || e.Part == trace.NoticePart {
			e.Value = 0
		}
		if e.Part == trace.NoticePart {
			e.Device = circuit.NoDevice
		}
		list = append(list, fmt.Sprintf("%v/%d %d %v %d %d", e.At-base, e.Step, e.Device, e.Part, e.Value, e.Timing))
	}
	return list
}

// sameStory fails at the first event that differs.
func sameStory(t *rapid.T, what string, want, got []string) {
	t.Helper()
	for i := range max(len(want), len(got)) {
		w, g := "nothing", "nothing"
		if i < len(want) {
			w = want[i]
		}
		if i < len(got) {
			g = got[i]
		}
		if w != g {
			t.Fatalf("%s: event %d is %s instead of %s", what, i, g, w)
		}
	}
}
