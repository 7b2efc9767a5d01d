package engine

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// plan is a circuit laid out for running. It never changes once made (but for
// the memory of its tables, see table) and is shared by all copies of a
// machine.
type plan struct {
	circuit  *circuit.Circuit
	wiring   *circuit.Wiring
	devices  []devicePlan
	loads    []loadPlan
	contacts []contactPlan
	refs     []ref
	islands  []islandPlan
	tables   []*table
	words    int // length of Machine.conduct
	plants   []circuit.Plant
	atNet    [][]int32 // contacts at each net
	// loadsAt has the loads at each net but the rails: those of net n are
	// loadList[loadsAt[n]:loadsAt[n+1]].
	loadsAt   []int32
	loadList  []int32
	terminals []circuit.NetID    // of the islands with tables, island by island
	members   [][]int32          // contacts of each island
	large     int                // how many islands have no table
	islandOf  []int32            // of each net, -1 for the rails and for nets without contacts
	coilOf    []int32            // of each device, its main load, -1 for none
	positions [][]span           // of each selector, the contacts of each position
	watching  [][]int32          // of each device, the plant rules that watch its main load
	powered   []circuit.DeviceID // timers that a learner takes to start with the supply
	slides    bool               // a timer slides its coil's edges
}

// devicePlan is what does not change about a device; small, because every
// edge reads one.
type devicePlan struct {
	kind     circuit.Kind
	function circuit.Function
	travels  bool
	air      bool
	watched  bool // by a plant rule
	moves    bool // has contacts
	// groups are the runs of plan.refs that each moving part carries; a
	// selector has a run for each position instead, in plan.positions.
	groups [3]span
	// component numbers the part of the circuit that the device can influence
	// or be influenced by, however indirectly.
	component int32
}

// span is a run of places in a list.
type span struct{ from, to int32 }

// ref is one contact as its device's moving part sees it.
type ref struct {
	island int32
	word   int32
	bit    uint32
	code   int32 // the contact's number times two, plus one if it closes when the part operates
}

func (r *ref) contact() int32 { return r.code >> 1 }

func (r *ref) closesUp() bool { return r.code&1 != 0 }

type loadPlan struct {
	device circuit.DeviceID
	part   trace.Part
	a, b   circuit.NetID
}

type contactPlan struct {
	island int32 // -1 for a contact with both ends on one net
	word   int32
	bit    uint32
	a, b   circuit.NetID
}

// newPlan lays out c. A circuit with diagnostics of grade error may be laid
// out too: it then does what was understood of it.
func newPlan(c *circuit.Circuit) *plan {
	w := circuit.Wire(c)
	p := &plan{circuit: c, wiring: w, plants: c.Plants}
	p.atNet = make([][]int32, len(w.Nets))
	p.contacts = make([]contactPlan, len(w.Contacts))
	for i, k := range w.Contacts {
		p.contacts[i] = contactPlan{island: -1, a: k.A, b: k.B}
		if k.A != k.B {
			p.atNet[k.A] = append(p.atNet[k.A], int32(i))
			p.atNet[k.B] = append(p.atNet[k.B], int32(i))
		}
	}
	p.layLoads()
	p.layIslands()
	p.layDevices()
	p.layComponents()
	return p
}

func (p *plan) layLoads() {
	p.coilOf = make([]int32, len(p.circuit.Devices))
	for i := range p.coilOf {
		p.coilOf[i] = -1
	}
	at := make([][]int32, len(p.wiring.Nets))
	for i, l := range p.wiring.Loads {
		p.loads = append(p.loads, loadPlan{l.Device, trace.Part(l.Part), l.A, l.B})
		if l.Part == circuit.Main {
			p.coilOf[l.Device] = int32(i)
		}
		for _, n := range []circuit.NetID{l.A, l.B} {
			if n > circuit.RightRail {
				at[n] = append(at[n], int32(i))
			}
		}
	}
	p.loadsAt = append(p.loadsAt, 0)
	for _, list := range at {
		p.loadList = append(p.loadList, list...)
		p.loadsAt = append(p.loadsAt, int32(len(p.loadList)))
	}
}

// loadsOn returns the loads at a net that is no rail.
func (p *plan) loadsOn(n circuit.NetID) []int32 { return p.loadList[p.loadsAt[n]:p.loadsAt[n+1]] }

// layDevices sorts the contacts by device, moving part and position.
func (p *plan) layDevices() {
	c := p.circuit
	of := make([][]int32, len(c.Devices))
	for i, k := range p.wiring.Contacts {
		if p.contacts[i].island >= 0 {
			of[k.Device] = append(of[k.Device], int32(i))
		}
	}
	p.devices = make([]devicePlan, len(c.Devices))
	p.positions = make([][]span, len(c.Devices))
	p.watching = make([][]int32, len(c.Devices))
	for i := range c.Devices {
		d := &c.Devices[i]
		dp := &p.devices[i]
		*dp = devicePlan{kind: d.Kind, function: d.Function,
			travels: d.Operate != 0 || d.Release != 0, air: d.Stored() == circuit.Air}
		p.slides = p.slides || d.Function == circuit.Slides
		if d.Function == circuit.FromPowerUp {
			p.powered = append(p.powered, circuit.DeviceID(i))
		}
		if d.Kind == circuit.Selector {
			for pos := range d.Positions {
				p.positions[i] = append(p.positions[i], p.addRefs(of[i], func(k circuit.Contact) bool { return k.Position == pos }))
			}
			continue
		}
		for g := range dp.groups {
			dp.groups[g] = p.addRefs(of[i], func(k circuit.Contact) bool { return k.Kind.Group() == circuit.Group(g) })
			dp.moves = dp.moves || dp.groups[g].from < dp.groups[g].to
		}
	}
	for i, rule := range p.plants {
		p.devices[rule.Load].watched = true
		p.watching[rule.Load] = append(p.watching[rule.Load], int32(i))
	}
}

func (p *plan) addRefs(contacts []int32, carries func(circuit.Contact) bool) span {
	from := int32(len(p.refs))
	for _, i := range contacts {
		k := p.wiring.Contacts[i]
		if carries(k.Contact) {
			cp := p.contacts[i]
			closesUp := k.Kind == circuit.AtPosition || !k.Kind.ClosedAtRest()
			p.refs = append(p.refs, ref{cp.island, cp.word, cp.bit, i<<1 | int32(b2i(closesUp))})
		}
	}
	return span{from, int32(len(p.refs))}
}

// layComponents joins every device with the islands that its contacts, coils
// and plant rules stand in.
func (p *plan) layComponents() {
	nets, devices := len(p.wiring.Nets), len(p.devices)
	u := newUnion(nets + devices)
	join := func(d circuit.DeviceID, n circuit.NetID) {
		if n > circuit.RightRail {
			u.join(int32(n), int32(nets)+int32(d))
		}
	}
	for i, k := range p.wiring.Contacts {
		join(k.Device, p.contacts[i].a)
		join(k.Device, p.contacts[i].b)
	}
	for _, l := range p.loads {
		join(l.device, l.a)
		join(l.device, l.b)
	}
	for _, rule := range p.plants {
		u.join(int32(nets)+int32(rule.Sensor), int32(nets)+int32(rule.Load))
	}
	for i := range p.devices {
		p.devices[i].component = u.root(int32(nets + i))
	}
}

// preset returns the two settings that a device starts with.
func (p *plan) preset(d circuit.DeviceID) [2]time.Duration { return p.circuit.Devices[d].Presets }

// union is the usual forest of sets.
type union []int32

func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = int32(i)
	}
	return u
}

func (u union) root(i int32) int32 {
	for u[i] != i {
		u[i] = u[u[i]]
		i = u[i]
	}
	return i
}

func (u union) join(a, b int32) { u[u.root(a)] = u.root(b) }
