package oracle

import (
	"fmt"

	"tarry/circuit"
)

// rungs feeds every coil and load.
func (m *maker) rungs() {
	for i, id := range m.relays {
		for _, l := range m.partsOf(id) {
			m.rung(l, i)
		}
	}
	for _, id := range m.ends {
		for _, l := range m.partsOf(id) {
			m.rung(l, len(m.relays))
		}
	}
}

// partsOf returns the coils or windings of a device that are to be used.
func (m *maker) partsOf(id circuit.DeviceID) []circuit.Load {
	d := &m.c.Devices[id]
	switch {
	case d.Kind == circuit.LatchingRelay:
		return []circuit.Load{{Device: id, Part: circuit.SetCoil}, {Device: id, Part: circuit.ResetCoil}}
	case d.HasReset() && m.percent(75):
		return []circuit.Load{{Device: id, Part: circuit.Main}, {Device: id, Part: circuit.ResetCoil}}
	case d.Kind == circuit.Motor && m.percent(30):
		return []circuit.Load{{Device: id, Part: circuit.Star}, {Device: id, Part: circuit.Delta}}
	}
	return []circuit.Load{{Device: id, Part: circuit.Main}}
}

// rung feeds a load, now and then beside the load of the rung before. Coils
// are numbered by their order in m.relays; level is that of the load.
func (m *maker) rung(l circuit.Load, level int) {
	if n := len(m.c.Rungs); n > 0 && m.percent(8) {
		last := &m.c.Rungs[n-1]
		last.Loads = append(last.Loads, l)
		return
	}
	r := circuit.Rung{Path: m.path(level), Loads: []circuit.Load{l}}
	if m.percent(18) {
		r.Return = m.back()
	}
	if m.percent(2) { // current from right to left
		r.Path = append(circuit.Path{{Net: "N"}}, r.Path...)
		r.Return = append(r.Return, circuit.Item{Net: "L"})
	}
	m.addRung(r)
}

func (m *maker) addRung(r circuit.Rung) {
	r.Number = len(m.c.Rungs) + 1
	m.c.Rungs = append(m.c.Rungs, r)
}

// path makes the contacts before a load.
func (m *maker) path(level int) circuit.Path {
	var p circuit.Path
	switch {
	case len(m.left) > 0 && m.percent(12):
		p = append(p, circuit.Item{Net: pick(m, m.left)})
	case len(m.right) > 0 && m.percent(4): // behind another load
		p = append(p, circuit.Item{Net: pick(m, m.right)})
	}
	p = append(p, m.firstItem(level))
	for range m.between(0, 2) {
		if m.percent(15) {
			p = append(p, circuit.Item{Net: m.leftNet()})
		}
		p = append(p, m.item(level))
	}
	return p
}

// leftNet names a net before the loads, an old one or a new one.
func (m *maker) leftNet() string {
	if len(m.left) > 0 && m.percent(40) {
		return pick(m, m.left)
	}
	m.left = append(m.left, fmt.Sprintf("a%d", len(m.left)))
	return m.left[len(m.left)-1]
}

func (m *maker) firstItem(level int) circuit.Item {
	switch {
	case m.percent(45) || level == 0 && m.percent(60):
		return circuit.Item{Contact: m.input(false)}
	case m.percent(50):
		return m.group(circuit.Path{{Contact: m.input(false)}}, level)
	}
	return circuit.Item{Contact: m.coilContact(level)}
}

func (m *maker) item(level int) circuit.Item {
	switch {
	case m.percent(25):
		return circuit.Item{Contact: m.input(true)}
	case m.percent(20):
		return m.group(circuit.Path{{Contact: m.coilContact(level)}}, level)
	}
	return circuit.Item{Contact: m.coilContact(level)}
}

func (m *maker) group(first circuit.Path, level int) circuit.Item {
	g := circuit.Item{Branches: []circuit.Path{first}}
	for range m.between(1, 2) {
		b := circuit.Path{{Contact: m.coilContact(level)}}
		if m.percent(30) {
			b = append(b, m.item(level))
		}
		g.Branches = append(g.Branches, b)
	}
	return g
}

// input is a contact moved by a hand or a sensor, mostly closed at rest if
// asked.
func (m *maker) input(closed bool) circuit.Contact {
	id := pick(m, m.inputs)
	d := &m.c.Devices[id]
	if d.Kind == circuit.Selector {
		return circuit.Contact{Device: id, Kind: circuit.AtPosition, Position: m.src.IntN(len(d.Positions))}
	}
	if d.Kind.Info().Class == circuit.ByTripping {
		closed = true
	}
	if m.percent(20) {
		closed = !closed
	}
	if closed {
		return circuit.Contact{Device: id, Kind: circuit.NC}
	}
	return circuit.Contact{Device: id, Kind: circuit.NO}
}

// coilContact is a contact of something with a coil. A contact that is closed
// at rest is seldom taken from a coil of the same or a higher level: such
// loops chatter.
func (m *maker) coilContact(level int) circuit.Contact {
	i := m.src.IntN(len(m.relays))
	if level < len(m.relays) && m.percent(20) {
		i = level
	}
	id := m.relays[i]
	d := &m.c.Devices[id]
	kinds := []circuit.ContactKind{circuit.NO, circuit.NC}
	if d.Kind == circuit.Timer && m.percent(65) {
		kinds = d.Function.Info().Contacts
	}
	k := pick(m, kinds)
	if k.ClosedAtRest() && i >= level && !m.percent(m.loopShare(d, k)) {
		k = kinds[0]
	}
	return circuit.Contact{Device: id, Kind: k}
}

// loopShare says in what percentage of cases a contact that is closed at rest
// may stand in a loop. What takes time to answer does not chatter.
func (m *maker) loopShare(d *circuit.Device, k circuit.ContactKind) int {
	if d.Operate > 0 && d.Release > 0 || k == circuit.NCTO {
		return 70
	}
	return 7
}

// back makes the contacts behind a load.
func (m *maker) back() circuit.Path {
	p := circuit.Path{{Contact: m.input(true)}}
	if m.percent(25) {
		p[0].Contact = m.coilContact(len(m.relays))
	}
	if len(m.right) > 0 && m.percent(30) {
		return append(p, circuit.Item{Net: pick(m, m.right)})
	}
	if m.percent(40) {
		name := fmt.Sprintf("z%d", len(m.right))
		m.right = append(m.right, name)
		p = append(circuit.Path{{Net: name}}, p...)
	}
	return p
}

// ties bridges named nets, seldom from one side of the loads to the other.
func (m *maker) ties() {
	for range m.src.IntN(3) {
		if len(m.left) > 0 && m.percent(40) {
			m.addRung(circuit.Rung{Path: m.path(len(m.relays)), Tie: pick(m, m.left)})
		}
	}
	if len(m.left) > 1 && m.percent(40) {
		p := circuit.Path{{Net: m.left[0]}, m.item(len(m.relays))}
		m.addRung(circuit.Rung{Path: p, Tie: m.left[1]})
	}
	if len(m.right) > 0 && m.percent(12) {
		m.addRung(circuit.Rung{Path: m.path(len(m.relays)), Tie: pick(m, m.right)})
	}
}
