package circuit

// Wiring a drawing: every rung is walked from left to right, a new net being
// opened behind each contact; a name at a point of a path joins that point to
// the net of that name. Joined nets are merged at the end, so that the order
// of the rungs does not matter, and numbered in the order in which they were
// first met. The rails are nets 0 and 1 and keep these numbers.

// NetID is a net's place in Wiring.Nets.
type NetID int32

// The rails.
const (
	LeftRail  NetID = 0
	RightRail NetID = 1
)

// Net is one conductor. Name is empty for a net that the text does not name.
type Net struct {
	Name string
}

// WiredContact is a contact between two nets. A and B are equal where the
// text bridges the contact with a wire.
type WiredContact struct {
	Contact
	A, B NetID
	Rung int // place in Circuit.Rungs
}

// WiredLoad is a coil or load between two nets, A on the side of the left
// rail as drawn.
type WiredLoad struct {
	Load
	A, B NetID
	Rung int
}

// Wiring is the electrical graph of a circuit.
type Wiring struct {
	Nets     []Net
	Named    map[string]NetID // by every name, where wire joins two names too
	Contacts []WiredContact   // in drawing order: rung by rung, left to right
	Loads    []WiredLoad
	// RailsJoined says that wire alone joins the two rails.
	RailsJoined bool
}

type wirer struct {
	wiring Wiring
	parent []NetID
	named  map[string]NetID
	rung   int
}

// Wire works out the nets of c.
func Wire(c *Circuit) *Wiring {
	w := &wirer{named: map[string]NetID{}}
	for _, rail := range c.Supply.Rails {
		w.named[rail] = w.open(rail)
	}
	for i := range c.Rungs {
		w.rung = i
		w.wireRung(&c.Rungs[i])
	}
	return w.finish()
}

func (w *wirer) open(name string) NetID {
	id := NetID(len(w.parent))
	w.parent = append(w.parent, id)
	w.wiring.Nets = append(w.wiring.Nets, Net{name})
	return id
}

func (w *wirer) net(name string) NetID {
	id, ok := w.named[name]
	if !ok {
		id = w.open(name)
		w.named[name] = id
	}
	return id
}

func (w *wirer) root(n NetID) NetID {
	for w.parent[n] != n {
		w.parent[n] = w.parent[w.parent[n]]
		n = w.parent[n]
	}
	return n
}

// join merges two nets; the lower number stays, so the rails do.
func (w *wirer) join(a, b NetID) {
	a, b = w.root(a), w.root(b)
	if a > b {
		a, b = b, a
	}
	w.parent[b] = a
}

func (w *wirer) wireRung(r *Rung) {
	from := LeftRail
	if len(r.Path) > 0 && r.Path[0].Net != "" {
		from = w.net(r.Path[0].Net)
	}
	end := w.path(r.Path, from)
	if r.Tie != "" {
		w.join(end, w.net(r.Tie))
		return
	}
	back := RightRail
	if len(r.Return) > 0 {
		back = w.open("")
	}
	for _, l := range r.Loads {
		w.wiring.Loads = append(w.wiring.Loads, WiredLoad{l, end, back, w.rung})
	}
	if n := len(r.Return); n > 0 {
		last := w.path(r.Return, back)
		if r.Return[n-1].Net == "" {
			w.join(last, RightRail)
		}
	}
}

// path wires the items of p from the net at and returns the net behind them.
func (w *wirer) path(p Path, at NetID) NetID {
	for _, it := range p {
		switch {
		case it.Net != "":
			w.join(at, w.net(it.Net))
		case it.Contact.Kind != NoContact:
			next := w.open("")
			w.wiring.Contacts = append(w.wiring.Contacts, WiredContact{it.Contact, at, next, w.rung})
			at = next
		default:
			next := w.open("")
			for _, b := range it.Branches {
				w.join(w.path(b, at), next)
			}
			at = next
		}
	}
	return at
}

// finish renumbers the merged nets without gaps.
func (w *wirer) finish() *Wiring {
	out := &w.wiring
	number := make([]NetID, len(w.parent))
	var nets []Net
	for i := range w.parent {
		id := NetID(i)
		if r := w.root(id); r != id && id != RightRail {
			number[i] = number[r]
			if nets[number[r]].Name == "" {
				nets[number[r]].Name = out.Nets[i].Name
			}
			continue
		}
		number[i] = NetID(len(nets))
		nets = append(nets, out.Nets[i])
	}
	out.RailsJoined = w.root(RightRail) == LeftRail
	out.Named = make(map[string]NetID, len(w.named))
	for name, id := range w.named {
		out.Named[name] = number[id]
	}
	out.Nets = nets
	for i := range out.Contacts {
		k := &out.Contacts[i]
		k.A, k.B = number[k.A], number[k.B]
	}
	for i := range out.Loads {
		l := &out.Loads[i]
		l.A, l.B = number[l.A], number[l.B]
	}
	return out
}
