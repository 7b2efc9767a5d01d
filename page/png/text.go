package png

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"tarry/page"
)

// perEm is the number of font units in the size of a text.
const perEm = 2048

var (
	plainFont = sync.OnceValue(func() *sfnt.Font { return parse(goregular.TTF) })
	boldFont  = sync.OnceValue(func() *sfnt.Font { return parse(gobold.TTF) })
)

func parse(source []byte) *sfnt.Font {
	f, err := sfnt.Parse(source)
	if err != nil {
		panic(fmt.Sprintf("png: a built-in font: %v", err))
	}
	return f
}

// lettering holds the glyphs that a picture used so far.
type lettering struct {
	buffer sfnt.Buffer
	glyphs map[glyphKey]glyph
}

type glyphKey struct {
	rune rune
	bold bool
}

// glyph is a character's outline in font units, Y down from the baseline.
type glyph struct {
	contours [][]point
	advance  int // in 1/2048 of the size, as page.Width has it
	missing  bool
}

// glyph returns a character's outline: that of a box if the fonts have none.
func (l *lettering) glyph(r rune, bold bool) glyph {
	key := glyphKey{r, bold}
	if g, ok := l.glyphs[key]; ok {
		return g
	}
	font := plainFont()
	if bold {
		font = boldFont()
	}
	g := glyph{advance: int(page.Width(string(r), perEm, bold))}
	n, err := font.GlyphIndex(&l.buffer, r)
	switch {
	case err != nil:
		panic(fmt.Sprintf("png: a built-in font, %U: %v", r, err))
	case n != 0:
		g.contours = l.contours(font, n)
	default:
		g.missing = true
		if !unicode.Is(unicode.Zs, r) { // a rare kind of blank needs no box
			g.contours = standIn(g.advance)
		}
	}
	if l.glyphs == nil {
		l.glyphs = map[glyphKey]glyph{}
	}
	l.glyphs[key] = g
	return g
}

// contours returns a glyph's closed lines, its curves as chords that are short
// enough for letters of any size in use.
func (l *lettering) contours(font *sfnt.Font, n sfnt.GlyphIndex) (list [][]point) {
	segments, err := font.LoadGlyph(&l.buffer, n, fixed.I(perEm), nil)
	if err != nil {
		panic(fmt.Sprintf("png: a built-in font, glyph %d: %v", n, err))
	}
	at := func(p fixed.Point26_6) point { return point{float64(p.X) / 64, float64(p.Y) / 64} }
	for _, s := range segments {
		last := len(list) - 1
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			list = append(list, []point{at(s.Args[0])})
		case sfnt.SegmentOpLineTo:
			list[last] = append(list[last], at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			list[last] = curve(list[last], at(s.Args[0]), at(s.Args[1]))
		default:
			panic("png: a built-in font has cubic curves")
		}
	}
	return list
}

// curveSteps is how many chords stand for a curve of a glyph. The longest
// curves of the fonts are quarters of round letters: eight chords are off by
// less than 1/500 of the size.
const curveSteps = 8

// curve adds a quadratic curve to a line.
func curve(line []point, control, to point) []point {
	from := line[len(line)-1]
	for i := 1; i <= curveSteps; i++ {
		t := float64(i) / curveSteps
		line = append(line, towards(towards(from, control, t), towards(control, to, t), t))
	}
	return line
}

// standIn is the box for a character without a glyph, in font units; a mark
// that takes no room of its own gets a small one above the letter before it.
func standIn(advance int) [][]point {
	x1, y1, x2, y2 := perEm/8.0, -perEm*11/16.0, perEm*7/8.0, 0.0
	if advance == 0 {
		x1, y1, x2, y2 = -perEm*5/16.0, -perEm*3/4.0, -perEm/16.0, -perEm/2.0
	}
	const rim = perEm / 16.0
	return [][]point{
		{{x1, y1}, {x2, y1}, {x2, y2}, {x1, y2}},
		{{x1 + rim, y1 + rim}, {x1 + rim, y2 - rim}, {x2 - rim, y2 - rim}, {x2 - rim, y1 + rim}},
	}
}

// text paints one line of words. Letters beyond the picture are passed over.
func (c *canvas) text(s page.Text, k page.Ink) {
	words := page.Clean(s.Words)
	if strings.TrimSpace(words) == "" || s.Size <= 0 {
		return
	}
	em := float64(s.Size) * c.scale
	origin := c.point(page.Point{X: s.Bounds().Min.X, Y: s.At.Y})
	start, x := origin.x, 0
	for _, r := range words {
		g := c.glyph(r, s.Bold)
		if g.missing {
			c.missing[r] = true
		}
		origin.x = start + em*float64(x)/perEm
		x += g.advance
		if origin.x > float64(c.Rect.Max.X)+em || origin.x < -3*em {
			continue
		}
		for _, contour := range g.contours {
			for _, q := range contour {
				c.shape.points = append(c.shape.points, origin.plus(q.times(em/perEm)))
			}
			c.shape.ends = append(c.shape.ends, len(c.shape.points))
		}
	}
	c.paint(k)
}

// missingRunes returns the characters without a glyph in order.
func (c *canvas) missingRunes() []rune { return slices.Sorted(maps.Keys(c.missing)) }
