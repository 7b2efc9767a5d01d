package exercise

import (
	"cmp"
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
	// over lets one hand begin while another still presses. With first, the first press
	// lasts just so many steps.
	over  bool
	first int
}

// hand is what may be pressed, closed, or turned to a position and back; or the
// supply, which may be cut.
type hand struct {
	device   circuit.DeviceID
	verb     circuit.Verb
	position int
}

// gridsOf returns the grids to try, one after another while there is something left
// to tell apart: presses one by one; two longer ones, with one hand inside another's
// press and with cuts of the supply; two while a third hand holds; and two at round
// times of half the step or less.
func gridsOf(c *circuit.Circuit, opt TellOptions) []grid {
	one := grid{step: opt.Step, presses: opt.Presses, longest: opt.Longest, starts: opt.Starts, most: opt.Most,
		tail: 2 * longestPreset(c), hands: handsOf(c)}
	wide, held, fine := one, one, one
	wide.over, wide.presses, wide.longest, wide.most = true, min(opt.Presses, 2), opt.Longest+2, 2*opt.Most
	wide.hands = append(slices.Clone(one.hands), hand{circuit.NoDevice, circuit.SupplyOff, 0})
	held.over, held.starts, held.first = true, 1, 5*opt.Longest
	fine.over, fine.presses = true, wide.presses
	fine.step, fine.longest, fine.starts = roundTime(opt.Step/2), 2*opt.Longest, 2*opt.Starts
	if len(one.hands) < 2 {
		return []grid{one, wide, fine}
	}
	return []grid{one, wide, held, fine}
}

// roundTime returns the longest time that is no longer and has one digit, 1, 2 or 5.
func roundTime(t time.Duration) time.Duration {
	best := time.Duration(1)
	for ten := time.Duration(1); ten <= t; ten *= 10 {
		for _, digit := range []time.Duration{1, 2, 5} {
			if digit*ten <= t {
				best = digit * ten
			}
		}
	}
	return best
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
		if !g.extend(nil, presses, &n, do) {
			return false
		}
	}
	return true
}

// press is one press of a script: a hand, and when it begins and ends.
type press struct {
	hand
	at, end time.Duration
}

// extend puts more presses behind those that there are.
func (g *grid) extend(done []press, more int, n *int, do func(*circuit.Script)) bool {
	if more == 0 {
		if *n++; *n > g.most {
			return false
		}
		do(g.script(done))
		return true
	}
	from, waits := g.step, g.starts
	if k := len(done); k > 0 {
		from, waits = done[k-1].end+g.step, g.longest
		if g.over {
			from = done[k-1].at + g.step
		}
	}
	for wait := range waits {
		holds := g.longest
		if g.first > 0 && len(done) == 0 {
			holds = 1
		}
		for hold := 1; hold <= holds; hold++ {
			for _, h := range g.hands {
				next := press{hand: h, at: from + time.Duration(wait)*g.step}
				next.end = next.at + time.Duration(hold)*g.step
				if g.first > 0 && len(done) == 0 {
					next.end = next.at + time.Duration(g.first)*g.step
				}
				if next.meets(done) {
					continue
				}
				if !g.extend(append(done[:len(done):len(done)], next), more-1, n, do) {
					return false
				}
			}
		}
	}
	return true
}

// meets reports whether the hand is still at its earlier press, or something else
// happens at the very instant that the press begins or ends: nobody can do that.
func (p *press) meets(done []press) bool {
	return slices.ContainsFunc(done, func(d press) bool {
		return d.device == p.device && p.at <= d.end || p.at == d.at || p.at == d.end || p.end == d.at || p.end == d.end
	})
}

// script makes a script of presses.
func (g *grid) script(done []press) *circuit.Script {
	s := &circuit.Script{Name: "Presses"}
	for _, p := range done {
		s.Actions = append(s.Actions, p.acts(p.at, p.end-p.at)...)
		s.End = max(s.End, p.end+g.tail)
	}
	slices.SortStableFunc(s.Actions, func(a, b circuit.Action) int { return cmp.Compare(a.At, b.At) })
	return s
}

// shortestPreset returns the shortest time that is set in a circuit, 5 s if none is.
func shortestPreset(c *circuit.Circuit) time.Duration {
	shortest := time.Duration(0)
	for i := range c.Devices {
		for _, p := range c.Devices[i].Presets {
			if p > 0 && (shortest == 0 || p < shortest) {
				shortest = p
			}
		}
	}
	if shortest == 0 {
		return 5 * time.Second
	}
	return shortest
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
