package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// american draws the symbols of IEEE 315 and NEMA ICS 19, as the American
// control trade uses them: contacts of coils as two bars, everything else that
// switches as a knife blade or a bridge between two rings, coils as circles.
//
// The timed contacts follow the figures of an open textbook (Kuphaldt, Lessons
// in Electric Circuits, vol. IV, "Time-delay relays"). The rest is known from
// memory of the charts of NEMA and JIC but where a comment says otherwise; the
// proportions are our own. One rule holds everywhere: gravity. What is open at
// rest hangs below the path, what is closed at rest lies on it, and operating
// moves it up, towards +w. Push-buttons and selectors alone go the other way,
// because a finger presses down.
type american struct{}

// The conductors of a contact end in two rings, which a blade or a bridge joins.
const (
	usRing   page.Unit = 50  // radius of a contact's rings
	usPole   page.Unit = 220 // from the middle to the ring of a knife blade
	usBridge page.Unit = 180 // from the middle to the ring of a push-button
	usLie    page.Unit = 60  // from a ring's centre to what lies on it: their inks meet, the ring stays open
)

func (a american) contact(p *pen, f contactFace) {
	switch f.kind {
	case circuit.Switch:
		a.knife(p, f.closed)
	case circuit.Button:
		a.button(p, f.closed)
	case circuit.Selector:
		a.selector(p, f.closed)
	case circuit.Breaker:
		a.breaker(p, f.closed)
	case circuit.Overload:
		a.overload(p, f.closed)
	case circuit.Limit, circuit.Float, circuit.Pressure, circuit.Flow, circuit.Photo, circuit.Proximity,
		circuit.Thermostat, circuit.Speed:
		a.sensor(p, f.kind, f.closed)
	default:
		if f.timed {
			a.timed(p, f)
			return
		}
		a.bars(p, f.closed)
	}
}

func (a american) contactDepths(f contactFace) depths {
	return usDepths(func(p *pen) { a.contact(p, f) })
}

func (a american) loadDepths(f loadFace) depths {
	return usDepths(func(p *pen) { a.load(p, f) })
}

// usDepths draws a symbol aside, in both layouts, and measures how far its ink
// goes, so that a symbol's room never has to be told twice. Words stay upright
// when a symbol is turned, so both layouts count.
func usDepths(draw func(p *pen)) depths {
	var d depths
	for _, down := range []bool{false, true} {
		aside := &page.Page{}
		draw(&pen{page: aside, down: down, weight: page.Medium})
		for _, e := range aside.Elements {
			box := e.Shape.Bounds().Grow((e.Style.Weight.Width() + 1) / 2)
			low, high := -box.Max.Y, -box.Min.Y
			if down {
				low, high = box.Min.X, box.Max.X
			}
			d.plus, d.minus = max(d.plus, high), max(d.minus, -low)
		}
	}
	return d
}

// leads draws the two conductors of a symbol whose body reaches so far from
// the middle.
func (a american) leads(p *pen, body page.Unit) {
	p.line(-reach, 0, -body, 0)
	p.line(body, 0, reach, 0)
}

// rings draws the two rings of a contact, so far from the middle, and its
// conductors.
func (a american) rings(p *pen, from page.Unit) {
	a.leads(p, from+usRing)
	p.circle(-from, 0, usRing, false)
	p.circle(from, 0, usRing, false)
}
