package sheet

import (
	"slices"
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/page"
)

// The dead test is a list of readings with a continuity meter on the wired
// panel, without supply. Its lines are of three sorts. One reading along each
// chain of the wiring list shows that no length of wire is missing. One across
// each contact and each load, and from the rails to each load, shows that
// nothing stands where it should not; contacts that a hand can move are read
// moved as well. For the rest, mistakes are tried out: each length of wire is
// left out, and each of its ends put onto every other terminal of the same
// device, which is the mistake that people make. Where no reading of the list
// would change, one that does is added. What no reading can show without supply
// (a wire on the wrong side of a relay's normally closed contact) is listed, to
// be followed by eye.

// Reading is what a meter says between two terminals.
type Reading uint8

// The readings. ThroughLoad is a path that runs through one or more coils,
// lamps or other loads.
const (
	ReadsOpen Reading = iota
	ReadsClosed
	ThroughLoad
)

// String is the reading in plain words.
func (r Reading) String() string { return [...]string{"open", "closed", "through a load"}[r] }

// DeadTest is one reading to take.
type DeadTest struct {
	Number int
	// With is what a hand does meanwhile: "S1 pressed"; empty for nothing.
	With     string
	From, To string
	Expected Reading
	// Shows is what the reading is about: "wire 3, end to end".
	Shows string
}

// DeadTable is the dead test of a panel.
type DeadTable struct {
	Tests []DeadTest
	// ByEye are terminals of one device between which a wire could be mistaken
	// without any reading showing it.
	ByEye [][]string
}

// DeadTestOf makes the dead test of a circuit.
func DeadTestOf(c *circuit.Circuit) DeadTable {
	d := newDeadTester(c)
	d.usual()
	d.tryMistakes()
	table := DeadTable{ByEye: d.byEye()}
	for h := range d.holds {
		for _, t := range d.tests {
			if t.hold == h {
				table.Tests = append(table.Tests, DeadTest{len(table.Tests) + 1, d.holds[h].words, d.points[t.from].Name, d.points[t.to].Name,
					d.sound[h].reading(t.from, t.to), t.shows})
			}
		}
	}
	return table
}

// hold is what a hand holds operated; the first one is nothing.
type hold struct {
	device   circuit.DeviceID
	position int
	words    string
}

// probe is one reading: two points, as places in the tester's list, and a hold.
type probe struct {
	hold, from, to int
	shows          string
}

// link joins two points.
type link [2]int

// deadTester is a dead test in the making.
type deadTester struct {
	panel           *panel
	points          []Terminal
	wires           []link
	contacts, loads []link
	holds           []hold
	// sound are the groups of points that are joined, with nothing wrong, for
	// each hold.
	sound  []groups
	tests  []probe
	listed map[probe]bool // but for Shows
	// follow is, for each point, another that no reading tells from it, up to
	// one that stands for all of them.
	follow []int
}

func newDeadTester(c *circuit.Circuit) *deadTester {
	d := &deadTester{panel: newPanel(c), listed: map[probe]bool{}, holds: []hold{{device: circuit.NoDevice}}}
	at := map[Terminal]int{}
	for _, net := range d.panel.netOrder() {
		for i, t := range d.panel.chains[net] {
			at[t] = len(d.points)
			d.points = append(d.points, t)
			if i > 0 {
				d.wires = append(d.wires, link{len(d.points) - 2, len(d.points) - 1})
			}
		}
	}
	ends := func(names [2]string, a, b circuit.NetID, of circuit.DeviceID) link {
		return link{at[Terminal{names[0], a, of}], at[Terminal{names[1], b, of}]}
	}
	for i, k := range d.panel.wiring.Contacts {
		d.contacts = append(d.contacts, ends(d.panel.contacts[i], k.A, k.B, k.Device))
	}
	for i, l := range d.panel.wiring.Loads {
		d.loads = append(d.loads, ends(d.panel.loads[i], l.A, l.B, l.Device))
	}
	for i := range d.points {
		d.follow = append(d.follow, i)
	}
	d.findHolds(c)
	for h := range d.holds {
		d.sound = append(d.sound, d.groups(h, d.wires))
	}
	return d
}

// findHolds lists what a hand can operate: everything with contacts that no
// coil moves.
func (d *deadTester) findHolds(c *circuit.Circuit) {
	for i := range c.Devices {
		v, id := &c.Devices[i], circuit.DeviceID(i)
		used := slices.ContainsFunc(d.panel.wiring.Contacts, func(k circuit.WiredContact) bool { return k.Device == id })
		if !used || v.Kind.Info().Loads != nil {
			continue
		}
		if v.Kind != circuit.Selector {
			d.holds = append(d.holds, hold{id, 0, v.Tag + heldWords(v.Kind)})
			continue
		}
		for p := 1; p < len(v.Positions); p++ {
			d.holds = append(d.holds, hold{id, p, v.Tag + " in " + v.Positions[p]})
		}
	}
}

// heldWords says how a device is held operated.
func heldWords(k circuit.Kind) string {
	switch k {
	case circuit.Button:
		return " pressed"
	case circuit.Switch:
		return " closed"
	case circuit.Overload, circuit.Breaker:
		return " tripped"
	}
	return " operated"
}

// closed reports whether a contact conducts without supply while h is held.
func (d *deadTester) closed(k circuit.Contact, h hold) bool {
	v := &d.panel.circuit.Devices[k.Device]
	if k.Device != h.device {
		return v.ClosedAtRest(k)
	}
	if k.Kind == circuit.AtPosition {
		return k.Position == h.position
	}
	return !v.ClosedAtRest(k)
}

// groups say which points are joined: by wires and closed contacts alone, and
// with the loads as well.
type groups struct {
	bare, loaded []int
}

func (g *groups) reading(a, b int) Reading {
	switch {
	case root(g.bare, a) == root(g.bare, b):
		return ReadsClosed
	case root(g.loaded, a) == root(g.loaded, b):
		return ThroughLoad
	}
	return ReadsOpen
}

func root(parent []int, i int) int {
	for parent[i] != i {
		parent[i] = parent[parent[i]]
		i = parent[i]
	}
	return i
}

// groups joins the points for a hold and a way of wiring.
func (d *deadTester) groups(h int, wires []link) groups {
	parent := make([]int, len(d.points))
	for i := range parent {
		parent[i] = i
	}
	join := func(l link) { parent[root(parent, l[0])] = root(parent, l[1]) }
	for _, l := range wires {
		join(l)
	}
	for i, l := range d.contacts {
		if d.closed(d.panel.wiring.Contacts[i].Contact, d.holds[h]) {
			join(l)
		}
	}
	g := groups{bare: slices.Clone(parent)}
	for _, l := range d.loads {
		join(l)
	}
	g.loaded = parent
	return g
}

// add puts a reading onto the list, unless it stands there.
func (d *deadTester) add(h, from, to int, shows string) {
	key := probe{h, min(from, to), max(from, to), ""}
	if from != to && !d.listed[key] {
		d.listed[key] = true
		d.tests = append(d.tests, probe{h, from, to, shows})
	}
}

// usual lists the readings that every panel gets.
func (d *deadTester) usual() {
	rails := [2]int{}
	for i := range rails {
		rails[i], _ = d.ends(circuit.NetID(i))
	}
	d.add(0, rails[0], rails[1], "rail to rail")
	for _, net := range d.panel.netOrder() {
		if first, last := d.ends(net); first >= 0 {
			d.add(0, first, last, d.wire(net)+", end to end")
		}
	}
	for i, l := range d.contacts {
		d.add(0, l[0], l[1], d.contact(0, i))
	}
	for i, l := range d.loads {
		name := d.panel.circuit.LoadName(d.panel.wiring.Loads[i].Load)
		d.add(0, rails[0], l[0], d.points[rails[0]].Name+" to "+name)
		d.add(0, l[0], l[1], "across "+name)
		d.add(0, l[1], rails[1], name+" to "+d.points[rails[1]].Name)
	}
	for h := 1; h < len(d.holds); h++ {
		d.held(h, rails)
	}
}

// held lists the readings for one hold: the contacts that it moves, and from
// the rails to those loads that it joins to them or parts from them, once for
// each net.
func (d *deadTester) held(h int, rails [2]int) {
	for i, l := range d.contacts {
		if k := d.panel.wiring.Contacts[i].Contact; k.Device == d.holds[h].device {
			d.add(h, l[0], l[1], d.contact(h, i))
		}
	}
	read := map[[2]circuit.NetID]bool{}
	for i, l := range d.loads {
		name := d.panel.circuit.LoadName(d.panel.wiring.Loads[i].Load)
		for end, words := range [2]string{d.points[rails[0]].Name + " to " + name, name + " to " + d.points[rails[1]].Name} {
			from, to := rails[0], l[0]
			if end == 1 {
				from, to = l[1], rails[1]
			}
			nets := [2]circuit.NetID{d.points[from].Net, d.points[to].Net}
			if !read[nets] && (d.sound[h].reading(from, to) == ReadsClosed) != (d.sound[0].reading(from, to) == ReadsClosed) {
				read[nets] = true
				d.add(h, from, to, words)
			}
		}
	}
}

// contact names the contact at a place of Wiring.Contacts for a reading. It says
// where the reading is not the contact's own.
func (d *deadTester) contact(h, i int) string {
	k := d.panel.wiring.Contacts[i].Contact
	words := "contact " + d.panel.circuit.ContactName(k)
	if k.Device == d.holds[h].device {
		words += ", moved"
	}
	if l := d.contacts[i]; !d.closed(k, d.holds[h]) && d.sound[h].reading(l[0], l[1]) == ReadsClosed {
		words += ", with a path round it"
	}
	return words
}

// ends returns the first and the last point of a net's chain, -1 for none.
func (d *deadTester) ends(net circuit.NetID) (first, last int) {
	first = slices.IndexFunc(d.points, func(t Terminal) bool { return t.Net == net })
	return first, first + len(d.panel.chains[net]) - 1
}

func (d *deadTester) wire(net circuit.NetID) string { return "wire " + d.panel.numbers.Wires[net] }

// mostTried is how many lengths of wire are tried out with their ends on wrong
// terminals; of larger panels they are only left out.
const mostTried = 400

// tryMistakes adds readings for the mistakes that no reading shows yet.
func (d *deadTester) tryMistakes() {
	for i, w := range d.wires {
		d.try(i, nil, w[0], w[1], w[1])
		if len(d.wires) > mostTried {
			continue
		}
		for end := range 2 {
			lost, kept := w[end], w[1-end]
			for _, wrong := range d.besides(lost) {
				d.try(i, &link{kept, wrong}, kept, lost, wrong)
			}
		}
	}
}

// besides lists the other terminals of a point's device, or of the supply, that
// belong to other nets.
func (d *deadTester) besides(p int) []int {
	var list []int
	for i, t := range d.points {
		if t.Device == d.points[p].Device && t.Net != d.points[p].Net {
			list = append(list, i)
		}
	}
	return list
}

// try wires length i as instead says, or not at all. If no reading on the list
// shows it, one between the points concerned that does is added.
func (d *deadTester) try(i int, instead *link, kept, lost, wrong int) {
	wires := slices.Clone(d.wires)
	if instead != nil {
		wires[i] = *instead
	} else {
		wires = slices.Delete(wires, i, i+1)
	}
	faulty := make([]groups, len(d.holds))
	at := func(h int) *groups {
		if faulty[h].bare == nil {
			faulty[h] = d.groups(h, wires)
		}
		return &faulty[h]
	}
	shown := func(h, a, b int) bool { return at(h).reading(a, b) != d.sound[h].reading(a, b) }
	for _, t := range d.tests {
		if shown(t.hold, t.from, t.to) {
			return
		}
	}
	net := d.points[lost].Net
	first, last := d.ends(net)
	for h := range d.holds {
		if shown(h, first, last) {
			d.add(h, first, last, d.wire(net)+", end to end")
			return
		}
		for _, pair := range [3]link{{kept, lost}, {kept, wrong}, {lost, wrong}} {
			if shown(h, pair[0], pair[1]) {
				d.add(h, pair[0], pair[1], d.wire(net)+" on "+d.points[lost].Name)
				return
			}
		}
	}
	a, b := root(d.follow, lost), root(d.follow, wrong)
	d.follow[max(a, b)] = min(a, b)
}

// byEye lists the groups of points that no reading tells apart.
func (d *deadTester) byEye() [][]string {
	var list [][]string
	for i := range d.points {
		var group []string
		for j := i; j < len(d.points) && root(d.follow, i) == i; j++ {
			if root(d.follow, j) == i {
				group = append(group, d.points[j].Name)
			}
		}
		if len(group) > 1 {
			list = append(list, group)
		}
	}
	return list
}

// deadPages is the dead test on paper.
func (s *setter) deadPages() []*page.Page {
	k := look{name: "Dead test", about: "Continuity readings on the wired panel, without supply", audience: forLearner, cautions: true}
	if s.withheld() != "" {
		return s.notBuilt(k)
	}
	return s.flow(k, s.deadStrips)
}

var deadRules = []string{
	"Before: supply off, isolated and locked off, both leads of the supply taken off the rails. Loads stay connected. Nothing pressed, " +
		"sensors not operated, selectors in their first position, overloads and breakers reset. Touch the leads of the meter together: it must read closed.",
	"Three answers. Closed: next to no resistance. Through a load: the resistance of one or more coils or lamps. Open: no reading. " +
		"A coil with a diode across it, an electronic timer and a lamp with a diode may read otherwise, or differently with the leads changed over: note it and ask.",
}

func (s *setter) deadStrips(width page.Unit) []strip {
	table := DeadTestOf(s.circuit)
	var list []strip
	for _, rule := range deadRules {
		list = append(list, paragraph(rule, noteSize, width)...)
	}
	if len(table.ByEye) > 0 {
		var groups []string
		for _, names := range table.ByEye {
			groups = append(groups, strings.Join(names, ", "))
		}
		list = append(list, paragraph("By eye. Without supply no reading shows on which of these terminals a wire sits, so follow the wires there: "+
			strings.Join(groups, "; ")+".", noteSize, width)...)
	}
	return append(list, deadGrid(table.Tests).strips(width)...)
}

func deadGrid(tests []DeadTest) *grid {
	g := &grid{columns: []column{{head: "No.", middle: true}, {head: "Meanwhile", bold: true}, {head: "From"}, {head: "To"},
		{head: "What it is", share: 4}, {head: "Expected"}, {head: "Measured", share: 5, ruled: true}, {head: "right", middle: true, ruled: true}}, least: 600}
	last := ""
	for i, t := range tests {
		sort, _, _ := strings.Cut(t.Shows, " ")
		if t.With != "" {
			sort = t.With
		}
		first := sort != last && i > 0 && (t.With != "" || sort == "wire" || sort == "contact" || last == "contact")
		last = sort
		r := row{heavy: first, cells: []cell{{words: strconv.Itoa(t.Number)}, {words: t.With}, {words: t.From}, {words: t.To}, {words: t.Shows},
			{words: t.Expected.String(), bold: t.Expected == ReadsClosed}, {}, {ticked: true}}}
		g.rows = append(g.rows, r)
	}
	return g
}
