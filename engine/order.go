package engine

// Does the order matter? The rules put everything in an order: hands before
// time-outs, devices of one small step together. Where reality could choose
// another order and end differently, the trace must say so.
//
// A tie is a hand and a time-out at one instant. Both orders are played on
// copies of the machine and compared: how they end, and which edges they have
// on the way.
//
// A race is a set of devices that react in one small step of which one, moving
// first, would take the other's reason away. By the theory of speed-independent
// circuits only such a step can end differently: conduction is monotone, so a
// contact that closes cannot undo a pick-up and one that opens cannot undo a
// drop-out. The test for it looks only at the contacts of the devices that
// react and at their directions; ordinary circuits never get beyond it. Where
// it strikes, the orders of up to six devices are played one after the other.
// (Muller and Bartky's semi-modularity, from memory.)

import (
	"slices"

	"tarry/circuit"
	"tarry/trace"
	"time"
)

const (
	raceDevices = 6    // orders are played up to this many
	raceLooks   = 1000 // and this often in a run
)

// trial is a copy of the machine on which other orders are played.
type trial struct {
	machine *Machine
	state   []deviceState // how the order that the trace follows ends
	dues    clocks
	ending  trace.Ending
	edges   map[edgeKey]int
}

type edgeKey struct {
	device circuit.DeviceID
	part   trace.Part
	value  int
}

// try returns the scratch machine, put into the present state.
func (m *Machine) try() *Machine {
	if m.trial == nil {
		m.trial = &trial{machine: m.Copy()}
		m.trial.machine.quiet = true
		m.trial.machine.trace.NoCauses = true
	}
	t := m.trial.machine
	t.trace.Clear()
	t.CopyFrom(m)
	return t
}

// keep remembers how the trial ended, as the outcome to compare with.
func (x *trial) keep() {
	x.state = append(x.state[:0], x.machine.devices...)
	x.dues.copyFrom(&x.machine.clocks)
	x.ending = x.machine.trace.Ending
	x.edges = x.machine.edgeCounts()
}

func (m *Machine) edgeCounts() map[edgeKey]int {
	counts := map[edgeKey]int{}
	for i := 0; i < m.trace.Len(); i++ {
		e := m.trace.Event(trace.ID(i))
		if e.Part <= trace.SecondOut {
			counts[edgeKey{e.Device, e.Part, e.Value}]++
		}
	}
	return counts
}

// stateParts are the bits of a device that an outcome is told by.
var stateParts = []trace.Part{trace.Coil, trace.SetCoil, trace.ResetCoil, trace.StarLoad, trace.DeltaLoad,
	trace.Contacts, trace.TimedOut, trace.SecondOut}

// differences lists where the trial ended otherwise than what was kept. Where
// one of the two broke off, its state is of no interest: then it is told how it
// broke off, and how the devices concerned ended in the other.
func (x *trial) differences(concerned []circuit.DeviceID) (out [2][]trace.Outcome) {
	add := func(i int, p trace.Part, kept, other int) {
		d := circuit.DeviceID(i)
		out[0] = append(out[0], trace.Outcome{Device: d, Part: p, Value: kept})
		out[1] = append(out[1], trace.Outcome{Device: d, Part: p, Value: other})
	}
	if x.ending != x.machine.trace.Ending {
		out[0] = endOf(x.ending, x.state, concerned)
		out[1] = endOf(x.machine.trace.Ending, x.machine.devices, concerned)
		return out
	}
	for i := range x.state {
		a, b := x.state[i].bits, x.machine.devices[i].bits
		if (a^b)>>numberShift != 0 {
			add(i, trace.Contacts, int(a>>numberShift), int(b>>numberShift))
			a = a&^bitOperated | b&bitOperated // a count says it all
		}
		for _, p := range stateParts {
			if (a^b)>>p&1 != 0 {
				add(i, p, int(a>>p&1), int(b>>p&1))
			}
		}
		if x.dues.dueAt(int32(i)) != x.machine.clocks.dueAt(int32(i)) {
			add(i, trace.Clock, b2i(x.dues.running(int32(i))), b2i(x.machine.clocks.running(int32(i))))
		}
	}
	return out
}

// endOf tells how an order ended: the coils of the devices concerned, or how it
// broke off.
func endOf(how trace.Ending, state []deviceState, concerned []circuit.DeviceID) []trace.Outcome {
	if how != trace.Running {
		return []trace.Outcome{{Device: circuit.NoDevice, Value: int(how)}}
	}
	var list []trace.Outcome
	for _, d := range distinct(concerned) {
		list = append(list, trace.Outcome{Device: d, Part: trace.Coil, Value: int(state[d].bits & 1)})
	}
	return list
}

// dueAt returns when a clock is due, -1 for a stopped one.
func (c *clocks) dueAt(clock int32) time.Duration {
	if i := c.place[clock]; i >= 0 {
		return c.heap[i].at
	}
	return -1
}

// appendDue appends the clocks that are due at exactly at, in no special
// order.
func (c *clocks) appendDue(list []int32, at time.Duration) []int32 {
	stack := [64]int32{}
	n := 1
	for n > 0 {
		n--
		i := stack[n]
		if int(i) >= len(c.heap) || c.heap[i].at != at {
			continue
		}
		list = append(list, c.heap[i].clock)
		for k := 4*i + 1; k <= 4*i+4 && n < len(stack); k++ {
			stack[n] = k
			n++
		}
	}
	return list
}

// deviceOf returns the device whose state a clock will change.
func (p *plan) deviceOf(clock int32) circuit.DeviceID {
	if int(clock) < len(p.devices) {
		return circuit.DeviceID(clock)
	}
	return p.plants[int(clock)-len(p.devices)].Sensor
}

// tieAhead reports whether something is due at the instant of the actions that
// they could have to do with.
func (m *Machine) tieAhead(at time.Duration, actions []circuit.Action) bool {
	if next, any := m.clocks.next(); !any || next != at {
		return false
	}
	return len(m.tied(at, actions)) > 0
}

// tied returns the devices with a time-out at the instant that the actions
// could have to do with.
func (m *Machine) tied(at time.Duration, actions []circuit.Action) []circuit.DeviceID {
	m.fired = m.clocks.appendDue(m.fired[:0], at)
	var list []circuit.DeviceID
	for _, clock := range m.fired {
		d := m.plan.deviceOf(clock)
		near := func(a circuit.Action) bool {
			return a.Device < 0 || m.plan.devices[a.Device].component == m.plan.devices[d].component
		}
		if slices.ContainsFunc(actions, near) {
			list = append(list, d)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// lookAtTie plays both orders of the actions and the time-outs of this instant
// and leaves a notice unless they agree in every edge.
func (m *Machine) lookAtTie(at time.Duration, actions []circuit.Action) {
	t := m.try()
	t.do(actions)
	t.Advance(at)
	m.trial.keep()
	t = m.try()
	t.Advance(at)
	if !t.Ended() {
		t.do(actions)
		t.Advance(at)
	}
	n := trace.Notice{Kind: trace.Tie, Action: actions[0], Outcomes: m.trial.differences(m.tied(at, actions))}
	if len(n.Outcomes[0]) == 0 && sameCounts(m.trial.edges, t.edgeCounts()) {
		return
	}
	n.Devices = append(devicesOf(actions[0]), m.tied(at, actions)...)
	m.note(n)
}

func sameCounts(a, b map[edgeKey]int) bool {
	if len(a) != len(b) {
		return false
	}
	for k, n := range a {
		if b[k] != n {
			return false
		}
	}
	return true
}

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
	if m.quiet {
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
			m.note(trace.Notice{Kind: trace.RaceSkip, Devices: distinct(devices)})
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
			n := trace.Notice{Kind: trace.Race, Devices: distinct(devices), Outcomes: out}
			if !m.raced(n) {
				m.note(n)
				m.racesNow = append(m.racesNow, n)
			}
			return
		}
	}
}

// raced reports whether the same race was noted at this instant already: a
// circuit that goes round and round races in every round.
func (m *Machine) raced(n trace.Notice) bool {
	return slices.ContainsFunc(m.racesNow, func(o trace.Notice) bool {
		return slices.Equal(o.Devices, n.Devices) &&
			slices.Equal(o.Outcomes[0], n.Outcomes[0]) && slices.Equal(o.Outcomes[1], n.Outcomes[1])
	})
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
	if m.quiet {
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
