package engine_test

import (
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/trace"
)

// shorting is a circuit whose selector, between its two positions, lets K1
// drop out, which shorts the rails once S2 is closed.
func shorting() (*circuit.Circuit, *circuit.Script) {
	d := newDraft()
	s1 := d.device(circuit.Device{Kind: circuit.Selector, Positions: []string{"a", "b"}})
	s2 := d.device(circuit.Device{Kind: circuit.Switch})
	k1 := d.device(circuit.Device{Kind: circuit.Relay})
	d.rung(circuit.Path{contact(s1, circuit.AtPosition)}, k1)
	d.Rungs = append(d.Rungs, circuit.Rung{Number: 2, Path: circuit.Path{contact(k1, circuit.NC), contact(s2, circuit.NO)}, Tie: "L-"})
	return &d.Circuit, &circuit.Script{End: 5 * time.Second, Actions: []circuit.Action{
		{At: 1 * time.Second, Verb: circuit.Close, Device: s2},
		{At: 2 * time.Second, Verb: circuit.Turn, Device: s1, Position: 1},
	}}
}

// A run that breaks off while a selector is between two positions leaves
// nothing behind for the next one.
func TestStartAfterABrokenTurn(t *testing.T) {
	c, s := shorting()
	m := engine.New(c, engine.Options{})
	m.Play(s)
	first := told(m.Trace(), 0, 0)
	if m.Trace().Ending != trace.Shorted {
		t.Fatalf("the run ends %v", m.Trace().Ending)
	}
	m.Play(s)
	again := told(m.Trace(), 0, 0)
	for i := range first {
		if i >= len(again) || first[i] != again[i] {
			t.Fatalf("event %d the second time: %q instead of %q", i, again[min(i, len(again)-1)], first[i])
		}
	}
}

// A copy names the contacts of a short circuit as the original does.
func TestCopyNamesItsShortCircuit(t *testing.T) {
	c, s := shorting()
	m := engine.New(c, engine.Options{})
	m.Start()
	perform(m, s, 0, 1500*time.Millisecond)
	other := m.Copy()
	perform(m, s, 1500*time.Millisecond, s.End)
	perform(other, s, 1500*time.Millisecond, s.End)
	want, got := m.Trace().Notices, other.Trace().Notices
	if len(want) != 1 || len(got) != 1 || len(want[0].Contacts) != 2 || len(got[0].Contacts) != 2 {
		t.Errorf("the original's notices are %+v, the copy's %+v", want, got)
	}
}

// A copy names the loop of a circuit that chatters as the original does.
func TestCopyNamesItsLoop(t *testing.T) {
	d := newDraft()
	s1, s2 := d.device(circuit.Device{Kind: circuit.Switch}), d.device(circuit.Device{Kind: circuit.Switch})
	k1 := d.device(circuit.Device{Kind: circuit.Relay})
	d.rung(circuit.Path{contact(s2, circuit.NO), contact(s1, circuit.NO), contact(k1, circuit.NC)}, k1)
	m := engine.New(&d.Circuit, engine.Options{})
	m.Start()
	m.Act(time.Second, circuit.Action{Verb: circuit.Close, Device: s2})
	other := m.Copy()
	for _, x := range []*engine.Machine{m, other} {
		x.Act(2*time.Second, circuit.Action{Verb: circuit.Close, Device: s1})
		n := x.Trace().Notices
		if last := n[len(n)-1]; last.Kind != trace.Chatter || len(last.Contacts) != 3 {
			t.Errorf("the last notice is %+v", last)
		}
	}
}
