package engine

import (
	"slices"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

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

// deviceOf returns the device whose state a clock will change.
func (p *plan) deviceOf(clock int32) circuit.DeviceID {
	if int(clock) < len(p.devices) {
		return circuit.DeviceID(clock)
	}
	return p.plants[int(clock)-len(p.devices)].Sensor
}
