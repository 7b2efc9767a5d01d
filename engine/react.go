package engine

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// emit records an edge with the one cause that a device's own parts have.
func (m *Machine) emit(d circuit.DeviceID, p trace.Part, value int, by trace.ID) trace.ID {
	id := m.trace.Add(m.now, int(m.step), d, p, value)
	m.trace.Because(by)
	return id
}

// move operates or returns one moving part: its contacts change over.
func (m *Machine) move(contacts span, up bool, by trace.ID) {
	for i := contacts.from; i < contacts.to; i++ {
		r := &m.plan.refs[i]
		m.conduct[r.word] ^= r.bit
		m.soil(r.island, r.contact())
		if m.trace.NoCauses {
			continue
		}
		is := &m.islands[r.island]
		m.movers = append(m.movers, mover{by, r.contact(), is.head, r.closesUp() == up})
		is.head = int32(len(m.movers) - 1)
	}
}

// react lets a device answer an edge of one of its coils or loads, event by.
func (m *Machine) react(d circuit.DeviceID, part trace.Part, on bool, by trace.ID) {
	p := &m.plan.devices[d]
	if part == trace.Coil && p.watched {
		m.watchPlants(d, on, by)
	}
	switch p.kind {
	case circuit.Timer:
		if part == trace.Coil {
			m.move(p.groups[circuit.Instant], on, by)
		}
		m.reactTimer(d, p, part, on, by)
	case circuit.Relay, circuit.Contactor:
		if p.travels {
			m.travel(d, p, on, by)
		} else {
			m.move(p.groups[circuit.Instant], on, by)
		}
	case circuit.LatchingRelay:
		m.reactLatch(d, p, by)
	case circuit.SteppingRelay:
		if on {
			m.operate(d, p, !m.has(d, bitOperated), by)
		}
	case circuit.Counter:
		m.reactCounter(d, p, part, on, by)
	}
}

// operate moves the instantaneous contacts of a device whose contacts have a
// will of their own.
func (m *Machine) operate(d circuit.DeviceID, p *devicePlan, up bool, by trace.ID) {
	if m.has(d, bitOperated) == up {
		return
	}
	m.put(d, bitOperated, up)
	id := m.emit(d, trace.Contacts, b2i(up), by)
	m.move(p.groups[circuit.Instant], up, id)
}

// output moves a timed output of a timer and returns its event, or by if it
// stands there already.
func (m *Machine) output(d circuit.DeviceID, part trace.Part, up bool, by trace.ID) trace.ID {
	bit := uint32(1) << part
	if m.has(d, bit) == up {
		return by
	}
	m.put(d, bit, up)
	id := m.emit(d, part, b2i(up), by)
	group := circuit.Timed
	if part == trace.SecondOut {
		group = circuit.Second
	}
	m.move(m.plan.devices[d].groups[group], up, id)
	return id
}

// startClock runs a timer's clock from zero towards the preset of a phase.
func (m *Machine) startClock(d circuit.DeviceID, phase int, by trace.ID) {
	m.since[d] = clockState{start: m.now, because: by, also: trace.None}
	m.run(d, phase)
	m.trace.Mark(by, trace.Started)
}

// run puts the clock into the queue; since is set.
func (m *Machine) run(d circuit.DeviceID, phase int) {
	bits := m.devices[d].bits&^bitPhase | bitRunning
	if phase == 1 {
		bits |= bitPhase
	}
	m.set(d, bits)
	at := m.since[d].start + m.devices[d].preset[phase]
	m.clocks.start(int32(d), max(at, m.now))
}

// stopClock takes a timer's clock out of the queue and sets it to zero.
func (m *Machine) stopClock(d circuit.DeviceID, by trace.ID, mark trace.Timing) {
	m.clocks.stop(int32(d))
	m.put(d, bitRunning|bitPhase, false)
	m.since[d].sum = 0
	m.trace.Mark(by, mark)
}

// reactTimer is the table of timer functions: what each does at an edge of its
// coil.
func (m *Machine) reactTimer(d circuit.DeviceID, p *devicePlan, part trace.Part, on bool, by trace.ID) {
	if !m.live && !p.air && p.function != circuit.Accumulating {
		return // it went to rest when the supply failed
	}
	running := m.has(d, bitRunning)
	switch p.function {
	case circuit.OnDelay:
		if on {
			m.startClock(d, 0, by)
		} else {
			m.backToRest(d, by)
		}
	case circuit.OffDelay:
		if on {
			m.stopClock(d, by, trace.Cleared)
			m.output(d, trace.TimedOut, true, by)
		} else {
			m.startClock(d, 0, by)
		}
	case circuit.OnOffDelay:
		switch {
		case on != m.has(d, bitTimed):
			m.startClock(d, b2i(!on), by)
		default:
			m.stopClock(d, by, trace.Cleared)
		}
	case circuit.Interval:
		if on {
			m.startClock(d, 0, by)
			m.output(d, trace.TimedOut, true, by)
		} else {
			m.backToRest(d, by)
		}
	case circuit.Pulse:
		if on && !running {
			m.startClock(d, 0, by)
			m.output(d, trace.TimedOut, true, by)
		}
	case circuit.PulseOnRelease:
		if !on {
			m.startClock(d, 0, by)
			m.output(d, trace.TimedOut, true, by)
		}
	case circuit.MinimumOn:
		switch {
		case on && !m.has(d, bitTimed):
			m.startClock(d, 0, by)
			m.output(d, trace.TimedOut, true, by)
		case !on && !running:
			m.backToRest(d, by)
		}
	case circuit.Flasher:
		if on {
			off := m.plan.circuit.Devices[d].StartingOff
			m.startClock(d, b2i(off), by)
			m.output(d, trace.TimedOut, !off, by)
		} else {
			m.backToRest(d, by)
		}
	case circuit.Accumulating:
		m.reactAccumulating(d, part, on, by)
	case circuit.Watchdog:
		if on {
			m.startClock(d, 0, by)
			m.output(d, trace.TimedOut, true, by)
		}
	case circuit.StarDelta:
		if on {
			m.startClock(d, 0, by)
			m.output(d, trace.TimedOut, true, by)
		} else {
			m.backToRest(d, by)
		}
	default:
		m.reactHidden(d, p, part, on, by)
	}
}

// backToRest stops a timer's clock and returns its outputs at once.
func (m *Machine) backToRest(d circuit.DeviceID, by trace.ID) {
	m.stopClock(d, by, trace.Cleared)
	m.output(d, trace.TimedOut, false, by)
	m.output(d, trace.SecondOut, false, by)
}

// reactAccumulating runs the sum while the coil is on; the reset coil clears
// it and has priority.
func (m *Machine) reactAccumulating(d circuit.DeviceID, part trace.Part, on bool, by trace.ID) {
	if !m.live && m.plan.circuit.Devices[d].Forgetful {
		return
	}
	coil, reset := m.has(d, 1<<trace.Coil), m.has(d, 1<<trace.ResetCoil)
	running, done := m.has(d, bitRunning), m.has(d, bitTimed)
	c := &m.since[d]
	switch {
	case reset:
		m.backToRest(d, by)
	case coil && !running && !done:
		mark := trace.Resumed
		if c.sum == 0 {
			mark = trace.Started
		}
		*c = clockState{start: m.now - c.sum, because: by, also: trace.None}
		m.run(d, 0)
		m.trace.Mark(by, mark)
	case !coil && running:
		c.sum = m.now - c.start
		m.clocks.stop(int32(d))
		m.put(d, bitRunning, false)
		m.trace.Mark(by, trace.Held)
	}
}

// fire lets what a clock was running for happen: a timer's time is up, a
// contact arrives, the plant answers.
func (m *Machine) fire(clock int32) {
	c := &m.since[clock]
	if int(clock) >= len(m.devices) {
		rule := &m.plan.plants[int(clock)-len(m.devices)]
		if !m.overruled(rule) {
			m.operate(rule.Sensor, &m.plan.devices[rule.Sensor], rule.Closes, c.because)
		}
		return
	}
	d := circuit.DeviceID(clock)
	p := &m.plan.devices[d]
	phase := b2i(m.has(d, bitPhase))
	m.put(d, bitRunning|bitPhase, false)
	if p.kind != circuit.Timer {
		m.operate(d, p, m.has(d, 1<<trace.Coil), c.because)
		return
	}
	c.sum = m.now - c.start
	m.timeOut(d, p, phase, c)
}

// timeOut is the table of timer functions: what each does when its time is up.
func (m *Machine) timeOut(d circuit.DeviceID, p *devicePlan, phase int, c *clockState) {
	by, also := c.because, c.also
	coil := m.has(d, 1<<trace.Coil)
	part, up, next := trace.TimedOut, false, -1
	switch p.function {
	case circuit.OnDelay, circuit.Accumulating:
		up = true
	case circuit.OnOffDelay:
		up = phase == 0
	case circuit.Flasher:
		up, next = phase == 1, 1-phase
	case circuit.StarDelta:
		if phase == 0 {
			next = 1
		} else {
			part, up = trace.SecondOut, true
		}
	case circuit.MinimumOn:
		if coil { // its time has passed, but it stays until the coil is off
			id := m.emit(d, trace.Clock, 0, by)
			m.trace.Because(also)
			m.trace.Mark(id, trace.Held)
			return
		}
	default:
		if up, next = m.hiddenTimeOut(d, p.function, phase); up == m.has(d, bitTimed) {
			return
		}
	}
	id := trace.ID(m.trace.Len())
	m.output(d, part, up, by)
	m.trace.Because(also)
	if next >= 0 {
		m.startClock(d, next, id)
	} else {
		m.trace.Mark(id, trace.Held)
	}
}

// travel sends a relay's contacts on their way to where the coil wants them.
func (m *Machine) travel(d circuit.DeviceID, p *devicePlan, on bool, by trace.ID) {
	dev := &m.plan.circuit.Devices[d]
	time := travelTime(dev, on)
	m.clocks.stop(int32(d))
	m.put(d, bitRunning, false)
	switch {
	case m.has(d, bitOperated) == on:
	case time == 0:
		m.operate(d, p, on, by)
	default:
		m.since[d] = clockState{start: m.now, because: by, also: trace.None}
		m.put(d, bitRunning, true)
		m.clocks.start(int32(d), m.now+time)
	}
}

func travelTime(d *circuit.Device, on bool) time.Duration {
	if on {
		return d.Operate
	}
	return d.Release
}

// reactLatch moves a latching relay to where its coils want it; reset wins.
func (m *Machine) reactLatch(d circuit.DeviceID, p *devicePlan, by trace.ID) {
	set, reset := m.has(d, 1<<trace.SetCoil), m.has(d, 1<<trace.ResetCoil)
	if set && reset && m.plan.loads != nil && !m.quiet {
		m.notedBoth(d)
	}
	switch {
	case reset:
		m.operate(d, p, false, by)
	case set:
		m.operate(d, p, true, by)
	}
}

// reactCounter counts the pick-ups of the counting coil; the reset coil clears
// the count and has priority.
func (m *Machine) reactCounter(d circuit.DeviceID, p *devicePlan, part trace.Part, on bool, by trace.ID) {
	want := uint32(m.plan.circuit.Devices[d].Count)
	s := m.devices[d].bits
	count := s >> numberShift
	switch {
	case m.has(d, 1<<trace.ResetCoil):
		count = 0
	case part == trace.Coil && on && count < want:
		count++
	}
	m.set(d, s&(1<<numberShift-1)|count<<numberShift)
	m.operate(d, p, count >= want, by)
}

// watchPlants starts or calls off the plant rules that a load's edge concerns.
func (m *Machine) watchPlants(d circuit.DeviceID, on bool, by trace.ID) {
	for _, i := range m.plan.watching[d] {
		clock := int32(len(m.devices)) + i
		rule := &m.plan.plants[i]
		if rule.OnStart != on {
			m.clocks.stop(clock)
			continue
		}
		m.since[clock] = clockState{start: m.now, because: by, also: trace.None}
		m.clocks.start(clock, m.now+rule.After)
	}
}

// overruled reports whether another rule that is due together with this one
// returns the same sensor: returning wins over operating, and a notice says so.
func (m *Machine) overruled(rule *circuit.Plant) bool {
	if !rule.Closes {
		return false
	}
	for _, clock := range m.fired {
		i := int(clock) - len(m.devices)
		if i < 0 || m.plan.plants[i].Sensor != rule.Sensor || m.plan.plants[i].Closes {
			continue
		}
		end := func(v int) []trace.Outcome {
			return []trace.Outcome{{Device: rule.Sensor, Part: trace.Contacts, Value: v}}
		}
		m.note(trace.Notice{Kind: trace.Race, Devices: []circuit.DeviceID{rule.Sensor}, Outcomes: [2][]trace.Outcome{end(0), end(1)}})
		return true
	}
	return false
}
