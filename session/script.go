package session

import (
	"slices"
	"time"

	"tarry/circuit"
)

// Script returns the actions as a script that does exactly the same. Where a
// press and its release can be written as "press S1 for 2 s", they are. The end
// is the first whole second at or after Known and after the last action.
func (s *Session) Script(name string) *circuit.Script {
	end := s.Known()
	if n := len(s.actions); n > 0 {
		end = max(end, s.actions[n-1].At+1)
	}
	end = max((end + time.Second - 1).Truncate(time.Second), time.Second)
	return &circuit.Script{Name: name, Actions: held(s.actions), End: end}
}

// held writes a press and its release as one action where that changes nothing.
// What ends a "for" comes first in its instant, and several in the order in
// which they were begun; so of the actions of an instant those are taken that
// stand first and in that order.
func held(actions []circuit.Action) []circuit.Action {
	list := slices.Clone(actions)
	last := map[circuit.DeviceID]int{} // the last action on each device
	at, begun, first := time.Duration(-1), -1, false
	for i, a := range actions {
		if a.At != at {
			at, begun, first = a.At, -1, true
		}
		p, known := last[a.Device]
		last[a.Device] = i
		pressed := known && a.Verb == circuit.Release && actions[p].Verb == circuit.Press && actions[p].At < at
		if first = first && pressed && p > begun; first {
			begun = p
			list[p].For = at - actions[p].At
			list[i].Verb = circuit.NoVerb
		}
	}
	return slices.DeleteFunc(list, func(a circuit.Action) bool { return a.Verb == circuit.NoVerb })
}

// Rebuild returns a session on another circuit, the edited one, with the same
// actions: devices are found by their tags, positions of selectors by their
// names. It also returns how many actions were left out because their device is
// gone or cannot do them any more. The cursor stands where it stood, unless the
// other run ends before, or makes so many events on the way that Move gives up.
func (s *Session) Rebuild(c *circuit.Circuit) (*Session, int) {
	tags := map[string]circuit.DeviceID{}
	for i := range c.Devices {
		tags[c.Devices[i].Tag] = circuit.DeviceID(i)
	}
	var list []circuit.Action
	for _, a := range s.actions {
		if a.Device != circuit.NoDevice {
			d := &s.circuit.Devices[a.Device]
			id, found := tags[d.Tag]
			if !found {
				continue
			}
			a.Device = id
			if a.Verb == circuit.Turn {
				a.Position = slices.Index(c.Devices[id].Positions, d.Positions[a.Position])
			}
		}
		if can(c, a) {
			list = append(list, a)
		}
	}
	n := New(c, list, Options{Keep: s.keep})
	n.Move(s.now)
	return n, len(s.actions) - len(list)
}
