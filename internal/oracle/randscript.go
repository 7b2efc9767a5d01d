package oracle

import (
	"sort"
	"time"

	"tarry/circuit"
)

// script makes actions that mostly change something.
func (m *maker) script() *circuit.Script {
	s := &circuit.Script{Name: "random", End: m.duration(30, 50)}
	hand := &hand{maker: m, on: map[circuit.DeviceID]bool{}, position: map[circuit.DeviceID]int{}, supply: true}
	hand.power, hand.screw = m.percent(35), m.percent(35)
	for _, at := range m.times(s.End) {
		s.Actions = append(s.Actions, hand.action(at))
	}
	return s
}

// times returns when something is done, in order: at random, at the same time
// as before, or just when a time begun then may be over.
func (m *maker) times(end time.Duration) []time.Duration {
	var at []time.Duration
	last := time.Duration(0)
	for range m.between(6, 20) {
		switch {
		case m.percent(18):
		case m.percent(45):
			last += m.anyPreset()
		default:
			last = m.duration(0, int(end/time.Millisecond)/m.unit)
		}
		if last <= end {
			at = append(at, last)
		}
	}
	sort.Slice(at, func(i, j int) bool { return at[i] < at[j] })
	return at
}

// anyPreset returns the setting of some device, or any time.
func (m *maker) anyPreset() time.Duration {
	d := &m.c.Devices[pick(m, m.relays)]
	if t := pick(m, []time.Duration{d.Presets[0], d.Presets[0], d.Presets[1], d.Operate}); t > 0 {
		return t
	}
	return m.duration(1, 8)
}

// hand remembers how the devices stand as far as the script tells.
type hand struct {
	*maker
	on           map[circuit.DeviceID]bool
	position     map[circuit.DeviceID]int
	supply       bool
	power, screw bool // whether the script touches the supply, the settings
}

func (h *hand) action(at time.Duration) circuit.Action {
	switch {
	case h.power && h.percent(15):
		return h.switchSupply(at)
	case h.screw && h.percent(20):
		if a := h.turnScrew(at); a.Verb != circuit.NoVerb {
			return a
		}
	}
	id := pick(h.maker, h.inputs)
	if h.c.Devices[id].Kind == circuit.Selector {
		return h.turn(at, id)
	}
	return h.move(at, id)
}

func (h *hand) switchSupply(at time.Duration) circuit.Action {
	if h.percent(93) {
		h.supply = !h.supply
	}
	verb := circuit.SupplyOff
	if h.supply {
		verb = circuit.SupplyOn
	}
	return circuit.Action{At: at, Verb: verb, Device: circuit.NoDevice}
}

// turnScrew changes the setting of a timer, if the circuit has one.
func (h *hand) turnScrew(at time.Duration) circuit.Action {
	var timers []circuit.DeviceID
	for _, id := range h.relays {
		if h.c.Devices[id].Kind == circuit.Timer {
			timers = append(timers, id)
		}
	}
	if len(timers) == 0 {
		return circuit.Action{}
	}
	id := pick(h.maker, timers)
	a := circuit.Action{At: at, Verb: circuit.SetPreset, Device: id}
	times := h.c.Devices[id].Function.Info().Times
	first := h.src.IntN(times)
	a.Presets[first] = h.duration(1, 10)
	if times == 2 && h.percent(50) {
		a.Presets[1-first] = h.duration(1, 10)
	}
	return a
}

func (h *hand) turn(at time.Duration, id circuit.DeviceID) circuit.Action {
	n := len(h.c.Devices[id].Positions)
	if h.percent(92) {
		h.position[id] = (h.position[id] + h.between(1, n-1)) % n
	}
	return circuit.Action{At: at, Verb: circuit.Turn, Device: id, Position: h.position[id]}
}

// move closes or opens, presses or releases, trips or resets.
func (h *hand) move(at time.Duration, id circuit.DeviceID) circuit.Action {
	verbs := h.c.Devices[id].Kind.Info().Verbs
	a := circuit.Action{At: at, Verb: verbs[0], Device: id}
	if h.on[id] == h.percent(92) {
		a.Verb = verbs[1]
	}
	h.on[id] = a.Verb == verbs[0]
	if h.on[id] && h.percent(40) {
		a.For = h.duration(1, 10)
		h.on[id] = false
	}
	return a
}
