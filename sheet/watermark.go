package sheet

// The warning of a circuit that is for reading only stands in large outlined
// letters across its drawing. Letters on a page are never turned and never
// outlined, so these are drawn as lines, from the outlines of the very font
// that every width is measured with. They lie under the drawing, and every word
// of the drawing lies on a piece of paper of its own, so they hide nothing.

import (
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"tarry/circuit"
	"tarry/page"
)

// readOnly is what a circuit's caution begins with if it must not be built.
const readOnly = "Read only:"

// ReadOnly returns the first sentence of the caution that says that a circuit
// is for reading only and must not be built; empty if there is none.
func ReadOnly(c *circuit.Circuit) string {
	for _, words := range c.NotesOf("caution") {
		if strings.HasPrefix(words, readOnly) {
			first, _, _ := strings.Cut(words, ".")
			return first
		}
	}
	return ""
}

// WarnReadOnly writes the warning of a circuit that is for reading only across
// its drawings, large and pale, under everything else. It does nothing for
// other circuits.
func WarnReadOnly(c *circuit.Circuit, drawings []*page.Page) {
	words := ReadOnly(c)
	if words == "" {
		return
	}
	for _, p := range drawings {
		box := page.Box{Max: page.Point{X: p.Width, Y: p.Height}}.Grow(-500)
		p.Elements = append(watermark(box, words, p.Elements), p.Elements...)
	}
}

// watermark returns the warning across a box, and paper under the words of what
// will be painted over it.
func watermark(box page.Box, words string, over []page.Element) []page.Element {
	return append(lettering(box, readOnlyLines(words)), papers(over)...)
}

// readOnlyLines parts the warning into its first words, in capitals, and the
// rest.
func readOnlyLines(words string) []string {
	head, rest, _ := strings.Cut(words, ":")
	return []string{strings.ToUpper(head), strings.TrimSpace(rest)}
}

// papers returns a piece of paper under each text.
func papers(elements []page.Element) []page.Element {
	var list []page.Element
	for _, e := range elements {
		if t, ok := e.Shape.(page.Text); ok {
			under := page.Rect{Box: t.Bounds().Grow(20)}
			list = append(list, page.Element{Shape: under, Style: page.Style{Ink: page.Paper, Fill: page.Knockout}})
		}
	}
	return list
}

// slant is how far the letters rise, in degrees.
const slant = 20

// lettering fits two lines of outlined letters slanting into a box.
func lettering(box page.Box, lines []string) []page.Element {
	const em page.Unit = 1000
	turn := page.Arc{Radius: 1 << 16, From: -slant}.At(0)
	cos, sin := int64(turn.X), int64(-turn.Y) // of the slant, in 1/65536
	widest := max(page.Width(lines[0], 2*em, true), page.Width(lines[1], em, true))
	across, down := (int64(widest)*cos+3*int64(em)*sin)>>16, (int64(widest)*sin+3*int64(em)*cos)>>16
	size := min(int64(box.Width())*int64(em)/across, int64(box.Height())*int64(em)/down, 2600)
	middle := page.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
	var list []page.Element
	for i, words := range lines {
		em, baseline := size*2, size*2/5
		if i == 1 {
			em, baseline = size, size*9/5
		}
		left := -int64(page.Width(words, page.Unit(em), true)) / 2
		for _, outline := range outlines(words, em) {
			for j, p := range outline {
				x, y := int64(p.X)+left, int64(p.Y)+baseline-size/2
				outline[j] = middle.Add(page.Unit((x*cos+y*sin)>>16), page.Unit((y*cos-x*sin)>>16))
			}
			list = append(list, page.Element{Shape: page.Poly{Points: outline, Closed: true},
				Style: page.Style{Weight: page.Thin, Ink: page.Faint}, Shows: page.Shows{Class: "read-only"}})
		}
	}
	return list
}

var boldFont = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		panic("sheet: the built-in font cannot be read: " + err.Error())
	}
	return f
})

// unitsPerEm is the em square that outlines are asked in.
const unitsPerEm = 2048

// outlines returns the outlines of words from x = 0 on, y = 0 the baseline.
func outlines(words string, em int64) [][]page.Point {
	var list [][]page.Point
	var buffer sfnt.Buffer
	f, x := boldFont(), int64(0)
	for _, r := range page.Clean(words) {
		glyph, err := f.GlyphIndex(&buffer, r)
		if err != nil {
			continue
		}
		segments, err := f.LoadGlyph(&buffer, glyph, fixed.I(unitsPerEm), nil)
		if err != nil {
			continue
		}
		list = append(list, flatten(segments, x, em)...)
		advance, err := f.GlyphAdvance(&buffer, glyph, fixed.I(unitsPerEm), font.HintingNone)
		if err == nil {
			x += int64(advance) * em / (64 * unitsPerEm)
		}
	}
	return list
}

// flatten makes closed lines of a glyph's segments.
func flatten(segments sfnt.Segments, x, em int64) [][]page.Point {
	var list [][]page.Point
	var last fixed.Point26_6
	add := func(px, py int64) {
		p := page.Point{X: page.Unit(x + px*em/(64*unitsPerEm)), Y: page.Unit(py * em / (64 * unitsPerEm))}
		list[len(list)-1] = append(list[len(list)-1], p)
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			list = append(list, nil)
			last = s.Args[0]
			add(int64(last.X), int64(last.Y))
		case sfnt.SegmentOpLineTo:
			last = s.Args[0]
			add(int64(last.X), int64(last.Y))
		case sfnt.SegmentOpQuadTo:
			const n = 5
			a, b, c := last, s.Args[0], s.Args[1]
			for i := int64(1); i <= n; i++ {
				add(bend(a.X, b.X, c.X, i, n), bend(a.Y, b.Y, c.Y, i, n))
			}
			last = c
		}
	}
	return list
}

// bend is a point of a curve, i parts of n along it.
func bend(a, b, c fixed.Int26_6, i, n int64) int64 {
	k := n - i
	return (int64(a)*k*k + 2*int64(b)*i*k + int64(c)*i*i) / (n * n)
}
