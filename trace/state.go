package trace

import (
	"container/heap"
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
	list = list[:t.upTo(list, m)]
	// What counts begins where the time last stood at zero.
	begin := len(list) - 1
	for begin > 0 && t.records[list[begin]].timing != Started && t.records[list[begin]].timing != Cleared {
		begin--
	}
	for _, id := range list[max(begin, 0):] {
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
	f := t.Conduction(m).Feed(t.Wiring.Loads[l])
	f.Energised = f.Energised && t.Live(m)
	return f
}

// Feed works out how a load is fed; Energised takes the supply for granted.
func (g *Conduction) Feed(w circuit.WiredLoad) Feed {
	toLeft, leftA := g.Search(w.A, circuit.LeftRail)
	toRight, rightB := g.Search(w.B, circuit.RightRail)
	if leftA && rightB {
		return Feed{true, append(reversed(toLeft), toRight...), [2]bool{true, true}}
	}
	back, rightA := g.Search(w.A, circuit.RightRail)
	forth, leftB := g.Search(w.B, circuit.LeftRail)
	if rightA && leftB { // the current runs backwards
		return Feed{true, append(reversed(forth), back...), [2]bool{true, true}}
	}
	return Feed{false, append(reversed(toLeft), toRight...), [2]bool{leftA || rightA, leftB || rightB}}
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

// NewConduction returns the network of a wiring's contacts of which those are
// closed that closed says.
func NewConduction(w *circuit.Wiring, closed []bool) *Conduction {
	return &Conduction{w, contactsAt(w), closed}
}

func (t *Trace) contactsAt() [][]int32 {
	if t.index.contacts == nil {
		t.index.contacts = contactsAt(t.Wiring)
	}
	return t.index.contacts
}

// contactsAt lists the contacts at each net.
func contactsAt(w *circuit.Wiring) [][]int32 {
	at := make([][]int32, len(w.Nets))
	for i, k := range w.Contacts {
		at[k.A] = append(at[k.A], int32(i))
		at[k.B] = append(at[k.B], int32(i))
	}
	return at
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

// SearchThroughOpen finds the path from a net to another that costs least,
// where an open contact, named by its place in Wiring.Contacts, costs what
// cost says (at least 1) and a closed one nothing. It returns all contacts of
// the path in order, and false if no contacts join the two at all.
func (g *Conduction) SearchThroughOpen(from, to circuit.NetID, cost func(i int32) int) ([]int32, bool) {
	return g.search(from, to, func(i int32) int {
		if g.closed[i] {
			return 0
		}
		return cost(i)
	})
}

// impassable is the cost of a contact that a search may not pass.
const impassable = -1

// mark is what the search knows of a net: the least cost of a path to it, that
// path's length, and its last contact.
type mark struct {
	cost, length int
	by           int32
	seen, done   bool
}

func (a mark) less(b mark) bool {
	return a.cost < b.cost || a.cost == b.cost && a.length < b.length
}

// frontier is the heap of nets that the search has seen but not passed.
type frontier struct {
	nets  []circuit.NetID
	marks []mark // as they were when the net was pushed
}

func (f *frontier) Len() int           { return len(f.nets) }
func (f *frontier) Less(i, j int) bool { return f.marks[i].less(f.marks[j]) }
func (f *frontier) Swap(i, j int) {
	f.nets[i], f.nets[j] = f.nets[j], f.nets[i]
	f.marks[i], f.marks[j] = f.marks[j], f.marks[i]
}

func (f *frontier) Push(x any) {
	p := x.(pushed)
	f.nets, f.marks = append(f.nets, p.net), append(f.marks, p.mark)
}

func (f *frontier) Pop() any {
	last := len(f.nets) - 1
	p := pushed{f.nets[last], f.marks[last]}
	f.nets, f.marks = f.nets[:last], f.marks[:last]
	return p
}

type pushed struct {
	net  circuit.NetID
	mark mark
}

// search is Dijkstra's walk with costs in two parts: first what cost says,
// then the number of contacts.
func (g *Conduction) search(from, to circuit.NetID, cost func(int32) int) ([]int32, bool) {
	marks := make([]mark, len(g.wiring.Nets))
	marks[from] = mark{by: -1, seen: true}
	f := &frontier{}
	heap.Push(f, pushed{from, marks[from]})
	for f.Len() > 0 && !marks[to].done {
		net := heap.Pop(f).(pushed).net
		if marks[net].done {
			continue
		}
		marks[net].done = true
		if net <= circuit.RightRail && net != from {
			continue
		}
		for _, i := range g.at[net] {
			k := g.wiring.Contacts[i]
			next, c := k.A+k.B-net, cost(i)
			m := mark{marks[net].cost + c, marks[net].length + 1, i, true, false}
			if old := marks[next]; c != impassable && !old.done && (!old.seen || m.less(old)) {
				marks[next] = m
				heap.Push(f, pushed{next, m})
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
		net = g.wiring.Contacts[i].A + g.wiring.Contacts[i].B - net
	}
	return reversed(path), true
}
