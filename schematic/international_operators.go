package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// The operators of contacts. Each stands beyond its grip on the -w side and
// is joined to the blade by a dashed mechanical link. All shapes are from memory
// unless a comment says that they are our own.

// intlGrip is where the link leaves the operator of a make contact.
const intlGrip page.Unit = -480

// intlBox is half the side of the square around a letter.
const intlBox page.Unit = 150

var intlOperators = map[circuit.Kind]func(p *pen, grip page.Unit){
	circuit.Switch:     intlHandle,
	circuit.Selector:   intlRotary,
	circuit.Button:     intlPush,
	circuit.Float:      intlFloat,
	circuit.Pressure:   func(p *pen, grip page.Unit) { intlLetter(p, grip, "p", 43) },
	circuit.Flow:       intlFlow,
	circuit.Photo:      intlPhoto,
	circuit.Proximity:  intlDiamond,
	circuit.Thermostat: func(p *pen, grip page.Unit) { intlLetter(p, grip, "θ", 0) },
	circuit.Speed:      func(p *pen, grip page.Unit) { intlLetter(p, grip, "n", 20) },
	circuit.Overload:   intlThermal,
	circuit.Breaker:    func(p *pen, grip page.Unit) { intlLetter(p, grip, "I>", 0) },
}

// intlLink joins the operator to the blade.
func intlLink(p *pen, b intlBlade, grip page.Unit) { intlStrokes(p, grip, b.w(0)) }

// intlDetent is the link of what stays where the hand leaves it: a notch holds
// it. Without a notch a hand's contact goes back by itself.
func intlDetent(p *pen, b intlBlade, grip page.Unit) {
	const deep = 80
	near, far := grip+160, grip+60
	intlStrokes(p, grip, far)
	p.thin(0, far, deep, far+50, 0, near)
	intlStrokes(p, near, b.w(0))
}

// intlStrokes draws a mechanical link along w in strokes of one length, one at
// each end, so that short links look alike.
func intlStrokes(p *pen, from, to page.Unit) {
	const stroke, gap = 75, 65
	length := to - from
	n := max(1, (length+gap+(stroke+gap)/2)/(stroke+gap))
	whole := length - (n-1)*gap
	for i := range n {
		start := from + whole*i/n + gap*i
		end := from + whole*(i+1)/n + gap*i
		p.thin(0, start, 0, end)
	}
}

// intlHandle is the general hand operator, a plain bar.
func intlHandle(p *pen, grip page.Unit) { p.line(-130, grip, 130, grip) }

// intlPush is the push-button: a bar with its two ends bent towards the contact.
func intlPush(p *pen, grip page.Unit) {
	p.line(-130, grip+100, -130, grip, 130, grip, 130, grip+100)
}

// intlRotary is the operator to turn: the bar's ends are bent opposite ways.
func intlRotary(p *pen, grip page.Unit) {
	p.line(-130, grip-100, -130, grip, 130, grip, 130, grip+100)
}

// intlWedge is the position switch: a cam's wedge on the blade, on the side from
// which it is pushed.
func intlWedge(p *pen, b intlBlade) {
	const low, high = 100, -110
	// The wedge's edge rises at right angles to the blade, whose slope is 1:2.
	const out, along = 110, 55
	p.line(low, b.w(low), high-b.side*along, b.w(high)-out, high, b.w(high))
}

// intlFloat is a ball on the water. The water lies level in both layouts.
func intlFloat(p *pen, grip page.Unit) {
	const radius = 100
	p.circle(0, grip-radius, radius, false)
	for i, half := range []page.Unit{190, 110} {
		y := -radius - page.Unit(i)*75
		u1, w1 := p.upright(-half, y)
		u2, w2 := p.upright(half, y)
		p.thin(u1, grip-radius+w1, u2, grip-radius+w2)
	}
}

// intlSquare is the frame of operators that are told by a quantity.
func intlSquare(p *pen, grip page.Unit) {
	p.shape(false, -intlBox, grip, intlBox, grip, intlBox, grip-2*intlBox, -intlBox, grip-2*intlBox)
}

// intlLetter is a square with the letter of the quantity that moves the contact:
// p pressure, θ temperature, n speed, I> current above a limit. Small letters
// are raised so that they stand in the middle.
func intlLetter(p *pen, grip page.Unit, letter string, raise page.Unit) {
	intlSquare(p, grip)
	u, w := p.upright(0, raise)
	p.text(u, grip-intlBox+w, 220, false, letter)
}

// intlFlow is a square with an arrow, for something that streams; the arrow is
// our own.
func intlFlow(p *pen, grip page.Unit) {
	intlSquare(p, grip)
	intlUpright(p, grip-intlBox, -95, 0, 0, 0)
	intlArrowhead(p, grip-intlBox, 95, 0)
}

// intlUpright draws a thin line through points given as x to the right and y
// upwards on the page, from a point of the frame on u = 0.
func intlUpright(p *pen, w page.Unit, xy ...page.Unit) {
	p.thin(intlTurned(p, w, xy)...)
}

func intlTurned(p *pen, w page.Unit, xy []page.Unit) []page.Unit {
	var uw []page.Unit
	for i := 0; i+1 < len(xy); i += 2 {
		u, v := p.upright(xy[i], xy[i+1])
		uw = append(uw, u, w+v)
	}
	return uw
}

// intlArrowhead is a filled head whose tip points to the right at x, y.
func intlArrowhead(p *pen, w, x, y page.Unit) {
	p.solid(intlTurned(p, w, []page.Unit{x, y, x - 110, y + 50, x - 110, y - 50})...)
}

// intlPhoto is a square that two rays of light fall on.
func intlPhoto(p *pen, grip page.Unit) {
	const half = 120
	p.shape(false, -half, grip, half, grip, half, grip-2*half, -half, grip-2*half)
	for _, w := range []page.Unit{grip - 80, grip - 190} {
		p.thin(-390, w-120, -245, w-47)
		p.solid(-155, w-2, -231, w-95, -276, w-6)
	}
}

// intlDiamond is the proximity switch's square standing on a corner.
func intlDiamond(p *pen, grip page.Unit) {
	const half = 150
	p.shape(false, 0, grip, half, grip-half, 0, grip-2*half, -half, grip-half)
}

// intlThermal is the thermal release of an overload relay: a square with a bent
// heater across it.
func intlThermal(p *pen, grip page.Unit) {
	intlSquare(p, grip)
	const low, high, half = -50, 50, 60
	intlUpright(p, grip-intlBox, -intlBox, low, -half, low, -half, high, half, high, half, low, intlBox, low)
}

// intlCross is the breaker's cross on the fixed stub; at a break contact it
// stands clear of the hook.
func intlCross(p *pen, b intlBlade) {
	const arm = 65
	at := -intlStub
	if b.side > 0 {
		at -= 110
	}
	p.line(at-arm, -arm, at+arm, arm)
	p.line(at-arm, arm, at+arm, -arm)
}
