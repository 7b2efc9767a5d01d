package engine_test

import (
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/trace"
)

// What a run costs, as far as it can be counted and need not be timed.

// In the steady state nothing is allocated, with causes as without.
func TestNoAllocationsInTheSteadyState(t *testing.T) {
	for _, f := range families {
		for _, causes := range []bool{false, true} {
			c, acts := f.make(60)
			m := engine.New(c, engine.Options{NoCauses: !causes, Limit: 1 << 30})
			const warm, runs, each = 20_000, 10, 2_000
			m.Start()
			m.Trace().Reserve(40*each*runs + 2*warm)
			at := 0
			step := func(n int) {
				for end := m.Trace().Len() + n; m.Trace().Len() < end; at++ {
					if len(acts) > 0 {
						m.Act(acts[at].At, acts[at])
						continue
					}
					next, _ := m.NextDue()
					m.Advance(next)
				}
			}
			step(warm)
			if n := testing.AllocsPerRun(runs, func() { step(each) }); n > 0 {
				t.Errorf("%s (causes: %t): %v allocations in %d events", f.name, causes, n, each)
			}
		}
	}
}

// An event with its causes takes at most 48 bytes.
func TestBytesPerEvent(t *testing.T) {
	for _, f := range families {
		c, acts := f.make(100)
		m := engine.New(c, engine.Options{})
		play(m, acts, 50_000)
		if r := m.Trace(); r.Bytes() > 48*r.Len() {
			t.Errorf("%s: %d events take %d bytes", f.name, r.Len(), r.Bytes())
		}
	}
}

// blinker is a flasher with a lamp, on for a second and off for one.
func blinker(lamp bool) *circuit.Circuit {
	d := newDraft()
	kt := d.device(circuit.Device{Kind: circuit.Timer, Function: circuit.Flasher, Presets: [2]time.Duration{time.Second, time.Second}})
	d.rung(nil, kt)
	if lamp {
		d.rung(circuit.Path{contact(kt, circuit.TNO)}, d.device(circuit.Device{Kind: circuit.Lamp}))
	}
	return &d.Circuit
}

func TestRunStopsAtAMillionEvents(t *testing.T) {
	r := engine.Run(blinker(true), &circuit.Script{End: 2000 * time.Hour}, engine.Options{NoCauses: true})
	if r.Ending != trace.TooMany || r.Len() < engine.DefaultLimit || r.Len() > engine.DefaultLimit+10 {
		t.Fatalf("the run ends %v after %d events", r.Ending, r.Len())
	}
	last := r.Event(trace.ID(r.Len() - 1))
	if last.Part != trace.NoticePart || r.Notices[last.Value].Kind != trace.Limit || r.End != last.At {
		t.Errorf("the last event is %+v, the end %v", last, r.End)
	}
}

func TestLimitHoldsWithoutContacts(t *testing.T) {
	r := engine.Run(blinker(false), &circuit.Script{End: time.Hour}, engine.Options{Limit: 100})
	if r.Ending != trace.TooMany || r.Len() > 110 {
		t.Errorf("with a limit of 100 the run ends %v after %d events", r.Ending, r.Len())
	}
}

func TestLimitIsTheCallers(t *testing.T) {
	for _, limit := range []int{1, 2, 3, 50} {
		r := engine.Run(blinker(true), &circuit.Script{End: time.Hour}, engine.Options{Limit: limit})
		if r.Ending != trace.TooMany || r.Len() > limit+4 {
			t.Errorf("with a limit of %d the run ends %v after %d events", limit, r.Ending, r.Len())
		}
	}
}

// The same without causes: the same events, nothing to explain.
func TestNoCausesLeavesOnlyTheCausesOut(t *testing.T) {
	c, acts := starters(12)
	s := &circuit.Script{Actions: acts, End: 10 * time.Minute}
	with, without := engine.Run(c, s, engine.Options{}), engine.Run(c, s, engine.Options{NoCauses: true})
	if with.Len() != without.Len() || with.Len() < 200 {
		t.Fatalf("%d events with causes, %d without", with.Len(), without.Len())
	}
	for id := range with.Len() {
		a, b := with.Event(trace.ID(id)), without.Event(trace.ID(id))
		if len(b.Because) > 0 {
			t.Fatalf("event %d has causes all the same", id)
		}
		if a.Because = nil; a.At != b.At || a.Step != b.Step || a.Device != b.Device || a.Part != b.Part || a.Value != b.Value {
			t.Fatalf("event %d is %+v with causes and %+v without", id, a, b)
		}
	}
}
