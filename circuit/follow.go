package circuit

// GivesAway returns a function that reports whether the line of a signal would give
// away the line of one that is asked for: because it follows from it, or because
// it moves with it. What asked signals follow from themselves gives nothing away;
// it is what they are worked out from. Only the timed contacts that feed an asked
// load are asked with it: who sees them has nothing to work out.
//
// A load follows from the contacts between it and the rails, as they are drawn; a
// contact follows from its device's coils. The timed contacts of a device move with
// each other, and its other contacts with its coil.
func GivesAway(c *Circuit, asked []Signal) func(Signal) bool {
	w := Wire(c)
	f := &follower{c: c, w: w, ways: waysOf(w), loads: map[Load]bool{}, coils: make([]bool, len(c.Devices)), timed: make([]bool, len(c.Devices))}
	for _, s := range asked {
		switch {
		case s.Contact == NoContact:
			f.coils[s.Device] = true
			f.loads[Load{s.Device, s.Load}] = true
			f.askFeeders(Load{s.Device, s.Load})
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
	ways  [2]ways
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

// askFeeders asks for the timed contacts between a load and the rails.
func (f *follower) askFeeders(load Load) {
	for _, l := range f.w.Loads {
		if l.Load == load {
			f.feeders(l.A, false, f.ask)
			f.feeders(l.B, true, f.ask)
		}
	}
}

func (f *follower) ask(k Contact) bool {
	if k.Kind.Group() != Instant {
		f.timed[k.Device] = true
	}
	return false
}

// spread takes one step along the wires, and reports whether anything was new.
func (f *follower) spread() bool {
	more := false
	for _, l := range f.w.Loads {
		if f.loads[l.Load] || !f.feeders(l.A, false, f.contact) && !f.feeders(l.B, true, f.contact) {
			continue
		}
		f.loads[l.Load], f.coils[l.Device], more = true, true, true
	}
	return more
}

// feeders walks from a net to the rail on its left, or on its right, and reports
// whether one of the contacts on the way is what is looked for.
func (f *follower) feeders(net NetID, right bool, found func(Contact) bool) bool {
	return f.ways[b2i(right)].walk(net, map[NetID]bool{}, found)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// ways are the contacts that lead away from each net, to one side.
type ways [][]way

type way struct {
	contact Contact
	to      NetID
}

// waysOf returns the ways to the left and to the right.
func waysOf(w *Wiring) [2]ways {
	both := [2]ways{make(ways, len(w.Nets)), make(ways, len(w.Nets))}
	for _, k := range w.Contacts {
		both[0][k.B] = append(both[0][k.B], way{k.Contact, k.A})
		both[1][k.A] = append(both[1][k.A], way{k.Contact, k.B})
	}
	return both
}

func (l ways) walk(net NetID, seen map[NetID]bool, found func(Contact) bool) bool {
	if net == LeftRail || net == RightRail || seen[net] {
		return false
	}
	seen[net] = true
	for _, k := range l[net] {
		if found(k.contact) || l.walk(k.to, seen, found) {
			return true
		}
	}
	return false
}

// HangsOnTimer reports whether a signal follows, by whatever way, from the timed
// contact of a timer.
func HangsOnTimer(c *Circuit, s Signal) bool {
	w := Wire(c)
	both := waysOf(w)
	asked := map[DeviceID]bool{}
	var device func(DeviceID) bool
	contact := func(k Contact) bool {
		return k.Kind.Group() != Instant && c.Devices[k.Device].Kind == Timer || device(k.Device)
	}
	device = func(id DeviceID) bool {
		if asked[id] {
			return false
		}
		asked[id] = true
		for _, l := range w.Loads {
			if l.Device == id && (both[0].walk(l.A, map[NetID]bool{}, contact) || both[1].walk(l.B, map[NetID]bool{}, contact)) {
				return true
			}
		}
		return false
	}
	if s.Contact != NoContact {
		return contact(Contact{Device: s.Device, Kind: s.Contact, Position: s.Position})
	}
	return device(s.Device)
}
