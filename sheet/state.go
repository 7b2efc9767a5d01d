// Package sheet lays out what a college prints: drawings, charts, tables,
// storyboards and lists on sheets with a title block, all from one circuit and
// its traces.
package sheet

import (
	"tarry/circuit"
	"tarry/schematic"
	"tarry/trace"
)

// StateAt returns what a drawing marks of a run at a moment.
func StateAt(t *trace.Trace, m trace.Moment) *schematic.State {
	s := &schematic.State{Closed: make([]bool, len(t.Wiring.Contacts)), Energised: make([]bool, len(t.Wiring.Loads))}
	for i, k := range t.Wiring.Contacts {
		s.Closed[i] = t.Closed(k.Contact, m)
	}
	for i, l := range t.Wiring.Loads {
		s.Energised[i] = t.SignalAt(partSignal(l.Load), m)
	}
	s.SupplyOff = !t.Live(m)
	s.LiveContacts, s.LiveNets = liveParts(t.Wiring, s)
	for i := range t.Circuit.Devices {
		if d := &t.Circuit.Devices[i]; d.Kind == circuit.Timer {
			s.Timers = append(s.Timers, timing(t, circuit.DeviceID(i), m)...)
			if now := t.Preset(circuit.DeviceID(i), m); now != d.Presets {
				s.Set = append(s.Set, schematic.Setting{Device: circuit.DeviceID(i), Presets: now})
			}
		}
	}
	return s
}

// partSignal is the signal of a coil or load itself; the bare tag of a
// latching relay would mean its position, but that has no load.
func partSignal(l circuit.Load) circuit.Signal { return trace.LoadSignal(l) }

// timing returns the ring of a timer whose elapsed time stands above zero.
func timing(t *trace.Trace, d circuit.DeviceID, m trace.Moment) []schematic.Timing {
	elapsed, running := t.Elapsed(d, m)
	if elapsed == 0 || !running && !keepsTime(t, d, m) {
		return nil
	}
	preset := t.Preset(d, m)
	whole := preset[0]
	if preset[1] > 0 && phaseOf(t, d, m) == 1 {
		whole = preset[1]
	}
	return []schematic.Timing{{Device: d, Elapsed: elapsed, Preset: whole}}
}

// keepsTime reports whether a timer's time still matters though it does not
// run: an on-delay timer has timed out, an accumulating one holds its sum.
func keepsTime(t *trace.Trace, d circuit.DeviceID, m trace.Moment) bool {
	switch t.Circuit.Devices[d].Function {
	case circuit.Accumulating:
		return true
	case circuit.OnDelay:
		return t.ValueAt(d, trace.TimedOut, m) == 1
	}
	return false
}

// phaseOf tells towards which of a timer's two settings its time runs or ran:
// a flasher's first while its output is operated, an on-off-delay's while its
// coil is on, a star-delta timer's gap once star has returned.
func phaseOf(t *trace.Trace, d circuit.DeviceID, m trace.Moment) int {
	operated := t.ValueAt(d, trace.TimedOut, m) == 1
	coil := t.ValueAt(d, trace.Coil, m) == 1
	switch t.Circuit.Devices[d].Function {
	case circuit.Flasher, circuit.StarDelta:
		if !operated {
			return 1
		}
	case circuit.OnOffDelay:
		if !coil {
			return 1
		}
	}
	return 0
}

// liveParts finds the contacts and nets that carry the current of energised
// loads: the closed contacts and energised loads make a network between the
// rails, from which whatever ends blindly is taken away until nothing does.
func liveParts(w *circuit.Wiring, s *schematic.State) (contacts, nets []bool) {
	web := liveWeb{ends: make([][2]circuit.NetID, 0, len(w.Contacts)+len(w.Loads)), at: make([]liveNet, len(w.Nets))}
	for i, k := range w.Contacts {
		web.add(k.A, k.B, s.Closed[i])
	}
	for i, l := range w.Loads {
		web.add(l.A, l.B, s.Energised[i])
	}
	for n := range web.at {
		web.prune(circuit.NetID(n))
	}
	contacts, nets = make([]bool, len(w.Contacts)), make([]bool, len(w.Nets))
	for i, ends := range web.ends {
		if ends == noEnds {
			continue
		}
		if i < len(contacts) {
			contacts[i] = true
		}
		nets[ends[0]], nets[ends[1]] = true, true
	}
	return contacts, nets
}

// liveWeb is the network of what conducts: the two nets of each branch, noEnds
// for one that carries nothing.
type liveWeb struct {
	ends [][2]circuit.NetID
	at   []liveNet
}

// liveNet is how many branches are at a net, and the sum of their places: of a
// last one, its place.
type liveNet struct{ count, sum int }

var noEnds = [2]circuit.NetID{-1, -1}

func (l *liveWeb) add(a, b circuit.NetID, carries bool) {
	ends := [2]circuit.NetID{a, b}
	if !carries || a == b {
		ends = noEnds
	}
	l.ends = append(l.ends, ends)
	l.move(len(l.ends)-1, 1)
}

// move adds a branch to the nets at its ends, or takes it away by -1.
func (l *liveWeb) move(branch, by int) {
	if l.ends[branch] == noEnds {
		return
	}
	for _, n := range l.ends[branch] {
		l.at[n].count += by
		l.at[n].sum += by * branch
	}
}

// prune takes the last branch at a net away, and goes on at its other end.
func (l *liveWeb) prune(n circuit.NetID) {
	for n > circuit.RightRail && l.at[n].count == 1 {
		last := l.at[n].sum
		other := l.ends[last][0] + l.ends[last][1] - n
		l.move(last, -1)
		l.ends[last] = noEnds
		n = other
	}
}
