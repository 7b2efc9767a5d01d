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
// nothing happened there.
func Story(t *trace.Trace) []Instant {
	w := newTeller(t)
	var story []Instant
	for first := 0; first < t.Len(); {
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
			in.Acts = append(in.Acts, w.actionClause(e))
		}
		p.add(e)
	}
	if in.At == 0 && len(p.sentences) == 0 {
		p.sentences = []string{"Everything is at rest."}
	}
	in.Sentences = p.sentences
	return in
}

// paragraph collects the sentences of one instant.
type paragraph struct {
	w         *teller
	sentences []string
	previous  trace.ID // event that the last sentence told, None at first
	path      []int32  // path that the last sentence named
}

func (p *paragraph) say(e trace.Event, clause string) {
	if clause == "" {
		return
	}
	p.sentences = append(p.sentences, p.w.sentence(clause))
	p.previous = e.ID
}

// add words one event, if it needs a sentence of its own.
func (p *paragraph) add(e trace.Event) {
	switch {
	case e.Part == trace.NoticePart:
		p.sentences = append(p.sentences, p.w.notice(p.w.t.Notices[e.Value]))
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
		p.say(e, p.w.actionClause(e))
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

// addLoad words an edge of a coil or load.
func (p *paragraph) addLoad(e trace.Event) {
	w := p.w
	did := w.loadClause(e.Device, circuit.LoadPart(e.Part), e.Value == 1) + w.timing(e) + w.atOnce(e)
	l := w.loadPlace(e)
	var path []int32
	if e.Value == 1 {
		path = w.t.FeedOf(l, trace.Before(e)).Contacts
	} else if len(e.Because) > 0 {
		path = w.t.FeedOf(l, trace.Before(w.t.Event(e.Because[0]))).Contacts
	}
	switch {
	case len(path) > 0 && slices.Equal(path, p.path):
		p.say(e, "with it "+did)
	case e.Value == 1:
		p.say(e, p.completes(e, path)+did)
	default:
		p.say(e, p.breaks(e, path)+did)
	}
	p.path = path
}

// completes words what makes the path of a load complete.
func (p *paragraph) completes(e trace.Event, path []int32) string {
	w := p.w
	whole := w.path(path, w.c.Devices[e.Device].Tag)
	switch {
	case len(path) == 0:
		return ""
	case len(e.Because) == 0:
		return whole + " is complete at rest: "
	case w.t.Event(e.Because[0]).Part == trace.SupplyPart:
		return "with the supply back, " + whole + " is fed again: "
	case p.follows(e):
		return "that completes " + whole + ": "
	}
	return w.moverNames(e, path, true) + " completes " + whole + ": "
}

// breaks words what interrupts the path of a load.
func (p *paragraph) breaks(e trace.Event, path []int32) string {
	w := p.w
	switch {
	case len(e.Because) == 0:
		return ""
	case w.t.Event(e.Because[0]).Part == trace.SupplyPart:
		return "without supply "
	case p.follows(e):
		return "that interrupts " + w.path(path, w.c.Devices[e.Device].Tag) + ": "
	}
	return w.moverNames(e, path, false) + " interrupts " + w.path(path, w.c.Devices[e.Device].Tag) + ": "
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
func (w *teller) moverNames(e trace.Event, path []int32, closed bool) string {
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
		return "a contact"
	}
	return list(names)
}

// loadPlace finds the wired load that an edge belongs to.
func (w *teller) loadPlace(e trace.Event) int {
	return w.loads[circuit.Load{Device: e.Device, Part: circuit.LoadPart(e.Part)}]
}

// atOnce words the timed contacts that move together with the coil.
func (w *teller) atOnce(e trace.Event) string {
	clause := ""
	for id := e.ID + 1; int(id) < w.t.Len(); id++ {
		o := w.t.Event(id)
		if o.At != e.At || o.Step != e.Step {
			break
		}
		if o.Device == e.Device && slices.Contains(o.Because, e.ID) && o.Part != trace.Clock {
			clause = and(clause, w.moved(o))
		}
	}
	if clause == "" {
		return ""
	}
	return ", and " + clause + " at once"
}

// timing words what the edge of a timer's coil means for its elapsed time.
func (w *teller) timing(e trace.Event) string {
	d := &w.c.Devices[e.Device]
	if d.Kind != circuit.Timer {
		return ""
	}
	before := trace.Before(e)
	ran, _ := w.t.Elapsed(e.Device, before)
	preset := w.t.Preset(e.Device, before)
	switch e.Timing {
	case trace.Started:
		return w.starts(d, preset)
	case trace.Resumed:
		return ", and its time goes on from " + seconds(ran)
	case trace.Held:
		return ", and its time stands at " + seconds(ran)
	case trace.Cleared:
		switch {
		case ran == 0 || ran >= preset[0]:
		case e.Value == 1:
			return " again when " + seconds(ran) + " of its " + seconds(preset[0]) + " had run: the delay is called off"
		default:
			return " after only " + seconds(ran) + " of its " + seconds(preset[0]) + ": the time is lost"
		}
	}
	return ""
}

// starts words the beginning of a delay.
func (w *teller) starts(d *circuit.Device, preset [2]time.Duration) string {
	switch d.Function {
	case circuit.Flasher:
		return " and begins its cycle"
	case circuit.Watchdog:
		return " and its " + seconds(preset[0]) + " begin anew"
	case circuit.OnOffDelay:
		return " and begins to time"
	}
	return " and begins to time its " + seconds(preset[0])
}

// timeOut words a move that was due: "KT1 has been energised for its whole
// 4 s, so its contact KT1.notc closes".
func (w *teller) timeOut(e trace.Event) string {
	moved := w.moved(e)
	if moved == "" {
		return w.reason(e)
	}
	return w.reason(e) + ", so " + moved
}

// reason words why a part moved by itself.
func (w *teller) reason(e trace.Event) string {
	d := &w.c.Devices[e.Device]
	name := w.name(e.Device)
	if len(e.Because) > 0 && w.t.Event(e.Because[0]).Part == trace.SupplyPart {
		return name + " returns to rest without supply"
	}
	preset := w.t.Preset(e.Device, trace.Before(e))
	whole := seconds(preset[0])
	switch {
	case d.Kind.Info().Class == circuit.BySensing:
		return name + [2]string{" returns", " operates"}[e.Value] + w.plant(e)
	case d.Kind != circuit.Timer:
		return "the contacts of " + name + " have travelled " + seconds([2]time.Duration{d.Release, d.Operate}[e.Value])
	case e.Part == trace.SecondOut:
		return "the gap of " + seconds(preset[1]) + " is over"
	}
	switch d.Function {
	case circuit.OnDelay:
		return name + " has been energised for its whole " + whole
	case circuit.OffDelay:
		return name + " has been de-energised for its whole " + whole
	case circuit.OnOffDelay:
		return name + [2]string{" has been de-energised for its whole " + seconds(preset[1]),
			" has been energised for its whole " + whole}[e.Value]
	case circuit.Accumulating:
		return "the on-time of " + name + " adds up to its whole " + whole
	case circuit.Watchdog:
		return name + " has not been picked up anew for " + whole
	case circuit.Flasher:
		return name + [2]string{" has been on for " + whole, " has been off for " + seconds(preset[1])}[e.Value]
	case circuit.StarDelta:
		return name + " has been in star for its whole " + whole
	case circuit.MinimumOn:
		return "the minimum of " + whole + " of " + name + " is over"
	case circuit.Interval:
		return "the interval of " + whole + " of " + name + " is over"
	}
	return "the pulse of " + whole + " of " + name + " is over"
}

// plant words the rule by which a sensor answered a load.
func (w *teller) plant(e trace.Event) string {
	for _, r := range w.c.Plants {
		if r.Sensor == e.Device && r.Closes == (e.Value == 1) {
			verb := "stopped"
			if r.OnStart {
				verb = "started"
			}
			return " " + seconds(r.After) + " after " + w.c.Devices[r.Load].Tag + " " + verb
		}
	}
	return ""
}
