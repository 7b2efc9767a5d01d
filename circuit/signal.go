package circuit

import "strings"

// FindSignal returns the signal that a name such as H1, K2.set, KT1.notc or
// S2.auto means, and false if the circuit has none of that name.
func (c *Circuit) FindSignal(name string) (Signal, bool) {
	tag, part, dotted := strings.Cut(strings.TrimSpace(name), ".")
	id := c.Find(tag)
	if id == NoDevice {
		return Signal{}, false
	}
	d := &c.Devices[id]
	if !dotted {
		return Signal{Device: id}, d.TakesLoad(Main) || d.Kind == LatchingRelay
	}
	for i, position := range d.Positions {
		if position == part {
			return Signal{Device: id, Contact: AtPosition, Position: i}, true
		}
	}
	for _, l := range []LoadPart{SetCoil, ResetCoil, Star, Delta} {
		if l.String() == part && d.TakesLoad(l) {
			return Signal{Device: id, Load: l}, true
		}
	}
	kind := ContactKindOf(part)
	if d.Kind == Timer {
		kind = d.Function.Fit(kind)
	} else if !d.Kind.Info().Plain || kind != NO && kind != NC {
		kind = NoContact
	}
	return Signal{Device: id, Contact: kind}, kind != NoContact
}
