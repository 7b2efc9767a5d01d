package circuit

// GivesAway returns a function that reports whether the line of a signal would give
// away the line of one that is asked for: because it follows from it, or because
// it moves with it. What asked signals follow from themselves gives nothing away;
// it is what they are worked out from.
//
// A load follows from the contacts between it and the rails, as they are drawn; a
// contact follows from its device's coils. The timed contacts of a device move with
// each other, and its other contacts with its coil.
func GivesAway(c *Circuit, asked []Signal) func(Signal) bool {
	f := &follower{c: c, w: Wire(c), loads: map[Load]bool{}, coils: make([]bool, len(c.Devices)), timed: make([]bool, len(c.Devices))}
	for _, s := range asked {
		switch {
		case s.Contact == NoContact:
			f.coils[s.Device] = true
			f.loads[Load{s.Device, s.Load}] = true
		case s.Contact.Group() == Instant:
			f.coils[s.Device] = true
			f.loads[Load{s.Device, Main}] = true
		default:
			f.timed[s.Device] = true
		}
	}
	for f.spread() {
	}
	return f.tells
}

// follower finds what follows from asked signals.
type follower struct {
	c     *Circuit
	w     *Wiring
	loads map[Load]bool
	// Of each device, whether its coils, and so its contacts, tell something; and
	// whether its timed contacts do.
	coils, timed []bool
}

func (f *follower) tells(s Signal) bool {
	if s.Contact != NoContact {
		return f.contact(Contact{Device: s.Device, Kind: s.Contact, Position: s.Position})
	}
	// A relay without a main coil is told by what its others did.
	return f.loads[Load{s.Device, s.Load}] || s.Load == Main && !f.c.Devices[s.Device].TakesLoad(Main) && f.coils[s.Device]
}

// contact reports whether a contact tells something.
func (f *follower) contact(k Contact) bool {
	return f.coils[k.Device] || f.timed[k.Device] && k.Kind.Group() != Instant
}

// spread takes one step along the wires, and reports whether anything was new.
func (f *follower) spread() bool {
	more := false
	for _, l := range f.w.Loads {
		if f.loads[l.Load] || !f.fed(l.A, false, map[NetID]bool{}) && !f.fed(l.B, true, map[NetID]bool{}) {
			continue
		}
		f.loads[l.Load], f.coils[l.Device], more = true, true, true
	}
	return more
}

// fed reports whether a contact that tells something stands between a net and the
// rail on its left, or on its right.
func (f *follower) fed(net NetID, right bool, seen map[NetID]bool) bool {
	if net == LeftRail || net == RightRail || seen[net] {
		return false
	}
	seen[net] = true
	for _, k := range f.w.Contacts {
		here, there := k.B, k.A
		if right {
			here, there = k.A, k.B
		}
		if here == net && (f.contact(k.Contact) || f.fed(there, right, seen)) {
			return true
		}
	}
	return false
}
