package why

import (
	"slices"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Instant is everything that happened at one time, in sentences.
type Instant struct {
	At        time.Duration
	Sentences []string
	// Acts are the clauses of what hands and the supply did.
	Acts []string
	// First and Last are the events of the instant.
	First, Last trace.ID
}

// Story tells the run instant by instant. Time zero is the first one, even if
// nothing happened there; in a trace that begins later, the first instant is the
// first at or after Trace.From at which something happened.
func Story(t *trace.Trace) []Instant {
	w := newTeller(t)
	var story []Instant
	first := 0
	for first < t.Len() && t.Event(trace.ID(first)).At < t.From {
		first++
	}
	for first < t.Len() {
		last := first
		at := t.Event(trace.ID(first)).At
		for last+1 < t.Len() && t.Event(trace.ID(last+1)).At == at {
			last++
		}
		story = append(story, w.instant(trace.ID(first), trace.ID(last)))
		first = last + 1
	}
	return story
}

// instant words the events from first to last.
func (w *teller) instant(first, last trace.ID) Instant {
	in := Instant{At: w.t.Event(first).At, First: first, Last: last}
	p := paragraph{w: w, previous: trace.None}
	for id := first; id <= last; id++ {
		e := w.t.Event(id)
		if e.ByHand() && !w.arrival(e) {
			in.Acts = append(in.Acts, w.act(e))
		}
		p.add(e)
	}
	if in.At == 0 && len(p.sentences) == 0 {
		p.sentences = []string{"Everything is at rest."}
	}
	in.Sentences = p.sentences
	return in
}

// act words what a hand did beside the sentences, which name the label too.
func (w *teller) act(e trace.Event) string {
	named := w.named[e.Device]
	clause := w.actionClause(e)
	w.named[e.Device] = named
	return clause
}

// paragraph collects the sentences of one instant.
type paragraph struct {
	w         *teller
	sentences []string
	previous  trace.ID // event that the last sentence told, None at first
	path      []int32  // path that the last sentence named
	load      trace.Event
	dropped   bool // sentences that were said already have been left out
}

func (p *paragraph) say(e trace.Event, clause string) {
	if clause == "" {
		return
	}
	p.write(p.w.sentence(clause), e.At)
	p.previous = e.ID
}

// write adds a sentence. A circuit that chatters says the same over and over;
// once is enough.
func (p *paragraph) write(sentence string, at time.Duration) {
	if p.w.t.Ending == trace.Chattering && at == p.w.t.End && slices.Contains(p.sentences, sentence) {
		p.dropped = true
		return
	}
	p.sentences = append(p.sentences, sentence)
}

// add words one event, if it needs a sentence of its own.
func (p *paragraph) add(e trace.Event) {
	switch {
	case e.Part == trace.NoticePart:
		n := p.w.t.Notices[e.Value]
		if n.Kind == trace.Chatter && p.dropped {
			p.write("And so on, round and round.", e.At)
		}
		p.write(p.w.notice(n), e.At)
	case e.ID == 0:
	case e.Part <= trace.DeltaLoad:
		p.addLoad(e)
	case e.ByHand():
		p.addHand(e)
	case p.w.ownCoil(e) == trace.None:
		p.path = nil
		p.say(e, p.w.timeOut(e))
	}
}

// addHand words what a hand or the supply did. A selector leaves one position
// and arrives in the next: the first is told, the second only if something
// happens because of it and something else stands told in between.
func (p *paragraph) addHand(e trace.Event) {
	p.path = nil
	if !p.w.arrival(e) {
		p.say(e, p.w.actionClause(e)+p.w.against(e))
		return
	}
	leaving := p.w.t.LastOf(e.Device, e.Part, trace.Moment{At: e.At, Step: e.Step - 1})
	switch {
	case p.previous == leaving:
		p.previous = e.ID
	case p.w.matters(e):
		p.say(e, p.w.actionClause(e))
	}
}

// against tells of the contacts of a switch that open when it is closed and
// close when it is opened.
func (w *teller) against(e trace.Event) string {
	if e.Part != trace.Contacts || w.c.Devices[e.Device].Kind != circuit.Switch {
		return ""
	}
	for _, k := range w.contacts[e.Device] {
		if k.Kind == circuit.NC {
			return ", which " + [2]string{"closes ", "opens "}[e.Value] + w.c.ContactName(k)
		}
	}
	return ""
}

// arrival reports whether the event is a selector's arrival in a position.
func (w *teller) arrival(e trace.Event) bool {
	return e.Part == trace.Contacts && e.Value >= 0 && w.c.Devices[e.Device].Kind == circuit.Selector
}

// matters reports whether a later event of the same instant happened because
// of e.
func (w *teller) matters(e trace.Event) bool {
	for id := e.ID + 1; int(id) < w.t.Len(); id++ {
		o := w.t.Event(id)
		if o.At != e.At {
			return false
		}
		if slices.Contains(o.Because, e.ID) {
			return true
		}
	}
	return false
}

// ownCoil returns the edge of its own coil, of the same instant, that moved a
// device's part at once, or None. Such a move is told with the coil.
func (w *teller) ownCoil(e trace.Event) trace.ID {
	for _, id := range e.Because {
		c := w.t.Event(id)
		if c.Device == e.Device && c.At == e.At && c.Part <= trace.DeltaLoad {
			return id
		}
	}
	return trace.None
}

// addLoad words an edge of a coil or load. What the same path feeds and the
// same small step moves goes with it.
func (p *paragraph) addLoad(e trace.Event) {
	w := p.w
	did := w.did(e) + w.atOnce(e)
	l := w.loadPlace(e)
	var path []int32
	if e.Value == 1 {
		path = w.t.FeedOf(l, trace.Before(e)).Contacts
	} else if len(e.Because) > 0 {
		path = w.t.FeedOf(l, trace.Before(w.t.Event(e.Because[0]))).Contacts
	}
	together := p.load.At == e.At && p.load.Step == e.Step && p.load.Value == e.Value
	switch {
	case together && len(path) > 0 && slices.Equal(path, p.path):
		p.say(e, "with it "+did)
	case e.Value == 1:
		p.say(e, p.completes(e, path)+did)
	default:
		p.say(e, p.breaks(e, path)+did)
	}
	p.path, p.load = path, e
}

// completes words what makes the path of a load complete.
func (p *paragraph) completes(e trace.Event, path []int32) string {
	w := p.w
	whole := w.path(path, w.loadTag(e))
	switch {
	case len(path) == 0:
		return ""
	case len(e.Because) == 0:
		return whole + " is complete at rest: "
	case w.t.Event(e.Because[0]).Part == trace.SupplyPart:
		return "the supply now feeds " + whole + ": "
	case p.follows(e):
		return "that completes " + whole + ": "
	}
	return verbed(w.moverNames(e, path, true), "completes", "complete") + " " + whole + ": "
}

// breaks words what interrupts the path of a load.
func (p *paragraph) breaks(e trace.Event, path []int32) string {
	w := p.w
	whole := w.path(path, w.loadTag(e))
	switch {
	case len(e.Because) == 0:
		return ""
	case w.t.Event(e.Because[0]).Part == trace.SupplyPart:
		return "without supply, "
	case p.follows(e):
		return "that interrupts " + whole + ": "
	}
	return verbed(w.moverNames(e, path, false), "interrupts", "interrupt") + " " + whole + ": "
}

// loadTag names the coil or load of an edge as the notation does.
func (w *teller) loadTag(e trace.Event) string {
	return w.c.LoadName(circuit.Load{Device: e.Device, Part: circuit.LoadPart(e.Part)})
}

// follows reports whether the last sentence told the only cause of e.
func (p *paragraph) follows(e trace.Event) bool {
	if len(e.Because) != 1 || p.previous == trace.None {
		return false
	}
	cause := e.Because[0]
	return cause == p.previous || p.w.ownCoil(p.w.t.Event(cause)) == p.previous
}

// moverNames names the contacts on a path by which the causes of e worked.
func (w *teller) moverNames(e trace.Event, path []int32, closed bool) []string {
	var names []string
	for _, id := range e.Because {
		c := w.t.Event(id)
		for _, i := range path {
			k := w.t.Wiring.Contacts[i].Contact
			name := w.c.ContactName(k)
			if k.Device == c.Device && w.t.Closed(k, trace.Before(e)) == closed && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return []string{"a contact"}
	}
	return names
}

// loadPlace finds the wired load that an edge belongs to.
func (w *teller) loadPlace(e trace.Event) int {
	return w.loads[circuit.Load{Device: e.Device, Part: circuit.LoadPart(e.Part)}]
}
