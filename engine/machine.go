// Package engine works out what a circuit does: from a circuit and a script to
// the trace of everything that happens, exactly, event by event.
//
// A Machine is stepped: Start settles it at time zero, Act does what hands do
// at an instant, Advance lets time pass. Run does all of this for a script.
package engine

// How an instant is worked out. What a hand does moves contacts; so does a
// time-out. Moved contacts make their islands dirty. A small step brings the
// dirty islands up to date, finds the loads that changed, lets their devices
// react, and moves the contacts of those devices all at once, which makes
// islands dirty for the next small step. The instant is over when no island is
// dirty. Hands come first and settle, then everything that is due moves
// together and settles.
//
// In the steady state nothing here allocates: every list is kept and emptied.
// What a step costs depends on what moves in it, not on the size of the
// circuit. The two looks that cost more (does another order end differently?
// does a state recur?) are only taken where a cheap test says that they might
// find something; see order.go, race.go and settle.go.

import (
	"slices"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Machine is a circuit being run. It is not safe for use by several goroutines
// at once; copies are independent of each other.
type Machine struct {
	plan  *plan
	trace *trace.Trace
	quiet bool // a trial of another order: it looks for no ties and races itself
	one   bool // Options.OneOrder
	limit int

	now       time.Duration
	step      int32
	settlings uint32 // how often the circuit has settled, for marks that hold within one settling

	devices []deviceState
	clocks  clocks
	since   []clockState
	conduct []uint32 // a bit per contact, set while it conducts
	islands []islandState
	moved   [][]int32 // of each large island, the contacts that moved
	ties    []uint8   // of each net, to which rails
	live    bool
	shorts  int // islands that join the rails

	// What the present small step has found so far.
	dirty    []int32
	reacting []reaction
	// firstReaction is the event of reacting[0]; the others follow it.
	firstReaction trace.ID
	candidates    []int32
	allLoads      bool
	supplyBy      trace.ID
	movers        []mover
	between       []circuit.Action // selectors that have left a position
	fired         []int32
	loop          loopWatch
	search        search
	slides        [][]slide // of each device, where a hidden function needs them
	trial         *trial
	races         int            // looks for races so far
	notedNow      []trace.Notice // races noted at this instant
	causes        []trace.ID
	wishes        []wish
	wishStamp     uint32
	batches       uint32 // batches of actions so far
	supplyActed   uint32
}

// deviceState is what a device remembers: the discrete state in bits, and the
// last events of it that others can be due to.
type deviceState struct {
	bits    uint32
	flipped uint32 // settling in which a coil of it last changed
	flips   uint32 // and how often in that settling
	acted   uint32 // batch of actions that last moved it
	preset  [2]time.Duration
}

// The bits of a device's state. The first five stand for the coils and loads,
// by trace.Part; the upper half holds a selector's position or a count.
const (
	bitOperated = 1 << trace.Contacts  // the instantaneous contacts, where they have a will of their own
	bitTimed    = 1 << trace.TimedOut  // the timed output
	bitSecond   = 1 << trace.SecondOut // the delta output
	bitRunning  = 1 << 8               // its clock runs
	bitPhase    = 1 << 9               // the clock runs towards the second preset
	numberShift = 16
)

// clockState is the running part of a clock: how much it had run when it was
// last started, when that was, and why.
type clockState struct {
	start   time.Duration // elapsed time now is now - start while it runs
	sum     time.Duration // and this while it is held
	because trace.ID
	also    trace.ID // a change of preset that made it due
}

type islandState struct {
	bits  uint64
	head  int32 // its latest mover in Machine.movers, -1 for none
	dirty bool
}

// mover is a contact that moved in this step, kept to tell causes.
type mover struct {
	by      trace.ID
	contact int32
	next    int32
	closes  bool
}

// reaction is a load that changed in this step.
type reaction struct {
	load int32
	on   bool
}

type search struct {
	seen  []uint32
	stamp uint32
	queue []circuit.NetID
}

// Options change how a run is recorded, never what happens. The zero value
// keeps everything and stops after a million events.
type Options struct {
	// Limit is how many events a run may have, 0 for a million.
	Limit int
	// NoCauses leaves the causes out: smaller and faster, but nothing can be
	// explained.
	NoCauses bool
	// OneOrder leaves out the looks whether another order would end differently:
	// faster, but there are no notices of ties and races.
	OneOrder bool
}

// DefaultLimit is how many events a run may have if nothing else is said.
const DefaultLimit = 1_000_000

// New returns a machine for c in its rest state, before time zero.
func New(c *circuit.Circuit, opt Options) *Machine {
	p := newPlan(c)
	m := &Machine{
		plan:    p,
		trace:   &trace.Trace{Circuit: c, Wiring: p.wiring, NoCauses: opt.NoCauses},
		limit:   opt.Limit,
		one:     opt.OneOrder,
		devices: make([]deviceState, len(p.devices)),
		clocks:  newClocks(len(p.devices) + len(p.plants)),
		since:   make([]clockState, len(p.devices)+len(p.plants)),
		conduct: make([]uint32, p.words),
		islands: make([]islandState, len(p.islands)),
		moved:   make([][]int32, p.large),
		ties:    make([]uint8, len(p.wiring.Nets)),
	}
	if m.limit == 0 {
		m.limit = DefaultLimit
	}
	m.search.seen = make([]uint32, len(p.wiring.Nets))
	m.wishes = make([]wish, len(p.islands))
	if p.slides {
		m.slides = make([][]slide, len(p.devices))
	}
	m.reset()
	return m
}

// reset puts everything as drawn.
func (m *Machine) reset() {
	m.now, m.step, m.live, m.shorts = 0, 0, false, b2i(m.plan.wiring.RailsJoined)
	m.supplyBy, m.races, m.notedNow = trace.None, 0, m.notedNow[:0]
	m.between, m.movers, m.batches, m.supplyActed = m.between[:0], m.movers[:0], 0, 0
	for i := range m.devices {
		m.devices[i] = deviceState{preset: m.plan.preset(circuit.DeviceID(i))}
		m.clocks.stop(int32(i))
	}
	for i := range m.since {
		m.clocks.stop(int32(i))
		m.since[i] = clockState{because: trace.None, also: trace.None}
	}
	clear(m.conduct)
	clear(m.ties)
	m.ties[circuit.LeftRail], m.ties[circuit.RightRail] = toLeft, toRight
	for i := range m.islands {
		m.islands[i] = islandState{head: -1}
	}
	for i := range m.moved {
		m.moved[i] = m.moved[i][:0]
	}
	for i := range m.slides {
		m.slides[i] = m.slides[i][:0]
	}
	m.dirty = m.dirty[:0]
	for i := range m.plan.contacts {
		k := &m.plan.contacts[i]
		d := m.plan.wiring.Contacts[i]
		if k.island < 0 {
			continue
		}
		if m.plan.circuit.Devices[d.Device].ClosedAtRest(d.Contact) {
			m.conduct[k.word] |= k.bit
		}
		m.soil(k.island, int32(i))
	}
}

// soil marks an island dirty because of a contact in it.
func (m *Machine) soil(island, contact int32) {
	is := &m.islands[island]
	if !is.dirty {
		is.dirty = true
		m.dirty = append(m.dirty, island)
	}
	if p := &m.plan.islands[island]; p.table == nil {
		m.moved[p.large] = append(m.moved[p.large], contact)
	}
}

// Start switches the supply on at time zero and settles the circuit as drawn.
// It also starts a machine over again.
func (m *Machine) Start() {
	if m.trace.Len() > 0 {
		m.trace.Clear()
		m.reset()
	}
	m.live, m.allLoads = true, true
	m.supplyBy = m.trace.Add(0, 0, circuit.NoDevice, trace.SupplyPart, 1)
	m.powerUp()
	m.settle()
	m.trace.Startup = m.trace.Len()
}

// Now returns the machine's time.
func (m *Machine) Now() time.Duration { return m.now }

// Ended reports whether the run has ended by itself: by a short circuit,
// chatter or too many events. Nothing moves any more then.
func (m *Machine) Ended() bool { return m.trace.Ending != trace.Running }

// Trace returns the machine's trace, which grows as it runs.
func (m *Machine) Trace() *trace.Trace { return m.trace }

// NextDue returns when a timer, a plant rule or a travelling contact is due
// next, and false if nothing is.
func (m *Machine) NextDue() (time.Duration, bool) { return m.clocks.next() }

// Advance lets time pass to a time, which must not lie before Now; everything
// due until then, and at that very time, happens.
func (m *Machine) Advance(to time.Duration) {
	for !m.Ended() {
		at, any := m.clocks.next()
		if !any || at > to {
			break
		}
		m.fireDue(at)
	}
	if !m.Ended() {
		m.moveTo(to)
	}
}

// before lets everything happen that is due strictly before a time.
func (m *Machine) before(at time.Duration) {
	for !m.Ended() {
		next, any := m.clocks.next()
		if !any || next >= at {
			break
		}
		m.fireDue(next)
	}
}

// moveTo begins a new instant if at lies after now.
func (m *Machine) moveTo(at time.Duration) {
	if at > m.now {
		m.now = at
		m.step = 0
		m.notedNow = m.notedNow[:0]
	}
}

// fireDue lets everything due at one time move together, and settles.
func (m *Machine) fireDue(at time.Duration) {
	m.moveTo(at)
	if m.full() {
		return
	}
	m.step++
	m.fired = m.fired[:0]
	for {
		next, any := m.clocks.next()
		if !any || next > at {
			break
		}
		clock := m.clocks.heap[0].clock
		m.clocks.stop(clock)
		m.fired = append(m.fired, clock)
	}
	if len(m.fired) > 1 {
		slices.Sort(m.fired)
		m.lookForRaceOfClocks()
	}
	for _, clock := range m.fired {
		m.fire(clock)
	}
	m.settle()
}

// State is the discrete state of a machine: everything but the running of its
// clocks. Two machines of one circuit with equal states differ only in elapsed
// times. It can be compared and be a key of a map.
type State string

// State returns the discrete state.
func (m *Machine) State() State {
	b := make([]byte, 0, 4*len(m.devices)+1)
	for i := range m.devices {
		v := m.devices[i].bits
		b = append(b, byte(v), byte(v>>8), byte(v>>16), byte(v>>24))
	}
	for i := range m.plan.plants {
		b = append(b, byte(b2i(m.clocks.running(int32(len(m.devices)+i)))))
	}
	return State(append(b, byte(b2i(m.live))))
}

// Clock is a running or held clock of a timer. Elapsed is how long it has run,
// Remaining how long it still has to; Remaining is 0 for one that is held.
type Clock struct {
	Device             circuit.DeviceID
	Elapsed, Remaining time.Duration
}

// Clocks returns the devices' clocks that stand above zero, by device.
func (m *Machine) Clocks() []Clock {
	var list []Clock
	for i := range m.devices {
		c := &m.since[i]
		switch {
		case m.clocks.running(int32(i)):
			left := m.clocks.heap[m.clocks.place[i]].at - m.now
			list = append(list, Clock{circuit.DeviceID(i), m.now - c.start, left})
		case c.sum > 0:
			list = append(list, Clock{circuit.DeviceID(i), c.sum, 0})
		}
	}
	return list
}

// Copy returns an independent machine in the same state. Its trace begins
// empty.
func (m *Machine) Copy() *Machine {
	c := &Machine{plan: m.plan, limit: m.limit, one: m.one,
		trace: &trace.Trace{Circuit: m.trace.Circuit, Wiring: m.trace.Wiring, NoCauses: m.trace.NoCauses}}
	c.search.seen = make([]uint32, len(m.search.seen))
	c.wishes = make([]wish, len(m.wishes))
	c.moved = make([][]int32, len(m.moved))
	c.CopyFrom(m)
	return c
}

// CopyFrom puts the machine into the state of o, which must run the same
// circuit. The trace stays its own.
func (m *Machine) CopyFrom(o *Machine) {
	m.now, m.step, m.settlings = o.now, o.step, o.settlings
	m.batches, m.supplyActed = o.batches, o.supplyActed
	m.live, m.shorts, m.allLoads = o.live, o.shorts, o.allLoads
	m.supplyBy = trace.None
	m.devices = append(m.devices[:0], o.devices...)
	m.clocks.copyFrom(&o.clocks)
	m.since = append(m.since[:0], o.since...)
	for i := range m.since {
		m.since[i].because, m.since[i].also = trace.None, trace.None
	}
	m.conduct = append(m.conduct[:0], o.conduct...)
	m.islands = append(m.islands[:0], o.islands...)
	for i := range m.islands {
		m.islands[i].head = -1
	}
	for i := range o.moved {
		m.moved[i] = append(m.moved[i][:0], o.moved[i]...)
	}
	m.ties = append(m.ties[:0], o.ties...)
	m.dirty = append(m.dirty[:0], o.dirty...)
	m.candidates = append(m.candidates[:0], o.candidates...)
	m.reacting, m.movers, m.between = m.reacting[:0], m.movers[:0], append(m.between[:0], o.between...)
	m.notedNow = append(m.notedNow[:0], o.notedNow...)
	m.copySlides(o)
	m.loop.on = false
	m.trace.Ending = trace.Running
}
