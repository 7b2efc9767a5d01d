package schematic

import (
	"math"
	"slices"
	"testing"

	"tarry/circuit"
	"tarry/page"
)

// The rules of the American set, held against what is drawn: the ink is taken
// back into the symbol's frame (X is u, Y is w), so that one test serves both
// layouts.

// usInk is a drawn symbol in its own frame.
type usInk struct {
	lines   [][]page.Point // each open line or closed outline
	solid   []bool         // of the outlines: filled with ink
	closed  []bool
	circles []page.Arc
	words   []string
}

func (s usSymbol) ink(down bool) usInk {
	frame := func(q page.Point) page.Point {
		if down {
			return page.Point{X: q.Y, Y: q.X}
		}
		return page.Point{X: q.X, Y: -q.Y}
	}
	var ink usInk
	for _, e := range s.drawn(down) {
		switch shape := e.Shape.(type) {
		case page.Poly:
			var line []page.Point
			for _, q := range shape.Points {
				line = append(line, frame(q))
			}
			ink.lines = append(ink.lines, line)
			ink.closed = append(ink.closed, shape.Closed)
			ink.solid = append(ink.solid, e.Style.Fill == page.Solid)
		case page.Arc:
			if shape.Sweep == 360 {
				shape.Centre = frame(shape.Centre)
				ink.circles = append(ink.circles, shape)
			}
		case page.Text:
			ink.words = append(ink.words, shape.Words)
		}
	}
	return ink
}

// eachUS runs a test on every symbol that the filter lets through, in both
// layouts.
func eachUS(t *testing.T, wanted func(usSymbol) bool, test func(t *testing.T, s usSymbol, ink usInk)) {
	n := 0
	for _, s := range usSymbols() {
		if !wanted(s) {
			continue
		}
		n++
		t.Run(s.name, func(t *testing.T) { test(t, s, s.ink(false)) })
		t.Run(s.name+" down", func(t *testing.T) { test(t, s, s.ink(true)) })
	}
	if n == 0 {
		t.Error("no symbol to test")
	}
}

func usAll(usSymbol) bool     { return true }
func usTimed(s usSymbol) bool { return !s.isLoad && s.contact.timed }

func usKnife(s usSymbol) bool {
	k := s.contact.kind.Info().Class
	return usTimed(s) || !s.isLoad && (k == circuit.BySensing || s.contact.kind == circuit.Switch)
}

func usBars(s usSymbol) bool {
	k := s.contact.kind
	return !s.isLoad && !s.contact.timed && (k.Info().Class == circuit.ByCoil || k.Info().Class == circuit.ByTime)
}

func TestAmericanConductorsMeet(t *testing.T) {
	eachUS(t, usAll, func(t *testing.T, s usSymbol, ink usInk) {
		for _, end := range []page.Unit{-reach, reach} {
			found := false
			for _, line := range ink.lines {
				for i, q := range line {
					along := i > 0 && line[i-1].Y == 0 || i+1 < len(line) && line[i+1].Y == 0
					found = found || q == page.Point{X: end} && along
				}
			}
			if !found {
				t.Errorf("no conductor runs along the path to %v", end)
			}
		}
	})
}

func TestAmericanInkStaysInItsRoom(t *testing.T) {
	for _, s := range usSymbols() {
		d := s.depths()
		if d.plus <= 0 || d.minus <= 0 || d.plus > 560 || d.minus > 560 {
			t.Errorf("%s takes %v and %v", s.name, d.plus, d.minus)
		}
		level := page.Box{Min: page.Point{X: -reach, Y: -d.plus}, Max: page.Point{X: reach, Y: d.minus}}
		upright := page.Box{Min: page.Point{X: -d.minus, Y: -reach}, Max: page.Point{X: d.plus, Y: reach}}
		for _, e := range s.drawn(false) {
			half := e.Style.Weight.Width() / 2
			if b := e.Shape.Bounds(); !level.Holds(b) || b.Min.Y-half < level.Min.Y || b.Max.Y+half > level.Max.Y {
				t.Errorf("%s leaves its room: %v", s.name, b)
			}
		}
		for _, e := range s.drawn(true) {
			half := e.Style.Weight.Width() / 2
			if b := e.Shape.Bounds(); !upright.Holds(b) || b.Min.X-half < upright.Min.X || b.Max.X+half > upright.Max.X {
				t.Errorf("%s leaves its room in a vertical path: %v", s.name, b)
			}
		}
	}
}

// usCrossing reports whether the segments share a point inside both.
func usCrossing(a, b, c, d page.Point) bool {
	side := func(p, q, r page.Point) bool {
		return int64(q.X-p.X)*int64(r.Y-p.Y) > int64(q.Y-p.Y)*int64(r.X-p.X)
	}
	return side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b)
}

// Two bars across the path, on both sides of the middle; a slash through both
// if, and only if, the contact is closed at rest.
func TestAmericanBars(t *testing.T) {
	eachUS(t, usBars, func(t *testing.T, s usSymbol, ink usInk) {
		var bars, slashes [][]page.Point
		for _, l := range ink.lines {
			switch {
			case l[0].X == l[1].X && l[0].Y == -l[1].Y:
				bars = append(bars, l)
			case l[0].X != l[1].X && l[0].Y != l[1].Y:
				slashes = append(slashes, l)
			}
		}
		if len(bars) != 2 || bars[0][0].X != -bars[1][0].X || len(ink.circles) != 0 || len(ink.words) != 0 {
			t.Fatalf("no pair of bars: %v", ink)
		}
		if s.contact.closed != (len(slashes) == 1) {
			t.Fatalf("closed at rest %v, but %d slashes", s.contact.closed, len(slashes))
		}
		for _, l := range slashes {
			for _, bar := range bars {
				if !usCrossing(l[0], l[1], bar[0], bar[1]) {
					t.Errorf("slash %v does not cross the bar %v", l, bar)
				}
			}
		}
	})
}

// rings returns the rings on the path, left and right.
func (k usInk) rings(t *testing.T) (left, right page.Arc) {
	t.Helper()
	var on []page.Arc
	for _, c := range k.circles {
		if c.Centre.Y == 0 {
			on = append(on, c)
		}
	}
	if len(on) != 2 || on[0].Centre.X >= 0 || on[1].Centre.X != -on[0].Centre.X {
		t.Fatalf("rings on the path: %v", on)
	}
	return on[0], on[1]
}

func usApart(a, b page.Point) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }

// blade returns the stroke that begins on the left ring and is no conductor.
func (k usInk) blade(t *testing.T) (from, to page.Point) {
	t.Helper()
	left, _ := k.rings(t)
	for _, l := range k.lines {
		if len(l) == 2 && l[1].Y != 0 && math.Abs(usApart(l[0], left.Centre)-float64(left.Radius)) < 2 {
			return l[0], l[1]
		}
	}
	t.Fatal("no blade")
	return
}

// usAbove is how far q lies above the straight line through a and b.
func usAbove(q, a, b page.Point) float64 {
	cross := float64(b.X-a.X)*float64(q.Y-a.Y) - float64(b.Y-a.Y)*float64(q.X-a.X)
	return cross / usApart(a, b)
}

// Gravity: what is open hangs clear below the fixed contact and would reach it
// going up; what is closed lies on its top, ink on ink.
func TestAmericanBladesObeyGravity(t *testing.T) {
	stroke := float64(page.Medium.Width())
	eachUS(t, usKnife, func(t *testing.T, s usSymbol, ink usInk) {
		left, right := ink.rings(t)
		from, to := ink.blade(t)
		if reaches := usApart(left.Centre, to); reaches < usApart(left.Centre, right.Centre)-float64(right.Radius) {
			t.Errorf("the blade is too short: %v", reaches)
		}
		height := -usAbove(right.Centre, from, to) // of the blade over the fixed contact
		rim := float64(right.Radius)
		switch {
		case !s.contact.closed && (to.Y >= 0 || height > -rim-2*stroke):
			t.Errorf("open at rest, but %v from %v to %v", height, from, to)
		case s.contact.closed && (to.Y <= 0 || to.X < right.Centre.X || height < rim || height > rim+stroke):
			t.Errorf("closed at rest, but %v from %v to %v", height, from, to)
		}
	})
}

// A breaker's bow obeys gravity as a blade does.
func TestAmericanBreaker(t *testing.T) {
	byTripping := func(s usSymbol) bool { return !s.isLoad && s.contact.kind == circuit.Breaker }
	eachUS(t, byTripping, func(t *testing.T, s usSymbol, ink usInk) {
		_, right := ink.rings(t)
		nearest, lowest := math.Inf(1), page.Unit(0)
		for _, e := range s.drawn(false) {
			if bow, ok := e.Shape.(page.Arc); ok && bow.Sweep != 360 {
				for _, q := range bow.Points(1) {
					q.Y = -q.Y
					nearest, lowest = min(nearest, usApart(q, right.Centre)), min(lowest, q.Y)
				}
			}
		}
		touches := nearest <= float64(right.Radius+page.Medium.Width())
		if s.contact.closed != touches || s.contact.closed != (lowest == 0) {
			t.Errorf("closed at rest %v, but %v from the fixed contact and down to %v", s.contact.closed, nearest, lowest)
		}
	})
}

// arrows finds what hangs on the blade: for each stem, which way its arrow
// points, +1 for up, -1 for down and 0 for neither.
func (k usInk) arrows(t *testing.T) []int {
	t.Helper()
	from, to := k.blade(t)
	var list []int
	for _, l := range k.lines {
		if len(l) != 2 || l[0].X != l[1].X || math.Abs(usAbove(l[0], from, to)) > 2 {
			continue
		}
		if l[1].Y > l[0].Y-100 {
			t.Errorf("the stem %v does not hang", l)
		}
		list = append(list, k.endOf(t, l[1]))
	}
	return list
}

// endOf reads what is drawn at a stem's lower end: the tail of an arrow that
// points up (two feathers that fall away from it), or a filled head with its
// tip down, or an open square.
func (k usInk) endOf(t *testing.T, end page.Point) int {
	t.Helper()
	for i, l := range k.lines {
		even := len(l) == 3 && (l[0].X+l[2].X == 2*end.X || l[1].X+l[2].X == 2*end.X)
		switch {
		case even && !k.closed[i] && l[1] == end && l[0].Y < end.Y && l[0].Y == l[2].Y:
			return +1
		case even && k.solid[i] && l[0].X == end.X && l[0].Y < end.Y && l[1].Y == l[2].Y && l[1].Y >= end.Y:
			return -1
		case len(l) == 4 && k.closed[i] && !k.solid[i] && l[0].Y == end.Y && l[0].X+l[1].X == 2*end.X:
			return 0
		}
	}
	t.Fatalf("nothing at the stem's end %v", end)
	return 0
}

// Up: late on energising. Down: late on de-energising. By function, and by the
// trade's names of the contacts.
func TestAmericanArrowsTellTheLateMovement(t *testing.T) {
	up, down, none := []int{+1}, []int{-1}, []int{0}
	want := map[circuit.Function][]int{
		circuit.OnDelay: up, circuit.Accumulating: up, circuit.OffDelay: down, circuit.OnOffDelay: {+1, -1},
		circuit.Interval: none, circuit.Pulse: none, circuit.PulseOnRelease: none, circuit.MinimumOn: none,
		circuit.Flasher: none, circuit.Watchdog: none, circuit.StarDelta: none,
	}
	names := map[string][]int{"on-delay notc": up, "on-delay ncto": up, "off-delay noto": down, "off-delay nctc": down}
	eachUS(t, usTimed, func(t *testing.T, s usSymbol, ink usInk) {
		arrows := ink.arrows(t)
		if !slices.Equal(arrows, want[s.contact.function]) {
			t.Errorf("arrows %v, want %v", arrows, want[s.contact.function])
		}
		if named, ok := names[s.name]; ok && !slices.Equal(arrows, named) {
			t.Errorf("arrows %v of this name, want %v", arrows, named)
		}
		delete(names, s.name)
	})
	if len(names) > 0 {
		t.Errorf("not drawn: %v", names)
	}
}

// A push-button's bridge spans both rings: clear above them, or touching both
// from below; its stem stands on it either way.
func TestAmericanButtons(t *testing.T) {
	byFinger := func(s usSymbol) bool {
		return !s.isLoad && (s.contact.kind == circuit.Button || s.contact.kind == circuit.Selector)
	}
	eachUS(t, byFinger, func(t *testing.T, s usSymbol, ink usInk) {
		left, right := ink.rings(t)
		var bar, stem []page.Point
		for _, l := range ink.lines {
			if l[0].Y == l[1].Y && l[0].Y != 0 {
				bar = l
			} else if l[0].X == 0 && l[1].X == 0 {
				stem = l
			}
		}
		if bar == nil || stem == nil || bar[0].X >= left.Centre.X || bar[1].X <= right.Centre.X || stem[0].Y != bar[0].Y || stem[1].Y <= right.Radius {
			t.Fatalf("bar %v and stem %v", bar, stem)
		}
		stroke, w := page.Medium.Width(), bar[0].Y
		touches := w <= -right.Radius && w >= -right.Radius-stroke
		if s.contact.closed && !touches || !s.contact.closed && w <= right.Radius+stroke {
			t.Errorf("closed at rest %v, but the bar is at %v", s.contact.closed, w)
		}
	})
}

func TestAmericanWords(t *testing.T) {
	want := map[string]string{
		"latching relay load set": "set", "latching relay load reset": "reset", "accumulating load reset": "reset",
		"counter load ": "count", "counter load reset": "reset", "stepping relay load ": "step", "motor load ": "MTR",
		"overload no": "OL", "overload nc": "OL", "amber lamp load ": "A", "white lamp load ": "W", "red lamp load ": "R",
		"green lamp load ": "G", "blue lamp load ": "B", "clear lamp load ": "C", "yellow lamp load ": "Y", "orange lamp load ": "O",
	}
	eachUS(t, usAll, func(t *testing.T, s usSymbol, ink usInk) {
		got := ""
		for _, w := range ink.words {
			got += w
		}
		if got != want[s.name] {
			t.Errorf("words %q, want %q", got, want[s.name])
		}
	})
}

// Symbols look alike only where the trade draws one symbol: the contacts of
// everything with a coil, plain coils, and the timed contacts that share a mark.
func TestAmericanSymbolsDiffer(t *testing.T) {
	type look struct {
		class  string
		closed bool
		arrows [2]bool
		detail string
	}
	of := func(s usSymbol) look {
		c := s.contact
		switch {
		case s.isLoad && s.load.kind.Info().Class == circuit.LoadOnly:
			return look{class: s.load.kind.String(), detail: s.load.part.String() + s.load.colour}
		case s.isLoad:
			return look{class: "coil", detail: usCoilWord(s.load)}
		case usTimed(s):
			return look{class: "timed", closed: c.closed, arrows: [2]bool{c.slowOperating, c.slowReturning}}
		case usBars(s):
			return look{class: "bars", closed: c.closed}
		}
		return look{class: c.kind.String() + " contact", closed: c.closed}
	}
	known := map[string]look{}
	for _, s := range usSymbols() {
		ink := page.List(&page.Page{Elements: s.drawn(false)})
		if other, ok := known[ink]; ok && other != of(s) {
			t.Errorf("%s looks like %v", s.name, other)
		}
		known[ink] = of(s)
	}
}
