package engine

import (
	"slices"

	"tarry/circuit"
	"tarry/trace"
)

const (
	raceDevices = 6    // orders are played up to this many
	raceLooks   = 1000 // and this often in a run
)

// wish is what a device that is about to change needs of the island that its
// coil stands in.
type wish struct {
	stamp  uint32
	on     bool // somebody there needs the coil to be (or stay) energised
	off    bool
	device circuit.DeviceID // whose wish it is, NoDevice for several
}

// wishFor notes that device d needs its coil, load l, to be on or off.
func (m *Machine) wishFor(l *loadPlan, on bool) {
	for _, net := range [2]circuit.NetID{l.a, l.b} {
		island := m.plan.islandOf[net]
		if island < 0 {
			continue
		}
		w := &m.wishes[island]
		if w.stamp != m.wishStamp {
			*w = wish{stamp: m.wishStamp, device: l.device}
		}
		if w.device != l.device {
			w.device = circuit.NoDevice
		}
		w.on = w.on || on
		w.off = w.off || !on
	}
}

// thwarts reports whether the contacts of a moving part, changing over, could
// go against another device's wish.
func (m *Machine) thwarts(d circuit.DeviceID, contacts span, up bool) bool {
	for i := contacts.from; i < contacts.to; i++ {
		r := &m.plan.refs[i]
		w := &m.wishes[r.island]
		if w.stamp != m.wishStamp || w.device == d {
			continue
		}
		if closes := r.closesUp() == up; closes && w.off || !closes && w.on {
			return true
		}
	}
	return false
}

// lookForRace looks at the loads that changed in this small step before their
// devices react.
func (m *Machine) lookForRace() {
	if m.quiet || m.one {
		return
	}
	m.allWishes()
	for i := range m.reacting {
		if m.reactionThwarts(&m.reacting[i]) {
			m.exploreReactions()
			return
		}
	}
}

// reactionThwarts reports whether the device's answer could go against another
// device's wish.
func (m *Machine) reactionThwarts(r *reaction) bool {
	l := &m.plan.loads[r.load]
	p := &m.plan.devices[l.device]
	for g, way := range m.answer(l.device, p, l.part, r.on) {
		if way != 0 && m.thwarts(l.device, p.groups[g], way > 0) {
			return true
		}
	}
	return false
}

// answer tells which moving parts of a device may move at once when a coil of
// it changes, and which way: 1 up, -1 down, 0 not.
func (m *Machine) answer(d circuit.DeviceID, p *devicePlan, part trace.Part, on bool) (ways [3]int8) {
	way := int8(-1)
	if on {
		way = 1
	}
	switch p.kind {
	case circuit.Relay, circuit.Contactor:
		if !p.travels {
			ways[circuit.Instant] = way
		}
	case circuit.LatchingRelay:
		if on && part == trace.ResetCoil {
			ways[circuit.Instant] = -1
		} else if on {
			ways[circuit.Instant] = 1
		}
	case circuit.SteppingRelay, circuit.Counter:
		if on {
			ways[circuit.Instant] = 1
			if m.has(d, bitOperated) {
				ways[circuit.Instant] = -1
			}
		}
	case circuit.Timer:
		if part == trace.Coil {
			ways[circuit.Instant] = way
		}
		if up := m.has(d, bitTimed); up {
			ways[circuit.Timed] = -1
		} else if p.function != circuit.OnDelay && p.function != circuit.Accumulating {
			ways[circuit.Timed] = 1
		}
		if m.has(d, bitSecond) {
			ways[circuit.Second] = -1
		}
	}
	return ways
}

// exploreReactions plays the orders of the loads whose devices are at odds.
func (m *Machine) exploreReactions() {
	loads := m.atOdds()
	if len(loads) < 2 {
		return
	}
	devices := make([]circuit.DeviceID, len(loads))
	for i, l := range loads {
		devices[i] = m.plan.loads[l].device
	}
	m.explore(devices, func(t *Machine, order []int) {
		for _, r := range m.reacting {
			l := &m.plan.loads[r.load]
			t.put(l.device, 1<<l.part, !r.on)
		}
		t.clean()
		for _, i := range order {
			t.reactAlone(loads[i])
		}
		if !t.Ended() {
			t.allLoads = true
			t.settle()
		}
	})
}

// atOdds lists the loads of this step that thwart a wish or have theirs
// thwarted.
func (m *Machine) atOdds() []int32 {
	var loads []int32
	for i := range m.reacting {
		r := &m.reacting[i]
		thwarted := false
		p := &m.plan.devices[m.plan.loads[r.load].device]
		for j := range m.reacting {
			if j != i && (p.moves || p.watched) && m.oneThwarts(&m.reacting[j], r) {
				thwarted = true
			}
		}
		m.allWishes()
		if thwarted || m.reactionThwarts(r) {
			loads = append(loads, r.load)
		}
	}
	return loads
}

// oneThwarts reports whether reaction a could go against the wish of b alone.
func (m *Machine) oneThwarts(a, b *reaction) bool {
	m.wishStamp++
	m.wishFor(&m.plan.loads[b.load], b.on)
	return m.reactionThwarts(a)
}

// allWishes notes the wish of each device that reacts and has contacts to
// move; a lamp cannot race.
func (m *Machine) allWishes() {
	m.wishStamp++
	for i := range m.reacting {
		r := &m.reacting[i]
		l := &m.plan.loads[r.load]
		if p := &m.plan.devices[l.device]; p.moves || p.watched {
			m.wishFor(l, r.on)
		}
	}
}

// clean forgets what the small step that is being tried had found dirty: it
// is worked out already.
func (m *Machine) clean() {
	for _, id := range m.dirty {
		m.islands[id].dirty = false
		m.islands[id].head = -1
	}
	m.dirty, m.candidates, m.movers = m.dirty[:0], m.candidates[:0], m.movers[:0]
	m.allLoads, m.supplyBy = false, trace.None
}

// reactAlone brings the islands up to date and lets one load, if it still has
// reason to change, be the only one to react.
func (m *Machine) reactAlone(load int32) {
	if m.Ended() {
		return
	}
	m.step++
	for _, id := range m.dirty {
		m.evaluate(id)
	}
	m.clean()
	if m.live && m.shorts > 0 {
		m.endShort()
		return
	}
	m.reacting = m.reacting[:0]
	m.checkLoad(load)
	for i := range m.reacting {
		id := trace.ID(m.trace.Len())
		m.emitLoad(&m.reacting[i])
		l := &m.plan.loads[load]
		m.react(l.device, l.part, m.reacting[i].on, id)
	}
	m.reacting = m.reacting[:0]
}

// explore plays all orders of the devices and leaves a race notice if one ends
// otherwise than all at once. play must bring a trial to the end of the
// instant, letting the devices go in the order given, or together for none.
func (m *Machine) explore(devices []circuit.DeviceID, play func(t *Machine, order []int)) {
	if m.races++; m.races > raceLooks || len(devices) > raceDevices {
		if m.races <= raceLooks+1 {
			m.noteOnce(trace.Notice{Kind: trace.RaceSkip, Devices: distinct(devices)})
		}
		return
	}
	play(m.try(), nil)
	m.trial.keep()
	order := make([]int, len(devices))
	for i := range order {
		order[i] = i
	}
	for more := true; more; more = nextOrder(order) {
		play(m.try(), order)
		if out := m.trial.differences(devices); len(out[0]) > 0 {
			m.noteOnce(trace.Notice{Kind: trace.Race, Devices: distinct(devices), Outcomes: out})
			return
		}
	}
}

// noteOnce leaves a notice unless the same one stands at this instant already: a
// circuit that goes round and round races in every round.
func (m *Machine) noteOnce(n trace.Notice) {
	same := func(o trace.Notice) bool {
		return o.Kind == n.Kind && slices.Equal(o.Devices, n.Devices) &&
			slices.Equal(o.Outcomes[0], n.Outcomes[0]) && slices.Equal(o.Outcomes[1], n.Outcomes[1])
	}
	if !slices.ContainsFunc(m.notedNow, same) {
		m.note(n)
		m.notedNow = append(m.notedNow, n)
	}
}

func distinct(devices []circuit.DeviceID) []circuit.DeviceID {
	list := slices.Clone(devices)
	slices.Sort(list)
	return slices.Compact(list)
}

// nextOrder steps to the next order in lexical sequence, and reports false
// after the last.
func nextOrder(order []int) bool {
	i := len(order) - 2
	for i >= 0 && order[i] > order[i+1] {
		i--
	}
	if i < 0 {
		return false
	}
	j := len(order) - 1
	for order[j] < order[i] {
		j--
	}
	order[i], order[j] = order[j], order[i]
	slices.Reverse(order[i+1:])
	return true
}

// lookForRaceOfClocks looks at the clocks that are due together, before they
// fire.
func (m *Machine) lookForRaceOfClocks() {
	if m.quiet || m.one {
		return
	}
	m.wishStamp++
	for _, clock := range m.fired {
		if l := m.coilThatKeeps(clock); l >= 0 {
			m.wishFor(&m.plan.loads[l], m.has(m.plan.loads[l].device, 1<<trace.Coil))
		}
	}
	struck := false
	for _, clock := range m.fired {
		d := m.plan.deviceOf(clock)
		p := &m.plan.devices[d]
		for _, g := range p.groups {
			struck = struck || m.thwarts(d, g, true) || m.thwarts(d, g, false)
		}
	}
	if struck {
		m.exploreClocks(slices.Clone(m.fired))
	}
}

// coilThatKeeps returns the coil load whose change would call the clock off,
// or -1.
func (m *Machine) coilThatKeeps(clock int32) int32 {
	if int(clock) >= len(m.devices) {
		return -1
	}
	switch m.plan.devices[clock].function {
	case circuit.Pulse, circuit.PulseOnRelease, circuit.MinimumOn, circuit.Watchdog:
		return -1
	}
	return m.plan.coilOf[clock]
}

func (m *Machine) exploreClocks(fired []int32) {
	devices := make([]circuit.DeviceID, len(fired))
	for i, clock := range fired {
		devices[i] = m.plan.deviceOf(clock)
	}
	m.explore(devices, func(t *Machine, order []int) {
		if t.fired = t.fired[:0]; order == nil {
			t.fired = append(t.fired, fired...)
			for _, clock := range fired {
				t.fire(clock)
			}
			t.settle()
			return
		}
		for _, clock := range fired {
			t.clocks.start(clock, t.now)
		}
		for _, i := range order {
			if t.clocks.dueAt(fired[i]) == t.now && !t.Ended() {
				t.clocks.stop(fired[i])
				t.step++
				t.fire(fired[i])
				t.settle()
			}
		}
	})
}
