package notation

// What is wrong with the wiring as a whole. The nets come from circuit.Wire.
// Nets that contacts join, the rails left out, form islands; an island knows
// which rails a contact or a wire connects it to. From that follow, in one
// pass each:
//
//   - a load can work only if one of its ends can reach the left rail and the
//     other one the right rail;
//   - an island that no contact connects to a rail, but loads do on both
//     sides, makes these loads share the supply;
//   - an island that nothing connects to a rail is dead.
//
// The check looks at what could ever conduct, with every contact closed; what
// does conduct, and when, is the engine's affair.

import (
	"sort"

	"tarry/circuit"
	"tarry/diag"
)

// rails is a set of rails.
type rails uint8

const (
	left rails = 1 << iota
	right
)

type checker struct {
	l       *lowerer
	w       *circuit.Wiring
	joined  union   // nets into islands
	touches []rails // by island
}

// union joins nets. The zero value joins none and has room for none.
type union []circuit.NetID

func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = circuit.NetID(i)
	}
	return u
}

func (u union) root(n circuit.NetID) circuit.NetID {
	for u[n] != n {
		u[n] = u[u[n]]
		n = u[n]
	}
	return n
}

func (u union) join(a, b circuit.NetID) { u[u.root(b)] = u.root(a) }

// check reports what is wrong with the wiring.
func check(l *lowerer) {
	c := &checker{l: l, w: circuit.Wire(l.c)}
	c.unused()
	c.neverFed()
	c.timedSeals()
	if c.w.RailsJoined {
		c.railsJoined()
		return
	}
	c.bridged()
	c.islands()
	c.loads()
	c.ties()
}

// rung returns the source of the rung at a place in Circuit.Rungs and turns
// the reporter to its line.
func (c *checker) rung(i int) *RungSource {
	source := &c.l.file.Rungs[i]
	c.l.r.within = source.At
	return source
}

// device turns the reporter to a device's line and returns its tag's place.
func (c *checker) device(id int) diag.Range {
	at := c.l.file.Devices[id]
	c.l.r.within = at
	return at
}

// inUse marks the devices that stand on a rung or in a plant rule.
func (c *checker) inUse() (contacts, fed []bool) {
	circ := c.l.c
	contacts, fed = make([]bool, len(circ.Devices)), make([]bool, len(circ.Devices))
	for _, k := range c.w.Contacts {
		contacts[k.Device] = true
	}
	for _, load := range c.w.Loads {
		fed[load.Device] = true
	}
	for _, p := range circ.Plants {
		contacts[p.Sensor] = true
	}
	return contacts, fed
}

// unused reports devices that are on no rung.
func (c *checker) unused() {
	contacts, fed := c.inUse()
	for i, d := range c.l.c.Devices {
		if !contacts[i] && !fed[i] {
			c.l.r.report(codeUnused, c.device(i), "%s is on no rung", d.Tag).
				Explain("It is declared, but neither its contacts nor its coil are wired.")
		}
	}
}

// neverFed reports devices whose contacts are wired and whose coil is not.
func (c *checker) neverFed() {
	contacts, fed := c.inUse()
	for i := range c.l.c.Devices {
		d := &c.l.c.Devices[i]
		if contacts[i] && !fed[i] && len(d.Kind.Info().Loads) > 0 {
			c.l.r.report(codeNeverFed, c.device(i), "nothing feeds %s", d.Tag).
				Explain("Its contacts are wired, but its coil is on no rung, so they never move.")
		}
	}
}

// timedSeals reports late-closing contacts that are to hold a button.
func (c *checker) timedSeals() {
	for i := range c.l.c.Rungs {
		r := &c.l.c.Rungs[i]
		own := map[circuit.DeviceID]bool{}
		for _, load := range r.Loads {
			own[load.Device] = true
		}
		place := 0
		c.sealsIn(r.Path, own, i, &place)
	}
}

// sealsIn looks through a path; place counts the contacts as RungSource does.
func (c *checker) sealsIn(p circuit.Path, own map[circuit.DeviceID]bool, rung int, place *int) {
	for _, item := range p {
		if item.Contact.Kind != circuit.NoContact {
			*place++
		}
		if item.Branches == nil {
			continue
		}
		buttons := c.buttonBranches(item.Branches)
		for b, branch := range item.Branches {
			if buttons > 0 && !c.hasButton(branch) {
				c.sealBranch(branch, own, rung, *place)
			}
			c.sealsIn(item.Branches[b], own, rung, place)
		}
	}
}

func (c *checker) buttonBranches(branches []circuit.Path) int {
	n := 0
	for _, b := range branches {
		if c.hasButton(b) {
			n++
		}
	}
	return n
}

// hasButton reports whether a branch is closed by a momentary button.
func (c *checker) hasButton(p circuit.Path) bool {
	for _, item := range p {
		k := item.Contact
		if k.Kind == circuit.NO && c.l.c.Devices[k.Device].Kind == circuit.Button {
			return true
		}
	}
	return false
}

// sealBranch reports the late-closing contacts of the rung's own timers in a
// branch whose first contact has the given place.
func (c *checker) sealBranch(p circuit.Path, own map[circuit.DeviceID]bool, rung, place int) {
	for _, item := range p {
		if item.Branches != nil {
			for _, b := range item.Branches {
				b.Contacts(func(circuit.Contact) { place++ })
			}
			continue
		}
		k := item.Contact
		if k.Kind == circuit.NoContact {
			continue
		}
		if k.Kind == circuit.NOTC && own[k.Device] {
			tag := c.l.c.Devices[k.Device].Tag
			at := c.rung(rung).Contacts[place]
			c.l.r.report(codeTimedSeal, at, "%s.notc seals its own coil", tag).
				Explain("A timed contact closes too late to hold a button that was only dabbed; an instantaneous contact (%s.no) would hold.", tag).
				Offer(at, tag+".no", "did you mean "+tag+".no?")
		}
		place++
	}
}

// railsJoined finds the rung that joins the rails, which is the first with
// which they are joined: that is a search among the first n rungs.
func (c *checker) railsJoined() {
	part := *c.l.c
	n := sort.Search(len(part.Rungs), func(n int) bool {
		part.Rungs = c.l.c.Rungs[:n+1]
		return circuit.Wire(&part).RailsJoined
	})
	n = min(n, len(c.l.c.Rungs)-1)
	at := c.rung(n).At
	c.l.r.report(codeRailsJoined, at, "rung %d joins the two rails by wire", c.l.c.Rungs[n].Number).
		Explain("That is a short circuit as soon as the supply is on. A load or at least a contact must stand between the rails.")
}

// bridged reports contacts with one net at both ends.
func (c *checker) bridged() {
	place, rung := 0, -1
	for _, k := range c.w.Contacts {
		if k.Rung != rung {
			place, rung = 0, k.Rung
		}
		if k.A == k.B {
			c.l.r.report(codeBridged, c.rung(rung).Contacts[place], "a wire bridges %s", c.l.c.ContactName(k.Contact)).
				Explain("Both ends of the contact are on one net, so that it switches nothing.")
		}
		place++
	}
}

func (c *checker) root(n circuit.NetID) circuit.NetID { return c.joined.root(n) }

func isRail(n circuit.NetID) bool { return n == circuit.LeftRail || n == circuit.RightRail }

// islands works out the islands and the rails that each touches.
func (c *checker) islands() {
	c.joined = newUnion(len(c.w.Nets))
	for _, k := range c.w.Contacts {
		if !isRail(k.A) && !isRail(k.B) {
			c.joined.join(k.A, k.B)
		}
	}
	c.touches = make([]rails, len(c.w.Nets))
	c.touches[circuit.LeftRail] = left
	c.touches[circuit.RightRail] = right
	for _, k := range c.w.Contacts {
		for _, ends := range [][2]circuit.NetID{{k.A, k.B}, {k.B, k.A}} {
			if isRail(ends[0]) && !isRail(ends[1]) {
				c.touches[c.root(ends[1])] |= c.touches[ends[0]]
			}
		}
	}
}

// loads reports the loads that can never be energised.
func (c *checker) loads() {
	chains, neighbours := c.chains(), c.neighbours()
	place, rung, dead := 0, -1, -1
	for i := range c.w.Loads {
		load := &c.w.Loads[i]
		if load.Rung != rung {
			place, rung = 0, load.Rung
		}
		at := c.rung(rung).Loads[place]
		place++
		a, b := c.root(load.A), c.root(load.B)
		ta, tb := c.touches[a], c.touches[b]
		switch {
		case load.A == load.B:
			c.l.r.report(codeBothEnds, at, "both ends of %s are on one net", c.l.c.LoadName(load.Load)).
				Explain("It is bridged by wire and can never be energised. One end must go to the other rail: look at the net behind the load.")
		case ta&left != 0 && tb&right != 0, ta&right != 0 && tb&left != 0:
		case chains[a] || chains[b]:
			c.series(i, at, neighbours)
		case dead != rung: // once a rung
			dead = rung
			c.dead(load, at, ta|tb)
		}
	}
}

// chains returns, by island, whether it touches no rail but loads connect it
// to both.
func (c *checker) chains() []bool {
	group := newUnion(len(c.w.Nets)) // dead islands joined by loads
	for _, load := range c.w.Loads {
		if a, b := c.root(load.A), c.root(load.B); c.touches[a] == 0 && c.touches[b] == 0 {
			group.join(a, b)
		}
	}
	reach := make([]rails, len(c.w.Nets))
	for _, load := range c.w.Loads {
		a, b := c.root(load.A), c.root(load.B)
		if c.touches[a] == 0 {
			reach[group.root(a)] |= c.touches[b]
		}
		if c.touches[b] == 0 {
			reach[group.root(b)] |= c.touches[a]
		}
	}
	chains := make([]bool, len(c.w.Nets))
	for i := range chains {
		n := circuit.NetID(i)
		chains[i] = c.root(n) == n && c.touches[n] == 0 && reach[group.root(n)] == left|right
	}
	return chains
}

// neighbours returns, by island, the first two loads that hang on it.
func (c *checker) neighbours() map[circuit.NetID][]int {
	first := map[circuit.NetID][]int{}
	for i := range c.w.Loads {
		a, b := c.root(c.w.Loads[i].A), c.root(c.w.Loads[i].B)
		for _, n := range []circuit.NetID{a, b} {
			if len(first[n]) < 2 {
				first[n] = append(first[n], i)
			}
		}
	}
	return first
}

// series reports the loads that share the supply through an island, at the
// first of them.
func (c *checker) series(i int, at diag.Range, first map[circuit.NetID][]int) {
	load := &c.w.Loads[i]
	for _, n := range []circuit.NetID{c.root(load.A), c.root(load.B)} {
		pair := first[n]
		if c.touches[n] != 0 || len(pair) < 2 || pair[0] != i {
			continue
		}
		a, b := c.l.c.LoadName(load.Load), c.l.c.LoadName(c.w.Loads[pair[1]].Load)
		c.l.r.report(codeSeries, at, "%s and %s share the supply", a, b).
			Explain("They stand in series between the rails, so that neither gets enough voltage: both stay off. Give each its own way to both rails.")
		return
	}
}

// dead reports a load that does not lie between the rails.
func (c *checker) dead(load *circuit.WiredLoad, at diag.Range, reached rails) {
	name, rails := c.l.c.LoadName(load.Load), c.l.c.Supply.Rails
	missing := "either rail"
	switch reached {
	case left:
		missing = rails[1]
	case right:
		missing = rails[0]
	case left | right:
		missing = "the rail that it lacks at its other end"
	}
	c.l.r.report(codeDeadRung, at, "%s has no way to %s", name, missing).
		Explain("Even with every contact closed it does not lie between the rails. Look at the named nets on rung %d: a name that only stands once leads nowhere.", c.l.c.Rungs[load.Rung].Number)
}

// ties reports ties that no rail and no load has to do with.
func (c *checker) ties() {
	loaded := map[circuit.NetID]bool{}
	for _, load := range c.w.Loads {
		loaded[c.root(load.A)], loaded[c.root(load.B)] = true, true
	}
	seen := make([]bool, len(c.l.c.Rungs))
	for _, k := range c.w.Contacts {
		n := c.root(k.A)
		if isRail(k.A) {
			n = c.root(k.B)
		}
		r := &c.l.c.Rungs[k.Rung]
		if seen[k.Rung] || r.Tie == "" {
			continue
		}
		seen[k.Rung] = true
		if !isRail(n) && c.touches[n] == 0 && !loaded[n] {
			c.l.r.report(codeDeadRung, c.rung(k.Rung).At, "rung %d reaches no rail", r.Number).
				Explain("Neither end of the tie leads to a rail or a load, even with every contact closed. Look at the names behind the @ signs.")
		}
	}
}
