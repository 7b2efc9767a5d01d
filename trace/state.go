package trace

import (
	"time"

	"tarry/circuit"
)

// Live reports whether the supply is on at m.
func (t *Trace) Live(m Moment) bool {
	list := t.indexed().supply
	n := t.upTo(list, m)
	return n > 0 && t.records[list[n-1]].value == 1
}

// Closed reports whether a contact conducts at m.
func (t *Trace) Closed(k circuit.Contact, m Moment) bool {
	return t.SignalAt(ContactSignal(k), m)
}

// Elapsed returns how long the timer has run towards its preset at m, and
// whether it is running. What has timed out keeps the time that it ran.
func (t *Trace) Elapsed(d circuit.DeviceID, m Moment) (elapsed time.Duration, running bool) {
	var since time.Duration
	list := t.EventsOf(d)
	for _, id := range list[:t.upTo(list, m)] {
		r := &t.records[id]
		if running {
			elapsed += r.at - since
		}
		since = r.at
		switch r.timing {
		case Started:
			elapsed, running = 0, true
		case Resumed:
			running = true
		case Held:
			running = false
		case Cleared:
			elapsed, running = 0, false
		}
	}
	if running && m.At > since {
		elapsed += m.At - since
	}
	return elapsed, running
}

// TimingSince returns the event that last started the timer's time from zero
// at or before m, or None.
func (t *Trace) TimingSince(d circuit.DeviceID, m Moment) ID {
	list := t.EventsOf(d)
	for i := t.upTo(list, m) - 1; i >= 0; i-- {
		if t.records[list[i]].timing == Started {
			return list[i]
		}
	}
	return None
}

// Preset returns the timer's settings in force at m.
func (t *Trace) Preset(d circuit.DeviceID, m Moment) [2]time.Duration {
	if id := t.LastOf(d, PresetPart, m); id != None {
		return t.presets[t.records[id].value]
	}
	return t.Circuit.Devices[d].Presets
}

// Feed is how a load is tied to the rails at a moment.
type Feed struct {
	// Energised says that the supply is on and both ends are tied to opposite
	// rails.
	Energised bool
	// Contacts is the shortest path of closed contacts, places in
	// Wiring.Contacts, from the rail through the load to the other rail; only
	// the tied ends' contacts when not energised.
	Contacts []int32
	// Tied says for each end of the load, as drawn, whether closed contacts tie
	// it to a rail.
	Tied [2]bool
}

// FeedOf works out how the load at place l of Wiring.Loads is fed at m.
func (t *Trace) FeedOf(l int, m Moment) Feed {
	w := t.Wiring.Loads[l]
	g := t.Conduction(m)
	toLeft, leftA := g.Search(w.A, circuit.LeftRail)
	toRight, rightB := g.Search(w.B, circuit.RightRail)
	if !leftA || !rightB { // perhaps the current runs backwards
		back, rightA := g.Search(w.A, circuit.RightRail)
		forth, leftB := g.Search(w.B, circuit.LeftRail)
		if rightA && leftB {
			return Feed{t.Live(m), append(reversed(forth), back...), [2]bool{true, true}}
		}
	}
	path := append(reversed(toLeft), toRight...)
	return Feed{leftA && rightB && t.Live(m), path, [2]bool{leftA, rightB}}
}

func reversed(path []int32) []int32 {
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
	return path
}

// Conduction is the network of contacts at one moment.
type Conduction struct {
	wiring *circuit.Wiring
	at     [][]int32 // contacts at each net
	closed []bool
}

// Conduction returns which contacts conduct at m.
func (t *Trace) Conduction(m Moment) *Conduction {
	g := &Conduction{t.Wiring, t.contactsAt(), make([]bool, len(t.Wiring.Contacts))}
	for i, k := range t.Wiring.Contacts {
		g.closed[i] = t.Closed(k.Contact, m)
	}
	return g
}

func (t *Trace) contactsAt() [][]int32 {
	if t.index.contacts == nil {
		t.index.contacts = make([][]int32, len(t.Wiring.Nets))
		for i, k := range t.Wiring.Contacts {
			t.index.contacts[k.A] = append(t.index.contacts[k.A], int32(i))
			t.index.contacts[k.B] = append(t.index.contacts[k.B], int32(i))
		}
	}
	return t.index.contacts
}

// Closed reports whether the contact at place i of Wiring.Contacts conducts.
func (g *Conduction) Closed(i int) bool { return g.closed[i] }

// Search finds the shortest path of closed contacts from a net to another,
// never through a rail on the way. It returns the contacts in order and
// whether there is a path; from a net to itself the path is empty.
func (g *Conduction) Search(from, to circuit.NetID) ([]int32, bool) {
	return g.search(from, to, func(i int32) int {
		if g.closed[i] {
			return 0
		}
		return impassable
	})
}

// SearchThroughOpen finds the path from a net to another on which the fewest
// contacts stand open, and returns all its contacts in order. It reports false
// if no contacts join the two at all.
func (g *Conduction) SearchThroughOpen(from, to circuit.NetID) ([]int32, bool) {
	return g.search(from, to, func(i int32) int {
		if g.closed[i] {
			return 0
		}
		return 1
	})
}

// impassable is the cost of a contact that a search may not pass.
const impassable = -1

// search is Dijkstra's walk with two-part costs: first what cost says, then
// the number of contacts. The nets are few, so the next one is found by
// looking at all.
func (g *Conduction) search(from, to circuit.NetID, cost func(int32) int) ([]int32, bool) {
	type mark struct {
		open, length int
		by           int32
		seen, done   bool
	}
	marks := make([]mark, len(g.wiring.Nets))
	marks[from] = mark{by: -1, seen: true}
	frontier := []circuit.NetID{from}
	for len(frontier) > 0 {
		best := 0
		for i, n := range frontier {
			a, b := marks[n], marks[frontier[best]]
			if a.open < b.open || a.open == b.open && a.length < b.length {
				best = i
			}
		}
		net := frontier[best]
		frontier = append(frontier[:best], frontier[best+1:]...)
		marks[net].done = true
		if net == to {
			break
		}
		if net <= circuit.RightRail && net != from {
			continue
		}
		for _, i := range g.at[net] {
			k := g.wiring.Contacts[i]
			next := k.A + k.B - net
			c := cost(i)
			if c == impassable || marks[next].done {
				continue
			}
			m := mark{marks[net].open + c, marks[net].length + 1, i, true, false}
			old := marks[next]
			if !old.seen || m.open < old.open || m.open == old.open && m.length < old.length {
				marks[next] = m
			}
			if !old.seen {
				frontier = append(frontier, next)
			}
		}
	}
	if !marks[to].done {
		return nil, false
	}
	var path []int32
	for net := to; net != from; {
		i := marks[net].by
		path = append(path, i)
		k := g.wiring.Contacts[i]
		net = k.A + k.B - net
	}
	return reversed(path), true
}
