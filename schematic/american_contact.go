package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// bars draws the contact of a relay, contactor or counter: two bars across the
// path, and a slash through them if it is closed at rest [NEMA, the control
// trade everywhere].
func (a american) bars(p *pen, closed bool) {
	const gap, bar = 95, 205
	a.leads(p, gap)
	p.line(-gap, -bar, -gap, bar)
	p.line(gap, -bar, gap, bar)
	if closed {
		p.line(-205, -235, 205, 235)
	}
}

// overload draws the contact of an overload relay: bars with the letters OL
// [the open textbook's motor circuits show them so].
func (a american) overload(p *pen, closed bool) {
	a.bars(p, closed)
	w := page.Unit(-365)
	if p.down { // the letters stand upright, so beside the bars they need more
		w = -410
	}
	p.text(0, w, 190, true, "OL")
}

// button draws a push-button: a bridge over two rings, or touching them from
// below [NEMA].
func (a american) button(p *pen, closed bool) {
	a.rings(p, usBridge)
	a.bridge(p, closed)
}

// bridge draws the bar of a push-button or selector and its stem, and returns
// the stem's upper end.
func (a american) bridge(p *pen, closed bool) (top page.Unit) {
	w := page.Unit(110)
	if closed {
		w = -usLie
	}
	p.line(-usBridge-60, w, usBridge+60, w)
	top = w + 195
	p.line(0, w, 0, top)
	return top
}

// selector draws one contact of a selector: a bridge whose stem ends in a
// turned handle. [The handle is our own: NEMA tells the positions by a table of
// letters. Our layout writes the position's name.]
func (a american) selector(p *pen, closed bool) {
	a.rings(p, usBridge)
	top := a.bridge(p, closed)
	p.line(-80, top-46, 80, top+46)
}

// knife draws a knife blade from the left ring: hanging below the right one if
// it is open at rest, lying on top of it if it is closed. By itself it is a
// switch that stays where the hand leaves it [IEEE 315, from memory].
func (a american) knife(p *pen, closed bool) {
	a.rings(p, usPole)
	b := usBladeOf(closed)
	p.line(b.fromU, b.fromW, b.toU, b.toW)
}

// usBlade is the stroke of a knife blade, from its pivot to its tip.
type usBlade struct{ fromU, fromW, toU, toW page.Unit }

// usBladeOf returns the blade at rest. It starts on the left ring in the
// direction in which it runs; the closed one passes over the right ring's top,
// the open one would reach it from below.
func usBladeOf(closed bool) usBlade {
	if closed {
		return usBlade{-170, 7, 285, 70}
	}
	return usBlade{-174, -20, 215, -195}
}

// at returns the blade's height at u.
func (b usBlade) at(u page.Unit) page.Unit {
	return b.fromW + (b.toW-b.fromW)*(u-b.fromU)/(b.toU-b.fromU)
}

// breaker draws a circuit-breaker's contact: a blade bent like a bow
// [IEEE 315, from memory]. The open one is the closed one, fallen by 36
// degrees about the left ring.
func (a american) breaker(p *pen, closed bool) {
	a.rings(p, usPole)
	if closed {
		p.arc(0, -212, 342, 50, 80)
		return
	}
	p.arc(-167, -301, 342, 14, 80)
}

// sensor draws a contact that the plant moves: a knife blade, and below it what
// moves it; light alone comes from above. [NEMA and JIC charts, from memory, but
// for the speed switch, whose mark is our own.]
func (a american) sensor(p *pen, kind circuit.Kind, closed bool) {
	a.knife(p, closed)
	b := usBladeOf(closed)
	switch kind {
	case circuit.Limit: // a wedge, the cam that runs up to the blade
		p.shape(false, -100, b.at(-100), 80, b.at(80), 80, b.at(80)-150)
	case circuit.Proximity: // a diamond
		w := b.at(0)
		p.shape(false, 0, w, 100, w-100, 0, w-200, -100, w-100)
	case circuit.Photo:
		a.ray(p, -25, b.at(-25)+72)
		a.ray(p, 100, b.at(100)+72)
	default:
		w := b.at(0) - 150
		p.line(0, b.at(0), 0, w)
		a.feeler(p, kind, w)
	}
}

// feeler draws, below w, what hangs on a sensor's stem.
func (a american) feeler(p *pen, kind circuit.Kind, w page.Unit) {
	switch kind {
	case circuit.Float: // a ball
		p.circle(0, w-95, 95, false)
	case circuit.Pressure: // a bell
		p.arc(0, w-125, 125, 0, 180)
		p.line(-125, w-125, 125, w-125)
	case circuit.Flow: // a vane in the stream
		p.shape(false, 0, w, 180, w-85, 0, w-170)
	case circuit.Thermostat: // a bent strip
		p.line(0, w, 90, w, 90, w-90, -90, w-90, -90, w-180, 0, w-180)
	case circuit.Speed: // what turns
		p.arc(0, w-110, 110, 90, 245)
		p.shape(true, 106, w-65, 55, w-155, 145, w-155)
	}
}

// ray draws a ray of light that comes down onto a point.
func (a american) ray(p *pen, u, w page.Unit) {
	p.line(u-105, w+182, u-40, w+69)
	p.shape(true, u, w, u-12, w+85, u-68, w+53)
}
