package oracle

import "tarry/circuit"

// batch returns how many of the actions of one instant happen together: up to
// the first one on something that already acted.
func batch(actions []circuit.Action) int {
	seen := map[circuit.DeviceID]bool{}
	for i, a := range actions {
		if seen[a.Device] {
			return i
		}
		seen[a.Device] = true
	}
	return len(actions)
}

// act does the actions together and settles. A selector is between two
// positions until all has settled, then it arrives.
func (m *machine) act(actions []circuit.Action) {
	turned := map[*device]int{}
	for _, a := range actions {
		if a.Verb == circuit.SupplyOff || a.Verb == circuit.SupplyOn {
			m.supply(a.Verb == circuit.SupplyOn)
			continue
		}
		d := m.devices[a.Device]
		if a.Verb == circuit.Turn && d.position != a.Position {
			turned[d] = a.Position
		}
		d.hand(a)
	}
	m.note()
	m.settle()
	if len(turned) == 0 || m.ending != Finished {
		return
	}
	for d, position := range turned {
		d.position = position
	}
	m.note()
	m.settle()
}

func (m *machine) supply(on bool) {
	if m.live == on {
		return
	}
	m.live = on
	for _, d := range m.devices {
		if !on {
			d.supplyFails()
		}
	}
}

// hand does what a hand or the plant does to a device.
func (d *device) hand(a circuit.Action) {
	switch a.Verb {
	case circuit.Close, circuit.Press, circuit.Trip:
		d.out[plain] = true
	case circuit.Open, circuit.Release, circuit.Reset:
		d.out[plain] = false
	case circuit.Turn:
		if d.position != a.Position {
			d.position = -1
		}
	case circuit.SetPreset:
		for i, p := range a.Presets {
			if p != 0 {
				d.preset[i] = ms(p)
			}
		}
	}
}
