package why

import (
	"strings"

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
		return "Race: " + w.tags(n.Devices) + " react in the same moment. All at once, it ends with " +
			w.outcomes(n.Outcomes[0]) + "; one after the other it can end with " + w.outcomes(n.Outcomes[1]) + "."
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
		return "No effect: " + w.noEffect(n.Action) + "."
	case trace.BothCoils:
		return "Both coils of " + w.tags(n.Devices) + " are energised: reset wins."
	case trace.Limit:
		return "Stopped: too many events. What was found until here is shown; look for a circuit that switches without end."
	}
	return ""
}

func (w *teller) tie(n trace.Notice) string {
	first, what, timers := "The supply", "the supply", n.Devices
	if n.Action.Device >= 0 {
		first, what, timers = "The hand", "the hand on "+w.c.Devices[n.Action.Device].Tag, n.Devices[1:]
	}
	begin := "Tie: " + what + " and the time of " + w.tags(timers) + " come at the same instant. " + first + " was taken first. "
	if len(n.Outcomes[0]) == 0 {
		return begin + "The other order ends the same, but with a pulse of no width."
	}
	return begin + "So it ends with " + w.outcomes(n.Outcomes[0]) + "; the other order ends with " + w.outcomes(n.Outcomes[1]) + "."
}

// outcomes words how an order ends: "M1 off and M2 off".
func (w *teller) outcomes(ends []trace.Outcome) string {
	var words []string
	for _, o := range ends {
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
	operated := [2]string{" at rest", " operated"}[min(o.Value, 1)]
	switch {
	case o.Part <= trace.DeltaLoad:
		return strings.TrimSpace(d.Tag+" "+circuit.LoadPart(o.Part).String()) + [2]string{" off", " on"}[o.Value]
	case o.Part == trace.Clock:
		return d.Tag + [2]string{" not timing", " timing"}[o.Value]
	case d.Kind == circuit.Counter && o.Part == trace.Contacts:
		return d.Tag + " at another count"
	case o.Part == trace.SecondOut:
		return d.Tag + "'s delta output" + operated
	case o.Part == trace.TimedOut:
		return d.Tag + "'s timed output" + operated
	}
	return d.Tag + operated
}

// chatter names the loop, and the contact by which a device drops itself out.
func (w *teller) chatter(n trace.Notice) string {
	begin := "Chatter: " + w.tags(n.Devices) + " never settle"
	if len(n.Devices) == 1 {
		begin = "Chatter: " + w.tags(n.Devices) + " never settles"
	}
	for _, i := range n.Contacts {
		k := w.t.Wiring.Contacts[i].Contact
		if len(n.Devices) > 0 && k.Device == n.Devices[0] {
			tag := w.c.Devices[k.Device].Tag
			return begin + ". " + tag + " drops itself out through its own contact " + w.c.ContactName(k) +
				" in " + w.path(n.Contacts, tag) + ". The run ends here; with declared travel times it would buzz."
		}
	}
	if len(n.Devices) > 0 && len(n.Contacts) > 0 {
		begin += ": the loop goes through " + w.path(n.Contacts, w.c.Devices[n.Devices[0]].Tag)
	}
	return begin + ". The run ends here; with declared travel times it would buzz."
}

func (w *teller) noEffect(a circuit.Action) string {
	if a.Device < 0 {
		return a.Verb.String() + " changes nothing, it is so already"
	}
	return a.Verb.String() + " " + w.c.Devices[a.Device].Tag + " changes nothing, it is so already"
}
