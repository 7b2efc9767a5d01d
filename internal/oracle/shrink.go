package oracle

import (
	"slices"

	"tarry/circuit"
)

// Shrink takes away what it can from a circuit and a script for which fails
// holds, as long as it still holds, and returns what is left. Devices keep
// their places, so some may be left over that nothing names.
func Shrink(c *circuit.Circuit, s *circuit.Script, fails func(*circuit.Circuit, *circuit.Script) bool) (*circuit.Circuit, *circuit.Script) {
	for again := true; again; {
		again = false
		for _, next := range smallerScripts(s) {
			if fails(c, next) {
				s, again = next, true
				break
			}
		}
		for _, next := range smallerCircuits(c) {
			if !railsWired(next) && fails(next, s) {
				c, again = next, true
				break
			}
		}
	}
	return c, s
}

func smallerScripts(s *circuit.Script) []*circuit.Script {
	var list []*circuit.Script
	for i := range s.Actions {
		less := *s
		less.Actions = without(s.Actions, i)
		list = append(list, &less)
		if s.Actions[i].For > 0 {
			held := *s
			held.Actions = slices.Clone(s.Actions)
			held.Actions[i].For = 0
			list = append(list, &held)
		}
	}
	return list
}

func smallerCircuits(c *circuit.Circuit) []*circuit.Circuit {
	var list []*circuit.Circuit
	for i := range c.Plants {
		less := *c
		less.Plants = without(c.Plants, i)
		list = append(list, &less)
	}
	for i := range c.Rungs {
		less := *c
		less.Rungs = without(c.Rungs, i)
		list = append(list, &less)
	}
	for i := range c.Rungs {
		for _, r := range smallerRungs(c.Rungs[i]) {
			less := *c
			less.Rungs = slices.Clone(c.Rungs)
			less.Rungs[i] = r
			list = append(list, &less)
		}
	}
	for i := range c.Devices {
		if d := simpler(c.Devices[i]); d.Operate != c.Devices[i].Operate || d.Release != c.Devices[i].Release || d.Storage != c.Devices[i].Storage {
			less := *c
			less.Devices = slices.Clone(c.Devices)
			less.Devices[i] = d
			list = append(list, &less)
		}
	}
	return list
}

func simpler(d circuit.Device) circuit.Device {
	d.Operate, d.Release, d.Storage = 0, 0, circuit.ByFunction
	return d
}

func smallerRungs(r circuit.Rung) []circuit.Rung {
	var list []circuit.Rung
	for _, p := range smallerPaths(r.Path) {
		less := r
		less.Path = p
		list = append(list, less)
	}
	for _, p := range smallerPaths(r.Return) {
		less := r
		less.Return = p
		list = append(list, less)
	}
	for i := range r.Loads {
		if len(r.Loads) > 1 {
			less := r
			less.Loads = without(r.Loads, i)
			list = append(list, less)
		}
	}
	return list
}

// smallerPaths takes away one item, one branch, or an item of a branch.
func smallerPaths(p circuit.Path) []circuit.Path {
	var list []circuit.Path
	for i, it := range p {
		list = append(list, without(p, i))
		for j, b := range it.Branches {
			list = append(list, slices.Concat(p[:i], b, p[i+1:]))
			for _, less := range smallerPaths(b) {
				branches := slices.Clone(it.Branches)
				branches[j] = less
				list = append(list, slices.Concat(p[:i], circuit.Path{{Branches: branches}}, p[i+1:]))
			}
		}
	}
	return list
}

func without[S ~[]E, E any](list S, i int) S {
	return slices.Concat(list[:i], list[i+1:])
}
