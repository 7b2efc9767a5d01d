package engine

import (
	"slices"

	"tarry/circuit"
)

// Why a load changed. The contacts that moved in the last small step are
// listed by island; those of the load's own islands that moved the right way
// (closed for a pick-up, opened for a drop-out) are its causes. Usually there
// is one. Where there are several, only those count that conduct to an end of
// the load: now for a pick-up, before they moved for a drop-out.

// addCauses adds the causes of the load's edge to the event recorded last.
func (m *Machine) addCauses(l *loadPlan, on bool) {
	n := m.gather(l.a, on, false)
	if ia, ib := m.plan.islandOf[l.a], m.plan.islandOf[l.b]; ia != ib {
		n += m.gather(l.b, on, false)
	}
	if n < 2 {
		return
	}
	all := m.trace.CausesOfLast()
	m.causes = append(m.causes[:0], all...)
	m.trace.DropCauses()
	m.markReach(l, on)
	m.gather(l.a, on, true)
	m.gather(l.b, on, true)
	if len(m.trace.CausesOfLast()) == 0 {
		for _, id := range m.causes {
			m.trace.Because(id)
		}
	}
	slices.Sort(m.trace.CausesOfLast())
}

// gather adds the movers of a net's island that moved the right way, only
// those within reach if reach is set, and returns how many it met.
func (m *Machine) gather(net circuit.NetID, on, reach bool) int {
	island := m.plan.islandOf[net]
	if island < 0 {
		return 0
	}
	n := 0
	for i := m.islands[island].head; i >= 0; i = m.movers[i].next {
		v := &m.movers[i]
		if v.closes != on {
			continue
		}
		k := &m.plan.contacts[v.contact]
		if reach && m.search.seen[k.a] != m.search.stamp && m.search.seen[k.b] != m.search.stamp {
			continue
		}
		if !slices.Contains(m.trace.CausesOfLast(), v.by) {
			m.trace.Because(v.by)
			n++
		}
	}
	return n
}

// markReach marks the nets that conduct to an end of the load.
func (m *Machine) markReach(l *loadPlan, now bool) {
	s := &m.search
	s.stamp++
	s.queue = s.queue[:0]
	for _, n := range [2]circuit.NetID{l.a, l.b} {
		if n > circuit.RightRail {
			s.seen[n] = s.stamp
			s.queue = append(s.queue, n)
		}
	}
	for i := 0; i < len(s.queue); i++ {
		for _, c := range m.plan.atNet[s.queue[i]] {
			k := &m.plan.contacts[c]
			other := k.a + k.b - s.queue[i]
			if other <= circuit.RightRail || s.seen[other] == s.stamp || !m.conducted(c, now) {
				continue
			}
			s.seen[other] = s.stamp
			s.queue = append(s.queue, other)
		}
	}
}

// conducted reports whether a contact conducts now, or did before the moves of
// the last step.
func (m *Machine) conducted(c int32, now bool) bool {
	k := &m.plan.contacts[c]
	closed := m.conduct[k.word]&k.bit != 0
	if now {
		return closed
	}
	for i := m.islands[k.island].head; i >= 0; i = m.movers[i].next {
		if m.movers[i].contact == c {
			return !m.movers[i].closes
		}
	}
	return closed
}
