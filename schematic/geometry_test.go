package schematic_test

import (
	"fmt"
	"testing"

	"tarry/page"
	"tarry/schematic"
)

// The four timed contacts on finished drawings, looked at in the coordinates of
// the page. The rules:
//
// International: the slowed movement goes from the arc towards its centre. On
// a level rung a contact operates upwards, in an upright path to the right. So
// an on-delay's arc opens upwards, or to the right like "(", an off-delay's
// downwards, or to the left like ")".
//
// American: the arrow shows the movement that is late: up into the blade for an
// on-delay, down for an off-delay; in a path right and left. A contact that is
// open at rest hangs below its fixed contact, one that is closed lies on top.
// Sources: the note to items 15 and 16 of GOST 2.755's table; figures 04043 to
// 04049 of Lessons in Electric Circuits IV; the rule of gravity is from memory.

const fourContacts = `circuit "The four"
supply 24 V dc rails L N
S1 switch
KT1 on-delay 5 s
KT2 off-delay 5 s
H1 lamp
H2 lamp
H3 lamp
H4 lamp
1: S1.no    -> KT1, KT2
2: KT1.notc -> H1
3: KT1.ncto -> H2
4: KT2.noto -> H3
5: KT2.nctc -> H4
`

// timedContact is what the rules say of a contact; up is operating.
type timedContact struct {
	id     string
	slowUp bool // operating is late: an on-delay
	closed bool // at rest
}

var theFour = []timedContact{
	{"KT1.notc:17", true, false},
	{"KT1.ncto:25", true, true},
	{"KT2.noto:17", false, false},
	{"KT2.nctc:25", false, true},
}

// drawnSymbol returns the elements of a symbol.
func drawnSymbol(t *testing.T, p *page.Page, id string) (list []page.Element) {
	t.Helper()
	for _, e := range p.Elements {
		if e.Shows.ID == id && (e.Shows.Class == "contact" || e.Shows.Class == "timed-contact" || e.Shows.Class == "load") {
			list = append(list, e)
		}
	}
	if len(list) == 0 {
		t.Fatalf("%s is not drawn", id)
	}
	return list
}

// operated says whether b lies further in the way of operating than a: above it
// on a rung, right of it in a path.
func operated(layout schematic.Layout, a, b page.Point) bool {
	if layout == schematic.Paths {
		return b.X > a.X
	}
	return b.Y < a.Y
}

func eachLayout(t *testing.T, symbols schematic.Tradition, check func(t *testing.T, p *page.Page, layout schematic.Layout)) {
	for _, layout := range []schematic.Layout{schematic.Rungs, schematic.Paths} {
		t.Run(fmt.Sprint("layout ", layout), func(t *testing.T) {
			check(t, schematic.Draw(read(t, fourContacts), schematic.Options{Symbols: symbols, Layout: layout})[0], layout)
		})
	}
}

func TestInternationalTimedContacts(t *testing.T) {
	eachLayout(t, schematic.International, func(t *testing.T, p *page.Page, layout schematic.Layout) {
		for _, k := range theFour {
			arcs := 0
			for _, e := range drawnSymbol(t, p, k.id) {
				a, ok := e.Shape.(page.Arc)
				if !ok || a.Sweep == 360 {
					continue
				}
				arcs++
				if operated(layout, a.At(a.Sweep/2), a.Centre) != k.slowUp {
					t.Errorf("%s: the arc opens the wrong way", k.id)
				}
			}
			if arcs != 1 {
				t.Errorf("%s has %d arcs", k.id, arcs)
			}
			checkBlade(t, p, layout, k)
		}
	})
}

// checkBlade holds the blade against the path: it hangs back from it where the
// contact is open at rest and lies beyond where it is closed.
func checkBlade(t *testing.T, p *page.Page, layout schematic.Layout, k timedContact) {
	t.Helper()
	blades := 0
	elements := drawnSymbol(t, p, k.id)
	path := elements[0].Shape.(page.Poly).Points[0] // a lead, on the path
	for _, e := range elements {
		l, ok := e.Shape.(page.Poly)
		if !ok || len(l.Points) != 2 || l.Points[0].X == l.Points[1].X || l.Points[0].Y == l.Points[1].Y {
			continue
		}
		blades++
		a, b := l.Points[0], l.Points[1]
		middle := page.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
		if operated(layout, path, middle) != k.closed {
			t.Errorf("%s: the blade is on the wrong side", k.id)
		}
	}
	if blades != 1 {
		t.Errorf("%s has %d blades", k.id, blades)
	}
}

func TestAmericanTimedContacts(t *testing.T) {
	eachLayout(t, schematic.American, func(t *testing.T, p *page.Page, layout schematic.Layout) {
		for _, k := range theFour {
			arrows := 0
			for _, e := range drawnSymbol(t, p, k.id) {
				l, ok := e.Shape.(page.Poly)
				if !ok || len(l.Points) != 3 {
					continue
				}
				arrows++
				tip, foot := arrow(t, l)
				if operated(layout, foot, tip) != k.slowUp {
					t.Errorf("%s: the arrow points the wrong way", k.id)
				}
				if head := l.Closed && e.Style.Fill == page.Solid; head == k.slowUp {
					t.Errorf("%s: an on-delay has feathers, an off-delay a head", k.id)
				}
			}
			if arrows != 1 {
				t.Errorf("%s has %d arrows", k.id, arrows)
			}
			checkBlade(t, p, layout, k)
		}
	})
}

// arrow returns the tip of three points and one of its feet: the tip is alone
// on its height, or on its upright.
func arrow(t *testing.T, l page.Poly) (tip, foot page.Point) {
	for i, q := range l.Points {
		a, b := l.Points[(i+1)%3], l.Points[(i+2)%3]
		if a.X == b.X && a.X != q.X || a.Y == b.Y && a.Y != q.Y {
			return q, a
		}
	}
	t.Fatalf("%v is no arrow", l.Points)
	return
}

// TestCoilFields looks for the fields of the coils: crossed out for an on-delay,
// filled for an off-delay (numbers 07-15-08 and 07-15-07 and their meaning from a
// published list).
func TestCoilFields(t *testing.T) {
	eachLayout(t, schematic.International, func(t *testing.T, p *page.Page, layout schematic.Layout) {
		for id, filled := range map[string]bool{"KT1": false, "KT2": true} {
			strokes, solid := 0, 0
			for _, e := range drawnSymbol(t, p, id) {
				l := e.Shape.(page.Poly)
				if l.Closed && e.Style.Fill == page.Solid {
					solid++
				}
				if len(l.Points) == 2 && l.Points[0].X != l.Points[1].X && l.Points[0].Y != l.Points[1].Y {
					strokes++
				}
			}
			if want := map[bool][2]int{false: {2, 0}, true: {0, 1}}[filled]; want != [2]int{strokes, solid} {
				t.Errorf("%s has %d slanting strokes and %d filled fields", id, strokes, solid)
			}
		}
	})
	eachLayout(t, schematic.American, func(t *testing.T, p *page.Page, layout schematic.Layout) {
		for _, id := range []string{"KT1", "KT2"} {
			if !hasCircle(drawnSymbol(t, p, id)) {
				t.Errorf("%s is no circle", id)
			}
		}
	})
}

func hasCircle(list []page.Element) bool {
	for _, e := range list {
		if a, ok := e.Shape.(page.Arc); ok && a.Sweep == 360 {
			return true
		}
	}
	return false
}
