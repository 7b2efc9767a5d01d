package png_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	imagepng "image/png"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"tarry/chart"
	"tarry/engine"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
	"tarry/page/png"
)

func at(x, y page.Unit) page.Point { return page.Point{X: x, Y: y} }

func box(x1, y1, x2, y2 page.Unit) page.Box { return page.Box{Min: at(x1, y1), Max: at(x2, y2)} }

func sheet(shape page.Shape, style page.Style) *page.Page {
	return &page.Page{Width: 2540, Height: 2540, Elements: []page.Element{{Shape: shape, Style: style}}}
}

func encode(t testing.TB, p *page.Page, opt png.Options) png.Result {
	t.Helper()
	r, err := png.Encode(p, opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func decoded(t testing.TB, r png.Result) image.Image {
	t.Helper()
	m, err := imagepng.Decode(bytes.NewReader(r.Bytes))
	if err != nil {
		t.Fatal(err)
	}
	if m.Bounds() != image.Rect(0, 0, r.Width, r.Height) {
		t.Fatalf("%v, said to be %d by %d", m.Bounds(), r.Width, r.Height)
	}
	return m
}

// chartPage draws the first script of a circuit of the library.
func chartPage(t testing.TB, query string) *page.Page {
	t.Helper()
	e, ok := library.Find(query)
	if !ok {
		t.Fatalf("no circuit %s", query)
	}
	read, _ := notation.Read(e.Name, e.Text)
	p, err := chart.Draw(engine.Run(read.Circuit, &read.Circuit.Scripts[0], engine.Options{}), chart.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestSize(t *testing.T) {
	a4 := &page.Page{Width: 21000, Height: 29700}
	for _, c := range []struct {
		page          *page.Page
		opt           png.Options
		width, height int
		perMetre      uint32
	}{
		{a4, png.Options{}, 1240, 1754, 5906}, {a4, png.Options{DPI: 100}, 827, 1169, 3937},
		{a4, png.Options{Width: 420}, 420, 594, 2000}, {a4, png.Options{DPI: 1, Width: 2100}, 2100, 2970, 10000},
		{&page.Page{Width: 1, Height: 1}, png.Options{}, 1, 1, 5906},
	} {
		r := encode(t, c.page, c.opt)
		if r.Width != c.width || r.Height != c.height {
			t.Errorf("%+v: %d by %d, want %d by %d", c.opt, r.Width, r.Height, c.width, c.height)
		}
		decoded(t, r)
		chunk := bytes.Index(r.Bytes, []byte("pHYs"))
		if chunk < 0 || binary.BigEndian.Uint32(r.Bytes[chunk+4:]) != c.perMetre || r.Bytes[chunk+12] != 1 {
			t.Errorf("%+v: not %d pixels to the metre", c.opt, c.perMetre)
		}
	}
}

func TestErrors(t *testing.T) {
	a4 := &page.Page{Width: 21000, Height: 29700}
	for _, c := range []struct {
		page *page.Page
		opt  png.Options
		want string
	}{
		{&page.Page{Width: 10}, png.Options{}, "no area"}, {a4, png.Options{DPI: -1}, "can't have -1"}, {a4, png.Options{Width: -5}, "width of -5"},
		{a4, png.Options{DPI: 2400}, "would be 19843 by 28063 pixels"}, {a4, png.Options{Width: 9000}, "100 million"},
		{a4, png.Options{Width: math.MaxInt}, "lower the DPI or the width"}, {&page.Page{Width: 1, Height: 1000000}, png.Options{Width: 100}, "a side has at most 20000"},
	} {
		if _, err := png.Encode(c.page, c.opt); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	p := chartPage(t, "05")
	want := encode(t, p, png.Options{DPI: 80}).Bytes
	for _, procs := range []int{1, 2} {
		before := runtime.GOMAXPROCS(procs)
		var wait sync.WaitGroup
		for range 10 {
			wait.Go(func() {
				if got, err := png.Encode(p, png.Options{DPI: 80}); err != nil || !bytes.Equal(got.Bytes, want) {
					t.Errorf("other bytes with %d processors, %v", procs, err)
				}
			})
		}
		wait.Wait()
		runtime.GOMAXPROCS(before)
	}
}

// ink returns how much of a picture in black is covered, in pixels.
func ink(t *testing.T, p *page.Page, dpi int) (sum float64) {
	t.Helper()
	m, ok := decoded(t, encode(t, p, png.Options{DPI: dpi, Mono: true})).(*image.Gray)
	if !ok {
		t.Fatal("a picture in black isn't in greys")
	}
	for _, v := range m.Pix {
		sum += float64(255-v) / 255
	}
	return sum
}

// TestInk holds the ink of shapes against their areas. At 254 DPI a pixel is
// 1/10 mm.
func TestInk(t *testing.T) {
	stroke := func(w page.Weight, d page.Dash) page.Style { return page.Style{Weight: w, Dash: d} }
	wide := func(w page.Weight) float64 { return float64(w.Width()) / 10 }
	solid := page.Style{Fill: page.Solid}
	slant := page.Line(at(400, 1000), at(700, 1400)) // 50 pixels
	bent := page.Poly{Points: []page.Point{at(300, 300), at(800, 300), at(800, 800)}}
	cap2 := func(w page.Weight) float64 { return math.Pi * wide(w) * wide(w) / 4 }
	for _, c := range []struct {
		name  string
		shape page.Shape
		style page.Style
		want  float64
	}{
		{"hair", slant, stroke(page.Hair, page.Full), 50*wide(page.Hair) + cap2(page.Hair)},
		{"medium", slant, stroke(page.Medium, page.Full), 50*wide(page.Medium) + cap2(page.Medium)},
		{"heavy ends flat", slant, stroke(page.Heavy, page.Full), 50 * wide(page.Heavy)},
		{"dashed", page.Line(at(100, 500), at(100+1*290+180, 500)), stroke(page.Medium, page.Dashed), 2 * 18 * wide(page.Medium)},
		{"dotted", page.Line(at(100, 500), at(100+10*120, 500)), stroke(page.Thin, page.Dotted), 10 * 3 * wide(page.Thin)},
		{"bent", bent, stroke(page.Medium, page.Full), 100*wide(page.Medium) - wide(page.Medium)*wide(page.Medium)/4 + 1.25*cap2(page.Medium)},
		{"circle's rim", page.Circle(at(1270, 1270), 900), stroke(page.Thin, page.Full), 2 * math.Pi * 90 * wide(page.Thin)},
		{"small circle's rim", page.Circle(at(1270, 1270), 100), stroke(page.Medium, page.Full), 2 * math.Pi * 10 * wide(page.Medium)},
		{"disc", page.Circle(at(1270, 1270), 500), solid, math.Pi * 2500},
		{"half disc", page.Arc{Centre: at(1270, 1270), Radius: 500, From: 77, Sweep: -180}, solid, math.Pi * 1250},
		{"box", page.Rect{Box: box(101, 102, 903, 504)}, solid, 80.2 * 40.2},
		{"box's rim", page.Rect{Box: box(100, 100, 900, 500)}, stroke(page.Heavy, page.Full), 240*8.5 - (1-math.Pi/4)*8.5*8.5},
		{"round box", page.Rect{Box: box(100, 100, 900, 500), Round: 100}, solid, 80*40 - (4-math.Pi)*100},
		{"overround box", page.Rect{Box: box(100, 100, 900, 500), Round: 900}, solid, 40*40 + math.Pi*400},
		{"triangle, either way", page.Poly{Points: []page.Point{at(100, 100), at(100, 900), at(900, 100)}, Closed: true}, solid, 3200},
		{"dot", page.Line(at(500, 500), at(500, 500)), stroke(page.Heavy-1, page.Full), cap2(page.Medium)},
		{"no dot", page.Line(at(500, 500), at(500, 500)), stroke(page.Heavy, page.Full), 0},
		{"nothing", page.Poly{}, stroke(page.Heavy, page.Full), 0},
		{"off the page", page.Rect{Box: box(-5000, -5000, 5000, 100)}, solid, 254 * 10},
		{"hatch", page.Hatch{Box: box(0, 0, 1000, 1000), Pitch: 1000}, stroke(page.Hair, page.Full), 100*math.Sqrt2*1.2 + cap2(page.Hair)},
	} {
		if got := ink(t, sheet(c.shape, c.style), 254); math.Abs(got-c.want) > 0.012*c.want+0.3 {
			t.Errorf("%s: %.2f pixels of ink, want %.2f", c.name, got, c.want)
		}
	}
}

// TestOrder paints over and knocks out.
func TestOrder(t *testing.T) {
	p := sheet(page.Rect{Box: box(100, 100, 900, 900)}, page.Style{Fill: page.Solid, Ink: page.Live})
	p.Add(page.Element{Shape: page.Rect{Box: box(300, 300, 700, 700)}, Style: page.Style{Fill: page.Knockout, Weight: page.Medium}})
	for _, c := range []struct {
		opt                   png.Options
		ground, inside, solid color.Color
	}{
		{png.Options{DPI: 254}, color.RGBA{0xfc, 0xfa, 0xf5, 0xff}, color.RGBA{0xfc, 0xfa, 0xf5, 0xff}, color.RGBA{0xb8, 0x6a, 0x04, 0xff}},
		{png.Options{DPI: 254, Mono: true}, color.Gray{255}, color.Gray{255}, color.Gray{0}},
		{png.Options{DPI: 254, Transparent: true}, color.NRGBA{}, color.NRGBA{0xfc, 0xfa, 0xf5, 0xff}, color.NRGBA{0xb8, 0x6a, 0x04, 0xff}},
		{png.Options{DPI: 254, Transparent: true, Mono: true}, color.NRGBA{}, color.NRGBA{0xff, 0xff, 0xff, 0xff}, color.NRGBA{0, 0, 0, 0xff}},
	} {
		m := decoded(t, encode(t, p, c.opt))
		for _, q := range []struct {
			x, y int
			want color.Color
		}{{5, 5, c.ground}, {50, 50, c.inside}, {20, 20, c.solid}} {
			if got := m.At(q.x, q.y); got != q.want {
				t.Errorf("%+v at %d,%d: %v, want %v", c.opt, q.x, q.y, got, q.want)
			}
		}
	}
}

// TestTextStandsWhereMeasured looks for the ink of words within their bounds: a
// letter H leaves as much room at its left as at its right.
func TestTextStandsWhereMeasured(t *testing.T) {
	for _, anchor := range []page.Anchor{page.Start, page.Middle, page.End} {
		s := page.Text{At: at(1270, 1270), Size: 400, Anchor: anchor, Words: "HgH"}
		m := decoded(t, encode(t, sheet(s, page.Style{}), png.Options{DPI: 2540, Mono: true})).(*image.Gray)
		found := image.Rectangle{}
		for y := range m.Rect.Max.Y {
			for x := range m.Rect.Max.X {
				if m.GrayAt(x, y).Y < 128 {
					found = found.Union(image.Rect(x, y, x+1, y+1))
				}
			}
		}
		b := s.Bounds()
		left, right := found.Min.X-int(b.Min.X), int(b.Max.X)-found.Max.X
		if left < 20 || left > 60 || left-right > 2 || right-left > 2 || found.Min.Y < int(b.Min.Y)-1 || found.Max.Y > int(b.Max.Y)+1 {
			t.Errorf("%v: ink at %v, measured %v", anchor, found, b)
		}
	}
}

func TestMissing(t *testing.T) {
	r := encode(t, sheet(page.Text{At: at(300, 1000), Size: 300, Words: "漢 🍐漢✓\u202fe\u0301"}, page.Style{}), png.Options{})
	if want := []rune("\u0301\u202f✓漢🍐"); !slices.Equal(r.Missing, want) {
		t.Errorf("missing %q, want %q", r.Missing, want)
	}
	one := sheet(page.Text{At: at(300, 1000), Size: 1000, Words: "漢"}, page.Style{})
	if got, want := ink(t, one, 254), 75*68.75-62.5*56.25; math.Abs(got-want) > 5 {
		t.Errorf("a box has %.0f pixels of ink, want %.0f", got, want)
	}
}

func TestHostileWords(t *testing.T) {
	for _, h := range []string{"", " ", "\x00\x01\x1b[31m\x7f", "\xff\xfe \xc3", "\u202eturned \u200f", "\uFFFE\U0010FFFF", "👩\u200d🔧", "\u0301", "שלום عربى",
		strings.Repeat("long ", 2000), strings.Repeat("🍐", 10000)} {
		for _, anchor := range []page.Anchor{page.Start, page.Middle, page.End} {
			p := sheet(page.Text{At: at(1000, 1000), Size: 300, Anchor: anchor, Words: h}, page.Style{})
			decoded(t, encode(t, p, png.Options{}))
		}
	}
}

// TestFarOff draws things that are far larger than the page: what shows of them
// is painted, to the last corner. Work for what does not show would not end.
func TestFarOff(t *testing.T) {
	const far = 1 << 30
	p := sheet(page.Line(at(-far, -far), at(far, far)), page.Style{Weight: page.Heavy})
	p.Add(
		page.Element{Shape: page.Rect{Box: box(-far, -far, far, far)}, Style: page.Style{Weight: page.Thin, Fill: page.Solid}},
		page.Element{Shape: page.Text{At: at(-far, 100), Size: 1 << 20, Words: "words"}},
		page.Element{Shape: page.Text{At: at(100, 100), Size: -300, Words: "words"}},
	)
	m := decoded(t, encode(t, p, png.Options{}))
	wantR, wantG, wantB := page.Black.RGB()
	last := m.Bounds().Max.Sub(image.Pt(1, 1))
	for _, at := range []image.Point{{}, last, {X: last.X}, {Y: last.Y}, last.Div(2)} {
		if r, g, b, _ := m.At(at.X, at.Y).RGBA(); uint8(r>>8) != wantR || uint8(g>>8) != wantG || uint8(b>>8) != wantB {
			t.Errorf("at %v the picture is not ink", at)
		}
	}
}

// BenchmarkEncode paints a chart, and the same on a full A4 sheet.
func BenchmarkEncode(b *testing.B) {
	chart := chartPage(b, "09")
	a4 := *chart
	a4.Width, a4.Height = 29700, 21000
	for _, c := range []struct {
		name string
		page *page.Page
		opt  png.Options
	}{{"chart-150dpi", chart, png.Options{}}, {"A4-150dpi", &a4, png.Options{}}, {"A4-150dpi-mono", &a4, png.Options{Mono: true}},
		{"A4-150dpi-transparent", &a4, png.Options{Transparent: true}}, {"A4-300dpi", &a4, png.Options{DPI: 300}}} {
		b.Run(c.name, func(b *testing.B) {
			size := 0
			for b.Loop() {
				size = len(encode(b, c.page, c.opt).Bytes)
			}
			b.ReportMetric(float64(size)/1000, "KB")
		})
	}
}
