package misread

import (
	"slices"
	"time"

	"tarry/circuit"
)

// change is a circuit on its way to what a learner takes it for. Devices keep
// their places; new ones stand behind them.
type change struct {
	c *circuit.Circuit
	// as has the signals that are to be read elsewhere in the changed circuit.
	as map[circuit.Signal]circuit.Signal
	// behaves and reads say which reading has changed a timer's behaviour, or its
	// contacts: two that change the same do not combine.
	behaves, reads map[circuit.DeviceID]string
	clash          string // two readings that do not combine, "" for none
	id             string // of the reading that is at work

	script func(*circuit.Script) *circuit.Script // nil for the script as it is
	frozen bool                                  // time stands still without supply
	stops  bool                                  // things stop in the order in which they started
}

// newChange copies c, without what belongs to the right answer only.
func newChange(c *circuit.Circuit) *change {
	k := *c
	k.Notes, k.Scripts = nil, nil
	k.Devices = slices.Clone(c.Devices)
	k.Rungs = slices.Clone(c.Rungs)
	for i := range k.Rungs {
		r := &k.Rungs[i]
		r.Path, r.Return, r.Loads = copyPath(r.Path), copyPath(r.Return), slices.Clone(r.Loads)
	}
	return &change{c: &k, as: map[circuit.Signal]circuit.Signal{},
		behaves: map[circuit.DeviceID]string{}, reads: map[circuit.DeviceID]string{}}
}

func copyPath(p circuit.Path) circuit.Path {
	p = slices.Clone(p)
	for i := range p {
		p[i].Branches = slices.Clone(p[i].Branches)
		for j := range p[i].Branches {
			p[i].Branches[j] = copyPath(p[i].Branches[j])
		}
	}
	return p
}

// timers calls do for every timer of one of the functions, of all without any,
// and returns how many there are.
func (k *change) timers(do func(circuit.DeviceID, *circuit.Device), functions ...circuit.Function) int {
	n := 0
	for i := range k.c.Devices {
		d := &k.c.Devices[i]
		if d.Kind == circuit.Timer && (len(functions) == 0 || slices.Contains(functions, d.Function)) {
			do(circuit.DeviceID(i), d)
			n++
		}
	}
	return n
}

// behave gives a timer another function and settings. What it does without
// supply stays.
func (k *change) behave(id circuit.DeviceID, f circuit.Function, presets ...time.Duration) {
	d := &k.c.Devices[id]
	k.claim(k.behaves, id)
	d.Storage, d.Function = d.Stored(), f
	copy(d.Presets[:], presets)
}

// claim notes that the present reading has changed something of a device.
func (k *change) claim(by map[circuit.DeviceID]string, id circuit.DeviceID) {
	if first, taken := by[id]; taken && first != k.id {
		k.clash = first + " and " + k.id + " both say what " + k.c.Devices[id].Tag + " does"
	}
	by[id] = k.id
}

// place is where a contact stands: a rung, and whether behind its loads.
type place struct {
	rung int
	back bool
}

// contacts calls do for every contact of the circuit.
func (k *change) contacts(do func(place, *circuit.Contact)) {
	for i := range k.c.Rungs {
		r := &k.c.Rungs[i]
		walk(r.Path, func(c *circuit.Contact) { do(place{i, false}, c) })
		walk(r.Return, func(c *circuit.Contact) { do(place{i, true}, c) })
	}
}

func walk(p circuit.Path, do func(*circuit.Contact)) {
	for i := range p {
		if p[i].Contact.Kind != circuit.NoContact {
			do(&p[i].Contact)
		}
		for _, b := range p[i].Branches {
			walk(b, do)
		}
	}
}

// timed reports whether c is a timed contact.
func timed(c circuit.Contact) bool { return c.Kind.Group() != circuit.Instant }

// replace puts one contact for another, and reads its signal there.
func (k *change) replace(c *circuit.Contact, by circuit.Contact) {
	k.as[signalOf(*c)] = signalOf(by)
	*c = by
}

func signalOf(c circuit.Contact) circuit.Signal {
	return circuit.Signal{Device: c.Device, Contact: c.Kind, Position: c.Position}
}

// instant is the contact of the same device, and closed or open at rest like c,
// that follows the coil at once.
func instant(c circuit.Contact) circuit.Contact {
	c.Kind = pick(c.Kind.ClosedAtRest(), circuit.NC, circuit.NO)
	return c
}

func pick(second bool, b, a circuit.ContactKind) circuit.ContactKind {
	if second {
		return b
	}
	return a
}

// feeds reports whether the rung feeds the main coil of a device.
func (k *change) feeds(rung int, id circuit.DeviceID) bool {
	return slices.Contains(k.c.Rungs[rung].Loads, circuit.Load{Device: id})
}

// feedsTimer returns a timer, other than one, whose coil the rung feeds.
func (k *change) feedsTimer(rung int, but circuit.DeviceID) (circuit.DeviceID, bool) {
	for _, l := range k.c.Rungs[rung].Loads {
		if l.Part == circuit.Main && l.Device != but && k.c.Devices[l.Device].Kind == circuit.Timer {
			return l.Device, true
		}
	}
	return circuit.NoDevice, false
}

// rungOf returns the first rung that feeds the main coil of a device, or -1.
func (k *change) rungOf(id circuit.DeviceID) int {
	for i := range k.c.Rungs {
		if k.feeds(i, id) {
			return i
		}
	}
	return -1
}

// fromLeft reports whether the rung begins at the left rail.
func (k *change) fromLeft(r *circuit.Rung) bool {
	return len(r.Path) == 0 || r.Path[0].Net == "" || r.Path[0].Net == k.c.Supply.Rails[0]
}

// inFront puts items in front of a path, behind the rail it may begin with.
func inFront(p circuit.Path, items ...circuit.Item) circuit.Path {
	if len(p) > 0 && p[0].Net != "" {
		return slices.Concat(p[:1], items, p[1:])
	}
	return append(items, p...)
}

// add puts a new device behind the others.
func (k *change) add(d circuit.Device) circuit.DeviceID {
	k.c.Devices = append(k.c.Devices, d)
	return circuit.DeviceID(len(k.c.Devices) - 1)
}

func item(id circuit.DeviceID, kind circuit.ContactKind) circuit.Item {
	return circuit.Item{Contact: circuit.Contact{Device: id, Kind: kind}}
}

func either(a, b circuit.Path) circuit.Item { return circuit.Item{Branches: []circuit.Path{a, b}} }

// timing is a pair of contacts that are both closed while an on-delay's clock
// runs, and resting the two of which one is closed while it does not.
func timing(id circuit.DeviceID) circuit.Path {
	return circuit.Path{item(id, circuit.NO), item(id, circuit.NCTO)}
}

func resting(id circuit.DeviceID) circuit.Item {
	return either(circuit.Path{item(id, circuit.NC)}, circuit.Path{item(id, circuit.NOTC)})
}
