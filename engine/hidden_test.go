package engine_test

import (
	"testing"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/engine"
	"tarry/trace"
)

// One order only: the same edges, and no notice that speaks of another order.
func TestOneOrderLeavesOnlyNoticesOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		all, one := engine.Run(c, s, engine.Options{}), engine.Run(c, s, engine.Options{OneOrder: true})
		sameEdges(t, c, s, all, one)
		other := 0
		for _, n := range all.Notices {
			other += b2i(n.Kind == trace.Tie || n.Kind == trace.Race && len(n.Devices) > 1 || n.Kind == trace.RaceSkip)
		}
		if len(all.Notices)-len(one.Notices) < other {
			t.Fatalf("%d notices with one order, %d of %d speak of another", len(one.Notices), other, len(all.Notices))
		}
	})
}

func b2i(is bool) int {
	if is {
		return 1
	}
	return 0
}

// hiddenFunctions are all of them.
func hiddenFunctions() []circuit.Function {
	var list []circuit.Function
	for f := circuit.TimesOnRelease; f <= circuit.Stretches; f++ {
		list = append(list, f)
	}
	return list
}

// No text can ask for a hidden function.
func TestHiddenFunctionsHaveNoWord(t *testing.T) {
	for _, f := range hiddenFunctions() {
		if !f.Hidden() || f.String() != "" || f.Info().Function != circuit.NoFunction || f.Fit(circuit.TNO) != circuit.NoContact {
			t.Errorf("function %d can be asked for", f)
		}
	}
	for _, f := range circuit.Functions() {
		if f.Function.Hidden() {
			t.Errorf("%s is hidden", f.Word)
		}
	}
}

// Machines with hidden functions are copied whole: a copy goes on like the
// original, edges on their way included.
func TestHiddenFunctionsAreCopied(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		for i := range c.Devices {
			if d := &c.Devices[i]; d.Kind == circuit.Timer {
				d.Storage, d.Function = d.Stored(), rapid.SampledFrom(hiddenFunctions()).Draw(t, "function")
			}
		}
		opt := engine.Options{Limit: 3000}
		whole := engine.Run(c, s, opt)
		half := s.End / 2
		m := engine.New(c, opt)
		m.Start()
		perform(m, s, 0, half)
		from := whole.Len()
		for id := 0; id < whole.Len() && from == whole.Len(); id++ {
			if whole.Event(trace.ID(id)).At > half {
				from = id
			}
		}
		if m.Ended() || m.Trace().Len() != from {
			return // it broke off, or something fell due at the very instant of a hand
		}
		m = m.Copy()
		perform(m, s, half+1, s.End)
		if whole.Ending != trace.TooMany {
			sameStory(t, "copy", told(whole, from, 0), told(m.Trace(), 0, 0))
		}
	})
}
