package schematic

import (
	"fmt"
	"slices"
	"testing"

	"tarry/circuit"
	"tarry/page"
)

// These tests hold the drawn strokes against the rules of the symbols. They look
// for the parts by what they are: a stub lies on the path, a blade is the slanting
// line that begins at a stub, and so on.

// uw is a point of a symbol's frame.
type uw struct{ u, w page.Unit }

// intlFramed turns a point of the page back into the frame.
func intlFramed(p page.Point, down bool) uw {
	if down {
		return uw{p.Y, p.X}
	}
	return uw{p.X, -p.Y}
}

// intlLine is a drawn line in the frame.
type intlLine struct {
	points []uw
	closed bool
	style  page.Style
}

func (l intlLine) last() uw { return l.points[len(l.points)-1] }

// intlLines returns the lines of a symbol.
func intlLines(c intlCase, down bool) []intlLine {
	var list []intlLine
	for _, e := range intlDrawn(c, down) {
		s, ok := e.Shape.(page.Poly)
		if !ok {
			continue
		}
		l := intlLine{closed: s.Closed, style: e.Style}
		for _, q := range s.Points {
			l.points = append(l.points, intlFramed(q, down))
		}
		list = append(list, l)
	}
	return list
}

// intlCurve is an arc in the frame: its centre, its middle and its ends.
type intlCurve struct {
	centre, middle, from, to uw
	radius                   page.Unit
}

func intlCurves(c intlCase, down bool) []intlCurve {
	var list []intlCurve
	for _, e := range intlDrawn(c, down) {
		s, ok := e.Shape.(page.Arc)
		if !ok || s.Sweep == 360 {
			continue
		}
		at := func(degrees int) uw { return intlFramed(s.At(degrees), down) }
		list = append(list, intlCurve{intlFramed(s.Centre, down), at(s.Sweep / 2), at(0), at(s.Sweep), s.Radius})
	}
	return list
}

// beside returns how far p lies beside the straight line through a and b,
// squared and times 10000, so that no root is needed: 10000 is 1/100 mm off.
func beside(p, a, b uw) int64 {
	du, dw := int64(b.u-a.u), int64(b.w-a.w)
	cross := du*int64(p.w-a.w) - dw*int64(p.u-a.u)
	return cross * cross * 10000 / (du*du + dw*dw)
}

func apart(a, b uw) int64 {
	du, dw := int64(a.u-b.u), int64(a.w-b.w)
	return du*du + dw*dw
}

// intlParts are the parts that every contact has.
type intlParts struct {
	fixed  uw // where the fixed stub leaves the path
	hook   []uw
	hinge  uw
	tip    uw
	others []intlLine
}

// intlTake finds the parts of a contact.
func intlTake(t *testing.T, c intlCase, down bool) intlParts {
	t.Helper()
	var parts intlParts
	found := 0
	for _, l := range intlLines(c, down) {
		a, b := l.points[0], l.last()
		switch {
		case l.closed || l.style.Weight != page.Medium:
			parts.others = append(parts.others, l)
		case a == uw{-reach, 0}:
			parts.fixed, found = l.points[1], found+1
			if len(l.points) > 2 {
				parts.hook = l.points[1:]
			}
		case b == uw{reach, 0}:
			parts.hinge, found = a, found+1
		case len(l.points) == 2 && a == parts.hinge && a.w == 0:
			parts.tip, found = b, found+1
		default:
			parts.others = append(parts.others, l)
		}
	}
	if found != 3 {
		t.Errorf("%s: %d of stub, stub and blade", c.name, found)
	}
	return parts
}

// bothWays runs a test on cases in both layouts.
func bothWays(t *testing.T, cases []intlCase, check func(t *testing.T, c intlCase, down bool)) {
	for _, c := range cases {
		for _, down := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, down %v", c.name, down), func(t *testing.T) { check(t, c, down) })
		}
	}
}

// TestInternationalRoom: strokes stay within what the symbol reports, and both
// conductors are met.
func TestInternationalRoom(t *testing.T) {
	bothWays(t, intlCases(), func(t *testing.T, c intlCase, down bool) {
		d := c.depths()
		if d.plus > 950 || d.minus > 950 || c.contact != nil && d.plus > 350 {
			t.Errorf("takes too much room: %v", d)
		}
		var left, right bool
		for _, e := range intlDrawn(c, down) {
			b := e.Shape.Bounds()
			p, q := intlFramed(b.Min, down), intlFramed(b.Max, down)
			if max(p.u, q.u) > reach || min(p.u, q.u) < -reach {
				t.Errorf("beyond its reach: %v", e.Shape)
			}
			half := e.Style.Weight.Width() / 2
			if max(p.w, q.w)+half > d.plus || min(p.w, q.w)-half < -d.minus {
				t.Errorf("deeper than %v: %v", d, e.Shape)
			}
		}
		for _, l := range intlLines(c, down) {
			left = left || l.points[0] == uw{-reach, 0}
			right = right || l.last() == uw{reach, 0}
		}
		if !left || !right {
			t.Error("a conductor is not met")
		}
	})
}

// TestInternationalMake: the free end waits on the -w side, and operating turns
// the blade onto the fixed stub.
func TestInternationalMake(t *testing.T) {
	bothWays(t, intlContacts(), func(t *testing.T, c intlCase, down bool) {
		if c.contact.closed {
			return
		}
		p := intlTake(t, c, down)
		if p.tip.w >= -100 || p.hook != nil {
			t.Errorf("free end at %v, hook %v", p.tip, p.hook)
		}
		if p.hinge.u <= 0 || p.fixed.u >= 0 || apart(p.hinge, p.tip) < apart(p.hinge, p.fixed) {
			t.Error("the blade would not reach the fixed stub")
		}
	})
}

// TestInternationalBreak: the blade lies against the hook's tip, from the +w
// side, so that operating lifts it off.
func TestInternationalBreak(t *testing.T) {
	bothWays(t, intlContacts(), func(t *testing.T, c intlCase, down bool) {
		if !c.contact.closed {
			return
		}
		p := intlTake(t, c, down)
		if len(p.hook) != 2 {
			t.Fatalf("hook %v", p.hook)
		}
		end := p.hook[1]
		if end.w <= 0 || beside(end, p.hinge, p.tip) > 10000 {
			t.Errorf("hook to %v, blade %v to %v", end, p.hinge, p.tip)
		}
		if p.tip.w <= end.w || apart(p.hinge, p.tip) < apart(p.hinge, end) {
			t.Error("the blade does not cover the hook's tip")
		}
	})
}

// TestInternationalSense: on the page the blade of a make contact waits at the
// left of a path that runs down, and below a path that runs across.
func TestInternationalSense(t *testing.T) {
	c := intlCase{contact: &contactFace{kind: circuit.Relay}}
	for _, down := range []bool{false, true} {
		tip := intlTake(t, c, down).tip
		at := (&pen{down: down}).at(tip.u, tip.w)
		if down && at.X >= 0 || !down && at.Y <= 0 {
			t.Errorf("down %v: free end at %v", down, at)
		}
	}
}

// TestInternationalArcs: movement from an arc towards its centre is the slow
// one; two arcs stand back to back.
func TestInternationalArcs(t *testing.T) {
	bothWays(t, intlContacts(), func(t *testing.T, c intlCase, down bool) {
		var operating, returning []intlCurve
		for _, a := range intlCurves(c, down) {
			if a.centre.w > a.middle.w {
				operating = append(operating, a)
			} else {
				returning = append(returning, a)
			}
		}
		f := c.contact
		if len(operating) > 1 || len(returning) > 1 {
			t.Fatal("an arc too many")
		}
		if (len(operating) == 1) != f.slowOperating || (len(returning) == 1) != f.slowReturning {
			t.Errorf("%+v has arcs %v and %v", *f, operating, returning)
		}
		if f.slowOperating && f.slowReturning {
			a, b := operating[0], returning[0]
			if gap := a.middle.w - b.middle.w; gap < 0 || gap > 80 || a.centre.w < b.centre.w {
				t.Error("the arcs are not back to back")
			}
		}
	})
}

// TestInternationalTie: a double line joins the blade of every timed contact to
// its arc, or to the open square where no arc fits.
func TestInternationalTie(t *testing.T) {
	bothWays(t, intlContacts(), func(t *testing.T, c intlCase, down bool) {
		p := intlTake(t, c, down)
		if !c.contact.timed {
			return
		}
		var tie []intlLine
		squares := 0
		for _, l := range p.others {
			if l.closed && l.style.Fill == page.NoFill {
				squares++
			} else {
				tie = append(tie, l)
			}
		}
		if len(tie) != 2 || tie[0].points[0].u != -tie[1].points[0].u {
			t.Fatalf("double line %v", tie)
		}
		for _, l := range tie {
			if l.points[0].u != l.last().u || beside(l.last(), p.hinge, p.tip) > 10000 {
				t.Errorf("%v does not go straight to the blade", l.points)
			}
		}
		curves := intlCurves(c, down)
		if len(curves) == 0 {
			if squares != 1 {
				t.Errorf("%d squares", squares)
			}
			return
		}
		far := curves[len(curves)-1]
		for _, l := range tie {
			r := int64(far.radius)
			if off := apart(l.points[0], far.centre) - r*r; off < -4*r || off > 4*r || squares != 0 {
				t.Errorf("%v does not end on the arc about %v", l.points, far.centre)
			}
		}
	})
}

// TestInternationalClear: the arcs stay on the -w side, where no hook is, and
// keep clear of the blade and the path.
func TestInternationalClear(t *testing.T) {
	bothWays(t, intlContacts(), func(t *testing.T, c intlCase, down bool) {
		p := intlTake(t, c, down)
		for _, a := range intlCurves(c, down) {
			for _, q := range []uw{a.from, a.middle, a.to} {
				if q.w > -100 || q.w > p.tip.w && beside(q, p.hinge, p.tip) < 60*60*10000 {
					t.Errorf("arc at %v is too near", q)
				}
			}
		}
	})
}

// TestInternationalSameArc: make and break contacts of one function carry the
// same arcs, moved at most.
func TestInternationalSameArc(t *testing.T) {
	for _, f := range []contactFace{{slowOperating: true}, {slowReturning: true}, {slowOperating: true, slowReturning: true}} {
		f.timed, f.kind = true, circuit.Timer
		closed := f
		closed.closed = true
		a := intlCurves(intlCase{contact: &f}, true)
		b := intlCurves(intlCase{contact: &closed}, true)
		if len(a) == 0 || len(a) != len(b) {
			t.Fatalf("%v and %v", a, b)
		}
		move := b[0].centre.w - a[0].centre.w
		for i := range a {
			a[i].centre.w += move
			a[i].middle.w += move
			a[i].from.w += move
			a[i].to.w += move
		}
		if !slices.Equal(a, b) {
			t.Errorf("%v and %v", a, b)
		}
	}
}

// TestInternationalOperators: what moves a hand's or the plant's contact is on
// the -w side of its blade and is joined to it.
func TestInternationalOperators(t *testing.T) {
	bothWays(t, intlContacts(), func(t *testing.T, c intlCase, down bool) {
		class := c.contact.kind.Info().Class
		p := intlTake(t, c, down)
		if class == circuit.ByCoil || class == circuit.ByTime && !c.contact.timed {
			if len(p.others) > 0 {
				t.Errorf("a plain contact has %v", p.others)
			}
			return
		}
		joined := false
		for _, l := range p.others {
			for i, q := range l.points {
				if beside(q, p.hinge, p.tip) <= 10000 {
					joined = true
				} else if q.w*(p.hinge.u-p.tip.u) > p.tip.w*(p.hinge.u-q.u) && c.contact.kind != circuit.Breaker {
					t.Errorf("point %d of %v lies on the +w side", i, l.points)
				}
			}
		}
		if !joined {
			t.Error("nothing is joined to the blade")
		}
	})
}

// TestInternationalCoils: a coil is a rectangle across the path; the conductors
// meet the middle of its long sides; crossed is slow-operating, filled is
// slow-releasing.
func TestInternationalCoils(t *testing.T) {
	bothWays(t, intlLoads(), func(t *testing.T, c intlCase, down bool) {
		class := c.load.kind.Info().Class
		if class != circuit.ByCoil && class != circuit.ByTime {
			return
		}
		var ends []uw
		var body []uw
		crosses, filled := 0, 0
		for _, l := range intlLines(c, down) {
			a, b := l.points[0], l.last()
			switch {
			case a == uw{-reach, 0}:
				ends = append(ends, b)
			case b == uw{reach, 0}:
				ends = append(ends, a)
			case l.closed && l.style.Fill == page.Solid:
				filled++
			case l.closed && body == nil:
				body = l.points
			case len(l.points) == 2 && max(a.u, b.u) == body[1].u && min(a.u, b.u) == body[0].u:
				crosses++
			}
		}
		u, w := body[1].u, body[0].w
		want := []uw{{-u, w}, {u, w}, {u, -w}, {-u, -w}}
		if !slices.Equal(body, want) || w <= u || !slices.Equal(ends, []uw{{-u, 0}, {u, 0}}) {
			t.Errorf("body %v, conductors to %v", body, ends)
		}
		f := c.load.function
		main := c.load.part == circuit.Main
		slowOn := main && (f == circuit.OnDelay || f == circuit.OnOffDelay || f == circuit.Accumulating)
		slowOff := main && (f == circuit.OffDelay || f == circuit.OnOffDelay)
		if (crosses == 2) != slowOn || (filled == 1) != slowOff {
			t.Errorf("%d lines of a cross, %d filled fields", crosses, filled)
		}
	})
}

// TestInternationalApart: two loads look alike only where the standard has one
// symbol for both, and no two kinds of operator look alike.
func TestInternationalApart(t *testing.T) {
	seen := map[string]intlCase{}
	for _, c := range intlCases() {
		p := page.Page{Elements: intlDrawn(c, false)}
		drawing := page.List(&p)
		other, ok := seen[drawing]
		if ok && !intlAlike(c, other) {
			t.Errorf("%s looks like %s", c.name, other.name)
		}
		seen[drawing] = c
	}
}

// intlAlike reports whether two things may share a symbol: contacts that a coil
// moves, the coils of relays and contactors, and reset coils.
func intlAlike(a, b intlCase) bool {
	if a.contact != nil && b.contact != nil {
		coil := func(f *contactFace) bool {
			class := f.kind.Info().Class
			return class == circuit.ByCoil || class == circuit.ByTime
		}
		return coil(a.contact) && coil(b.contact) && a.contact.timed == b.contact.timed && a.contact.closed == b.contact.closed
	}
	if a.load == nil || b.load == nil {
		return false
	}
	plain := func(f *loadFace) bool { return f.kind == circuit.Relay || f.kind == circuit.Contactor }
	return plain(a.load) && plain(b.load) || a.load.part == circuit.ResetCoil && b.load.part == circuit.ResetCoil
}
