package schematic

import "tarry/page"

// timed draws a timed contact: a knife blade with a stem hanging from it. An
// arrow along the stem gives the direction of the movement that is late: the
// feathers of one that points up into the blade, so that operating is late, or
// the head of one that points down, so that returning is late [the open
// textbook's figures; the trade's charts agree]. A contact with both has both
// arrows, side by side [ours; no published figure is known to us]. The other
// functions have no standard symbol that we know of: their stem ends in an open
// square, which is our own mark, and the words beside it say what they do.
func (a american) timed(p *pen, f contactFace) {
	const aside = 110
	a.knife(p, f.closed)
	b := usBladeOf(f.closed)
	low := b.at(0) - 190 // where the stem ends
	switch {
	case f.slowOperating && f.slowReturning:
		low = min(b.at(-aside), b.at(aside)) - 170
		a.feathers(p, -aside, b.at(-aside), low)
		a.head(p, aside, b.at(aside), low)
	case f.slowOperating:
		a.feathers(p, 0, b.at(0), low)
	case f.slowReturning:
		a.head(p, 0, b.at(0), low)
	default:
		const half = 60
		p.line(0, b.at(0), 0, low)
		p.shape(false, -half, low, half, low, half, low-2*half, -half, low-2*half)
	}
}

// feathers draws a stem from a blade down to w = low, where the tail of an
// arrow that points up spreads.
func (a american) feathers(p *pen, u, from, low page.Unit) {
	p.line(u, from, u, low)
	p.line(u-85, low-115, u, low, u+85, low-115)
}

// head draws a stem from a blade with the head of an arrow that points down.
func (a american) head(p *pen, u, from, low page.Unit) {
	p.line(u, from, u, low)
	p.shape(true, u, low-115, u-70, low+15, u+70, low+15)
}
