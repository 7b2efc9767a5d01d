package why

import (
	"slices"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Why is a signal as it is? If a load is on, the path that feeds it says so,
// and the events behind the edge that began it are told from the first on. If
// it is off, the search looks for the path that lacks the fewest contacts, and
// asks of each open contact in turn why it is open: a hand that is not there, a
// timer that has not run its time, a coil that is off for a reason of its own.

// Explanation answers why a signal is as it is at a time.
type Explanation struct {
	Signal circuit.Signal
	At     time.Duration
	On     bool
	// Answer says it in a few sentences; Story tells, where something led here,
	// how it came about, in order of time.
	Answer []string
	Story  []string
}

// maxStory is how many events back a story goes, and maxDepth how many coils
// an answer asks through.
const (
	maxStory = 12
	maxDepth = 6
)

// Explain answers why the signal is as it is when everything at the time is
// over. At the instant at which a run broke off nothing is over, so the answer
// is why it did.
//
// A trace that begins later than at zero answers for its From at the earliest, and
// tells no story from before.
func Explain(t *trace.Trace, s circuit.Signal, at time.Duration) Explanation {
	at = max(at, t.From)
	x := explainer{w: newTeller(t), m: trace.Settled(at), asked: map[circuit.Signal]bool{}}
	on := t.SignalAt(s, x.m)
	if t.Ending > trace.Finished && at >= t.End && len(t.Notices) > 0 {
		x.answer = []string{x.w.notice(t.Notices[len(t.Notices)-1])}
		return Explanation{s, at, on, x.answer, x.story(s)}
	}
	x.signal(s, 0)
	x.blip(s)
	return Explanation{s, at, on, x.answer, x.story(s)}
}

type explainer struct {
	w      *teller
	m      trace.Moment
	asked  map[circuit.Signal]bool
	answer []string
}

func (x *explainer) say(clause string) {
	x.answer = append(x.answer, x.w.sentence(clause))
}

// signal answers for one signal, unless it was asked before.
func (x *explainer) signal(s circuit.Signal, depth int) {
	if x.asked[s] || depth > maxDepth {
		return
	}
	x.asked[s] = true
	if s.Contact != circuit.NoContact {
		x.contact(circuit.Contact{Device: s.Device, Kind: s.Contact, Position: s.Position}, depth)
		return
	}
	places := x.places(s)
	if len(places) == 0 {
		x.position(s, depth)
		return
	}
	x.load(s, places[0], depth)
}

// places finds the wired load of a signal.
func (x *explainer) places(s circuit.Signal) []int {
	var list []int
	for i, l := range x.w.t.Wiring.Loads {
		if l.Device == s.Device && l.Part == s.Load {
			list = append(list, i)
		}
	}
	return list
}

// at words the time asked for; what is asked in turn needs no time again.
func (x *explainer) at(depth int) string {
	if depth > 0 {
		return ""
	}
	return " at " + seconds(x.m.At)
}

// since words since when something has been as the event made it.
func (x *explainer) since(id trace.ID) string {
	switch e := x.w.t.Event(max(id, 0)); {
	case id == trace.None || int(id) < x.w.t.Startup:
		return "since the start"
	case e.At == x.m.At:
		return "since this very instant"
	default:
		return "since " + seconds(e.At)
	}
}

// load answers for a coil or load.
func (x *explainer) load(s circuit.Signal, place, depth int) {
	w, feed := x.w, x.w.t.FeedOf(place, x.m)
	begin := w.loadName(s.Device, s.Load) + " is " + x.stateWord(s, feed.Energised) + x.at(depth)
	switch {
	case feed.Energised && len(feed.Contacts) == 0:
		x.say(begin + ": it stands between the rails without a contact")
	case feed.Energised:
		x.say(begin + ", " + x.since(w.t.EventOf(s, x.m)) + ": it is fed through " + w.path(feed.Contacts, ""))
		x.closedOnes(feed.Contacts, depth)
	case !w.t.Live(x.m):
		x.say(begin + ": the supply is off")
	default:
		x.unfed(begin, s, place, depth)
	}
	if !feed.Energised && depth == 0 {
		x.next(s)
	}
}

// stateWord is "on" or "off" for a load and "energised" or not for a coil.
func (x *explainer) stateWord(s circuit.Signal, on bool) string {
	if x.w.c.Devices[s.Device].Kind.Info().Class == circuit.LoadOnly {
		return trace.ValueWord(s, on)
	}
	return [2]string{"not energised", "energised"}[b2i(on)]
}

// closedOnes tells of the timers on a path that feeds.
func (x *explainer) closedOnes(contacts []int32, depth int) {
	for _, i := range contacts {
		k := x.w.t.Wiring.Contacts[i].Contact
		if k.Kind.Group() != circuit.Instant && depth < 2 {
			x.signal(trace.ContactSignal(k), depth+1)
		}
	}
}

// unfed answers for a load that no path feeds: which contacts are missing.
func (x *explainer) unfed(begin string, s circuit.Signal, place, depth int) {
	w := x.w
	l := w.t.Wiring.Loads[place]
	g := w.t.Conduction(x.m)
	cost := func(i int32) int { return x.missing(i, s.Device) }
	left, okLeft := g.SearchThroughOpen(l.A, circuit.LeftRail, cost)
	right, okRight := g.SearchThroughOpen(l.B, circuit.RightRail, cost)
	if !okLeft || !okRight {
		x.say(begin + ": contacts alone do not join it to both rails" + x.inSeries(place))
		return
	}
	slices.Reverse(left)
	path := append(left, right...)
	var open []int32
	for _, i := range path {
		if !g.Closed(int(i)) {
			open = append(open, i)
		}
	}
	if len(open) == 0 {
		x.say(begin + ": both its ends are tied to rails, but not to opposite ones")
		return
	}
	var names []string
	for _, i := range open {
		names = append(names, w.c.ContactName(w.t.Wiring.Contacts[i].Contact))
	}
	x.say(begin + ": in " + w.path(path, w.c.LoadName(l.Load)) + ", " + verbed(names, "is open", "are open"))
	for _, i := range open {
		x.signal(trace.ContactSignal(w.t.Wiring.Contacts[i].Contact), depth+1)
	}
}

// inSeries names the load that stands in series with one.
func (x *explainer) inSeries(place int) string {
	l := x.w.t.Wiring.Loads[place]
	for i, o := range x.w.t.Wiring.Loads {
		for _, n := range []circuit.NetID{l.A, l.B} {
			if i != place && n > circuit.RightRail && (o.A == n) != (o.B == n) && (l.A == n) != (o.A == n) {
				return "; it stands in series with " + x.w.c.LoadName(o.Load) + ", and the two share the supply"
			}
		}
	}
	return ""
}

// missing is what an open contact costs the search: a load's own contacts
// explain nothing, however many others are open on another path; a timed contact
// explains most.
func (x *explainer) missing(i int32, load circuit.DeviceID) int {
	k := x.w.t.Wiring.Contacts[i]
	switch {
	case k.Device == load:
		return 1000
	case k.Kind.Group() != circuit.Instant:
		return 4
	}
	return 5
}

// next says when a load that is off comes on, if it does.
func (x *explainer) next(s circuit.Signal) {
	w := x.w
	name, again := w.loadName(s.Device, s.Load), ""
	verb := [2]string{"pick up", "picks up"}
	if w.c.Devices[s.Device].Kind.Info().Class == circuit.LoadOnly {
		verb = [2]string{"come on", "comes on"}
	} else if s.Load != circuit.Main {
		verb = [2]string{"become energised", "is energised"}
	}
	for _, e := range w.t.Edges(s) {
		switch {
		case e.On && e.At <= x.m.At:
			again = " again"
		case e.On:
			x.say(name + " " + verb[1] + again + " at " + seconds(e.At))
			return
		}
	}
	if w.t.Ending == trace.Finished {
		x.say(name + " does not " + verb[0] + again + " before the run ends at " + seconds(w.t.End))
	}
}

// blip tells of a pulse or drop-out of no width at the time asked for.
func (x *explainer) blip(s circuit.Signal) {
	n := 0
	for _, e := range x.w.t.Edges(s) {
		if e.At == x.m.At && e.At > 0 && e.Event != trace.None {
			n++
		}
	}
	if n >= 2 {
		x.say(x.w.c.SignalName(s) + " moved to and fro within this instant")
	}
}

// story tells the events that led to the signal's present state. How the circuit
// stood before the record begins is not known, so nothing from then is told.
func (x *explainer) story(s circuit.Signal) []string {
	w := x.w
	id := w.t.EventOf(s, x.m)
	if id == trace.None {
		return nil
	}
	chain, before := map[trace.ID]bool{}, false
	for queue := []trace.ID{id}; len(queue) > 0 && len(chain) < maxStory; queue = queue[1:] {
		e := w.t.Event(queue[0])
		if before = before || e.At < w.t.From; chain[e.ID] || e.At < w.t.From {
			continue
		}
		chain[e.ID] = true
		queue = append(queue, e.Because...)
		if w.arrival(e) {
			queue = append(queue, w.t.LastOf(e.Device, e.Part, trace.Before(e)))
		}
	}
	var ids []trace.ID
	for id := range chain {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	lines := w.tellChain(ids)
	if before {
		lines = append([]string{"What led here began before " + seconds(w.t.From) + ", where the record begins."}, lines...)
	}
	return lines
}

// tellChain words chosen events, each with its time.
func (w *teller) tellChain(ids []trace.ID) []string {
	fresh := newTeller(w.t)
	var lines []string
	p := paragraph{w: fresh, previous: trace.None}
	for i, id := range ids {
		e := w.t.Event(id)
		if i > 0 && e.At != w.t.Event(ids[i-1]).At {
			p.previous, p.path = trace.None, nil
		}
		before := len(p.sentences)
		p.add(e)
		for _, text := range p.sentences[before:] {
			lines = append(lines, seconds(e.At)+": "+text)
		}
	}
	return lines
}
