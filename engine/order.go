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
	"tarry/circuit"
	"tarry/trace"
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
			add(i, trace.Clock, int(x.dues.dueAt(int32(i))), int(x.machine.clocks.dueAt(int32(i))))
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
