package pdf

import (
	"bytes"
	"math"
	"testing"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"tarry/page"
)

func TestPlacement(t *testing.T) {
	clear := page.Element{Shape: page.Rect{Box: page.Box{Min: page.Point{X: 1200, Y: 800}, Max: page.Point{X: 20200, Y: 28900}}}}
	close := page.Element{Shape: page.Circle(page.Point{X: 1000, Y: 1000}, 100)}
	for _, c := range []struct {
		name  string
		page  page.Page
		paper Paper
		want  placement
	}{
		{"own", page.Page{Width: 300, Height: 200}, Own, placement{300, 200, 0, 0, 1}},
		{"a chart fits a sheet on its side", page.Page{Width: 27700, Height: 10000}, A4, placement{29700, 21000, 1200, 5500, 1}},
		{"small and wide lies", page.Page{Width: 9000, Height: 8000}, A4, placement{29700, 21000, 10550, 6500, 1}},
		{"small and high stands", page.Page{Width: 8000, Height: 9000}, A4, placement{21000, 29700, 6700, 10350, 1}},
		{"wide, but too high to lie", page.Page{Width: 19000, Height: 19400}, Letter, placement{21590, 27940, 1495, 4270, 1}},
		{"twice too wide", page.Page{Width: 55400, Height: 20000}, A4, placement{29700, 21000, 1200, 5500, 0.5}},
		{"a sheet with clear edges", page.Page{Width: 21000, Height: 29700, Elements: []page.Element{clear}}, A4, placement{21000, 29700, 0, 0, 1}},
		{"a sheet without", page.Page{Width: 21000, Height: 29700, Elements: []page.Element{clear, close}}, A4, placement{21000, 29700, 1200, 1415, 0.904762}},
	} {
		got := c.paper.place(&c.page)
		near := func(a, b, by float64) bool { return math.Abs(a-b) <= by }
		if got.width != c.want.width || got.height != c.want.height || !near(got.left, c.want.left, 1) || !near(got.top, c.want.top, 1) || !near(got.scale, c.want.scale, 1e-6) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		room := page.Box{Min: page.Point{X: freeLeft, Y: freeEdge}, Max: page.Point{X: got.width - freeEdge, Y: got.height - freeEdge}}
		right, bottom := got.left+got.scale*float64(c.page.Width), got.top+got.scale*float64(c.page.Height)
		if got.left > 0 && (got.left < float64(room.Min.X) || got.top < float64(room.Min.Y) || right > float64(room.Max.X)+0.01 || bottom > float64(room.Max.Y)+0.01) {
			t.Errorf("%s: not within its edges: %v", c.name, got)
		}
	}
}

// TestFontsAreSimple holds what the cutting relies on: places of two bytes, and
// glyphs that are made of contours, not of other glyphs.
func TestFontsAreSimple(t *testing.T) {
	for _, face := range []*typeface{plainFace, boldFace} {
		if be16(table(face.source, "head"), 50) != 0 {
			t.Fatalf("%s: places of four bytes", face.name)
		}
		for n := range int(be16(table(face.source, "maxp"), 4)) {
			data := outline(table(face.source, "glyf"), table(face.source, "loca"), n)
			if len(data) > 0 && int16(be16(data, 0)) < 0 {
				t.Errorf("%s: glyph %d is composed", face.name, n)
			}
		}
	}
}

// TestSubsetKeepsOutlines reads the cut-down fonts back: the glyphs that were
// asked for are as they were, others are empty.
func TestSubsetKeepsOutlines(t *testing.T) {
	for _, face := range []*typeface{plainFace, boldFace} {
		var b sfnt.Buffer
		whole := face.parsed()
		wanted := map[int]bool{}
		for _, r := range "Aäé→½" {
			n, err := whole.GlyphIndex(&b, r)
			if err != nil || n == 0 {
				t.Fatal(r, err)
			}
			wanted[int(n)] = true
		}
		// The reader asks for tables that a PDF reader doesn't; they are lent to it.
		tables := map[string][]byte{}
		cut := subset(face.source, wanted)
		for _, name := range []string{"cvt ", "fpgm", "prep", "glyf", "loca", "head", "hhea", "hmtx", "maxp"} {
			tables[name] = table(cut, name)
		}
		for _, name := range []string{"cmap", "name", "post", "OS/2"} {
			tables[name] = table(face.source, name)
		}
		part, err := sfnt.Parse(assemble(tables))
		if err != nil {
			t.Fatal(err)
		}
		full := 0
		for n := range whole.NumGlyphs() {
			want, err1 := whole.LoadGlyph(&b, sfnt.GlyphIndex(n), fixed.I(perEm), nil)
			wantWords := segmentWords(want)
			got, err2 := part.LoadGlyph(&b, sfnt.GlyphIndex(n), fixed.I(perEm), nil)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			if wanted[n] && !bytes.Equal(segmentWords(got), wantWords) {
				t.Errorf("%s: glyph %d is not what it was", face.name, n)
			}
			if len(got) > 0 {
				full++
			}
		}
		if full != len(wanted)+1 || len(cut) > len(face.source)/4 {
			t.Errorf("%s: %d glyphs in %d bytes", face.name, full, len(cut))
		}
		if sum(cut) != 0xB1B0AFBA {
			t.Errorf("%s: the sum is wrong", face.name)
		}
	}
}

// segmentWords copies segments, whose memory is used again.
func segmentWords(list sfnt.Segments) (out []byte) {
	for _, s := range list {
		out = append(out, byte(s.Op))
		for _, a := range s.Args {
			out = append(out, byte(a.X>>16), byte(a.X>>8), byte(a.X), byte(a.Y>>16), byte(a.Y>>8), byte(a.Y))
		}
	}
	return out
}

// TestCurves walks along the Bézier curves of arcs: they stay on the circle.
func TestCurves(t *testing.T) {
	for degrees := 1; degrees <= 90; degrees++ {
		k := bezier(degrees)
		end := float64(degrees) * math.Pi / 180
		x := [4]float64{1, 1, math.Cos(end) + k*math.Sin(end), math.Cos(end)}
		y := [4]float64{0, k, math.Sin(end) - k*math.Cos(end), math.Sin(end)}
		for i := range 11 {
			s := float64(i) / 10
			at := func(v [4]float64) float64 {
				return (1-s)*(1-s)*(1-s)*v[0] + 3*s*(1-s)*(1-s)*v[1] + 3*s*s*(1-s)*v[2] + s*s*s*v[3]
			}
			if off := math.Abs(math.Hypot(at(x), at(y)) - 1); off > 1.0/3600 {
				t.Errorf("%d degrees: off by %g", degrees, off)
			}
		}
	}
}

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.001: "0", 12: "12", 100: "100", 1.5: "1.5", -2.25: "-2.25", 1e7: "10000000"} {
		if got := number(v, 2); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}
