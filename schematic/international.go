package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// international draws the symbols of IEC 60617. Where a comment says "from
// memory", no published list was at hand to hold the drawing against; numbers
// of symbols that come from memory are nowhere printed. The sense of the arcs
// of timed contacts is from a published table: the movement from the arc towards
// its centre is the slow one.
type international struct{}

// The contact: its stubs end so far from the middle; the blade, hinged at the
// far stub's end, goes as far sideways as its hinge lies from the middle.
const (
	intlStub     page.Unit = 250
	intlOvershot page.Unit = 60 // a break contact's blade beyond the hook, along u
)

// intlBlade is a contact's blade: side is -1 for a make contact, whose blade
// waits on the -w side, and 1 for a break contact, whose blade lies beyond the
// line.
type intlBlade struct{ side page.Unit }

// w returns how far from the line the blade is at a place of the path.
func (b intlBlade) w(u page.Unit) page.Unit { return b.side * (intlStub - u) / 2 }

// nearer is how much nearer to the line a break contact's mark or operator
// stands: its blade leaves the room on the -w side free.
func (b intlBlade) nearer() page.Unit {
	if b.side > 0 {
		return 120
	}
	return 0
}

func intlBladeOf(f contactFace) intlBlade {
	if f.closed {
		return intlBlade{1}
	}
	return intlBlade{-1}
}

// contact draws the two stubs and the blade, then what qualifies them.
func (international) contact(p *pen, f contactFace) {
	b := intlBladeOf(f)
	p.line(intlStub, 0, reach, 0)
	if f.closed {
		intlBreak(p, b)
	} else {
		intlMake(p, b)
	}
	switch {
	case f.slowOperating || f.slowReturning:
		intlArcs(p, b, f)
	case f.timed:
		intlTimedMark(p, b)
	default:
		intlQualify(p, b, f.kind)
	}
}

// intlMake is the make contact (shape from memory): operating brings the
// blade's free end from the -w side to the fixed stub.
func intlMake(p *pen, b intlBlade) {
	p.line(-reach, 0, -intlStub, 0)
	p.line(intlStub, 0, -intlStub, b.w(-intlStub))
}

// intlBreak is the break contact (shape from memory): the blade lies against
// the tip of a hook, and operating lifts it off.
func intlBreak(p *pen, b intlBlade) {
	p.line(-reach, 0, -intlStub, 0, -intlStub, b.w(-intlStub))
	tip := -intlStub - intlOvershot
	p.line(intlStub, 0, tip, b.w(tip))
}

// The arcs of timed contacts, and where their double line runs.
const (
	intlArc     page.Unit = 135  // radius
	intlBacks   page.Unit = 60   // between two arcs back to back
	intlArcNear page.Unit = -300 // the side nearer to a make contact's blade
	intlTie     page.Unit = 50   // half the distance of the double line
)

// intlArcs joins to the blade the arc that tells the late movement: movement
// is slow from the arc towards its centre (published table). Slow on operating
// has the centre on the +w side, slow on returning on the -w side, and both have
// two arcs back to back. All stand on the -w side, where no hook is, so that make
// and break contacts of one function carry the same arc.
func intlArcs(p *pen, b intlBlade, f contactFace) {
	const sag = 9 // so much nearer to its centre the arc lies at the double line
	w := intlArcNear + b.nearer()
	end := w - sag
	if f.slowOperating {
		p.arc(0, w, intlArc, 180, 180)
		w -= intlArc
		end = w + sag
	}
	if f.slowOperating && f.slowReturning {
		w -= intlBacks
		end = w - sag
	}
	if f.slowReturning {
		p.arc(0, w-intlArc, intlArc, 0, 180)
	}
	intlDouble(p, b, end)
}

// intlDouble draws the double line from the blade to w.
func intlDouble(p *pen, b intlBlade, w page.Unit) {
	for _, u := range []page.Unit{-intlTie, intlTie} {
		p.thin(u, w, u, b.w(u))
	}
}

// intlTimedMark marks the timed contacts of functions whose movements the arcs
// cannot tell: interval, pulses, minimum-on, flasher, watchdog, star-delta. No
// symbol of the standard is known for them; the open square is our own mark, and
// the words beside it say what the contact does.
func intlTimedMark(p *pen, b intlBlade) {
	const half = 90
	near := intlArcNear + b.nearer()
	intlDouble(p, b, near)
	p.shape(false, -half, near, half, near, half, near-2*half, -half, near-2*half)
}

// contactDepths measures the symbol in both layouts.
func (i international) contactDepths(f contactFace) depths {
	return intlDepths(func(p *pen) { i.contact(p, f) })
}

// intlDepths draws a symbol on a page of its own, once in each layout, and
// returns how far its strokes reach.
func intlDepths(draw func(p *pen)) depths {
	var d depths
	for _, down := range []bool{false, true} {
		scratch := &page.Page{}
		draw(&pen{page: scratch, down: down, weight: page.Medium})
		for _, e := range scratch.Elements {
			b := e.Shape.Bounds().Grow((e.Style.Weight.Width() + 1) / 2)
			if down {
				d.plus, d.minus = max(d.plus, b.Max.X), max(d.minus, -b.Min.X)
			} else {
				d.plus, d.minus = max(d.plus, -b.Min.Y), max(d.minus, b.Max.Y)
			}
		}
	}
	return d
}

// intlQualify adds what moves the blade: an operator on the -w side, which
// pushes the way the contact operates, or a mark on the contact itself. Contacts
// that follow a coil at once carry nothing, a contactor's among them: those that
// stand in a control circuit are auxiliary ones.
func intlQualify(p *pen, b intlBlade, k circuit.Kind) {
	switch k {
	case circuit.Limit:
		intlWedge(p, b)
		return
	case circuit.Breaker:
		intlCross(p, b)
	}
	if sign := intlOperators[k]; sign != nil {
		link := intlLink
		if k == circuit.Switch || k == circuit.Selector {
			link = intlDetent
		}
		grip := intlGrip + b.nearer()
		link(p, b, grip)
		sign(p, grip)
	}
}
