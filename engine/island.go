package engine

// An island is a set of nets that contacts tie together, the rails left out:
// a moved contact can change what happens in its own island only. What an
// island does for the rest of the circuit is small: for each of its nets that
// a load stands on (a terminal), whether it is tied to the left rail and
// whether to the right one.
//
// An island of few contacts has so few states that each is worked out once, by
// joining nets, and remembered: a table from the mask of its closed contacts
// to two bits per terminal. Islands of the same shape share a table, so a
// panel with a thousand seal-in rungs has one. A large island is searched
// instead, and only from the ends of the contacts that moved.

import (
	"math/bits"

	"tarry/circuit"
)

const (
	tableContacts  = 12         // largest island that gets a table
	tableTerminals = 31         // two bits each, and one for a short circuit
	tableMemory    = 32 << 20   // bytes that all tables together may take
	tableShort     = 1 << 63    // the island joins the rails
	tableUnknown   = ^uint64(0) // not yet worked out
)

// toLeft and toRight are the bits that say which rail a net is tied to.
const (
	toLeft  = 1
	toRight = 2
)

// islandPlan is an island; its first word in Machine.conduct has the island's
// own number.
type islandPlan struct {
	table     *table // nil for a large island
	terminals int32  // where its terminals start in plan.terminals
	large     int32  // number among the large islands
}

// table remembers what one shape of island does in each state of its contacts.
type table struct {
	ends      [][2]uint8 // of each contact, in the island's own numbers: rails 0 and 1, then its nets
	terminals []uint8
	nets      int
	states    []uint64
}

// layIslands finds the islands and gives each contact its bit.
func (p *plan) layIslands() {
	u := newUnion(len(p.wiring.Nets))
	for _, k := range p.contacts {
		if k.a != k.b && k.a > circuit.RightRail && k.b > circuit.RightRail {
			u.join(int32(k.a), int32(k.b))
		}
	}
	at := map[int32]int32{}
	for i := range p.contacts {
		k := &p.contacts[i]
		if k.a == k.b {
			continue
		}
		inner := max(k.a, k.b)
		id, known := at[u.root(int32(inner))]
		if !known || inner <= circuit.RightRail {
			id = int32(len(p.islands))
			p.islands = append(p.islands, islandPlan{})
			p.members = append(p.members, nil)
			if inner > circuit.RightRail {
				at[u.root(int32(inner))] = id
			}
		}
		k.island = id
		p.members[id] = append(p.members[id], int32(i))
	}
	p.islandOf = make([]int32, len(p.wiring.Nets))
	for n := range p.islandOf {
		p.islandOf[n] = -1
		if id, known := at[u.root(int32(n))]; known && n > int(circuit.RightRail) {
			p.islandOf[n] = id
		}
	}
	p.words = len(p.islands)
	shapes := map[string]*table{}
	memory := 0
	for i := range p.islands {
		p.layIsland(int32(i), shapes, &memory)
	}
}

// layIsland gives an island's contacts their bits and finds or makes its
// table.
func (p *plan) layIsland(id int32, shapes map[string]*table, memory *int) {
	contacts := p.members[id]
	for i, c := range contacts {
		p.contacts[c].word = id
		if i >= 32 {
			p.contacts[c].word = int32(p.words + i/32 - 1)
		}
		p.contacts[c].bit = 1 << (i % 32)
	}
	p.words += max(len(contacts)-1, 0) / 32
	is := &p.islands[id]
	is.terminals = int32(len(p.terminals))
	if len(contacts) <= tableContacts {
		is.table = p.tableFor(contacts, shapes, memory)
	}
	if is.table == nil {
		p.terminals = p.terminals[:is.terminals]
		is.large = int32(p.large)
		p.large++
	}
}

// tableFor appends the terminals of a small island and returns the table of
// its shape, nil if it has too many terminals or memory is used up.
func (p *plan) tableFor(contacts []int32, shapes map[string]*table, memory *int) *table {
	local, nets := p.localNets(contacts)
	t := &table{nets: len(nets) + 2}
	key := make([]byte, 0, 64)
	for _, c := range contacts {
		ends := [2]uint8{local[p.contacts[c].a], local[p.contacts[c].b]}
		t.ends = append(t.ends, ends)
		key = append(key, ends[0], ends[1])
	}
	key = append(key, 255)
	for _, n := range nets {
		if len(p.loadsOn(n)) > 0 {
			p.terminals = append(p.terminals, n)
			t.terminals = append(t.terminals, local[n])
			key = append(key, local[n])
		}
	}
	if shared, ok := shapes[string(key)]; ok {
		return shared
	}
	size := 8 << len(t.ends)
	if len(t.terminals) > tableTerminals || *memory+size > tableMemory {
		return nil
	}
	*memory += size
	t.states = make([]uint64, 1<<len(t.ends))
	for i := range t.states {
		t.states[i] = tableUnknown
	}
	shapes[string(key)] = t
	return t
}

// localNets numbers the island's nets behind the rails in the order in which
// its contacts meet them.
func (p *plan) localNets(contacts []int32) (map[circuit.NetID]uint8, []circuit.NetID) {
	local := map[circuit.NetID]uint8{circuit.LeftRail: 0, circuit.RightRail: 1}
	var nets []circuit.NetID
	for _, c := range contacts {
		for _, n := range []circuit.NetID{p.contacts[c].a, p.contacts[c].b} {
			if _, known := local[n]; !known {
				local[n] = uint8(len(local))
				nets = append(nets, n)
			}
		}
	}
	return local, nets
}

// look returns the state of the terminals for a mask of closed contacts.
func (t *table) look(mask uint32) uint64 {
	if s := t.states[mask]; s != tableUnknown {
		return s
	}
	return t.work(mask)
}

// work joins the nets that the closed contacts tie together.
func (t *table) work(mask uint32) uint64 {
	var parent [2 * (tableContacts + 2)]uint8
	for i := 0; i < t.nets; i++ {
		parent[i] = uint8(i)
	}
	root := func(n uint8) uint8 {
		for parent[n] != n {
			n = parent[n]
		}
		return n
	}
	for m := mask; m != 0; m &= m - 1 {
		e := t.ends[bits.TrailingZeros32(m)]
		parent[root(e[0])] = root(e[1])
	}
	var state uint64
	left, right := root(0), root(1)
	if left == right {
		state = tableShort
	}
	for i, n := range t.terminals {
		switch root(n) {
		case left:
			state |= toLeft << (2 * i)
		case right:
			state |= toRight << (2 * i)
		}
	}
	t.states[mask] = state
	return state
}

// evaluate brings the terminals of a dirty island up to date and notes every
// load at a terminal that changed.
func (m *Machine) evaluate(id int32) {
	is := &m.plan.islands[id]
	if is.table == nil {
		m.searchIsland(id)
		return
	}
	state := &m.islands[id]
	now := is.table.look(m.conduct[id])
	diff := now ^ state.bits
	state.bits = now
	if diff&tableShort != 0 {
		m.noteShort(now&tableShort != 0)
		diff &^= tableShort
	}
	for diff != 0 {
		i := bits.TrailingZeros64(diff) / 2
		diff &^= 3 << (2 * i)
		net := m.plan.terminals[is.terminals+int32(i)]
		m.ties[net] = uint8(now >> (2 * i) & 3)
		m.touch(net)
	}
}

func (m *Machine) noteShort(on bool) {
	if on {
		m.shorts++
	} else {
		m.shorts--
	}
}

// touch lists the loads at a net for a look at whether they changed.
func (m *Machine) touch(net circuit.NetID) {
	m.candidates = append(m.candidates, m.plan.loadsOn(net)...)
}

// searchIsland works out a large island from the ends of the contacts that
// moved in it.
func (m *Machine) searchIsland(id int32) {
	s := &m.search
	s.stamp++
	moved := &m.moved[m.plan.islands[id].large]
	short := m.islands[id].bits&tableShort != 0
	if short { // rare: look at the whole island again
		m.noteShort(false)
		m.islands[id].bits = 0
		*moved = append((*moved)[:0], m.plan.members[id]...)
	}
	for _, c := range *moved {
		k := &m.plan.contacts[c]
		m.searchFrom(id, k.a)
		m.searchFrom(id, k.b)
	}
	*moved = (*moved)[:0]
}

// searchFrom marks the nets that closed contacts tie to net and sets what they
// are tied to.
func (m *Machine) searchFrom(id int32, net circuit.NetID) {
	s := &m.search
	if net <= circuit.RightRail || s.seen[net] == s.stamp {
		return
	}
	s.queue = append(s.queue[:0], net)
	s.seen[net] = s.stamp
	tie := uint8(0)
	for i := 0; i < len(s.queue); i++ {
		for _, c := range m.plan.atNet[s.queue[i]] {
			k := &m.plan.contacts[c]
			if m.conduct[k.word]&k.bit == 0 {
				continue
			}
			other := k.a + k.b - s.queue[i]
			switch {
			case other == circuit.LeftRail:
				tie |= toLeft
			case other == circuit.RightRail:
				tie |= toRight
			case s.seen[other] != s.stamp:
				s.seen[other] = s.stamp
				s.queue = append(s.queue, other)
			}
		}
	}
	if tie == toLeft|toRight && m.islands[id].bits&tableShort == 0 {
		m.islands[id].bits |= tableShort
		m.noteShort(true)
	}
	for _, n := range s.queue {
		if m.ties[n] != tie {
			m.ties[n] = tie
			m.touch(n)
		}
	}
}
