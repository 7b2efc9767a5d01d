package engine

import (
	"time"

	"tarry/trace"
)

// Fork returns an independent machine that goes on exactly like m, with a trace
// that begins at an instant, which must not lie after Now: see trace.Tail. What
// its clocks run because of stays on record, so that all that happens from now on
// can be explained.
func (m *Machine) Fork(from time.Duration) *Machine {
	f := m.Copy()
	f.races = m.races
	var named []trace.ID
	for _, d := range m.clocks.heap {
		named = append(named, m.since[d.clock].because, m.since[d.clock].also)
	}
	var place func(trace.ID) trace.ID
	f.trace, place = m.trace.Tail(from, named...)
	for _, d := range m.clocks.heap {
		was := &m.since[d.clock]
		f.since[d.clock].because, f.since[d.clock].also = place(was.because), place(was.also)
	}
	return f
}

// Allow lets the run have n more events than it has now, whatever its limit was.
func (m *Machine) Allow(n int) { m.limit = m.trace.Len() + n }
