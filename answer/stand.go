package answer

// A lamp on the feed of a coil does what the coil does, so whoever draws the lamp
// has drawn the coil: where the coil isn't asked, what follows from it follows from
// the lamp, and where both are, a mistake in the two is one. That their lines are
// the same isn't enough, since that may be by chance: each edge must have the same
// causes, or be the other one's only effect.

import (
	"slices"

	"tarry/circuit"
	"tarry/trace"
)

// standIns are the asked edges that stand for others of the same line.
type standIns struct {
	unasked map[trace.ID][]standIn // for an event of signals that aren't asked
	twins   map[cause]cause        // for an asked edge, on a row above it
}

// standIn is an asked edge that stands for one of a signal.
type standIn struct {
	of circuit.Signal
	cause
}

// findStandIns finds for each signal the first asked one that does the same.
func (it *Item) findStandIns(t *trace.Trace, events [][]trace.ID) standIns {
	in := standIns{map[trace.ID][]standIn{}, map[cause]cause{}}
	for i, ids := range events {
		for first := range i {
			if it.right[first].equal(it.right[i]) && sameCauses(t, events[first], ids, false) {
				for n := range ids {
					in.twins[cause{i, n}] = cause{first, n}
				}
				break
			}
		}
	}
	for _, s := range t.Signals() {
		if slices.Contains(it.Signals, s) {
			continue
		}
		l, ids := it.lineIn(t, s)
		for i := range it.Signals {
			if it.right[i].equal(l) && sameCauses(t, events[i], ids, true) {
				for n, id := range ids {
					in.unasked[id] = append(in.unasked[id], standIn{s, cause{i, n}})
				}
				break
			}
		}
	}
	return in
}

// leading picks from those that stand in for an event the ones that another event
// follows from: of a timer's contacts, which move at once, those that feed it.
func (in standIns) leading(t *trace.Trace, event, led trace.ID) []cause {
	list := in.unasked[led]
	var all, feeds []cause
	for _, c := range list {
		all = append(all, c.cause)
	}
	if len(list) < 2 {
		return all
	}
	feeding := feedingContacts(t, t.Event(event))
	for _, c := range list {
		if c.of.Contact == circuit.NoContact || feeding[c.of] {
			feeds = append(feeds, c.cause)
		}
	}
	if len(feeds) == 0 {
		return all
	}
	return feeds
}

// equal reports whether two lines are the same.
func (l level) equal(o level) bool { return l.start == o.start && slices.Equal(l.at, o.at) }

// sameCauses reports whether events have the causes of others, one by one. With
// effects it is enough for an event to follow from the other one alone.
func sameCauses(t *trace.Trace, events, others []trace.ID, effects bool) bool {
	for n, id := range events {
		if id == trace.None || others[n] == trace.None {
			return false
		}
		because, of := t.Event(id).Because, t.Event(others[n]).Because
		alike := id == others[n] || len(of) > 0 && slices.Equal(because, of)
		if !alike && !(effects && len(because) == 1 && because[0] == others[n]) {
			return false
		}
	}
	return len(events) > 0
}
