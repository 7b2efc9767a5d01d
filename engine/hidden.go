package engine

// What the hidden functions of package circuit do: the behaviours that learners
// take a timer to have. They are reached from the default branches of the tables
// of real functions, so they cost those nothing.

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// bitUsed says that a timer has worked once and won't again.
const bitUsed = 1 << 10

// slide is an edge of a coil on its way to the output.
type slide struct {
	at time.Duration
	by trace.ID
	on bool
}

// reactHidden answers an edge of a coil as a learner thinks.
func (m *Machine) reactHidden(d circuit.DeviceID, p *devicePlan, part trace.Part, on bool, by trace.ID) {
	running, up := m.has(d, bitRunning), m.has(d, bitTimed)
	switch p.function {
	case circuit.TimesOnRelease:
		if on {
			m.backToRest(d, by)
		} else {
			m.startClock(d, 0, by)
		}
	case circuit.Slides:
		m.slideIn(d, on, by)
	case circuit.Follows:
		m.output(d, trace.TimedOut, on, by)
	case circuit.KeepsTime:
		switch {
		case on:
			m.resume(d, by)
		case up:
			m.backToRest(d, by)
		default:
			m.hold(d, by)
		}
	case circuit.Triggered:
		switch {
		case on && !running && !up:
			m.startClock(d, 0, by)
		case !on && up:
			m.backToRest(d, by)
		}
	case circuit.Blips, circuit.RestartsAtSet:
		if on {
			m.startClock(d, 0, by)
		} else {
			m.backToRest(d, by)
		}
	case circuit.StaysOperated:
		switch {
		case up:
		case on:
			m.startClock(d, 0, by)
		default:
			m.stopClock(d, by, trace.Cleared)
		}
	case circuit.FromZero:
		m.reactFromZero(d, on, by)
	case circuit.OnceOnDelay:
		m.reactOnce(d, on, by)
	case circuit.ClearsAtOff:
		coil, reset := m.has(d, 1<<trace.Coil), m.has(d, 1<<trace.ResetCoil)
		switch {
		case reset || !coil:
			m.backToRest(d, by)
		case !running && !up:
			m.startClock(d, 0, by)
		}
	default:
		m.reactHiddenRelease(d, p, on, by)
	}
}

// reactHiddenRelease is reactHidden for what operates at once.
func (m *Machine) reactHiddenRelease(d circuit.DeviceID, p *devicePlan, on bool, by trace.ID) {
	running, up := m.has(d, bitRunning), m.has(d, bitTimed)
	switch p.function {
	case circuit.FirstRelease:
		switch {
		case on && !running:
			m.output(d, trace.TimedOut, true, by)
		case !on && up && !running:
			m.startClock(d, 0, by)
		}
	case circuit.AddsReleases:
		switch {
		case on && up:
			m.hold(d, by)
		case on:
			m.stopClock(d, by, trace.Cleared)
			m.output(d, trace.TimedOut, true, by)
		case up:
			m.resume(d, by)
		}
	case circuit.OnceOffDelay, circuit.FromPowerUp:
		switch {
		case m.has(d, bitUsed):
		case on:
			m.stopClock(d, by, trace.Cleared)
			m.output(d, trace.TimedOut, true, by)
		default:
			m.startClock(d, 0, by)
		}
	case circuit.Stretches:
		switch {
		case on && running:
			m.since[d].start += m.devices[d].preset[0]
			m.run(d, 0)
		case on:
			m.startClock(d, 0, by)
			m.output(d, trace.TimedOut, true, by)
		}
	}
}

// resume runs the clock on from where it was held.
func (m *Machine) resume(d circuit.DeviceID, by trace.ID) {
	c := &m.since[d]
	*c = clockState{start: m.now - c.sum, because: by, also: trace.None}
	m.run(d, 0)
	m.trace.Mark(by, trace.Resumed)
}

// hold stops the clock where it stands.
func (m *Machine) hold(d circuit.DeviceID, by trace.ID) {
	if !m.has(d, bitRunning) {
		return
	}
	c := &m.since[d]
	c.sum = m.now - c.start
	m.clocks.stop(int32(d))
	m.put(d, bitRunning, false)
	m.trace.Mark(by, trace.Held)
}

// reactFromZero takes the preset for a time of day: the clock runs from zero.
func (m *Machine) reactFromZero(d circuit.DeviceID, on bool, by trace.ID) {
	switch {
	case !on:
		m.backToRest(d, by)
	case m.now >= m.devices[d].preset[0]:
		m.output(d, trace.TimedOut, true, by)
	default:
		m.since[d] = clockState{because: by, also: trace.None}
		m.run(d, 0)
		m.trace.Mark(by, trace.Started)
	}
}

func (m *Machine) reactOnce(d circuit.DeviceID, on bool, by trace.ID) {
	switch {
	case m.has(d, bitUsed):
	case on:
		m.startClock(d, 0, by)
	default:
		m.put(d, bitUsed, m.has(d, bitTimed))
		m.backToRest(d, by)
	}
}

// slideIn sends an edge of the coil on its way.
func (m *Machine) slideIn(d circuit.DeviceID, on bool, by trace.ID) {
	if !m.has(d, bitRunning) { // the supply may have failed with edges on their way
		m.slides[d] = m.slides[d][:0]
	}
	m.slides[d] = append(m.slides[d], slide{m.now, by, on})
	if len(m.slides[d]) == 1 {
		m.slideNext(d)
		m.trace.Mark(by, trace.Started)
	}
}

// slideNext sets the clock for the edge that arrives next.
func (m *Machine) slideNext(d circuit.DeviceID) {
	first := m.slides[d][0]
	m.since[d] = clockState{start: first.at, because: first.by, also: trace.None}
	m.run(d, 0)
}

// slideOut takes the edge that has arrived and returns its direction.
func (m *Machine) slideOut(d circuit.DeviceID) bool {
	on := m.slides[d][0].on
	m.slides[d] = append(m.slides[d][:0], m.slides[d][1:]...)
	if len(m.slides[d]) > 0 {
		m.slideNext(d)
	}
	return on
}

// hiddenTimeOut says which way the timed output goes when the time of a hidden
// function is up, and which time runs next, -1 for none. Of the real functions
// it gets those whose output just returns.
func (m *Machine) hiddenTimeOut(d circuit.DeviceID, f circuit.Function, phase int) (up bool, next int) {
	switch f {
	case circuit.TimesOnRelease, circuit.KeepsTime, circuit.Triggered, circuit.StaysOperated,
		circuit.FromZero, circuit.OnceOnDelay, circuit.ClearsAtOff, circuit.RestartsAtSet:
		return true, -1
	case circuit.Slides:
		return m.slideOut(d), -1
	case circuit.Blips:
		if phase == 0 {
			return true, 1
		}
	case circuit.OnceOffDelay:
		m.put(d, bitUsed, true)
	}
	return false, -1
}

// powerUp starts what a learner thinks starts with the supply.
func (m *Machine) powerUp() {
	for _, d := range m.plan.powered {
		if !m.has(d, bitTimed) {
			m.startClock(d, 0, m.output(d, trace.TimedOut, true, m.supplyBy))
		}
	}
}

// copySlides makes the edges on their way those of o. What they came from is in
// the trace of o.
func (m *Machine) copySlides(o *Machine) {
	if len(m.slides) != len(o.slides) {
		m.slides = make([][]slide, len(o.slides))
	}
	for d := range o.slides {
		m.slides[d] = append(m.slides[d][:0], o.slides[d]...)
		for i := range m.slides[d] {
			m.slides[d][i].by = trace.None
		}
	}
}
