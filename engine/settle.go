package engine

import (
	"slices"

	"tarry/circuit"
	"tarry/trace"
)

// Chatter. A state that recurs while the circuit settles will recur for ever,
// for nothing but the state decides what the next small step does. The watch costs
// nothing until a coil has changed four times in one settling, which an ordinary
// circuit hardly ever does; from then on one state is kept and the
// number of devices that differ from it is counted as they change. When none
// differs after a step, the state has come back. The kept state is replaced
// after 2, 4, 8 … steps (Brent's method), so that a loop is found however
// long the way into it is.

// flipsToWatch is how often a coil changes in one settling before the watch
// begins.
const flipsToWatch = 4

type loopWatch struct {
	on     bool
	wanted bool // a coil changed twice: begin after this step
	kept   []uint32
	differ int
	age    int32            // steps since the state was kept
	renew  int32            // replace it at this age
	from   int              // events there were when the state was kept
	feed   []int32          // path of the first coil that picked up since the watch began
	fed    circuit.DeviceID // and whose coil that is
}

// set changes a device's bits.
func (m *Machine) set(d circuit.DeviceID, bits uint32) {
	s := &m.devices[d]
	if m.loop.on && s.bits != bits {
		kept := m.loop.kept[d]
		if s.bits == kept {
			m.loop.differ++
		} else if bits == kept {
			m.loop.differ--
		}
	}
	s.bits = bits
}

// put sets or clears one bit of a device.
func (m *Machine) put(d circuit.DeviceID, bit uint32, on bool) {
	bits := m.devices[d].bits &^ bit
	if on {
		bits |= bit
	}
	m.set(d, bits)
}

func (m *Machine) has(d circuit.DeviceID, bit uint32) bool { return m.devices[d].bits&bit != 0 }

// settle takes small steps until nothing moves.
func (m *Machine) settle() {
	m.settlings++
	m.loop.on, m.loop.wanted, m.loop.feed = false, false, nil
	for len(m.dirty) > 0 || m.allLoads {
		if m.full() {
			return
		}
		m.step++
		m.smallStep()
		if m.Ended() {
			return
		}
		if m.loop.on || m.loop.wanted {
			m.watchLoop()
			if m.Ended() {
				return
			}
		}
	}
	m.movers = m.movers[:0]
}

// full ends the run when it has as many events as it may.
func (m *Machine) full() bool {
	if m.trace.Len() < m.limit {
		return false
	}
	m.endHere(trace.TooMany, trace.Notice{Kind: trace.Limit})
	return true
}

// smallStep works out the loads from the contacts and lets the devices react.
func (m *Machine) smallStep() {
	m.candidates = m.candidates[:0]
	for _, id := range m.dirty {
		m.evaluate(id)
	}
	if m.live && m.shorts > 0 {
		m.endShort()
		return
	}
	m.findReactions()
	if len(m.reacting) > 1 {
		m.lookForRace()
	}
	m.firstReaction = trace.ID(m.trace.Len())
	for i := range m.reacting {
		m.emitLoad(&m.reacting[i])
	}
	for _, id := range m.dirty {
		m.islands[id].dirty = false
		m.islands[id].head = -1
	}
	m.dirty = m.dirty[:0]
	m.movers = m.movers[:0]
	m.allLoads, m.supplyBy = false, trace.None
	for i := range m.reacting {
		r := m.reacting[i]
		l := &m.plan.loads[r.load]
		m.react(l.device, l.part, r.on, m.firstReaction+trace.ID(i))
	}
}

// findReactions lists the loads that changed and changes their bits.
func (m *Machine) findReactions() {
	m.reacting = m.reacting[:0]
	if m.allLoads {
		for i := range m.plan.loads {
			m.checkLoad(int32(i))
		}
		return
	}
	for _, l := range m.candidates {
		m.checkLoad(l)
	}
}

func (m *Machine) checkLoad(i int32) {
	l := &m.plan.loads[i]
	a, b := m.ties[l.a], m.ties[l.b]
	on := m.live && (a&toLeft != 0 && b&toRight != 0 || a&toRight != 0 && b&toLeft != 0)
	bit := uint32(1) << l.part
	if on == m.has(l.device, bit) {
		return
	}
	m.put(l.device, bit, on)
	m.reacting = append(m.reacting, reaction{i, on})
}

// emitLoad records the edge of a coil or load with its causes.
func (m *Machine) emitLoad(r *reaction) {
	l := &m.plan.loads[r.load]
	m.trace.Add(m.now, int(m.step), l.device, l.part, b2i(r.on))
	m.countFlip(&m.devices[l.device])
	if m.loop.on && r.on && m.loop.feed == nil && !m.quiet {
		m.loop.feed = m.conduction().Feed(m.plan.wiring.Loads[r.load]).Contacts
		m.loop.fed = l.device
	}
	if m.trace.NoCauses {
		return
	}
	if m.supplyBy != trace.None {
		if m.supplyBy != 0 {
			m.trace.Because(m.supplyBy)
		}
		return
	}
	m.addCauses(l, r.on)
}

// countFlip asks for the watch on loops when a coil changes often enough in
// one settling.
func (m *Machine) countFlip(s *deviceState) {
	if s.flipped != m.settlings {
		s.flipped, s.flips = m.settlings, 0
	}
	if s.flips++; s.flips >= flipsToWatch {
		m.loop.wanted = true
	}
}

func b2i(on bool) int {
	if on {
		return 1
	}
	return 0
}

// watchLoop looks for a state that recurs.
func (m *Machine) watchLoop() {
	w := &m.loop
	w.wanted = false
	if w.on && w.differ == 0 && len(m.reacting) > 0 {
		m.endChatter()
		return
	}
	if w.on {
		w.age++
		if w.age < w.renew {
			return
		}
		w.renew *= 2
	} else {
		w.renew = 2
	}
	w.on, w.age, w.differ, w.from = true, 0, 0, m.trace.Len()
	w.kept = w.kept[:0]
	for i := range m.devices {
		w.kept = append(w.kept, m.devices[i].bits)
	}
}

// endHere ends the run with a notice.
func (m *Machine) endHere(how trace.Ending, n trace.Notice) {
	m.trace.Ending, m.trace.End = how, m.now
	m.note(n)
}

// note records a notice at this moment.
func (m *Machine) note(n trace.Notice) {
	n.At, n.Step = m.now, int(m.step)
	m.trace.Notices = append(m.trace.Notices, n)
	d := circuit.NoDevice
	if len(n.Devices) > 0 {
		d = n.Devices[0]
	}
	m.trace.Add(m.now, int(m.step), d, trace.NoticePart, len(m.trace.Notices)-1)
}

// endShort ends the run because closed contacts join the rails, and names
// them.
func (m *Machine) endShort() {
	n := trace.Notice{Kind: trace.Short}
	if !m.quiet {
		n.Contacts, _ = m.conduction().Search(circuit.LeftRail, circuit.RightRail)
		for _, c := range n.Contacts {
			d := m.plan.wiring.Contacts[c].Device
			if !slices.Contains(n.Devices, d) {
				n.Devices = append(n.Devices, d)
			}
		}
	}
	m.endHere(trace.Shorted, n)
}

// endChatter ends the run because a state came back, and names the devices
// that went round and the path that feeds the first of them.
func (m *Machine) endChatter() {
	n := trace.Notice{Kind: trace.Chatter}
	if !m.quiet {
		if m.loop.feed != nil {
			n.Devices = append(n.Devices, m.loop.fed)
		}
		for id := m.loop.from; id < m.trace.Len(); id++ {
			e := m.trace.Event(trace.ID(id))
			if e.Part > trace.DeltaLoad || slices.Contains(n.Devices, e.Device) {
				continue
			}
			n.Devices = append(n.Devices, e.Device)
		}
		n.Contacts = m.loop.feed
	}
	m.endHere(trace.Chattering, n)
}

// conduction is the network of contacts as they stand now.
func (m *Machine) conduction() *trace.Conduction {
	closed := make([]bool, len(m.plan.contacts))
	for i := range closed {
		k := &m.plan.contacts[i]
		closed[i] = m.conduct[k.word]&k.bit != 0
	}
	return trace.NewConduction(m.plan.wiring, closed)
}
