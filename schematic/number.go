package schematic

import (
	"strconv"

	"tarry/circuit"
)

// Numbering is what a drawing and its lists call the conductors and the
// terminals of a circuit.
type Numbering struct {
	// Wires are the wire numbers of the nets, by their place in
	// Wiring.Nets: the rails' names, then one number for each net, new after
	// each device; numbers that the text pins are kept.
	Wires []string
	// Contacts and Loads are the terminals of Wiring.Contacts and of
	// Wiring.Loads, on the side of end A and of end B.
	Contacts [][2]string
	Loads    [][2]string
}

// Number numbers the conductors and terminals of a circuit.
func Number(c *circuit.Circuit, w *circuit.Wiring) *Numbering {
	n := &Numbering{Wires: wireNumbers(c, w)}
	count := make([][2]int, len(c.Devices)) // make contacts, break contacts
	for _, k := range w.Contacts {
		d := &c.Devices[k.Device]
		of := &count[k.Device][0]
		if d.ClosedAtRest(k.Contact) {
			of = &count[k.Device][1]
		}
		*of++
		place := count[k.Device][0] + count[k.Device][1]
		if d.Kind == circuit.Overload {
			n.Contacts = append(n.Contacts, overloadTerminals(k.Kind, *of, place))
			continue
		}
		n.Contacts = append(n.Contacts, contactTerminals(k.Kind, place))
	}
	for _, l := range w.Loads {
		n.Loads = append(n.Loads, loadTerminals(c.Devices[l.Device].Kind, l.Part))
	}
	return n
}

// wireNumbers gives the nets their numbers in the order of the drawing.
func wireNumbers(c *circuit.Circuit, w *circuit.Wiring) []string {
	numbers := make([]string, len(w.Nets))
	numbers[circuit.LeftRail], numbers[circuit.RightRail] = c.Supply.Rails[0], c.Supply.Rails[1]
	taken := map[string]bool{}
	for net, number := range pinned(c, w) {
		numbers[net] = number
		taken[number] = true
	}
	next := 1
	give := func(net circuit.NetID) {
		for numbers[net] == "" {
			if s := strconv.Itoa(next); !taken[s] {
				numbers[net] = s
			}
			next++
		}
	}
	contact, load := 0, 0
	for rung := range c.Rungs {
		for ; contact < len(w.Contacts) && w.Contacts[contact].Rung == rung; contact++ {
			give(w.Contacts[contact].A)
			give(w.Contacts[contact].B)
		}
		for ; load < len(w.Loads) && w.Loads[load].Rung == rung; load++ {
			give(w.Loads[load].A)
			give(w.Loads[load].B)
		}
	}
	for net := range numbers { // nets that only wire joins
		give(circuit.NetID(net))
	}
	return numbers
}

// pinned returns the numbers that the text gives to nets.
func pinned(c *circuit.Circuit, w *circuit.Wiring) map[circuit.NetID]string {
	pins := map[circuit.NetID]string{}
	for _, pin := range c.Pins {
		if net, ok := w.Named[pin.Net]; ok && net > circuit.RightRail && pins[net] == "" {
			pins[net] = strconv.Itoa(pin.Number)
		}
	}
	return pins
}

// contactTerminals marks the place-th contact of a device as EN 50005 does: the
// place in front, then 1-2 for a break, 3-4 for a make, 5-6 for a late break
// and 7-8 for a late make. A selector's contact is a make.
func contactTerminals(k circuit.ContactKind, place int) [2]string {
	digits := [2]string{"3", "4"}
	switch late := k.Group() != circuit.Instant; {
	case late && k.ClosedAtRest():
		digits = [2]string{"5", "6"}
	case late:
		digits = [2]string{"7", "8"}
	case k.ClosedAtRest():
		digits = [2]string{"1", "2"}
	}
	front := strconv.Itoa(place)
	return [2]string{front + digits[0], front + digits[1]}
}

// overloadTerminals marks an overload's first break contact 95-96 and its first
// make contact 97-98 (common practice), and any more like those of a relay.
func overloadTerminals(k circuit.ContactKind, ofKind, place int) [2]string {
	switch {
	case ofKind > 1:
		return contactTerminals(k, place)
	case k.ClosedAtRest():
		return [2]string{"95", "96"}
	}
	return [2]string{"97", "98"}
}

// loadTerminals marks a coil A1-A2, a second coil B1-B2, a lamp X1-X2; the
// last two are common practice, as is 1-2 for what has no marks of its own.
func loadTerminals(k circuit.Kind, part circuit.LoadPart) [2]string {
	switch {
	case part == circuit.ResetCoil:
		return [2]string{"B1", "B2"}
	case k == circuit.Lamp:
		return [2]string{"X1", "X2"}
	case k.Info().Class != circuit.LoadOnly || k == circuit.Solenoid || k == circuit.Brake:
		return [2]string{"A1", "A2"}
	}
	return [2]string{"1", "2"}
}

// Place is where a contact of a device stands: the rung's number and whether it
// is normally closed.
type Place struct {
	Rung   int
	Closed bool
}

// Places lists where the contacts of each device stand, in order of the rungs.
func Places(c *circuit.Circuit, w *circuit.Wiring) [][]Place {
	places := make([][]Place, len(c.Devices))
	for _, k := range w.Contacts {
		d := &c.Devices[k.Device]
		places[k.Device] = append(places[k.Device], Place{c.Rungs[k.Rung].Number, d.ClosedAtRest(k.Contact)})
	}
	return places
}
