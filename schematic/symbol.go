package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// Tradition is a family of symbols.
type Tradition uint8

// The traditions.
const (
	International Tradition = iota // IEC 60617
	American                       // IEEE 315 / NEMA ICS 19
)

// A symbol lies between u = -reach and u = +reach, where the conductors meet
// it on w = 0. Its strokes stay within w = -depth … +depth of its face; the
// layout keeps that much room and writes its words beyond.
const reach page.Unit = 500

// contactFace is all that a contact's symbol depends on. It shows the rest
// state; nothing momentary belongs to it.
type contactFace struct {
	kind     circuit.Kind // of the device
	function circuit.Function
	closed   bool // at rest
	// slowOperating and slowReturning say which movement of a timed contact is
	// late. Both are false for a contact that moves at once, and for a timed
	// contact of a function that no standard symbol tells (timed is then true).
	slowOperating, slowReturning bool
	timed                        bool
	position                     string // selectors: the position's name
}

// loadFace is all that the symbol of a coil or load depends on.
type loadFace struct {
	kind     circuit.Kind
	function circuit.Function
	part     circuit.LoadPart
	colour   string
	tag      string
}

// depths is how far a symbol's strokes reach to both sides of the path.
type depths struct{ plus, minus page.Unit }

// family draws the symbols of one tradition.
type family interface {
	// contact draws a contact and contactDepths says how much room it takes.
	contact(p *pen, f contactFace)
	contactDepths(f contactFace) depths
	// load draws a coil or load.
	load(p *pen, f loadFace)
	loadDepths(f loadFace) depths
}

func (t Tradition) family() family {
	if t == American {
		return american{}
	}
	return international{}
}

// faceOf returns the face of a contact.
func faceOf(c *circuit.Circuit, k circuit.Contact) contactFace {
	d := &c.Devices[k.Device]
	f := contactFace{kind: d.Kind, function: d.Function, closed: d.ClosedAtRest(k)}
	if k.Kind == circuit.AtPosition {
		f.position = d.Positions[k.Position]
	}
	if k.Kind.Group() == circuit.Instant {
		return f
	}
	f.timed = true
	switch d.Function {
	case circuit.OnDelay, circuit.Accumulating:
		f.slowOperating = true
	case circuit.OffDelay:
		f.slowReturning = true
	case circuit.OnOffDelay:
		f.slowOperating, f.slowReturning = true, true
	}
	return f
}

// loadFaceOf returns the face of a coil or load.
func loadFaceOf(c *circuit.Circuit, l circuit.Load) loadFace {
	d := &c.Devices[l.Device]
	return loadFace{d.Kind, d.Function, l.Part, d.Colour, d.Tag}
}
