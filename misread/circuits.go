package misread

import (
	"slices"

	"tarry/circuit"
)

// Section B: what a circuit does.

// timedSeal is C01: a timed contact across the button holds its own coil like an
// instantaneous one. The contact's own row stays as it is.
func timedSeal(k *change) string {
	n := 0
	k.contacts(func(at place, c *circuit.Contact) {
		d := &k.c.Devices[c.Device]
		if d.Function == circuit.OnDelay && c.Kind == circuit.NOTC && k.feeds(at.rung, c.Device) {
			*c = instant(*c)
			n++
		}
	})
	return unless(n, "no timed contact stands in its own coil's rung to seal it")
}

// allDelayed is C02.
func allDelayed(k *change) string {
	n := 0
	k.contacts(func(_ place, c *circuit.Contact) {
		d := &k.c.Devices[c.Device]
		names := d.Function.Info().Contacts
		if d.Kind != circuit.Timer || timed(*c) || d.Function == circuit.StarDelta || len(names) == 0 {
			return
		}
		to := *c
		to.Kind = names[0]
		if c.Kind == circuit.NC {
			to.Kind = names[1]
		}
		k.replace(c, to)
		n++
	})
	return unless(n, "no instantaneous contact of a timer is drawn")
}

// atOnceElsewhere is C03.
func atOnceElsewhere(k *change) string {
	n := 0
	k.contacts(func(at place, c *circuit.Contact) {
		d := &k.c.Devices[c.Device]
		if d.Kind != circuit.Timer || !timed(*c) || d.Function == circuit.StarDelta || k.feeds(at.rung, c.Device) {
			return
		}
		k.replace(c, instant(*c))
		n++
	})
	return unless(n, "no timed contact stands on another rung than its coil")
}

// strangers is C04: for each tag whose contacts stand on other rungs than the
// coil, a device that nothing moves.
func strangers(k *change) string {
	twins := map[circuit.DeviceID]circuit.DeviceID{}
	own := map[circuit.Signal]bool{} // stands beside the coil too
	k.contacts(func(at place, c *circuit.Contact) {
		own[signalOf(*c)] = own[signalOf(*c)] || k.hasCoilOf(at.rung, c.Device)
	})
	k.contacts(func(at place, c *circuit.Contact) {
		d := k.c.Devices[c.Device]
		if len(d.Kind.Info().Loads) == 0 || k.hasCoilOf(at.rung, c.Device) {
			return
		}
		twin, made := twins[c.Device]
		if !made {
			twin = k.add(d)
			twins[c.Device] = twin
		}
		to := *c
		to.Device = twin
		if !own[signalOf(*c)] {
			k.as[signalOf(*c)] = signalOf(to)
		}
		*c = to
	})
	return unless(len(twins), "every contact stands on the rung of its own coil")
}

// hasCoilOf reports whether the rung feeds any coil of a device.
func (k *change) hasCoilOf(rung int, id circuit.DeviceID) bool {
	return slices.ContainsFunc(k.c.Rungs[rung].Loads, func(l circuit.Load) bool { return l.Device == id })
}

// makeBeforeBreak is C05: a switch for each position, of which one opens and
// another closes in the same instant.
func makeBeforeBreak(k *change) string {
	first := map[circuit.DeviceID]circuit.DeviceID{} // of each selector, the switch of its first position
	for i := range k.c.Devices {
		d := k.c.Devices[i]
		if d.Kind != circuit.Selector {
			continue
		}
		for p, name := range d.Positions {
			id := k.add(circuit.Device{Tag: d.Tag + " " + name, Kind: circuit.Switch})
			if p == 0 {
				first[circuit.DeviceID(i)] = id
			}
		}
	}
	k.contacts(func(_ place, c *circuit.Contact) {
		if c.Kind == circuit.AtPosition {
			kind := pick(c.Position == 0, circuit.NC, circuit.NO)
			*c = circuit.Contact{Device: first[c.Device] + circuit.DeviceID(c.Position), Kind: kind}
		}
	})
	k.script = func(s *circuit.Script) *circuit.Script { return turnSwitches(s, first) }
	return unless(len(first), "there is no selector with a change-over")
}

// turnSwitches turns the selectors, whose own rows stay, and their switches.
func turnSwitches(s *circuit.Script, first map[circuit.DeviceID]circuit.DeviceID) *circuit.Script {
	out := *s
	out.Actions = nil
	now := map[circuit.DeviceID]int{}
	for _, a := range s.Timeline() {
		out.Actions = append(out.Actions, a)
		if a.Verb != circuit.Turn || now[a.Device] == a.Position {
			continue
		}
		for _, p := range []int{now[a.Device], a.Position} {
			verb := circuit.Open
			if (p == 0) != (p == a.Position) { // the first position's switch is closed at rest
				verb = circuit.Close
			}
			out.Actions = append(out.Actions,
				circuit.Action{At: a.At, Verb: verb, Device: first[a.Device] + circuit.DeviceID(p)})
		}
		now[a.Device] = a.Position
	}
	return &out
}

// settles is C06: a timer that opens its own coil's rung does so for good.
func settles(k *change) string {
	return unless(k.selfResetting(func(id circuit.DeviceID) { k.behave(id, circuit.StaysOperated) }),
		"no on-delay timer opens its own coil's rung")
}

// selfResetting calls do for every on-delay with its own NCTO before its coil.
func (k *change) selfResetting(do func(circuit.DeviceID)) int {
	found := map[circuit.DeviceID]bool{}
	k.contacts(func(at place, c *circuit.Contact) {
		if c.Kind == circuit.NCTO && k.feeds(at.rung, c.Device) && k.c.Devices[c.Device].Function == circuit.OnDelay {
			found[c.Device] = true
		}
	})
	return k.timers(func(id circuit.DeviceID, _ *circuit.Device) {
		if found[id] {
			do(id)
		}
	}, circuit.OnDelay) * min(len(found), 1)
}

// ownRungOnly is C07: what joins the middles of two ways carries nothing.
func ownRungOnly(k *change) string {
	before := len(k.c.Rungs)
	k.c.Rungs = slices.DeleteFunc(k.c.Rungs, func(r circuit.Rung) bool { return r.Tie != "" && !k.fromLeft(&r) })
	return unless(before-len(k.c.Rungs), "no bridge joins two ways")
}

// presetIsGap is C08.
func presetIsGap(k *change) string {
	return unless(k.timers(func(_ circuit.DeviceID, d *circuit.Device) {
		d.Presets[0], d.Presets[1] = d.Presets[1], d.Presets[0]
	}, circuit.StarDelta), "there is no star-delta timer")
}

// noTravel is C09 and P16: contacts take no time.
func noTravel(k *change) string {
	n := 0
	for i := range k.c.Devices {
		d := &k.c.Devices[i]
		if d.Operate > 0 || d.Release > 0 {
			d.Operate, d.Release = 0, 0
			n++
		}
	}
	return unless(n, "no contact has a travel time")
}

// carriesOn is C10.
func carriesOn(k *change) string {
	k.frozen = true
	return ""
}

// litWithoutSupply is C11: a feed that fails instead of the supply, in front of
// every rung but those behind an off-delay's timed contact.
func litWithoutSupply(k *change) string {
	kept := map[int]bool{}
	k.contacts(func(at place, c *circuit.Contact) {
		if k.c.Devices[c.Device].Function == circuit.OffDelay && timed(*c) {
			kept[at.rung] = true
		}
	})
	if len(kept) == 0 {
		return "no timed contact of an off-delay timer is drawn"
	}
	feed := k.add(circuit.Device{Tag: "feed", Kind: circuit.Switch})
	for i := range k.c.Rungs {
		if r := &k.c.Rungs[i]; !kept[i] && k.fromLeft(r) {
			r.Path = inFront(r.Path, item(feed, circuit.NC))
		}
	}
	k.script = func(s *circuit.Script) *circuit.Script {
		out := *s
		out.Actions = slices.Clone(s.Actions)
		for i := range out.Actions {
			switch a := &out.Actions[i]; a.Verb {
			case circuit.SupplyOff:
				a.Verb, a.Device = circuit.Close, feed
			case circuit.SupplyOn:
				a.Verb, a.Device = circuit.Open, feed
			}
		}
		return &out
	}
	return ""
}

// longestIsTotal is C12: chained on-delays all start with the first, and none is
// done before the longest so far.
func longestIsTotal(k *change) string {
	type link struct{ from, to circuit.DeviceID }
	var links []link
	k.contacts(func(at place, c *circuit.Contact) {
		next, any := k.feedsTimer(at.rung, c.Device)
		if any && c.Kind == circuit.NOTC && k.c.Devices[next].Function == circuit.OnDelay {
			links = append(links, link{c.Device, next})
			*c = instant(*c)
		}
	})
	for range links { // a chain is no longer than its links
		for _, l := range links {
			from, to := &k.c.Devices[l.from], &k.c.Devices[l.to]
			to.Presets[0] = max(to.Presets[0], from.Presets[0])
		}
	}
	return unless(len(links), "no on-delay timer starts another one")
}

// sameOrder is C13.
func sameOrder(k *change) string {
	n := 0
	for i := range k.c.Devices {
		if isDrive(&k.c.Devices[i]) {
			n++
		}
	}
	k.stops = n > 1
	return unless(n/2, "there are no two motors or contactors to put in order")
}

// isDrive reports whether a device stands for something that runs.
func isDrive(d *circuit.Device) bool { return d.Kind == circuit.Contactor || d.Kind == circuit.Motor }

// bothAtOnce is C14: of two timers that start and stop each other, the second
// starts with the first.
func bothAtOnce(k *change) string {
	starts := map[[2]circuit.DeviceID]bool{} // a timed contact of one before the coil of the other
	k.contacts(func(at place, c *circuit.Contact) {
		if next, any := k.feedsTimer(at.rung, c.Device); any && timed(*c) {
			starts[[2]circuit.DeviceID{c.Device, next}] = true
		}
	})
	n := 0
	k.contacts(func(at place, c *circuit.Contact) {
		next, any := k.feedsTimer(at.rung, c.Device)
		if any && c.Kind == circuit.NOTC && starts[[2]circuit.DeviceID{next, c.Device}] {
			*c = instant(*c)
			n++
		}
	})
	return unless(n, "no two timers start and stop each other")
}
