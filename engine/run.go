package engine

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// afterLast is how long a run without an end goes on after the last action
// while something is still due, and quiet how long it shows the rest.
const (
	afterLast = 60 * time.Second
	quietTail = 2 * time.Second
)

// Run plays a script from the rest state and returns what happened. A script
// without an end runs until nothing more is due, but no longer than a minute
// (or twice the longest preset) after its last action, and two seconds more.
func Run(c *circuit.Circuit, s *circuit.Script, opt Options) *trace.Trace {
	m := New(c, opt)
	m.Play(s)
	return m.trace
}

// Play runs a script from the rest state on this machine, from the start of a
// new trace.
func (m *Machine) Play(s *circuit.Script) {
	m.trace.Script = s.Name
	m.Start()
	line := s.Timeline()
	for i := 0; i < len(line) && !m.Ended(); {
		n := i + 1
		for n < len(line) && line[n].At == line[i].At {
			n++
		}
		if s.End > 0 && line[i].At > s.End {
			break
		}
		m.Act(line[i].At, line[i:n]...)
		i = n
	}
	end := s.End
	if end == 0 && !m.Ended() {
		end = m.findEnd()
	}
	m.finish(end)
}

// finish lets time pass to the end.
func (m *Machine) finish(end time.Duration) {
	m.Advance(end)
	if !m.Ended() {
		m.trace.Ending, m.trace.End = trace.Finished, end
	}
}

// findEnd runs on to where a script without an end may stop.
func (m *Machine) findEnd() time.Duration {
	longest := afterLast
	for i := range m.devices {
		for _, p := range m.devices[i].preset {
			longest = max(longest, 2*p)
		}
	}
	latest := m.now + longest
	for !m.Ended() {
		next, any := m.clocks.next()
		if !any || next > latest {
			break
		}
		m.fireDue(next)
	}
	return (m.now + quietTail).Truncate(time.Second)
}
