package schematic_test

import (
	"bytes"
	"image"
	stdpng "image/png"
	"testing"
	"time"

	"tarry/chart"
	"tarry/engine"
	"tarry/page"
	"tarry/page/png"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
)

// A photocopy keeps black and white. Drawings are made into pictures of 150
// pixels to the inch, every pixel black or white, and what must be told apart
// must still be so.

const copierDPI = 150

// copied is a copy of a page.
type copied struct {
	t *testing.T
	p *page.Page
	m image.Image
}

func copyOf(t *testing.T, p *page.Page) copied {
	t.Helper()
	r, err := png.Encode(p, png.Options{DPI: copierDPI, Mono: true})
	if err != nil {
		t.Fatal(err)
	}
	m, err := stdpng.Decode(bytes.NewReader(r.Bytes))
	if err != nil {
		t.Fatal(err)
	}
	return copied{t, p, m}
}

// black reports whether a pixel comes out black.
func (c copied) black(x, y int) bool {
	r, g, b, _ := c.m.At(x, y).RGBA()
	return (r+g+b)/3 < 0x8000
}

func pixel(u page.Unit) int { return int(u) * copierDPI / 2540 }

// ink counts the black pixels in a box, and all of them.
func (c copied) ink(b page.Box) (black, all int) {
	for y := pixel(b.Min.Y); y <= pixel(b.Max.Y); y++ {
		for x := pixel(b.Min.X); x <= pixel(b.Max.X); x++ {
			if all++; c.black(x, y) {
				black++
			}
		}
	}
	return black, all
}

// share is how much of a box is black, in percent.
func (c copied) share(b page.Box) int {
	black, all := c.ink(b)
	return 100 * black / all
}

// box is around the elements of an id and a class; an empty id is any.
func (c copied) box(id, class string) page.Box {
	c.t.Helper()
	var box page.Box
	found := false
	for _, e := range c.p.Elements {
		if e.Shows.Class != class || id != "" && e.Shows.ID != id {
			continue
		}
		b := e.Shape.Bounds()
		if !found {
			box, found = b, true
		}
		box.Min = page.Point{X: min(box.Min.X, b.Min.X), Y: min(box.Min.Y, b.Min.Y)}
		box.Max = page.Point{X: max(box.Max.X, b.Max.X), Y: max(box.Max.Y, b.Max.Y)}
	}
	if !found {
		c.t.Fatalf("nothing shows %q %q", id, class)
	}
	return box
}

// thick returns how many pixels thick the first long level line of a class is.
func (c copied) thick(id, class string) int {
	c.t.Helper()
	for _, e := range c.p.Elements {
		l, ok := e.Shape.(page.Poly)
		if !ok || e.Shows.ID != id || e.Shows.Class != class || l.Points[0].Y != l.Points[1].Y {
			continue
		}
		x := pixel((l.Points[0].X + l.Points[1].X) / 2)
		n := 0
		for y := pixel(l.Points[0].Y) - 8; y <= pixel(l.Points[0].Y)+8; y++ {
			if c.black(x, y) {
				n++
			}
		}
		return n
	}
	c.t.Fatalf("no level line shows %q %q", id, class)
	return 0
}

// running is the drawing of the four contacts 2 s after the switch was closed.
func running(t *testing.T, symbols schematic.Tradition, at time.Duration) copied {
	c := read(t, fourContacts+"script \"On\"\n  1 s close S1\n  end 20 s\n")
	tr := engine.Run(c, &c.Scripts[0], engine.Options{})
	return copyOf(t, schematic.Draw(c, schematic.Options{Symbols: symbols, State: sheet.StateAt(tr, trace.Settled(at))})[0])
}

func TestCopyOfMarks(t *testing.T) {
	for _, symbols := range []schematic.Tradition{schematic.International, schematic.American} {
		c := running(t, symbols, 3*time.Second)
		ring, dot := c.share(c.box("KT1.notc:17", "mark-open")), c.share(c.box("S1.no:13", "mark-closed"))
		if ring < 15 || ring > 60 || dot < 70 {
			t.Errorf("a ring is %d%% black, a dot %d%%", ring, dot)
		}
		off, on := c.thick("wire 2", "wire"), c.thick("wire 1", "live")
		if off < 1 || on < 2*off {
			t.Errorf("a dead wire is %d pixels thick, a live one %d", off, on)
		}
		dark, lit := c.share(c.box("H1", "load")), c.share(c.box("H2", "load"))
		if lit < dark+10 || lit > 80 {
			t.Errorf("a dark lamp is %d%% black, a lit one %d%%", dark, lit)
		}
		early, late := c.share(c.box("KT1", "timer-ring")), 0
		c = running(t, symbols, 5500*time.Millisecond)
		if late = c.share(c.box("KT1", "timer-ring")); late <= early+2 {
			t.Errorf("a ring is %d%% black early, %d%% late", early, late)
		}
	}
}

// TestCopyOfSymbols compares the rest symbols pixel by pixel: a make and a break
// contact, an on-delay and an off-delay.
func TestCopyOfSymbols(t *testing.T) {
	for _, symbols := range []schematic.Tradition{schematic.International, schematic.American} {
		c := copyOf(t, schematic.Draw(read(t, fourContacts), schematic.Options{Symbols: symbols})[0])
		for i, a := range theFour {
			for _, b := range theFour[:i] {
				if n := c.difference(c.ends(a.id), c.ends(b.id)); n < 15 {
					t.Errorf("symbols %d: %s and %s differ in %d pixels", symbols, a.id, b.id, n)
				}
			}
		}
		if n := c.difference(c.ends("KT1"), c.ends("KT2")); symbols == schematic.International && n < 15 {
			t.Errorf("the coils differ in %d pixels", n)
		}
	}
}

// ends returns the left end of a symbol.
func (c copied) ends(id string) page.Point {
	for _, s := range readBack([]*page.Page{c.p}, schematic.Rungs).symbols {
		if s.id == id {
			return s.ends[0]
		}
	}
	c.t.Fatalf("%s is not drawn", id)
	return page.Point{}
}

// difference counts the pixels that differ in the boxes of two symbols.
func (c copied) difference(a, b page.Point) (n int) {
	for y := -pixel(500); y <= pixel(500); y++ {
		for x := 0; x < pixel(2*reach); x++ {
			if c.black(pixel(a.X)+x, pixel(a.Y)+y) != c.black(pixel(b.X)+x, pixel(b.Y)+y) {
				n++
			}
		}
	}
	return n
}

// TestCopyOfWords looks for ink in the words below a drawing and of a chart, and
// that it is no blot.
func TestCopyOfWords(t *testing.T) {
	drawing, times := running(t, schematic.International, 3*time.Second), copiedChart(t)
	for _, c := range []copied{drawing, times} {
		for _, e := range c.p.Elements {
			words, ok := e.Shape.(page.Text)
			if !ok || len(words.Words) < 3 {
				continue
			}
			if n := c.share(words.Bounds()); n < 4 || n > 60 {
				t.Errorf("%q is %d%% black", words.Words, n)
			}
		}
	}
}

func copiedChart(t *testing.T) copied {
	c := read(t, fourContacts+"script \"On and off\"\n  1 s close S1\n  12 s open S1\n  end 20 s\n")
	p, err := chart.Draw(engine.Run(c, &c.Scripts[0], engine.Options{}), chart.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return copyOf(t, p)
}

// TestCopyOfChart: what is on is thicker than what is off, and the band of a time
// that runs is neither white nor black.
func TestCopyOfChart(t *testing.T) {
	c := copiedChart(t)
	off, on := 0, 0
	for _, e := range c.p.Elements {
		l, ok := e.Shape.(page.Poly)
		if !ok || e.Shows.ID != "KT1" || e.Shows.Class != "coil" || l.Points[0].Y != l.Points[1].Y {
			continue
		}
		one := copied{c.t, &page.Page{Elements: []page.Element{e}}, c.m}
		if n := one.thick("KT1", "coil"); e.Style.Weight == page.Heavy {
			on = max(on, n)
		} else {
			off = max(off, n)
		}
	}
	if off < 1 || on < 2*off {
		t.Errorf("off is %d pixels thick, on %d", off, on)
	}
	bands := 0
	for _, e := range c.p.Elements {
		h, ok := e.Shape.(page.Hatch)
		if !ok {
			continue
		}
		bands++
		inside := h.Box.Grow(-100) // without the lines around it
		if n := c.share(inside); n < 5 || n > 60 {
			t.Errorf("the band %v is %d%% black", h.Box, n)
		}
	}
	if bands == 0 {
		t.Error("no time runs")
	}
}
