package schematic

import "tarry/circuit"

// ContactWords says in plain words what kind of contact k is: "make contact",
// "closes late", "contact of position auto".
func ContactWords(c *circuit.Circuit, k circuit.Contact) string {
	d := &c.Devices[k.Device]
	if k.Kind == circuit.AtPosition {
		if k.Position >= 0 && k.Position < len(d.Positions) {
			return "contact of position " + d.Positions[k.Position]
		}
		return "contact of a position"
	}
	kind := "make contact"
	if d.ClosedAtRest(k) {
		kind = "break contact"
	}
	if late := LateWords(d.Function, k.Kind); late != "" {
		return kind + ", " + late
	}
	return kind
}

// LoadWords says in plain words what a rung feeds: "coil of on-delay 5 s",
// "reset coil of counter", "lamp".
func LoadWords(c *circuit.Circuit, l circuit.Load) string {
	d := &c.Devices[l.Device]
	what := d.Kind.String()
	if d.Kind == circuit.Timer {
		what = FunctionWords(d)
	}
	switch {
	case l.Part != circuit.Main:
		return l.Part.String() + " of " + what
	case d.Kind.Info().Class == circuit.LoadOnly:
		return what
	}
	return "coil of " + what
}

// Wiring returns the nets, contacts and loads that were drawn.
func (d *Drawing) Wiring() *circuit.Wiring {
	return d.pages[0].wiring
}
