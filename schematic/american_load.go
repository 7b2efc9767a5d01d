package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

const usCoil page.Unit = 300 // radius of a coil or motor

// usColours are those that stand in a lamp [NEMA practice, from memory].
var usColours = map[string]string{
	"amber": "A", "white": "W", "red": "R", "green": "G", "blue": "B", "clear": "C", "yellow": "Y", "orange": "O",
}

// load draws a coil or load. A coil is an empty circle [IEEE 315]; the layout
// writes its tag and function beside it. Where a device has two coils, or one
// that does not simply hold its contacts, a word of the notation in the circle
// says what it does. JIC practice has the letters L and U there, for latch and
// unlatch; what we call set and reset.
func (a american) load(p *pen, f loadFace) {
	switch f.kind {
	case circuit.Lamp:
		a.lamp(p, f.colour)
	case circuit.Horn:
		a.horn(p)
	case circuit.Solenoid:
		a.solenoid(p)
	case circuit.Motor:
		a.motor(p, f.part)
	case circuit.Heater:
		a.heater(p)
	case circuit.Brake:
		a.brake(p)
	default:
		a.coil(p, usCoilWord(f))
	}
}

// usCoilWord returns the word in a coil, empty for a plain one.
func usCoilWord(f loadFace) string {
	switch {
	case f.part != circuit.Main:
		return f.part.String()
	case f.kind == circuit.SteppingRelay:
		return "step"
	case f.kind == circuit.Counter:
		return "count"
	}
	return ""
}

func (a american) coil(p *pen, word string) {
	a.leads(p, usCoil)
	p.circle(0, 0, usCoil, false)
	if word != "" {
		p.text(0, 0, 180, false, word)
	}
}

// motor draws a motor: MTR in a circle, because M alone is a starter's coil in
// this tradition [JIC letters, from memory]. A motor fed in star or delta has
// the sign of its connection instead [IEEE 315, from memory].
func (a american) motor(p *pen, part circuit.LoadPart) {
	a.coil(p, "")
	switch part {
	case circuit.Star:
		for _, tip := range [][2]page.Unit{{0, -170}, {-147, 85}, {147, 85}} {
			u, w := p.upright(tip[0], tip[1])
			p.line(0, 0, u, w)
		}
	case circuit.Delta:
		u1, w1 := p.upright(-147, -85)
		u2, w2 := p.upright(147, -85)
		u3, w3 := p.upright(0, 170)
		p.shape(false, u1, w1, u2, w2, u3, w3)
	default:
		p.text(0, 0, 190, true, "MTR")
	}
}

// lamp draws a pilot light: a circle with rays and the letter of its colour
// [NEMA].
func (a american) lamp(p *pen, colour string) {
	const radius, from, to = 210, 184, 258 // the rays run aslant, by equal parts
	a.leads(p, radius)
	p.circle(0, 0, radius, false)
	for _, s := range [][2]page.Unit{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		p.line(s[0]*from, s[1]*from, s[0]*to, s[1]*to)
	}
	if letter := usColours[colour]; letter != "" {
		p.text(0, 0, 240, true, letter)
	}
}

// horn draws a horn: its driver on the path and its mouth above [IEEE 315,
// from memory].
func (a american) horn(p *pen) {
	a.leads(p, 110)
	p.shape(false, -110, -110, 110, -110, 110, 110, -110, 110)
	p.shape(false, -110, 110, 110, 110, 230, 290, -230, 290)
}

// solenoid draws the winding of a valve or magnet as a saw-tooth on the path
// [JIC, from memory].
func (a american) solenoid(p *pen) {
	p.line(-reach, 0, -240, 0, -160, 220, -80, 0, 0, 220, 80, 0, 160, 220, 240, 0, reach, 0)
}

// heater draws a heating element as a square wave [IEEE 315, from memory].
func (a american) heater(p *pen) {
	p.line(-reach, 0, -250, 0, -250, 130, -150, 130, -150, -130, -50, -130, -50, 130, 50, 130, 50, -130, 150, -130,
		150, 130, 250, 130, 250, 0, reach, 0)
}

// brake draws a brake: a drum on the path and a shoe above it [our own; the
// charts only give letters].
func (a american) brake(p *pen) {
	a.leads(p, 200)
	p.circle(0, 0, 200, false)
	p.arc(0, 0, 275, 45, 90)
	p.line(0, 275, 0, 370)
}
