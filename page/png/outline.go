package png

import (
	"image"
	"math"
)

// point is a place in pixels.
type point struct {
	x, y float64
}

func (p point) plus(q point) point         { return point{p.x + q.x, p.y + q.y} }
func (p point) minus(q point) point        { return point{p.x - q.x, p.y - q.y} }
func (p point) times(k float64) point      { return point{p.x * k, p.y * k} }
func (p point) length() float64            { return math.Hypot(p.x, p.y) }
func towards(a, b point, k float64) point  { return a.plus(b.minus(a).times(k)) }
func cross(a, b point) float64             { return a.x*b.y - a.y*b.x }
func dot(a, b point) float64               { return a.x*b.x + a.y*b.y }
func turned(degrees, radius float64) point { return onCircle(degrees*math.Pi/180, radius) }

func onCircle(angle, radius float64) point {
	s, c := math.Sincos(angle)
	return point{radius * c, radius * s}
}

// outline is a set of closed pieces that are covered together. Pieces that
// turn the same way join where they overlap; one that turns the other way cuts
// a hole. (The rasterizer adds up signed coverage and stops at one.)
type outline struct {
	points []point
	ends   []int // where each piece ends
}

func (o *outline) reset() { o.points, o.ends = o.points[:0], o.ends[:0] }

// add takes a piece as it turns.
func (o *outline) add(piece []point) {
	o.points = append(o.points, piece...)
	o.ends = append(o.ends, len(o.points))
}

// join takes a piece and lets it turn clockwise.
func (o *outline) join(piece ...point) {
	from := len(o.points)
	o.add(piece)
	var area float64
	for i, q := range piece {
		area += cross(q, piece[(i+1)%len(piece)])
	}
	if area < 0 {
		for i, j := from, len(o.points)-1; i < j; i, j = i+1, j-1 {
			o.points[i], o.points[j] = o.points[j], o.points[i]
		}
	}
}

func (o *outline) pieces() [][]point {
	list := make([][]point, len(o.ends))
	from := 0
	for i, end := range o.ends {
		list[i], from = o.points[from:end], end
	}
	return list
}

// bounds returns the pixels that the outline may touch.
func (o *outline) bounds() image.Rectangle {
	if len(o.points) == 0 {
		return image.Rectangle{}
	}
	const far = 1 << 30
	min, max := point{far, far}, point{-far, -far}
	for _, q := range o.points {
		min = point{math.Min(min.x, q.x), math.Min(min.y, q.y)}
		max = point{math.Max(max.x, q.x), math.Max(max.y, q.y)}
	}
	clamp := func(v float64) int { return int(math.Max(-far, math.Min(far, v))) }
	return image.Rect(clamp(math.Floor(min.x)), clamp(math.Floor(min.y)), clamp(math.Ceil(max.x)), clamp(math.Ceil(max.y)))
}

// pen is how a line is stroked, lengths in pixels: half its width, whether it
// ends round, and its dashes, if the gap isn't 0.
type pen struct {
	half, dash, gap float64
	round           bool
}

// stroke adds the outline of a line: a bar for each stretch, a wedge at the
// outer side of each bend, caps at its ends. They meet at their edges and
// hardly overlap, so that a pixel at an edge isn't covered twice.
func (o *outline) stroke(points []point, closed bool, p pen) {
	if closed {
		points = append(append(make([]point, 0, len(points)+1), points...), points[0])
	}
	points = distinct(points)
	if len(points) == 1 {
		if p.round {
			o.wedge(points[0], point{p.half, 0}, 2*math.Pi)
		}
		return
	}
	if p.gap > 0 {
		for _, d := range dashes(points, p.dash, p.gap) {
			o.solid(d, false, p)
		}
		return
	}
	o.solid(points, closed, p)
}

func (o *outline) solid(points []point, closed bool, p pen) {
	last := len(points) - 1
	for i := range last {
		a, b := points[i], points[i+1]
		n := normal(a, b, p.half)
		right1, left1 := crossEdge(points, i, closed, n, p.half)
		right2, left2 := crossEdge(points, i+1, closed, n, p.half)
		o.join(right1, right2, b, left2, left1, a)
		if before, after, ok := neighbours(points, i, closed); ok {
			o.bend(before, points[i], after, p.half)
		}
	}
	if p.round && !closed {
		o.wedge(points[0], normal(points[0], points[1], p.half), math.Pi)
		o.wedge(points[last], normal(points[last], points[last-1], p.half), math.Pi)
	}
}

// neighbours returns the points before and after one, if the line goes on
// there. A closed line's first point is its last one too.
func neighbours(points []point, i int, closed bool) (before, after point, ok bool) {
	last := len(points) - 1
	switch {
	case i > 0 && i < last:
		return points[i-1], points[i+1], true
	case closed && last > 1:
		return points[last-1], points[1], true
	}
	return point{}, point{}, false
}

// crossEdge returns the right and the left end of the edge across a bar at one
// of its points, n being its normal. At the inner side of a bend the bars are
// cut to meet in one corner, if they are long enough for that.
func crossEdge(points []point, i int, closed bool, n point, half float64) (right, left point) {
	at := points[i]
	right, left = at.plus(n), at.minus(n)
	before, after, ok := neighbours(points, i, closed)
	if !ok {
		return right, left
	}
	k, m := normal(before, at, half), normal(at, after, half)
	angle := turn(k, m)
	room := min(at.minus(before).length(), after.minus(at).length()) / 2
	if half*math.Tan(math.Abs(angle)/2) > room {
		return right, left
	}
	corner := k.plus(m).times(1 / (1 + dot(k, m)/(half*half)))
	if angle > 0 {
		right = at.plus(corner)
	} else {
		left = at.minus(corner)
	}
	return right, left
}

// normal points to the right of the way from a to b.
func normal(a, b point, length float64) point {
	d := b.minus(a)
	k := length / d.length()
	return point{-d.y * k, d.x * k}
}

// turn returns the angle from one direction to another, clockwise.
func turn(from, to point) float64 { return math.Atan2(cross(from, to), dot(from, to)) }

// bend rounds the outer side of the bend at b.
func (o *outline) bend(a, b, c point, half float64) {
	n, m := normal(a, b, half), normal(b, c, half)
	angle := turn(n, m)
	if angle > 0 { // to the right: the outer side is the left one
		n = n.times(-1)
	}
	if math.Abs(angle) > 1e-6 {
		o.wedge(b, n, angle)
	}
}

// wedge adds the part of a disc that a radius sweeps over.
func (o *outline) wedge(centre, radius point, sweep float64) {
	r := radius.length()
	steps := arcSteps(r, sweep)
	start := math.Atan2(radius.y, radius.x)
	piece := []point{centre}
	for i := range steps + 1 {
		piece = append(piece, centre.plus(onCircle(start+sweep*float64(i)/float64(steps), r)))
	}
	o.join(piece...)
}

// arcSteps returns how many chords stand for an arc so that none is off by
// more than 1/80 pixel.
func arcSteps(radius, sweep float64) int {
	step := 2 * math.Acos(1-0.0125/max(radius, 0.1))
	return max(1, int(math.Ceil(math.Abs(sweep)/step)))
}

// arc returns points along an arc, angles in degrees.
func arc(centre point, radius float64, from, sweep int) []point {
	steps := arcSteps(radius, float64(sweep)*math.Pi/180)
	points := make([]point, 0, steps+1)
	for i := range steps + 1 {
		at := float64(from) + float64(sweep)*float64(i)/float64(steps)
		points = append(points, centre.plus(turned(at, radius)))
	}
	return points
}

// distinct leaves out points that stand on the one before.
func distinct(points []point) []point {
	out := points[:1:1]
	for _, q := range points[1:] {
		if q.minus(out[len(out)-1]).length() > 1e-9 {
			out = append(out, q)
		}
	}
	return out
}

// dashes cuts a line up.
func dashes(points []point, dash, gap float64) [][]point {
	var list [][]point
	on, left := true, dash
	now := []point{points[0]}
	for i := 1; i < len(points); i++ {
		at, to := points[i-1], points[i]
		for rest := to.minus(at).length(); rest > left; rest = to.minus(at).length() {
			at = towards(at, to, left/rest)
			if on {
				list, now = append(list, append(now, at)), nil
				left = gap
			} else {
				now, left = []point{at}, dash
			}
			on = !on
		}
		left -= to.minus(at).length()
		if on {
			now = append(now, to)
		}
	}
	if on {
		list = append(list, now)
	}
	return kept(list)
}

// kept returns the dashes that have a length.
func kept(list [][]point) [][]point {
	var out [][]point
	for _, d := range list {
		if d = distinct(d); len(d) > 1 {
			out = append(out, d)
		}
	}
	return out
}

// clip cuts a piece back to a box of pixels, so that what lies far outside
// costs nothing (Sutherland and Hodgman, 1974).
func clip(piece []point, box image.Rectangle) []point {
	x1, y1, x2, y2 := float64(box.Min.X), float64(box.Min.Y), float64(box.Max.X), float64(box.Max.Y)
	for _, inside := range []func(point) float64{
		func(p point) float64 { return p.x - x1 }, func(p point) float64 { return x2 - p.x },
		func(p point) float64 { return p.y - y1 }, func(p point) float64 { return y2 - p.y },
	} {
		piece = clipSide(piece, inside)
	}
	return piece
}

// clipSide keeps what is on the side where inside isn't negative.
func clipSide(piece []point, inside func(point) float64) []point {
	cut := false
	for _, q := range piece {
		cut = cut || inside(q) < 0
	}
	if !cut {
		return piece
	}
	var out []point
	for i, q := range piece {
		before := piece[(i+len(piece)-1)%len(piece)]
		a, b := inside(before), inside(q)
		if (a < 0) != (b < 0) {
			out = append(out, towards(before, q, a/(a-b)))
		}
		if b >= 0 {
			out = append(out, q)
		}
	}
	return out
}
