package answer

import (
	"slices"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
	"tarry/trace"
)

// Item is a question: the lines of some signals in a run. It has the right lines,
// and what an edge follows from. An Item is not changed once it is made.
type Item struct {
	Name    string
	Circuit *circuit.Circuit
	Script  *circuit.Script
	Signals []circuit.Signal // those asked for
	End     time.Duration    // of the run

	right  []level
	causes [][][]cause // of each signal's edges
	links  []link
	runner *misread.Runner
}

// cause is an asked edge that led to another one.
type cause struct {
	signal, edge int // places among the signals, and in the right line
}

// link says that whatever the first signal does, the second one does a time
// later: the same, or turned round.
type link struct {
	from, to int // places among the signals
	after    time.Duration
	turned   bool
	mirror   bool // by the wiring, so for the start too
}

// NewItem plays a script of c and returns it as a question. Signals that the
// circuit asks about twice are asked once.
func NewItem(name string, c *circuit.Circuit, s *circuit.Script, signals []circuit.Signal) *Item {
	it := &Item{Name: name, Circuit: c, Script: s, runner: misread.NewRunner(c, engine.Options{NoCauses: true, Limit: maxEvents})}
	for _, signal := range signals {
		if !slices.Contains(it.Signals, signal) {
			it.Signals = append(it.Signals, signal)
		}
	}
	t := engine.Run(c, s, engine.Options{OneOrder: true, Limit: maxEvents})
	it.End = t.End
	exact := it.comparison(Tolerance{})
	asked := map[trace.ID]cause{}
	events := make([][]trace.ID, len(it.Signals))
	for i, signal := range it.Signals {
		edges := t.Edges(signal)
		l, from := exact.readFrom(edges)
		if n := len(l.at); n > 0 && l.at[n-1] == exact.end { // not to be seen
			l.at, from = l.at[:n-1], from[:n-1]
		}
		it.right = append(it.right, l)
		for n, e := range from {
			id := edges[e].Event
			events[i] = append(events[i], id)
			if id != trace.None {
				asked[id] = cause{i, n}
			}
		}
	}
	it.findCauses(t, events, asked)
	it.findLinks()
	return it
}

func (it *Item) comparison(t Tolerance) comparison {
	return comparison{max(it.End, 0), Tolerance{max(t.Time, 0), max(t.Square, 0)}}
}

// maxEvents is how many events a run may have: an item that nobody could draw
// isn't played to its end.
const maxEvents = 100_000

// maxLook is how many events are looked at for the causes of one edge, and
// maxLinks how many links are kept.
const (
	maxLook  = 1000
	maxLinks = 200
)

// findCauses looks for the nearest asked edges that each asked edge follows from.
func (it *Item) findCauses(t *trace.Trace, events [][]trace.ID, asked map[trace.ID]cause) {
	it.causes = make([][][]cause, len(events))
	for i, list := range events {
		it.causes[i] = make([][]cause, len(list))
		for n, id := range list {
			if id == trace.None {
				continue
			}
			seen := map[trace.ID]bool{}
			next := slices.Clone(t.Event(id).Because)
			for len(next) > 0 && len(seen) < maxLook {
				id := next[0]
				next = next[1:]
				if seen[id] {
					continue
				}
				seen[id] = true
				if c, known := asked[id]; known {
					it.causes[i][n] = append(it.causes[i][n], c)
					continue
				}
				next = append(next, t.Event(id).Because...)
			}
		}
	}
}

// findLinks collects how signals follow others: from the wiring where a contact
// alone feeds a load, and else from the causes.
func (it *Item) findLinks() {
	place := func(s circuit.Signal) int { return slices.Index(it.Signals, s) }
	for i := range it.Circuit.Rungs {
		r := &it.Circuit.Rungs[i]
		if len(r.Path) != 1 || len(r.Return) > 0 || r.Path[0].Contact.Kind == circuit.NoContact {
			continue
		}
		from := place(trace.ContactSignal(r.Path[0].Contact))
		for _, l := range r.Loads {
			if to := place(trace.LoadSignal(l)); from >= 0 && to >= 0 {
				it.links = append(it.links, link{from: from, to: to, mirror: true})
			}
		}
	}
	for to, edges := range it.causes {
		for n, list := range edges {
			for _, c := range list {
				after := it.right[to].at[n] - it.right[c.signal].at[c.edge]
				l := link{c.signal, to, after, it.right[to].on(n) != it.right[c.signal].on(c.edge), false}
				if len(it.links) < maxLinks && c.signal != to && !slices.Contains(it.links, l) {
					it.links = append(it.links, l)
				}
			}
		}
	}
}

// on reports whether the edge with a number goes on.
func (l level) on(edge int) bool { return l.start != (edge%2 == 0) }
