package page

// Shape is the outline of an element: Poly, Rect, Arc, Hatch or Text.
type Shape interface {
	// Bounds returns the box around the shape, the stroke's width left out.
	Bounds() Box
}

// Poly is a line through points; with Closed set it ends where it began.
type Poly struct {
	Points []Point
	Closed bool
}

// Line returns the straight line from a to b.
func Line(a, b Point) Poly { return Poly{Points: []Point{a, b}} }

// Bounds returns the box around the points.
func (p Poly) Bounds() Box {
	if len(p.Points) == 0 {
		return Box{}
	}
	b := Box{p.Points[0], p.Points[0]}
	for _, q := range p.Points[1:] {
		b.Min = Point{min(b.Min.X, q.X), min(b.Min.Y, q.Y)}
		b.Max = Point{max(b.Max.X, q.X), max(b.Max.Y, q.Y)}
	}
	return b
}

// Rect is an upright rectangle, its corners rounded with a radius of Round
// 1/100 mm.
type Rect struct {
	Box
	Round Unit
}

// Arc is a part of a circle. Angles are in whole degrees, clockwise from three
// o'clock; a Sweep of 360 is the whole circle, a negative one runs
// anticlockwise.
type Arc struct {
	Centre      Point
	Radius      Unit
	From, Sweep int
}

// Circle returns the whole circle.
func Circle(centre Point, radius Unit) Arc { return Arc{centre, radius, 0, 360} }

// Bounds returns the box around the arc.
func (a Arc) Bounds() Box { return Poly{Points: a.Points(1)}.Bounds() }

// Points returns points along the arc, one every so many degrees, its two ends
// among them.
func (a Arc) Points(every int) []Point {
	var points []Point
	step := every
	if a.Sweep < 0 {
		step = -every
	}
	for d := 0; d != a.Sweep && (d < a.Sweep) == (step > 0); d += step {
		points = append(points, a.At(d))
	}
	return append(points, a.At(a.Sweep))
}

// At returns the point that lies so many degrees behind the arc's start.
func (a Arc) At(degrees int) Point {
	s, c := sine(a.From+degrees), sine(a.From+degrees+90)
	return a.Centre.Add(scaled(a.Radius, c), scaled(a.Radius, s))
}

// scaled returns r times s/65536, rounded to the nearest.
func scaled(r Unit, s int64) Unit {
	v := int64(r) * s
	if v < 0 {
		return -Unit((-v + 1<<15) >> 16)
	}
	return Unit((v + 1<<15) >> 16)
}

// sines holds the sines of 0 to 90 degrees in 1/65536, so that a drawing comes
// out the same on every machine.
var sines = [...]int32{
	0, 1144, 2287, 3430, 4572, 5712, 6850, 7987, 9121, 10252, 11380, 12505, 13626, 14742, 15855, 16962,
	18064, 19161, 20252, 21336, 22415, 23486, 24550, 25607, 26656, 27697, 28729, 29753, 30767, 31772, 32768, 33754,
	34729, 35693, 36647, 37590, 38521, 39441, 40348, 41243, 42126, 42995, 43852, 44695, 45525, 46341, 47143, 47930,
	48703, 49461, 50203, 50931, 51643, 52339, 53020, 53684, 54332, 54963, 55578, 56175, 56756, 57319, 57865, 58393,
	58903, 59396, 59870, 60326, 60764, 61183, 61584, 61966, 62328, 62672, 62997, 63303, 63589, 63856, 64104, 64332,
	64540, 64729, 64898, 65048, 65177, 65287, 65376, 65446, 65496, 65526, 65536,
}

func sine(degrees int) int64 {
	d := ((degrees % 360) + 360) % 360
	switch {
	case d <= 90:
		return int64(sines[d])
	case d <= 180:
		return int64(sines[180-d])
	case d <= 270:
		return -int64(sines[d-180])
	}
	return -int64(sines[360-d])
}

// Hatch fills a box with slanting lines, Pitch 1/100 mm apart along the edge.
// The lines of neighbouring boxes of one pitch meet.
type Hatch struct {
	Box
	Pitch Unit
}

// Lines returns the lines of the hatch, rising to the right, each within the
// box.
func (h Hatch) Lines() [][2]Point {
	if h.Pitch <= 0 || h.Width() <= 0 || h.Height() <= 0 {
		return nil
	}
	var lines [][2]Point
	first := h.Min.X + h.Min.Y // on each line X+Y is the same
	if r := first % h.Pitch; r != 0 {
		first += h.Pitch - (r+h.Pitch)%h.Pitch
	}
	for sum := first; sum < h.Max.X+h.Max.Y; sum += h.Pitch {
		left := max(h.Min.X, sum-h.Max.Y)
		right := min(h.Max.X, sum-h.Min.Y)
		if left < right {
			lines = append(lines, [2]Point{{left, sum - left}, {right, sum - right}})
		}
	}
	return lines
}

// Anchor says which point of a text stands at its place.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// String returns the anchor's name.
func (a Anchor) String() string { return [...]string{"start", "middle", "end"}[a] }

// Text is one line of words. At is on the baseline.
type Text struct {
	At     Point
	Anchor Anchor
	Size   Unit // height of the em square in 1/100 mm
	Bold   bool
	// Tabular asks for figures of one width, for columns of times. It changes
	// no width: the figures that are measured are of one width anyway.
	Tabular bool
	Words   string
}

// Bounds returns the box that the words take, from the tallest letter's top to
// the lowest tail.
func (t Text) Bounds() Box {
	w := Width(t.Words, t.Size, t.Bold)
	x := t.At.X
	switch t.Anchor {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return Box{Point{x, t.At.Y - Above(t.Size)}, Point{x + w, t.At.Y + Below(t.Size)}}
}
