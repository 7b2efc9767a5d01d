package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
)

// The list of contacts and parts says what has to come out of the store, and
// which contacts each device must have. Terminal marks follow EN 50005, as read
// in a published article; which device has which terminals is common practice.

// ContactCount says how many contacts of each kind a device must have.
type ContactCount struct {
	Make, Break, LateMake, LateBreak int
}

// NeededContact is one contact that the drawing uses.
type NeededContact struct {
	// Name is the contact's name in the notation: KT1.notc.
	Name string
	// What says what it does: "make", "late break".
	What string
	// Words say which movement of a timed contact is late, or in which position
	// a selector's contact is closed; empty for others.
	Words     string
	Terminals [2]string
	Rung      int
	Wires     [2]string
}

// NeededCoil is one coil or pair of load terminals that the drawing uses.
type NeededCoil struct {
	Name      string // K1, K2.set
	Terminals [2]string
	Rung      int
}

// Needs is what the drawing asks of one device.
type Needs struct {
	Tag, Kind, Label string
	// Settings are a timer's function and times with their tolerance, a
	// selector's positions, a lamp's colour and the like, each by itself.
	Settings []string
	Coils    []NeededCoil
	Contacts []NeededContact // in the order of their terminals
	Count    ContactCount
}

// PartsOf lists what the drawing asks of each device, in the order of the text.
func PartsOf(c *circuit.Circuit) []Needs {
	w := circuit.Wire(c)
	n := schematic.Number(c, w)
	list := make([]Needs, len(c.Devices))
	for i := range c.Devices {
		d := &c.Devices[i]
		list[i] = Needs{Tag: d.Tag, Kind: kindWords(d), Label: d.Label, Settings: settings(d)}
	}
	for i, l := range w.Loads {
		of := &list[l.Device]
		of.Coils = append(of.Coils, NeededCoil{c.LoadName(l.Load), n.Loads[i], c.Rungs[l.Rung].Number})
	}
	for i, k := range w.Contacts {
		list[k.Device].add(&c.Devices[k.Device], NeededContact{
			Name: c.ContactName(k.Contact), Terminals: n.Contacts[i], Rung: c.Rungs[k.Rung].Number,
			Wires: [2]string{n.Wires[k.A], n.Wires[k.B]},
		}, k.Contact)
	}
	return list
}

// add counts a contact and describes it.
func (n *Needs) add(d *circuit.Device, k NeededContact, c circuit.Contact) {
	late, breaks := c.Kind.Group() != circuit.Instant, c.Kind.ClosedAtRest()
	switch {
	case late && breaks:
		k.What = "late break"
		n.Count.LateBreak++
	case late:
		k.What = "late make"
		n.Count.LateMake++
	case breaks:
		k.What = "break"
		n.Count.Break++
	default:
		k.What = "make"
		n.Count.Make++
	}
	k.Words = schematic.LateWords(d.Function, c.Kind)
	if c.Kind == circuit.AtPosition {
		k.Words = "closed in " + d.Positions[c.Position]
	}
	n.Contacts = append(n.Contacts, k)
}

// kindWords is the device's kind as the trade says it.
func kindWords(d *circuit.Device) string {
	switch d.Kind {
	case circuit.Button:
		return "push-button"
	case circuit.Switch:
		return "switch, stays"
	case circuit.Selector:
		return "selector"
	case circuit.Overload:
		return "overload relay"
	case circuit.Limit, circuit.Float, circuit.Pressure, circuit.Flow, circuit.Photo, circuit.Proximity,
		circuit.Thermostat, circuit.Speed:
		if d.Kind != circuit.Thermostat {
			return d.Kind.String() + " switch"
		}
	}
	return d.Kind.String()
}

// settings lists what has to be set or chosen on a device.
func settings(d *circuit.Device) []string {
	var list []string
	if d.Kind == circuit.Timer {
		list = append(list, schematic.FunctionWords(d))
		if d.Tolerance > 0 {
			list = append(list, "±"+percent(d.Tolerance))
		}
		list = append(list, storageWords(d)...)
	}
	if len(d.Positions) > 0 {
		list = append(list, "positions "+strings.Join(d.Positions, ", "))
	}
	if d.Colour != "" {
		list = append(list, d.Colour)
	}
	if d.Kind == circuit.Counter {
		list = append(list, "counts to "+strconv.Itoa(d.Count))
	}
	if d.Operate > 0 || d.Release > 0 {
		list = append(list, fmt.Sprintf("operates in %s, releases in %s", circuit.FormatTime(d.Operate), circuit.FormatTime(d.Release)))
	}
	return list
}

// storageWords says what a timer does without supply, where one must know it to
// choose the right timer.
func storageWords(d *circuit.Device) []string {
	switch {
	case d.Forgetful:
		return []string{"forgets its sum without supply"}
	case d.Stored() == circuit.Air:
		return []string{"air: finishes timing without supply"}
	case d.Function == circuit.OffDelay, d.Storage == circuit.Electronic:
		return []string{"electronic: needs its supply all the time"}
	}
	return nil
}

// percent writes a tolerance in 1/100 %.
func percent(hundredths int) string {
	text := fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + " %"
}

// CountWords says how many contacts of each kind are needed: "2 make, 1 late
// break".
func (n ContactCount) CountWords() string {
	var parts []string
	for _, k := range []struct {
		n    int
		what string
	}{{n.Make, "make"}, {n.Break, "break"}, {n.LateMake, "late make"}, {n.LateBreak, "late break"}} {
		if k.n > 0 {
			parts = append(parts, strconv.Itoa(k.n)+" "+k.what)
		}
	}
	return strings.Join(parts, ", ")
}

// partsPages is the list on paper: first the parts, then every contact.
func (s *setter) partsPages() []*page.Page {
	k := look{name: "Contacts and parts", about: "What the drawing needs, device by device", cautions: ReadOnly(s.circuit) != ""}
	return s.flow(k, func(width page.Unit) []strip {
		list := s.partsStrips(width)
		list = append(list, heading("Which contacts of each device are used")...)
		return append(list, noted(s.contactsGrid().strips(width), paragraph(marksRule, noteSize, width))...)
	})
}

const marksRule = "Terminal marks in the manner of EN 50005: the last figures 1-2 break, 3-4 make, 5-6 late break, 7-8 late make; " +
	"the figure in front counts the contacts of a device. A part on the bench may be marked otherwise: write its own marks beside these."

func (s *setter) partsStrips(width page.Unit) []strip {
	g := &grid{columns: []column{{head: "Tag", bold: true}, {head: "What it is", most: 3600}, {head: "Set or choose", share: 5},
		{head: "Label", share: 4}, {head: "Coil or\nterminals"}}}
	count := [4]int{}
	for _, n := range PartsOf(s.circuit) {
		for i, k := range []int{n.Count.Make, n.Count.Break, n.Count.LateMake, n.Count.LateBreak} {
			count[i] += k
		}
		g.rows = append(g.rows, row{cells: n.cells()})
	}
	for i, head := range []string{"make", "break", "late\nmake", "late\nbreak"} {
		if count[i] > 0 || i < 2 {
			g.columns = append(g.columns, column{head: head, middle: true})
			continue
		}
		for r := range g.rows { // no device has such a contact
			at := len(g.columns)
			g.rows[r].cells = slices.Delete(g.rows[r].cells, at, at+1)
		}
	}
	if ReadOnly(s.circuit) == "" {
		g.columns = append(g.columns, column{head: "found", middle: true, ruled: true})
		return g.strips(width)
	}
	for r := range g.rows { // nothing is to be fetched
		g.rows[r].cells = g.rows[r].cells[:len(g.columns)]
	}
	return g.strips(width)
}

// cells are a device's line in the list of parts.
func (n *Needs) cells() []cell {
	var coils []string
	for _, k := range n.Coils {
		coils = append(coils, k.words(n.Tag))
	}
	cells := []cell{{words: n.Tag}, {words: n.Kind}, {words: strings.Join(n.Settings, "; ")}, {words: n.Label}, {words: strings.Join(coils, "\n")}}
	for _, k := range []int{n.Count.Make, n.Count.Break, n.Count.LateMake, n.Count.LateBreak} {
		if k == 0 {
			cells = append(cells, cell{words: "–"})
			continue
		}
		cells = append(cells, cell{words: strconv.Itoa(k), bold: true})
	}
	return append(cells, cell{ticked: true})
}

// words are a coil's terminals, with its part in front if the device has
// several: "set A1-A2".
func (k *NeededCoil) words(tag string) string {
	part := strings.TrimPrefix(strings.TrimPrefix(k.Name, tag), ".")
	return strings.TrimSpace(part + " " + k.Terminals[0] + "-" + k.Terminals[1])
}

// contactsGrid lists every contact, device by device.
func (s *setter) contactsGrid() *grid {
	g := &grid{columns: []column{{head: "Tag", bold: true}, {head: "Contact"}, {head: "What it does", share: 2},
		{head: "Terminals"}, {head: "Wires"}, {head: "Rung", middle: true}, {head: "marks on your part", share: 3, ruled: true}}}
	if ReadOnly(s.circuit) != "" {
		g.columns = g.columns[:len(g.columns)-1]
	}
	for _, n := range PartsOf(s.circuit) {
		for i, k := range n.Contacts {
			tag := ""
			if i == 0 {
				tag = n.Tag
			}
			what := k.What
			if k.Words != "" {
				what = strings.TrimPrefix(what, "late ") + ", " + k.Words
			}
			g.rows = append(g.rows, row{follows: i > 0 && i < 8, heavy: i == 0 && len(g.rows) > 0, cells: []cell{{words: tag}, {words: k.Name}, {words: what},
				{words: k.Terminals[0] + "-" + k.Terminals[1]}, {words: k.Wires[0] + " – " + k.Wires[1]}, {words: strconv.Itoa(k.Rung)}}})
		}
	}
	return g
}
