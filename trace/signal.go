package trace

import (
	"sort"
	"time"

	"tarry/circuit"
)

// Moment is a point of a run: an instant and a small step in it. It stands
// behind everything that happened up to and in that step.
type Moment struct {
	At   time.Duration
	Step int
}

// lastStep is later than any small step.
const lastStep = 1<<31 - 1

// Settled returns the moment at which everything at the instant is over.
func Settled(at time.Duration) Moment { return Moment{at, lastStep} }

// Before returns the moment just before e: what e's small step saw.
func Before(e Event) Moment { return Moment{e.At, e.Step - 1} }

// After returns the moment just after e's small step.
func After(e Event) Moment { return Moment{e.At, e.Step} }

// index finds the events of a device without a search through all of them. It
// grows with the trace.
type index struct {
	upTo   int
	device [][]ID
	part   [][NoticePart][]ID // the same, apart by part
	supply []ID
	// contacts lists the contacts at each net; it does not depend on events.
	contacts [][]int32
}

func (t *Trace) indexed() *index {
	x := &t.index
	if x.device == nil {
		x.device = make([][]ID, len(t.Circuit.Devices))
		x.part = make([][NoticePart][]ID, len(t.Circuit.Devices))
	}
	for ; x.upTo < len(t.records); x.upTo++ {
		switch r := &t.records[x.upTo]; {
		case r.part == SupplyPart:
			x.supply = append(x.supply, ID(x.upTo))
		case r.device >= 0 && r.part != NoticePart:
			x.device[r.device] = append(x.device[r.device], ID(x.upTo))
			x.part[r.device][r.part] = append(x.part[r.device][r.part], ID(x.upTo))
		}
	}
	return x
}

// EventsOf returns the numbers of the device's events in order, those of its
// notices left out. The list is shared: do not change it.
func (t *Trace) EventsOf(d circuit.DeviceID) []ID { return t.indexed().device[d] }

// upTo returns how many of the events in list lie at or before m.
func (t *Trace) upTo(list []ID, m Moment) int {
	return sort.Search(len(list), func(i int) bool {
		r := &t.records[list[i]]
		return r.at > m.At || r.at == m.At && int(r.step) > m.Step
	})
}

// PartOf returns which part's events tell the state of a contact of kind k:
// the coil itself where the contacts follow it without delay.
func PartOf(d *circuit.Device, k circuit.ContactKind) Part {
	switch k.Group() {
	case circuit.Timed:
		return TimedOut
	case circuit.Second:
		return SecondOut
	}
	return InstantPart(d)
}

// InstantPart returns the part whose events move the device's instantaneous
// contacts.
func InstantPart(d *circuit.Device) Part {
	follows := d.Kind == circuit.Relay || d.Kind == circuit.Contactor || d.Kind == circuit.Timer
	if follows && d.Operate == 0 && d.Release == 0 {
		return Coil
	}
	return Contacts
}

// PartOfLoad returns the part that stands for a load signal. The bare tag of a
// latching relay means its position.
func PartOfLoad(d *circuit.Device, p circuit.LoadPart) Part {
	if d.Kind == circuit.LatchingRelay && p == circuit.Main {
		return Contacts
	}
	return Part(p)
}

// On reports whether a signal is on (closed) when its part has the value.
func (t *Trace) On(s circuit.Signal, value int) bool {
	if s.Contact == circuit.NoContact {
		return value == 1
	}
	if s.Contact == circuit.AtPosition {
		return value == s.Position
	}
	return (value == 1) != s.Contact.ClosedAtRest()
}

func (t *Trace) partOfSignal(s circuit.Signal) Part {
	d := &t.Circuit.Devices[s.Device]
	if s.Contact != circuit.NoContact {
		return PartOf(d, s.Contact)
	}
	return PartOfLoad(d, s.Load)
}

// ValueAt returns the value of a device's part at m, 0 before its first event.
func (t *Trace) ValueAt(d circuit.DeviceID, p Part, m Moment) int {
	id := t.LastOf(d, p, m)
	if id == None {
		return 0
	}
	return int(t.records[id].value)
}

// LastOf returns the last event of a device's part at or before m, or None.
func (t *Trace) LastOf(d circuit.DeviceID, p Part, m Moment) ID {
	list := t.indexed().part[d][p]
	if n := t.upTo(list, m); n > 0 {
		return list[n-1]
	}
	return None
}

// NextOf returns the first event of a device's part after m, or None.
func (t *Trace) NextOf(d circuit.DeviceID, p Part, m Moment) ID {
	list := t.indexed().part[d][p]
	if n := t.upTo(list, m); n < len(list) {
		return list[n]
	}
	return None
}

// SignalAt reports whether the signal is on (closed) at m.
func (t *Trace) SignalAt(s circuit.Signal, m Moment) bool {
	return t.On(s, t.ValueAt(s.Device, t.partOfSignal(s), m))
}

// EventOf returns the event that last set the signal's part at or before m, or
// None if it never moved.
func (t *Trace) EventOf(s circuit.Signal, m Moment) ID {
	return t.LastOf(s.Device, t.partOfSignal(s), m)
}

// Edge is a change of a signal. Event is None for the value that a trace begins
// with.
type Edge struct {
	At    time.Duration
	Step  int
	On    bool
	Event ID
}

// Edges returns the signal's value at time zero, then its every change. The
// value at time zero is the one after start-up, unless the signal moved to and
// fro while starting: then it is the rest value, and each change follows. A trace
// that begins later gives the value just before the instant at which it begins.
func (t *Trace) Edges(s circuit.Signal) []Edge {
	part := t.partOfSignal(s)
	first := t.ValueAt(s.Device, part, Moment{t.From, -1})
	edges := []Edge{{At: t.From, On: t.On(s, first), Event: None}}
	startup := 0
	for _, id := range t.EventsOf(s.Device) {
		r := &t.records[id]
		on := t.On(s, int(r.value))
		if r.part != part || r.at < t.From || on == edges[len(edges)-1].On {
			continue
		}
		edges = append(edges, Edge{r.at, int(r.step), on, id})
		if int(id) < t.Startup {
			startup++
		}
	}
	if startup == 1 {
		edges[1].Step = 0
		edges[1].Event = None
		return edges[1:]
	}
	return edges
}

// Signals returns every signal of the circuit that a rung, a plant rule or an
// expectation of the script can see, in order of cause: hands, coils, contacts
// and loads as the rungs stand.
func (t *Trace) Signals() []circuit.Signal {
	var list []circuit.Signal
	seen := map[circuit.Signal]bool{}
	add := func(s circuit.Signal) {
		if !seen[s] {
			seen[s] = true
			list = append(list, s)
		}
	}
	of := make([][]circuit.Signal, len(t.Circuit.Devices))
	for _, k := range t.Wiring.Contacts {
		of[k.Device] = append(of[k.Device], ContactSignal(k.Contact))
		if t.Circuit.Devices[k.Device].Kind.Info().Loads == nil {
			add(ContactSignal(k.Contact))
		}
	}
	for _, l := range t.Wiring.Loads {
		add(LoadSignal(l.Load))
		for _, s := range of[l.Device] {
			add(s)
		}
	}
	for _, list := range of {
		for _, s := range list {
			add(s)
		}
	}
	for i := range t.Circuit.Scripts {
		for _, x := range t.Circuit.Scripts[i].Expects {
			add(x.Signal)
		}
	}
	return list
}

// ContactSignal is the signal of a contact.
func ContactSignal(k circuit.Contact) circuit.Signal {
	return circuit.Signal{Device: k.Device, Contact: k.Kind, Position: k.Position}
}

// LoadSignal is the signal of a coil or load.
func LoadSignal(l circuit.Load) circuit.Signal {
	return circuit.Signal{Device: l.Device, Load: l.Part}
}
