package why

import (
	"fmt"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Why is a contact open or closed? A hand, a coil, a timer's time or a position
// that is kept says so. What an answer above has told already, that the contact
// is open, is not said again.

// contact answers for a contact.
func (x *explainer) contact(k circuit.Contact, depth int) {
	w := x.w
	d := &w.c.Devices[k.Device]
	s := trace.ContactSignal(k)
	begin := ""
	if depth == 0 {
		begin = w.c.ContactName(k) + " is " + trace.ValueWord(s, w.t.SignalAt(s, x.m)) + x.at(0) + ": "
	}
	switch class := d.Kind.Info().Class; {
	case class == circuit.ByTime && k.Kind.Group() != circuit.Instant:
		x.timerContact(k, begin, depth)
	case class == circuit.ByTime || d.Kind == circuit.Relay || d.Kind == circuit.Contactor:
		x.coilContact(k, begin, depth)
	case class == circuit.ByCoil:
		x.keptContact(k.Device, begin, depth)
	default:
		x.say(begin + x.hand(k.Device))
	}
}

// hand words how a switch, button or sensor stands, and since when.
func (x *explainer) hand(d circuit.DeviceID) string {
	w := x.w
	dev := &w.c.Devices[d]
	if id := w.t.LastOf(d, trace.Contacts, x.m); id != trace.None {
		e := w.t.Event(id)
		return w.pastClause(e) + " at " + seconds(e.At)
	}
	switch dev.Kind {
	case circuit.Selector:
		return w.name(d) + " stands in " + dev.Positions[0]
	case circuit.Button:
		return w.name(d) + " has not been pressed yet"
	case circuit.Switch:
		return w.name(d) + " has not been closed yet"
	case circuit.Overload, circuit.Breaker:
		return w.name(d) + " has not tripped"
	}
	return w.name(d) + " has not operated yet"
}

// coilContact answers for a contact that follows a coil.
func (x *explainer) coilContact(k circuit.Contact, begin string, depth int) {
	w := x.w
	part := trace.InstantPart(&w.c.Devices[k.Device])
	coil := w.t.ValueAt(k.Device, trace.Coil, x.m) == 1
	switch {
	case (w.t.ValueAt(k.Device, part, x.m) == 1) != coil:
		state := [2]string{"de-energised ", "energised "}[b2i(coil)] + x.since(w.t.LastOf(k.Device, trace.Coil, x.m))
		x.say(begin + w.name(k.Device) + " has been " + state + ", but its contacts are still on their way")
	case depth == 0:
		x.say(begin + "it follows the coil")
	}
	x.signal(circuit.Signal{Device: k.Device}, depth+1)
}

// keptContact answers for a contact of a device that keeps its position.
func (x *explainer) keptContact(d circuit.DeviceID, begin string, depth int) {
	x.say(begin + x.kept(d))
	if id := x.w.t.LastOf(d, trace.Contacts, x.m); id == trace.None {
		part := circuit.Main
		if x.w.c.Devices[d].Kind == circuit.LatchingRelay {
			part = circuit.SetCoil
		}
		x.signal(circuit.Signal{Device: d, Load: part}, depth+1)
	}
}

// kept words how such a device came to stand as it does.
func (x *explainer) kept(d circuit.DeviceID) string {
	w := x.w
	dev := &w.c.Devices[d]
	name := w.name(d)
	if dev.Kind == circuit.Counter {
		return name + fmt.Sprintf(" has counted %d of its %d", w.count(d, x.m), dev.Count)
	}
	verb := map[circuit.Kind][2]string{
		circuit.LatchingRelay: {"been reset", "been set"},
		circuit.SteppingRelay: {"changed back", "changed over"},
	}[dev.Kind]
	id := w.t.LastOf(d, trace.Contacts, x.m)
	if id == trace.None {
		return name + " has not " + verb[1] + " yet"
	}
	e := w.t.Event(id)
	return name + " " + strings.Replace(verb[e.Value], "been", "was", 1) + " at " + seconds(e.At)
}

// position answers for the bare tag of a latching relay.
func (x *explainer) position(s circuit.Signal, depth int) {
	operated := x.w.t.ValueAt(s.Device, trace.Contacts, x.m) == 1
	if info := x.w.c.Devices[s.Device].Kind.Info(); len(info.Loads) > 0 && x.w.c.Devices[s.Device].Kind != circuit.LatchingRelay {
		x.say(x.w.c.SignalName(s) + " is off" + x.at(depth) + ": it is on no rung")
		return
	}
	begin := x.w.c.Devices[s.Device].Tag + [2]string{" is at rest", " is operated"}[b2i(operated)] + x.at(depth) + ": "
	x.keptContact(s.Device, begin, depth)
}

// timerContact answers for a timed contact. If the timer waits for its coil,
// the coil is asked next.
func (x *explainer) timerContact(k circuit.Contact, begin string, depth int) {
	w := x.w
	x.say(begin + x.timerState(k.Device))
	coil := w.t.ValueAt(k.Device, trace.Coil, x.m) == 1
	if !coil && !w.t.SignalAt(trace.ContactSignal(k), x.m) {
		x.signal(circuit.Signal{Device: k.Device}, depth+1)
	}
}

// timerState words where a timer stands: "KT1, an on-delay timer, has been
// energised since 2 s and has run 1 s of its 5 s".
func (x *explainer) timerState(d circuit.DeviceID) string {
	w := x.w
	dev := &w.c.Devices[d]
	coil := w.t.ValueAt(d, trace.Coil, x.m) == 1
	article := "a "
	if strings.ContainsRune("aeio", rune(dev.Function.String()[0])) {
		article = "an "
	}
	state := w.name(d) + ", " + article + dev.Function.String() + " timer, has "
	id := w.t.LastOf(d, trace.Coil, x.m)
	if id == trace.None {
		return state + "not been energised yet" + x.clockState(d)
	}
	return state + "been " + [2]string{"de-energised", "energised"}[b2i(coil)] + " " + x.since(id) + x.clockState(d)
}

// clockState words how far a timer's time has run, or what became of it.
func (x *explainer) clockState(d circuit.DeviceID) string {
	w := x.w
	f := w.c.Devices[d].Function
	ran, running := w.t.Elapsed(d, x.m)
	whole := seconds(w.whole(d, x.m))
	operated := w.t.ValueAt(d, trace.TimedOut, x.m) == 1
	coil := w.t.ValueAt(d, trace.Coil, x.m) == 1
	switch {
	case f == circuit.Accumulating && w.t.ValueAt(d, trace.ResetCoil, x.m) == 1:
		return ", but its reset coil is energised and holds the time at zero"
	case running && f == circuit.Flasher:
		return " and has run " + seconds(ran) + " of its " + [2]string{"off", "on"}[b2i(operated)] + " time, " + whole
	case running && f == circuit.StarDelta && operated:
		return " and has run " + seconds(ran) + " of its " + whole + " in star"
	case running && f == circuit.StarDelta:
		return " and has run " + seconds(ran) + " of its gap, " + whole
	case running:
		return " and has run " + seconds(ran) + " of its " + whole
	case f == circuit.StarDelta && coil:
		return " and has changed over to delta"
	case f == circuit.Accumulating && ran > 0 && !operated:
		return "; its time stands at " + seconds(ran) + " of its " + whole
	case ran > 0 && w.t.TimingSince(d, x.m) == w.t.LastOf(d, trace.Coil, x.m):
		return " and has run its whole " + seconds(ran)
	case ran > 0 && w.t.TimingSince(d, x.m) != trace.None:
		from := w.t.Event(w.t.TimingSince(d, x.m)).At
		return "; its " + seconds(ran) + " ran from " + seconds(from) + " to " + seconds(w.endOfTime(d, x.m))
	case f == circuit.PulseOnRelease && coil:
		return "; its pulse begins when it drops out"
	}
	return x.cutShort(d)
}

// endOfTime returns when a timer's time last stopped running.
func (w *teller) endOfTime(d circuit.DeviceID, m trace.Moment) time.Duration {
	list := w.t.EventsOf(d)
	for i := len(list) - 1; i >= 0; i-- {
		if e := w.t.Event(list[i]); e.At <= m.At && e.Timing == trace.Held {
			return e.At
		}
	}
	return m.At
}

// cutShort tells of a delay that was lost before its time, if nothing else
// happened to the timer's time since.
func (x *explainer) cutShort(d circuit.DeviceID) string {
	w := x.w
	list := w.t.EventsOf(d)
	for i := len(list) - 1; i >= 0; i-- {
		e := w.t.Event(list[i])
		if e.At > x.m.At || e.Timing == trace.Untouched {
			continue
		}
		if e.Timing == trace.Cleared {
			return x.cleared(e)
		}
		return ""
	}
	return ""
}

// cleared words how much of a delay the event lost.
func (x *explainer) cleared(e trace.Event) string {
	w := x.w
	f := w.c.Devices[e.Device].Function
	before := trace.Before(e)
	ran, running := w.t.Elapsed(e.Device, before)
	held := f == circuit.Accumulating && w.t.ValueAt(e.Device, trace.TimedOut, before) == 0
	switch when := " when " + x.cutBy(e) + " at " + seconds(e.At); {
	case ran > 0 && (running || held) && f != circuit.Flasher:
		return "; it had run " + seconds(ran) + " of its " + seconds(w.whole(e.Device, before)) + when
	case e.Part > trace.DeltaLoad || e.Part == trace.ResetCoil:
		return "; it returned to rest" + when
	}
	return ""
}

// cutBy words what ended a delay: the hand that did, if one did, or the coil.
func (x *explainer) cutBy(e trace.Event) string {
	w := x.w
	if len(e.Because) > 0 {
		if act := w.root(e.Because[0]); act.ByHand() && act.At == e.At {
			return w.pastClause(act)
		}
	}
	if e.Part == trace.ResetCoil {
		return "its reset coil was energised"
	}
	return "its coil " + [2]string{"lost its feed", "was fed again"}[min(e.Value, 1)]
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
