package engine

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Act does what hands do at an instant, which must not lie before Now.
// Everything due strictly before it happens first; what is due at that very
// instant happens after it, at the next Advance, unless the actions called it
// off. The actions count as simultaneous, but for a second action on a device:
// that one waits until the first has settled.
func (m *Machine) Act(at time.Duration, actions ...circuit.Action) {
	m.before(at)
	if m.Ended() {
		return
	}
	m.moveTo(at)
	if !m.quiet && !m.one && m.tieAhead(at, actions) {
		m.lookAtTie(at, actions)
	}
	m.do(actions)
}

// do carries out actions batch by batch.
func (m *Machine) do(actions []circuit.Action) {
	for len(actions) > 0 && !m.Ended() {
		n := m.batch(actions)
		actions = actions[n:]
	}
}

// batch carries out as many actions as are simultaneous and settles; it
// returns how many.
func (m *Machine) batch(actions []circuit.Action) int {
	m.step++
	m.batches++
	n := 0
	for ; n < len(actions); n++ {
		a := actions[n]
		acted := &m.supplyActed
		if a.Device >= 0 {
			acted = &m.devices[a.Device].acted
		}
		if *acted == m.batches {
			break
		}
		*acted = m.batches
		if !m.perform(a) {
			m.note(trace.Notice{Kind: trace.NoEffect, Action: a, Devices: devicesOf(a)})
		}
	}
	m.settle()
	m.closeSelectors()
	return n
}

func devicesOf(a circuit.Action) []circuit.DeviceID {
	if a.Device < 0 {
		return nil
	}
	return []circuit.DeviceID{a.Device}
}

// closeSelectors lets the selectors that left a position in this batch arrive
// in the new one: break before make.
func (m *Machine) closeSelectors() {
	if len(m.between) == 0 || m.Ended() {
		return
	}
	m.step++
	for _, a := range m.between {
		m.arrive(a.Device, a.Position)
	}
	m.between = m.between[:0]
	m.settle()
}

// perform does one action and reports whether it changed anything.
func (m *Machine) perform(a circuit.Action) bool {
	switch a.Verb {
	case circuit.Close, circuit.Press, circuit.Trip:
		return m.byHand(a.Device, true)
	case circuit.Open, circuit.Release, circuit.Reset:
		return m.byHand(a.Device, false)
	case circuit.Turn:
		return m.turn(a)
	case circuit.SetPreset:
		return m.setPreset(a)
	case circuit.SupplyOff:
		return m.supply(false)
	case circuit.SupplyOn:
		return m.supply(true)
	}
	return false
}

func (m *Machine) byHand(d circuit.DeviceID, up bool) bool {
	if m.has(d, bitOperated) == up {
		return false
	}
	m.operate(d, &m.plan.devices[d], up, trace.None)
	return true
}

// turn takes a selector off its position; closeSelectors lets it arrive.
func (m *Machine) turn(a circuit.Action) bool {
	s := m.devices[a.Device].bits
	from := int(s >> numberShift)
	if from == a.Position {
		return false
	}
	id := m.emit(a.Device, trace.Contacts, -1, trace.None)
	m.move(m.plan.positions[a.Device][from], false, id)
	m.set(a.Device, s|0xffff<<numberShift)
	m.between = append(m.between, a)
	return true
}

func (m *Machine) arrive(d circuit.DeviceID, position int) {
	s := m.devices[d].bits & (1<<numberShift - 1)
	m.set(d, s|uint32(position)<<numberShift)
	id := m.emit(d, trace.Contacts, position, trace.None)
	m.move(m.plan.positions[d][position], true, id)
}

// setPreset turns the adjusting screw. A running clock keeps its elapsed time.
func (m *Machine) setPreset(a circuit.Action) bool {
	s := &m.devices[a.Device]
	changed := false
	for i, p := range a.Presets {
		if p != 0 && p != s.preset[i] {
			s.preset[i], changed = p, true
		}
	}
	if !changed {
		return false
	}
	id := m.emit(a.Device, trace.PresetPart, m.trace.AddPreset(s.preset), trace.None)
	if m.has(a.Device, bitRunning) {
		if m.plan.devices[a.Device].function == circuit.RestartsAtSet {
			m.since[a.Device].start = m.now
		}
		m.since[a.Device].also = id
		m.run(a.Device, b2i(m.has(a.Device, bitPhase)))
	}
	return true
}

// supply switches the rails. A timer that needs them returns to rest at once
// when they die.
func (m *Machine) supply(on bool) bool {
	if m.live == on {
		return false
	}
	m.live, m.allLoads = on, true
	m.supplyBy = m.trace.Add(m.now, int(m.step), circuit.NoDevice, trace.SupplyPart, b2i(on))
	if on {
		m.powerUp()
		return true
	}
	for i := range m.devices {
		p := &m.plan.devices[i]
		rests := !p.air
		if p.function == circuit.Accumulating {
			rests = m.plan.circuit.Devices[i].Forgetful
		}
		if p.kind == circuit.Timer && rests {
			m.failSupply(circuit.DeviceID(i))
		}
	}
	return true
}

// failSupply returns an electronic timer to rest.
func (m *Machine) failSupply(d circuit.DeviceID) {
	running := m.has(d, bitRunning) || m.since[d].sum > 0
	m.clocks.stop(int32(d))
	m.put(d, bitRunning|bitPhase, false)
	m.since[d].sum = 0
	before := m.trace.Len()
	m.output(d, trace.TimedOut, false, m.supplyBy)
	m.output(d, trace.SecondOut, false, m.supplyBy)
	if m.trace.Len() > before {
		m.trace.Mark(trace.ID(before), trace.Cleared)
	} else if running {
		m.trace.Mark(m.emit(d, trace.Clock, 0, m.supplyBy), trace.Cleared)
	}
}

// notedBoth leaves a notice that both coils of a latching relay are on, once an
// instant.
func (m *Machine) notedBoth(d circuit.DeviceID) {
	m.noteOnce(trace.Notice{Kind: trace.BothCoils, Devices: []circuit.DeviceID{d}})
}
