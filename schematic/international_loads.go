package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// A coil is a rectangle across the path, IEC 60617 (07-15-01, number and
// meaning from a published list); its extra fields lie at its -w end.
const (
	intlCoilU     page.Unit = 175 // half the short side
	intlCoilW     page.Unit = 350 // half the long side
	intlNarrow    page.Unit = 200 // the width of a field that is crossed or filled
	intlWide      page.Unit = 340 // the width of a field with a sign
	intlFieldSize page.Unit = 260 // of a letter in a field
)

// load draws a coil or load.
func (international) load(p *pen, f loadFace) {
	switch f.kind {
	case circuit.Lamp:
		intlLamp(p)
	case circuit.Horn:
		intlHorn(p)
	case circuit.Motor:
		intlMotor(p, f.part)
	case circuit.Heater:
		intlHeater(p)
	case circuit.Solenoid:
		intlCoil(p)
		intlPull(p)
	case circuit.Brake:
		intlCoil(p)
		intlShoe(p)
	default:
		intlCoil(p)
		intlFields(p, f)
	}
}

// loadDepths measures the symbol in both layouts.
func (i international) loadDepths(f loadFace) depths {
	return intlDepths(func(p *pen) { i.load(p, f) })
}

// intlEnds draws the conductors up to a symbol that reaches from -u to u.
func intlEnds(p *pen, u page.Unit) {
	p.line(-reach, 0, -u, 0)
	p.line(u, 0, reach, 0)
}

func intlCoil(p *pen) {
	intlEnds(p, intlCoilU)
	intlField(p, intlCoilW, -intlCoilW, false)
}

// intlField draws a part of a coil between two places on w.
func intlField(p *pen, from, to page.Unit, solid bool) {
	p.shape(solid, -intlCoilU, from, intlCoilU, from, intlCoilU, to, -intlCoilU, to)
}

// intlFields adds what tells one coil from another. Coils of relays and
// contactors are plain.
func intlFields(p *pen, f loadFace) {
	end := -intlCoilW
	switch {
	case f.part == circuit.SetCoil:
		intlLettered(p, end, "S")
	case f.part == circuit.ResetCoil:
		intlLettered(p, end, "R")
	case f.kind == circuit.Counter:
		intlLettered(p, end, "+1")
	case f.kind == circuit.SteppingRelay:
		intlSigned(p, end, intlStep)
	case f.kind == circuit.Timer:
		intlTimerFields(p, end, f.function)
	}
}

// intlTimerFields adds a timer's fields. Slow-operating is a crossed field, IEC
// 60617 (07-15-08, number and meaning from a published list), slow-releasing a
// filled one (07-15-07, likewise); which stands first where a coil has both is
// from memory. The other functions have a sign of our own; the words beside the
// coil say the rest.
func intlTimerFields(p *pen, end page.Unit, f circuit.Function) {
	switch f {
	case circuit.OnDelay:
		intlCrossed(p, end)
	case circuit.OffDelay:
		intlField(p, end, end-intlNarrow, true)
	case circuit.OnOffDelay:
		intlCrossed(p, end)
		intlField(p, end-intlNarrow, end-2*intlNarrow, true)
	case circuit.Accumulating:
		intlCrossed(p, end)
		intlSigned(p, end-intlNarrow, intlSigns[f])
	default:
		if sign := intlSigns[f]; sign != nil {
			intlSigned(p, end, sign)
		}
	}
}

func intlCrossed(p *pen, end page.Unit) {
	intlField(p, end, end-intlNarrow, false)
	p.thin(-intlCoilU, end, intlCoilU, end-intlNarrow)
	p.thin(-intlCoilU, end-intlNarrow, intlCoilU, end)
}

// intlLettered adds a field with a short word: S set, R reset, +1 count (from
// memory).
func intlLettered(p *pen, end page.Unit, words string) {
	intlField(p, end, end-intlWide, false)
	size := intlFieldSize
	if len(words) > 1 {
		size = 220
	}
	p.text(0, end-intlWide/2, size, true, words)
}

// intlSign is lines through points x, y on the page, within ±100 of a field's
// middle.
type intlSign [][]page.Unit

// intlStep is the sign of a stepping relay, which goes a step at each pulse.
var intlStep = intlSign{{-100, -80, 0, -80, 0, 80, 100, 80}}

// intlSigns holds the signs of timer functions: what the output does, drawn as
// on a timing chart; for minimum-on, at least; for accumulating, the elapsed
// time as it runs, rests and runs on; for the watchdog the beats that it listens for; for star-delta the two
// ways to join the windings.
var intlSigns = map[circuit.Function]intlSign{
	circuit.Interval:       {{-100, -80, -100, 80, 0, 80, 0, -80, 100, -80}},
	circuit.Pulse:          {{-110, -80, -50, -80, -50, 80, 50, 80, 50, -80, 110, -80}},
	circuit.PulseOnRelease: {{-100, -80, 0, -80, 0, 80, 100, 80, 100, -80}},
	circuit.MinimumOn:      {{-80, 105, 80, 40, -80, -25}, {-80, -95, 80, -95}},
	circuit.Flasher:        {{-110, -80, -110, 80, -37, 80, -37, -80, 37, -80, 37, 80, 110, 80, 110, -80}},
	circuit.Accumulating:   {{-110, -90, -40, 0, 40, 0, 110, 90}},
	circuit.Watchdog:       {{-110, -80, 110, -80}, {-75, -80, -75, 80}, {0, -80, 0, 80}, {75, -80, 75, 80}},
	circuit.StarDelta: {
		{-120, 75, -72, 0, -24, 75}, {-72, 0, -72, -75},
		{22, -75, 122, -75, 72, 75, 22, -75},
	},
}

// intlSigned adds a field with a sign.
func intlSigned(p *pen, end page.Unit, s intlSign) {
	intlField(p, end, end-intlWide, false)
	for _, xy := range s {
		intlUpright(p, end-intlWide/2, xy...)
	}
}

// intlLamp is a circle with a cross in it (from memory).
func intlLamp(p *pen) {
	const radius, arm = 250, 177
	intlEnds(p, radius)
	p.circle(0, 0, radius, false)
	p.line(-arm, -arm, arm, arm)
	p.line(-arm, arm, arm, -arm)
}

// intlHorn is a small case with a mouth that opens to the +w side (from memory).
func intlHorn(p *pen) {
	const half, mouth = 130, 260
	intlEnds(p, half)
	p.shape(false, -half, -130, half, -130, half, 130, -half, 130)
	p.line(-half, 130, -mouth, 350, mouth, 350, half, 130)
}

// intlHeater is a heating element: a bar along the path, divided across (from
// memory).
func intlHeater(p *pen) {
	const half, high = 320, 110
	intlEnds(p, half)
	p.shape(false, -half, -high, half, -high, half, high, -half, high)
	for _, u := range []page.Unit{-160, 0, 160} {
		p.line(u, -high, u, high)
	}
}

// intlMotor is a circle with M (from memory). The windings of a motor that
// starts in star and runs in delta are told by the sign below the letter.
func intlMotor(p *pen, part circuit.LoadPart) {
	const radius = 330
	intlEnds(p, radius)
	p.circle(0, 0, radius, false)
	if part != circuit.Star && part != circuit.Delta {
		p.text(0, 0, 330, false, "M")
		return
	}
	u, w := p.upright(0, 95)
	p.text(u, w, 260, false, "M")
	if part == circuit.Star {
		intlUpright(p, 0, 0, -150, 0, -240)
		intlUpright(p, 0, -85, -80, 0, -150, 85, -80)
		return
	}
	p.thin(intlTurned(p, 0, []page.Unit{-92, -225, 92, -225, 0, -75, -92, -225})...)
}

// intlPull is what tells a solenoid from a relay: a link that moves something
// (from memory). The coil and the link are the standard's; the arrow alone says
// that something moves.
func intlPull(p *pen) {
	intlStrokes(p, intlCoilW, intlCoilW+230)
	tip := intlCoilW + 390
	p.solid(0, tip, -60, tip-140, 60, tip-140)
}

// intlShoe is what a brake's coil moves: a shoe against a drum (our own).
func intlShoe(p *pen) {
	const radius = 110
	shoe := intlCoilW + 230
	intlStrokes(p, intlCoilW, shoe)
	p.line(-110, shoe, 110, shoe)
	p.circle(0, shoe+60+radius, radius, false)
}
