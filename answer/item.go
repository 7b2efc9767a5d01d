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
	asked := map[trace.ID][]cause{}
	events := make([][]trace.ID, len(it.Signals))
	for i, signal := range it.Signals {
		l, ids := it.lineIn(t, signal)
		it.right, events[i] = append(it.right, l), ids
		for n, id := range ids {
			if id != trace.None {
				asked[id] = append(asked[id], cause{i, n})
			}
		}
	}
	it.findCauses(t, events, asked, it.findStandIns(t, events))
	it.findLinks(t.Wiring)
	return it
}

// lineIn reads a signal's line off a run, and the events of its edges.
func (it *Item) lineIn(t *trace.Trace, signal circuit.Signal) (level, []trace.ID) {
	exact := it.comparison(Tolerance{})
	edges := t.Edges(signal)
	l, from := exact.readFrom(edges)
	if n := len(l.at); n > 0 && l.at[n-1] == exact.end { // not to be seen
		l.at, from = l.at[:n-1], from[:n-1]
	}
	var ids []trace.ID
	for _, e := range from {
		ids = append(ids, edges[e].Event)
	}
	return l, ids
}

func (it *Item) comparison(t Tolerance) comparison {
	return comparison{max(it.End, 0), Tolerance{max(t.Time, 0), max(t.Square, 0)}, it.square()}
}

// comparisonFor is the comparison for an answer: one that was drawn in squares of
// its own is compared by those, if the tolerance has none.
func (it *Item) comparisonFor(a Answer, t Tolerance) comparison {
	if t.Square <= 0 {
		t.Square = a.Square
	}
	return it.comparison(t)
}

// square is the width of the squares that the item may be drawn in, if nothing says
// it: a quarter of the shortest preset, a second at most.
func (it *Item) square() time.Duration {
	width := time.Second
	for _, d := range it.Circuit.Devices {
		for _, p := range d.Presets {
			if p > 0 {
				width = min(width, p/4)
			}
		}
	}
	return width
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

// findCauses looks for the nearest asked edges that each asked edge follows from,
// and on the way for those that stand in for one that isn't asked.
func (it *Item) findCauses(t *trace.Trace, events [][]trace.ID, asked map[trace.ID][]cause, in standIns) {
	it.causes = make([][][]cause, len(events))
	for i, list := range events {
		it.causes[i] = make([][]cause, len(list))
		for n, id := range list {
			if id == trace.None {
				continue
			}
			if c, twin := in.twins[cause{i, n}]; twin {
				it.causes[i][n] = append(it.causes[i][n], c)
			}
			seen := map[trace.ID]bool{}
			next := stepsFrom(t, id)
			for len(next) > 0 && len(seen) < maxLook {
				s := next[0]
				next = next[1:]
				if seen[s.cause] {
					continue
				}
				seen[s.cause] = true
				if list := asked[s.cause]; len(list) > 0 {
					it.causes[i][n] = append(it.causes[i][n], it.leading(t, s.event, list)...)
					continue
				}
				for _, c := range in.leading(t, s.event, s.cause) {
					if c.signal != i {
						it.causes[i][n] = append(it.causes[i][n], c)
					}
				}
				next = append(next, stepsFrom(t, s.cause)...)
			}
		}
	}
}

// step is an event and one that led to it.
type step struct{ event, cause trace.ID }

func stepsFrom(t *trace.Trace, id trace.ID) []step {
	var list []step
	for _, cause := range t.Event(id).Because {
		list = append(list, step{id, cause})
	}
	return list
}

// leading picks from the asked edges of one event those that another event follows
// from: of a timer's contacts, which all move at its time-out, those that feed what
// follows. If none of those is asked, its coil stands for it, or else any contact.
func (it *Item) leading(t *trace.Trace, event trace.ID, list []cause) []cause {
	if len(list) == 1 {
		return list
	}
	feeding := feedingContacts(t, t.Event(event))
	var feeds, coils []cause
	for _, c := range list {
		switch s := it.Signals[c.signal]; {
		case s.Contact == circuit.NoContact:
			coils = append(coils, c)
		case feeding[s]:
			feeds = append(feeds, c)
		}
	}
	switch {
	case len(feeds) > 0:
		return feeds
	case len(coils) > 0:
		return coils
	}
	return list
}

// feedingContacts returns the contacts in the rungs of an event's device, and those
// that tie it to the rails just before the event and just after it.
func feedingContacts(t *trace.Trace, e trace.Event) map[circuit.Signal]bool {
	found := map[circuit.Signal]bool{}
	for i, l := range t.Wiring.Loads {
		if l.Device != e.Device {
			continue
		}
		for _, k := range t.Wiring.Contacts {
			if k.Rung == l.Rung {
				found[trace.ContactSignal(k.Contact)] = true
			}
		}
		for _, m := range []trace.Moment{trace.Before(e), trace.After(e)} {
			for _, k := range t.FeedOf(i, m).Contacts {
				found[trace.ContactSignal(t.Wiring.Contacts[k].Contact)] = true
			}
		}
	}
	return found
}

// findLinks collects how signals follow others: from the wiring where a contact
// alone feeds a load or two loads share a feed, and else from the causes.
func (it *Item) findLinks(w *circuit.Wiring) {
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
	for i, a := range w.Loads {
		for _, b := range w.Loads[i+1:] {
			from, to := place(trace.LoadSignal(a.Load)), place(trace.LoadSignal(b.Load))
			if a.A == b.A && a.B == b.B && from >= 0 && to >= 0 && len(it.links) < maxLinks {
				it.links = append(it.links, link{from: min(from, to), to: max(from, to), mirror: true})
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
