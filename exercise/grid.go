package exercise

import (
	"slices"
	"time"

	"tarry/circuit"
)

// grid is what presses may be made of: so many, on these hands, beginning,
// lasting and apart by whole steps.
type grid struct {
	hands                    []hand
	step, tail               time.Duration
	presses, longest, starts int
	most                     int // scripts, at most
}

// hand is what may be pressed, closed, or turned to a position and back.
type hand struct {
	device   circuit.DeviceID
	verb     circuit.Verb
	position int
}

// handsOf returns the hands of a circuit: buttons, switches, selectors, and sensors
// that no plant rule moves.
func handsOf(c *circuit.Circuit) []hand {
	var hands []hand
	for i := range c.Devices {
		id, d := circuit.DeviceID(i), &c.Devices[i]
		if slices.ContainsFunc(c.Plants, func(p circuit.Plant) bool { return p.Sensor == id }) {
			continue
		}
		switch class := d.Kind.Info().Class; {
		case d.Kind == circuit.Selector:
			for p := 1; p < len(d.Positions); p++ {
				hands = append(hands, hand{id, circuit.Turn, p})
			}
		case class == circuit.ByHand, class == circuit.BySensing:
			hands = append(hands, hand{id, circuit.Close, 0})
		case class == circuit.WhileHeld:
			hands = append(hands, hand{id, circuit.Press, 0})
		}
	}
	return hands
}

// acts is what the hand does from a time on for a time.
func (h hand) acts(at, hold time.Duration) []circuit.Action {
	a := circuit.Action{At: at, Verb: h.verb, Device: h.device, Position: h.position}
	if h.verb == circuit.Turn {
		return []circuit.Action{a, {At: at + hold, Verb: circuit.Turn, Device: h.device}}
	}
	a.For = hold
	return []circuit.Action{a}
}

// scripts calls do for the scripts of the grid, those with fewer presses first,
// until there are too many, and reports whether it went through all of them.
func (g *grid) scripts(do func(*circuit.Script)) bool {
	n := 0
	for presses := 1; presses <= g.presses; presses++ {
		if !g.extend(nil, g.step, presses, &n, do) {
			return false
		}
	}
	return true
}

// extend puts more presses behind those that there are; the next one may begin at
// from or later.
func (g *grid) extend(done []circuit.Action, from time.Duration, more int, n *int, do func(*circuit.Script)) bool {
	if more == 0 {
		if *n++; *n > g.most {
			return false
		}
		do(&circuit.Script{Name: "Presses", Actions: append([]circuit.Action{}, done...), End: from - g.step + g.tail})
		return true
	}
	waits := g.longest
	if len(done) == 0 {
		waits = g.starts
	}
	for wait := range waits {
		for hold := 1; hold <= g.longest; hold++ {
			for _, h := range g.hands {
				at, held := from+time.Duration(wait)*g.step, time.Duration(hold)*g.step
				next := append(done[:len(done):len(done)], h.acts(at, held)...)
				if !g.extend(next, at+held+g.step, more-1, n, do) {
					return false
				}
			}
		}
	}
	return true
}

// longestPreset returns the longest time that is set in a circuit, 5 s if none is.
func longestPreset(c *circuit.Circuit) time.Duration {
	longest := time.Duration(0)
	for i := range c.Devices {
		longest = max(longest, c.Devices[i].Presets[0], c.Devices[i].Presets[1])
	}
	if longest == 0 {
		return 5 * time.Second
	}
	return longest
}
