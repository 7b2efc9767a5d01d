package pdf

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"tarry/page"
)

// painter writes the content of a page: operators behind their numbers
// (ISO 32000-1, annex A). What was set stays set, so that only what changes is
// written.
type painter struct {
	bytes.Buffer
	fonts *fonts
	mono  bool
	// What is set now.
	stroke, fill, caps, dash string
	weight                   page.Unit
}

func newPainter(fonts *fonts, mono bool) *painter {
	return &painter{fonts: fonts, mono: mono}
}

// op writes an operator; numbers are in 1/100 mm.
func (w *painter) op(name string, numbers ...float64) {
	for _, v := range numbers {
		w.WriteString(number(v, 2))
		w.WriteByte(' ')
	}
	w.WriteString(name)
	w.WriteByte('\n')
}

// begin turns 1/100 mm, Y down from the page's corner, into points, Y up from
// the sheet's.
func (w *painter) begin(p placement) {
	k := points(1)
	scale := number(k*p.scale, 9)
	fmt.Fprintf(w, "%s 0 0 -%s %s %s cm\n1 j\n", scale, scale, number(k*p.left, 4), number(k*(float64(p.height)-p.top), 4))
}

func (w *painter) element(e page.Element) {
	switch s := e.Shape.(type) {
	case page.Text:
		w.text(s, e.Style.Ink)
		return
	case page.Hatch:
		e.Style.Fill = page.NoFill
	}
	paint := paintOperator(e.Style)
	if paint == "" {
		return
	}
	w.style(e.Style)
	switch s := e.Shape.(type) {
	case page.Poly:
		w.poly(s)
	case page.Rect:
		w.rect(s)
	case page.Arc:
		w.arc(s)
	case page.Hatch:
		for _, l := range s.Lines() {
			w.line(l[0], l[1])
		}
	default:
		panic(fmt.Sprintf("pdf: unknown shape %T", s))
	}
	w.op(paint)
}

func paintOperator(s page.Style) string {
	switch {
	case s.Weight != page.NoStroke && s.Fill != page.NoFill:
		return "B"
	case s.Fill != page.NoFill:
		return "f"
	case s.Weight != page.NoStroke:
		return "S"
	}
	return ""
}

func (w *painter) style(s page.Style) {
	switch s.Fill {
	case page.Solid:
		w.set(&w.fill, w.colour(s.Ink, "rg", "g"))
	case page.Knockout:
		w.set(&w.fill, w.colour(page.Paper, "rg", "g"))
	}
	if s.Weight == page.NoStroke {
		return
	}
	w.set(&w.stroke, w.colour(s.Ink, "RG", "G"))
	if w.weight != s.Weight.Width() {
		w.weight = s.Weight.Width()
		w.op("w", float64(w.weight))
	}
	caps, dash := "1 J", "[] 0 d"
	if stroke, gap := s.Dash.Pattern(); gap > 0 {
		dash = fmt.Sprintf("[%d %d] 0 d", stroke, gap)
	}
	if s.Weight.Flat() || s.Dash != page.Full {
		caps = "0 J"
	}
	w.set(&w.caps, caps)
	w.set(&w.dash, dash)
}

// set writes a setting if it is not what is set.
func (w *painter) set(now *string, wanted string) {
	if *now != wanted {
		*now = wanted
		w.WriteString(wanted + "\n")
	}
}

// greys are the inks in black and grey, 0 black and 1 white. What is live or
// timing is heavy or hatched already.
var greys = map[page.Ink]float64{page.Black: 0, page.Live: 0, page.Timing: 0, page.Faint: 0.45, page.Paper: 1}

// colour sets an ink. Paper is white: the sheet has a colour of its own, and
// a printer would lay a tint down as dots.
func (w *painter) colour(k page.Ink, colour, grey string) string {
	if w.mono || k == page.Paper {
		return number(greys[k], 3) + " " + grey
	}
	r, g, b := k.RGB()
	part := func(v uint8) string { return number(float64(v)/255, 4) + " " }
	return part(r) + part(g) + part(b) + colour
}

func (w *painter) line(a, b page.Point) {
	w.op("m", float64(a.X), float64(a.Y))
	w.op("l", float64(b.X), float64(b.Y))
}

func (w *painter) poly(s page.Poly) {
	for i, q := range s.Points {
		name := "l"
		if i == 0 {
			name = "m"
		}
		w.op(name, float64(q.X), float64(q.Y))
	}
	if s.Closed && len(s.Points) > 0 {
		w.op("h")
	}
}

// rect runs clockwise from the end of the top left corner, as dashes do in SVG.
func (w *painter) rect(s page.Rect) {
	x1, y1, x2, y2 := float64(s.Min.X), float64(s.Min.Y), float64(s.Max.X), float64(s.Max.Y)
	r := min(float64(s.Round), (x2-x1)/2, (y2-y1)/2)
	if r <= 0 {
		w.op("re", x1, y1, x2-x1, y2-y1)
		return
	}
	c := r - r*bezier(90)
	w.op("m", x1+r, y1)
	w.op("l", x2-r, y1)
	w.op("c", x2-c, y1, x2, y1+c, x2, y1+r)
	w.op("l", x2, y2-r)
	w.op("c", x2, y2-c, x2-c, y2, x2-r, y2)
	w.op("l", x1+r, y2)
	w.op("c", x1+c, y2, x1, y2-c, x1, y2-r)
	w.op("l", x1, y1+r)
	w.op("c", x1, y1+c, x1+c, y1, x1+r, y1)
	w.op("h")
}

// bezier returns how far the control points of a curve lie along the tangents
// at its ends so that it follows an arc of so many degrees, as a part of the
// radius: at 90 degrees it is nowhere off by more than 1/3600 of the radius.
func bezier(degrees int) float64 {
	return 4.0 / 3 * math.Tan(float64(degrees)*math.Pi/720)
}

func (w *painter) arc(s page.Arc) {
	from := s.At(0)
	w.op("m", float64(from.X), float64(from.Y))
	for done := 0; done != s.Sweep; {
		step := max(-90, min(90, s.Sweep-done))
		a, b := s.At(done), s.At(done+step)
		k := bezier(step)
		// A tangent is the radius turned by a right angle.
		w.op("c",
			float64(a.X)-k*float64(a.Y-s.Centre.Y), float64(a.Y)+k*float64(a.X-s.Centre.X),
			float64(b.X)+k*float64(b.Y-s.Centre.Y), float64(b.Y)-k*float64(b.X-s.Centre.X),
			float64(b.X), float64(b.Y))
		done += step
	}
	if s.Sweep == 360 || s.Sweep == -360 {
		w.op("h")
	}
}

// maxShown is how many characters one operator shows.
const maxShown = 4000

// text writes the words as one string, mirrored back upright, and a box for
// each character without a glyph.
func (w *painter) text(s page.Text, ink page.Ink) {
	words := page.Clean(s.Words)
	if strings.TrimSpace(words) == "" || s.Size <= 0 {
		return
	}
	f, name := w.fonts.pick(s.Bold)
	w.set(&w.fill, w.colour(ink, "rg", "g"))
	left := s.Bounds().Min.X
	fmt.Fprintf(w, "BT\n/%s %d Tf\n1 0 0 -1 %d %d Tm\n", name, s.Size, left, s.At.Y)
	em, x := float64(s.Size), 0 // x is in 1/2048 of the size
	var boxes []page.Box
	runes := []rune(words)
	for from := 0; from < len(runes); from += maxShown {
		w.WriteByte('<')
		for _, r := range runes[from:min(from+maxShown, len(runes))] {
			cid := f.cid(r)
			fmt.Fprintf(w, "%04X", cid)
			c := f.chars[cid-1]
			if c.boxed() {
				boxes = append(boxes, standIn(s, float64(left)+em*float64(x)/perEm, c.advance))
			}
			x += c.advance
		}
		w.WriteString("> Tj\n")
	}
	w.WriteString("ET\n")
	for _, b := range boxes {
		w.frame(b, s.Size/16)
	}
}

// standIn returns the box for a character without a glyph; a mark that takes no
// room of its own gets a small one above the letter before it.
func standIn(s page.Text, x float64, advance int) page.Box {
	at, em := page.Point{X: page.Unit(math.Round(x)), Y: s.At.Y}, s.Size
	if advance == 0 {
		return page.Box{Min: at.Add(-em*5/16, -em*3/4), Max: at.Add(-em/16, -em/2)}
	}
	return page.Box{Min: at.Add(em/8, -em*11/16), Max: at.Add(em*7/8, 0)}
}

// frame fills the rim of a box.
func (w *painter) frame(b page.Box, rim page.Unit) {
	for _, b := range []page.Box{b, b.Grow(-rim)} {
		w.op("re", float64(b.Min.X), float64(b.Min.Y), float64(b.Width()), float64(b.Height()))
	}
	w.op("f*")
}
