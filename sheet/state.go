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
	g := t.Conduction(m)
	s := &schematic.State{Closed: make([]bool, len(t.Wiring.Contacts)), Energised: make([]bool, len(t.Wiring.Loads))}
	for i := range s.Closed {
		s.Closed[i] = g.Closed(i)
	}
	for i, l := range t.Wiring.Loads {
		s.Energised[i] = t.SignalAt(partSignal(l.Load), m)
	}
	s.SupplyOff = !t.Live(m)
	s.LiveContacts, s.LiveNets = liveParts(t.Wiring, s)
	for i := range t.Circuit.Devices {
		if d := &t.Circuit.Devices[i]; d.Kind == circuit.Timer {
			s.Timers = append(s.Timers, timing(t, circuit.DeviceID(i), m)...)
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
	type branch struct {
		a, b circuit.NetID
		gone bool
	}
	branches := make([]branch, 0, len(w.Contacts)+len(w.Loads))
	at := make([][]int, len(w.Nets))
	add := func(a, b circuit.NetID, carries bool) {
		i := len(branches)
		branches = append(branches, branch{a, b, !carries || a == b})
		if !branches[i].gone {
			at[a], at[b] = append(at[a], i), append(at[b], i)
		}
	}
	for i, k := range w.Contacts {
		add(k.A, k.B, s.Closed[i])
	}
	for i, l := range w.Loads {
		add(l.A, l.B, s.Energised[i])
	}
	degree := make([]int, len(w.Nets))
	var blind []circuit.NetID
	for n := range at {
		degree[n] = len(at[n])
		if n > int(circuit.RightRail) && degree[n] == 1 {
			blind = append(blind, circuit.NetID(n))
		}
	}
	for len(blind) > 0 {
		n := blind[0]
		blind = blind[1:]
		for _, i := range at[n] {
			if branches[i].gone {
				continue
			}
			branches[i].gone = true
			other := branches[i].a + branches[i].b - n
			degree[n]--
			if degree[other]--; other > circuit.RightRail && degree[other] == 1 {
				blind = append(blind, other)
			}
		}
	}
	contacts, nets = make([]bool, len(w.Contacts)), make([]bool, len(w.Nets))
	for i, b := range branches {
		if b.gone {
			continue
		}
		if i < len(w.Contacts) {
			contacts[i] = true
		}
		nets[b.a], nets[b.b] = true, true
	}
	return contacts, nets
}
