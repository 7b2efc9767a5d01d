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
// over.
func Explain(t *trace.Trace, s circuit.Signal, at time.Duration) Explanation {
	x := explainer{w: newTeller(t), m: trace.Settled(at), asked: map[circuit.Signal]bool{}}
	on := t.SignalAt(s, x.m)
	x.signal(s, 0)
	if n := x.blip(s); n != "" {
		x.answer = append(x.answer, n)
	}
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

// at words the time asked for.
func (x *explainer) at() string { return "at " + seconds(x.m.At) }

// since words since when a signal has been as it is.
func (x *explainer) since(s circuit.Signal) string {
	id := x.w.t.EventOf(s, x.m)
	if id == trace.None || int(id) < x.w.t.Startup {
		return "since the start"
	}
	return "since " + seconds(x.w.t.Event(id).At)
}

// load answers for a coil or load.
func (x *explainer) load(s circuit.Signal, place, depth int) {
	w, feed := x.w, x.w.t.FeedOf(place, x.m)
	name := w.loadName(s.Device, s.Load)
	word := trace.ValueWord(s, feed.Energised)
	if w.c.Devices[s.Device].Kind.Info().Class != circuit.LoadOnly {
		word = [2]string{"not energised", "energised"}[b2i(feed.Energised)]
	}
	begin := name + " is " + word + " " + x.at()
	switch {
	case feed.Energised && len(feed.Contacts) == 0:
		x.say(begin + ": it stands between the rails without a contact")
	case feed.Energised:
		x.say(begin + ", " + x.since(s) + ": " + w.path(feed.Contacts, "") + " feeds it")
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

// closedOnes tells of the timers and coils on a path that feeds.
func (x *explainer) closedOnes(contacts []int32, depth int) {
	for _, i := range contacts {
		k := x.w.t.Wiring.Contacts[i].Contact
		if k.Kind.Group() != circuit.Instant && depth < 2 {
			x.contact(k, depth+1)
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
		x.say(begin + ": no contacts join it to both rails")
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
	x.say(begin + ": in " + w.path(path, w.c.Devices[s.Device].Tag) + ", " + verbed(names, "is open", "are open"))
	for _, i := range open {
		x.signal(trace.ContactSignal(w.t.Wiring.Contacts[i].Contact), depth+1)
	}
}

// missing is what an open contact costs the search: a load's own contacts
// explain least, a timed contact explains most.
func (x *explainer) missing(i int32, load circuit.DeviceID) int {
	k := x.w.t.Wiring.Contacts[i]
	switch {
	case k.Device == load:
		return 9
	case k.Kind.Group() != circuit.Instant:
		return 4
	}
	return 5
}

// next says when a load that is off comes on, if it does.
func (x *explainer) next(s circuit.Signal) {
	for _, e := range x.w.t.Edges(s) {
		if e.On && e.At > x.m.At {
			x.say("it comes on at " + seconds(e.At))
			return
		}
	}
	if x.w.t.Ending == trace.Finished {
		x.say("it does not come on again before the run ends at " + seconds(x.w.t.End))
	}
}

// contact answers for a contact.
func (x *explainer) contact(k circuit.Contact, depth int) {
	w := x.w
	d := &w.c.Devices[k.Device]
	s := trace.ContactSignal(k)
	begin := w.c.ContactName(k) + " is " + trace.ValueWord(s, w.t.SignalAt(s, x.m))
	if depth == 0 {
		begin += " " + x.at()
	}
	switch d.Kind.Info().Class {
	case circuit.ByTime:
		x.timerContact(k, begin, depth)
	case circuit.ByCoil:
		x.coilContact(k, begin, depth)
	default:
		x.say(begin + ": " + x.hand(k.Device, s))
	}
}

// hand words how a switch, button or sensor stands.
func (x *explainer) hand(d circuit.DeviceID, s circuit.Signal) string {
	w := x.w
	dev := &w.c.Devices[d]
	value := w.t.ValueAt(d, trace.Contacts, x.m)
	how := [2]string{"at rest", "operated"}[min(max(value, 0), 1)]
	switch dev.Kind {
	case circuit.Selector:
		if value < 0 {
			return w.name(d) + " is between two positions"
		}
		how = "in " + dev.Positions[value]
	case circuit.Button:
		how = [2]string{"not pressed", "pressed"}[value]
	case circuit.Switch:
		how = [2]string{"not closed", "closed"}[value]
	case circuit.Overload, circuit.Breaker:
		how = [2]string{"not tripped", "tripped"}[value]
	}
	if id := w.t.EventOf(s, x.m); id != trace.None {
		return w.name(d) + " has been " + how + " since " + seconds(w.t.Event(id).At)
	}
	return w.name(d) + " is " + how
}

// coilContact answers for a relay's, a contactor's or a counter's contact.
func (x *explainer) coilContact(k circuit.Contact, begin string, depth int) {
	w := x.w
	d := &w.c.Devices[k.Device]
	part := trace.InstantPart(d)
	operated := w.t.ValueAt(k.Device, part, x.m) == 1
	coil := w.t.ValueAt(k.Device, trace.Coil, x.m) == 1
	switch {
	case part == trace.Coil:
		x.say(begin + ": " + w.name(k.Device) + " is " + [2]string{"de-energised", "energised"}[b2i(coil)])
		x.signal(circuit.Signal{Device: k.Device}, depth+1)
	case coil != operated && d.Kind != circuit.Counter && d.Kind != circuit.LatchingRelay && d.Kind != circuit.SteppingRelay:
		x.say(begin + ": its coil has changed, the contacts are still on their way")
	default:
		x.position(circuit.Signal{Device: k.Device}, depth)
	}
}

// position answers for a device whose contacts keep their place.
func (x *explainer) position(s circuit.Signal, depth int) {
	w := x.w
	operated := w.t.ValueAt(s.Device, trace.Contacts, x.m) == 1
	id := w.t.LastOf(s.Device, trace.Contacts, x.m)
	how := [2]string{"at rest", "operated"}[b2i(operated)]
	if id == trace.None {
		x.say(w.name(s.Device) + " is " + how + ": nothing has moved it yet")
		return
	}
	x.say(w.name(s.Device) + " has been " + how + " since " + seconds(w.t.Event(id).At))
}

// timerContact answers for a contact of a timer.
func (x *explainer) timerContact(k circuit.Contact, begin string, depth int) {
	w := x.w
	if k.Kind.Group() == circuit.Instant {
		x.coilContact(k, begin, depth)
		return
	}
	x.say(begin + ": " + x.timerState(k.Device))
	s := circuit.Signal{Device: k.Device}
	if w.t.ValueAt(k.Device, trace.Coil, x.m) == 0 && !w.t.SignalAt(trace.ContactSignal(k), x.m) {
		x.signal(s, depth+1)
	}
}

// timerState words where a timer stands: running, timed out, cut short.
func (x *explainer) timerState(d circuit.DeviceID) string {
	w := x.w
	dev := &w.c.Devices[d]
	ran, running := w.t.Elapsed(d, x.m)
	preset := w.t.Preset(d, x.m)
	kind := dev.Function.String() + " timer " + w.name(d)
	coil := w.t.ValueAt(d, trace.Coil, x.m) == 1
	state := [2]string{"de-energised", "energised"}[b2i(coil)]
	if id := w.t.LastOf(d, trace.Coil, x.m); id != trace.None {
		state = " has been " + state + " since " + seconds(w.t.Event(id).At)
	} else {
		state = " is " + state
	}
	whole := preset[0]
	if dev.Function == circuit.Flasher || dev.Function == circuit.StarDelta || dev.Function == circuit.OnOffDelay {
		whole = 0
	}
	switch {
	case running && whole > 0:
		return kind + state + " and has run " + seconds(ran) + " of its " + seconds(whole)
	case running:
		return kind + state + " and has run " + seconds(ran)
	case ran > 0 && whole > 0 && ran < whole:
		return kind + state + "; its time stands at " + seconds(ran) + " of " + seconds(whole)
	case ran > 0 && whole > 0:
		return kind + state + " and has run its whole " + seconds(whole)
	}
	return kind + state + x.cutShort(d)
}

// cutShort tells of the last time that a delay began and was lost before it
// was up, if that is why the contact has not moved.
func (x *explainer) cutShort(d circuit.DeviceID) string {
	w := x.w
	list := w.t.EventsOf(d)
	for i := len(list) - 1; i >= 0; i-- {
		e := w.t.Event(list[i])
		if e.At > x.m.At || e.Timing != trace.Cleared {
			continue
		}
		ran, _ := w.t.Elapsed(d, trace.Before(e))
		preset := w.t.Preset(d, trace.Before(e))[0]
		if ran == 0 || ran >= preset {
			return ""
		}
		clause := "; it had run " + seconds(ran) + " of its " + seconds(preset) + " when "
		if len(e.Because) > 0 {
			if act := w.root(e.Because[0]); act.ByHand() && act.At == e.At {
				return clause + w.actionClause(act) + " at " + seconds(e.At)
			}
		}
		return clause + "its coil changed at " + seconds(e.At)
	}
	return ""
}

// root follows first causes down to an action or the start.
func (w *teller) root(id trace.ID) trace.Event {
	for {
		e := w.t.Event(id)
		if len(e.Because) == 0 {
			return e
		}
		id = e.Because[0]
	}
}

// blip tells of a pulse of no width at the time asked for.
func (x *explainer) blip(s circuit.Signal) string {
	n := 0
	for _, e := range x.w.t.Edges(s) {
		if e.At == x.m.At && e.At > 0 {
			n++
		}
	}
	if n < 2 {
		return ""
	}
	return x.w.sentence("within this instant it changes " + [3]string{"twice", "three times", "more often"}[min(n-2, 2)] +
		", a pulse of no width")
}

// story tells the events that led to the signal's present state.
func (x *explainer) story(s circuit.Signal) []string {
	w := x.w
	id := w.t.EventOf(s, x.m)
	if id == trace.None {
		return nil
	}
	chain := map[trace.ID]bool{}
	for queue := []trace.ID{id}; len(queue) > 0 && len(chain) < maxStory; queue = queue[1:] {
		if !chain[queue[0]] {
			chain[queue[0]] = true
			queue = append(queue, w.t.Event(queue[0]).Because...)
		}
	}
	var ids []trace.ID
	for id := range chain {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return w.tellChain(ids)
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
