package why

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Notice words one notice of a trace.
func Notice(t *trace.Trace, n trace.Notice) string { return newTeller(t).notice(n) }

func (w *teller) tags(devices []circuit.DeviceID) string {
	var names []string
	for _, d := range devices {
		names = append(names, w.c.Devices[d].Tag)
	}
	return list(names)
}

func (w *teller) notice(n trace.Notice) string {
	switch n.Kind {
	case trace.Tie:
		return w.tie(n)
	case trace.Race:
		return w.race(n)
	case trace.RaceSkip:
		return "Race not looked into: " + w.tags(n.Devices) +
			" react in the same moment, too many (or too often) to try every order."
	case trace.Chatter:
		return w.chatter(n)
	case trace.Short:
		if len(n.Contacts) == 0 {
			return "Short circuit: wire alone joins the two rails. The run ends here."
		}
		return "Short circuit: " + w.path(n.Contacts, "") + " joins the two rails. The run ends here."
	case trace.NoEffect:
		return "No effect: " + w.noEffect(n) + "."
	case trace.BothCoils:
		return "Both coils of " + w.tags(n.Devices) + " are energised: reset wins."
	case trace.Limit:
		return "Stopped: too many events. What was found until here is shown; look for a circuit that switches without end."
	}
	return ""
}

// race says how it ends all at once, which is what the run shows, and how else
// it could end.
func (w *teller) race(n trace.Notice) string {
	ends := "it ends with " + w.outcomes(n.Outcomes[0])
	if w.t.Ending == trace.Chattering && n.At == w.t.End {
		ends = "the circuit chatters"
	}
	return "Race: " + w.tags(n.Devices) + " react in the same moment. All at once, " + ends +
		"; one after the other, it can end with " + w.outcomes(n.Outcomes[1]) + "."
}

func (w *teller) tie(n trace.Notice) string {
	first, what, timers := "The supply", "the supply", n.Devices
	if n.Action.Device >= 0 {
		first, what, timers = "The hand", "the hand on "+w.c.Devices[n.Action.Device].Tag, n.Devices[1:]
	}
	begin := "Tie: " + what + " and the time of " + w.tags(timers) + " come at the same instant. " + first + " was taken first. "
	if len(n.Outcomes[0]) == 0 {
		return begin + "Both orders end alike, but with one of them something moves to and fro on the way."
	}
	return begin + "So it ends with " + w.outcomes(n.Outcomes[0]) + "; the other order ends with " + w.outcomes(n.Outcomes[1]) + "."
}

// outcomes words how an order ends: "M1 off and M2 off". Of a counter whose
// contacts and count differ, the count says it all.
func (w *teller) outcomes(ends []trace.Outcome) string {
	var words []string
	for i, o := range ends {
		if i+1 < len(ends) && ends[i+1].Device == o.Device && ends[i+1].Part == o.Part && o.Part == trace.Contacts {
			continue
		}
		if len(words) == 6 {
			words = append(words, "more")
			break
		}
		words = append(words, w.outcome(o))
	}
	return list(words)
}

func (w *teller) outcome(o trace.Outcome) string {
	if o.Device == circuit.NoDevice {
		switch trace.Ending(o.Value) {
		case trace.Chattering:
			return "chatter"
		case trace.Shorted:
			return "a short circuit"
		}
		return "a settled circuit"
	}
	d := &w.c.Devices[o.Device]
	operated := [2]string{" at rest", " operated"}[min(max(o.Value, 0), 1)]
	switch {
	case o.Part <= trace.DeltaLoad:
		return strings.TrimSpace(d.Tag+" "+circuit.LoadPart(o.Part).String()) + [2]string{" off", " on"}[o.Value]
	case o.Part == trace.Clock && o.Value < 0:
		return d.Tag + " not timing"
	case o.Part == trace.Clock:
		return d.Tag + " timing until " + seconds(time.Duration(o.Value))
	case d.Kind == circuit.Counter && o.Part == trace.Contacts:
		return d.Tag + " at " + strconv.Itoa(o.Value) + " of " + strconv.Itoa(d.Count)
	case o.Part == trace.SecondOut:
		return d.Tag + "'s delta output" + operated
	case o.Part == trace.TimedOut:
		return d.Tag + "'s timed output" + operated
	}
	return d.Tag + operated
}

// chatter names the loop, and the contact by which a device drops itself out.
// What has no contacts, a lamp for example, only follows.
func (w *teller) chatter(n trace.Notice) string {
	const end = " The run ends here; with declared travel times it would buzz."
	head := w.loopHead(n)
	var loop []circuit.DeviceID
	for _, d := range n.Devices {
		if len(w.contacts[d]) > 0 {
			loop = append(loop, d)
		}
	}
	if at := slices.Index(loop, head); at > 0 {
		loop = slices.Concat(loop[at:], loop[:at])
	}
	if head == circuit.NoDevice || len(loop) == 0 {
		return "Chatter: " + w.tags(n.Devices) + " never settle." + end
	}
	tag := w.c.Devices[head].Tag
	whole := w.path(n.Contacts, tag)
	for _, i := range n.Contacts {
		if k := w.t.Wiring.Contacts[i].Contact; k.Device == head && len(loop) == 1 {
			return "Chatter: " + tag + " never settles. It drops itself out through its own contact " + w.c.ContactName(k) +
				" in " + whole + "." + end
		}
	}
	if len(loop) == 1 {
		return "Chatter: " + tag + " never settles: the loop goes through " + whole + "." + end
	}
	return "Chatter: " + w.tags(loop) + " never settle: the loop goes through " + whole + "." + end
}

// loopHead finds the device whose coil the path of a chatter notice feeds.
func (w *teller) loopHead(n trace.Notice) circuit.DeviceID {
	for id := w.t.Len() - 1; id >= 0; id-- {
		e := w.t.Event(trace.ID(id))
		if e.Part > trace.DeltaLoad || e.Value == 0 || e.At != n.At || !slices.Contains(n.Devices, e.Device) {
			continue
		}
		if slices.Equal(w.t.FeedOf(w.loadPlace(e), trace.Before(e)).Contacts, n.Contacts) {
			return e.Device
		}
	}
	return circuit.NoDevice
}

// noEffect says how things stood already.
func (w *teller) noEffect(n trace.Notice) string {
	a := n.Action
	if a.Device < 0 {
		return "the supply is " + [2]string{"off", "on"}[b2i(a.Verb == circuit.SupplyOn)] + " already"
	}
	d := &w.c.Devices[a.Device]
	switch a.Verb {
	case circuit.Press:
		return d.Tag + " is pressed already"
	case circuit.Release:
		return d.Tag + " is not pressed"
	case circuit.Trip:
		return d.Tag + " has tripped already"
	case circuit.Reset:
		return d.Tag + " has not tripped"
	case circuit.Turn:
		return d.Tag + " stands in " + d.Positions[a.Position] + " already"
	case circuit.SetPreset:
		return d.Tag + " is set to " + w.presets(a.Device, trace.Moment{At: n.At, Step: n.Step}) + " already"
	}
	words := [2]string{" is at rest already", " has operated already"}
	if d.Kind == circuit.Switch {
		words = [2]string{" is open already", " is closed already"}
	}
	return d.Tag + words[b2i(a.Verb == circuit.Close)]
}
