// Package svg writes a page as a self-contained SVG file.
package svg

// The file holds no script, no style sheet and no link: only shapes with their
// attributes, so that every program that reads SVG shows the same. Elements
// that stand in a row and show the same thing become one group, which carries
// the thing's name as its id (with a number behind it from the second such
// group on), as data-shows, and its class. The user's words only ever pass
// through escape.

import (
	"bytes"
	"fmt"
	"strings"

	"tarry/page"
)

// Options are the choices that a caller has. The zero value is right for a
// file of its own.
type Options struct {
	// Prefix stands before every id, so that several drawings can stand in one
	// document.
	Prefix string
	// NoPaper leaves the ground transparent, White makes it white instead of the
	// tint of paper.
	NoPaper, White bool
	// Embed writes the drawing for a place in an HTML page, which gives it its
	// size and its ground: no width and height but in the view box, no paper.
	// Colours and weights of shapes are left to a style sheet, by class: the ink
	// (ink, faint, live, timing, paper), the stroke's weight (hair, thin, medium,
	// heavy), filled for what is filled in its ink, knockout for what hides the
	// lines below it.
	Embed bool
}

// Fonts is the list of fonts that the file asks for: the one that was
// measured, then others of its widths, then whatever the reader has.
const Fonts = "Go, 'Liberation Sans', Arimo, Arial, Helvetica, sans-serif"

type writer struct {
	bytes.Buffer
	opt  Options
	used map[string]bool
}

// Encode returns the page as SVG. The same page gives the same bytes.
func Encode(p *page.Page, opt Options) []byte {
	w := &writer{opt: opt, used: map[string]bool{}}
	title, desc := w.id("drawing-title"), w.id("drawing-text")
	w.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"`)
	if !opt.Embed {
		fmt.Fprintf(w, ` width="%vmm" height="%vmm"`, p.Width, p.Height)
	}
	fmt.Fprintf(w, ` viewBox="0 0 %d %d"`, p.Width, p.Height)
	fmt.Fprintf(w, ` role="img" aria-labelledby="%s %s" font-family="%s" style="font-variant-numeric:tabular-nums"`, title, desc, Fonts)
	w.WriteString(` fill="none" stroke-linecap="round" stroke-linejoin="round">` + "\n")
	fmt.Fprintf(w, "<title id=\"%s\">%s</title>\n<desc id=\"%s\">%s</desc>\n", title, escape(p.Title), desc, escape(p.Description))
	if !opt.NoPaper && !opt.Embed {
		fmt.Fprintf(w, "<rect class=\"paper\" width=\"%d\" height=\"%d\" fill=\"%s\"/>\n", p.Width, p.Height, w.colour(page.Paper))
	}
	w.elements(p.Elements)
	w.WriteString("</svg>\n")
	return w.Bytes()
}

// Shapes returns what Encode writes inside the svg element, without the words
// for screen readers.
func Shapes(p *page.Page, opt Options) string {
	w := &writer{opt: opt, used: map[string]bool{}}
	w.elements(p.Elements)
	return w.String()
}

// elements writes runs of elements that show the same thing as groups.
func (w *writer) elements(list []page.Element) {
	for i := 0; i < len(list); {
		end := i + 1
		for end < len(list) && list[end].Shows == list[i].Shows {
			end++
		}
		closing := w.open(list[i].Shows)
		w.run(list[i:end])
		w.WriteString(closing)
		i = end
	}
}

// run writes elements that show the same thing.
func (w *writer) run(list []page.Element) {
	if w.opt.Embed {
		w.merged(list)
		return
	}
	for _, e := range list {
		w.element(e)
	}
}

func (w *writer) open(s page.Shows) (closing string) {
	if s == (page.Shows{}) {
		return ""
	}
	w.WriteString("<g")
	if s.ID != "" {
		fmt.Fprintf(w, ` id="%s" data-shows="%s"`, w.id(s.ID), escape(s.ID))
	}
	if s.Class != "" {
		fmt.Fprintf(w, ` class="%s"`, name(s.Class))
	}
	w.WriteString(">\n")
	return "</g>\n"
}

// id returns an id that was not used before, made of what a name allows.
func (w *writer) id(wanted string) string {
	base := name(w.opt.Prefix + wanted)
	id := base
	for n := 2; w.used[id]; n++ {
		id = fmt.Sprintf("%s-%d", base, n)
	}
	w.used[id] = true
	return id
}

// name keeps the letters, digits, dots and dashes of s, so that it can stand
// as an id.
func name(s string) string {
	out := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '-', r == '_':
			return r
		}
		return '_'
	}, s)
	if out == "" || out[0] >= '0' && out[0] <= '9' || out[0] == '.' || out[0] == '-' {
		out = "_" + out
	}
	return out
}

func (w *writer) element(e page.Element) {
	switch s := e.Shape.(type) {
	case page.Poly:
		w.poly(s)
	case page.Rect:
		fmt.Fprintf(w, `<rect x="%d" y="%d" width="%d" height="%d"`, s.Min.X, s.Min.Y, s.Width(), s.Height())
		if s.Round > 0 {
			fmt.Fprintf(w, ` rx="%d"`, s.Round)
		}
	case page.Arc:
		w.arc(s)
	case page.Hatch:
		w.WriteString(`<path d="`)
		for _, l := range s.Lines() {
			fmt.Fprintf(w, "M%d %dL%d %d", l[0].X, l[0].Y, l[1].X, l[1].Y)
		}
		w.WriteString(`"`)
	case page.Text:
		w.text(s, e.Style)
		return
	default:
		panic(fmt.Sprintf("svg: unknown shape %T", s))
	}
	w.style(e.Style)
	w.WriteString("/>\n")
}

func (w *writer) poly(s page.Poly) {
	if len(s.Points) == 2 && !s.Closed {
		a, b := s.Points[0], s.Points[1]
		fmt.Fprintf(w, `<path d="M%d %dL%d %d"`, a.X, a.Y, b.X, b.Y)
		return
	}
	tag := "polyline"
	if s.Closed {
		tag = "polygon"
	}
	fmt.Fprintf(w, `<%s points="`, tag)
	for i, q := range s.Points {
		if i > 0 {
			w.WriteByte(' ')
		}
		fmt.Fprintf(w, "%d,%d", q.X, q.Y)
	}
	w.WriteByte('"')
}

func (w *writer) arc(s page.Arc) {
	if s.Sweep == 360 || s.Sweep == -360 {
		fmt.Fprintf(w, `<circle cx="%d" cy="%d" r="%d"`, s.Centre.X, s.Centre.Y, s.Radius)
		return
	}
	from, to := s.At(0), s.At(s.Sweep)
	large, clockwise := 0, 0
	if s.Sweep > 180 || s.Sweep < -180 {
		large = 1
	}
	if s.Sweep > 0 {
		clockwise = 1
	}
	fmt.Fprintf(w, `<path d="M%d %dA%d %d 0 %d %d %d %d"`, from.X, from.Y, s.Radius, s.Radius, large, clockwise, to.X, to.Y)
}

func (w *writer) style(s page.Style) {
	w.WriteString(` class="`)
	w.WriteString(s.Ink.String())
	if s.Weight != page.NoStroke {
		w.WriteByte(' ')
		w.WriteString(s.Weight.String())
	}
	if w.opt.Embed { // colours and weights are the style sheet's
		w.WriteString([...]string{page.NoFill: "", page.Solid: " filled", page.Knockout: " knockout"}[s.Fill])
		w.WriteByte('"')
	} else {
		w.WriteByte('"')
		if s.Weight != page.NoStroke {
			fmt.Fprintf(w, ` stroke="%s" stroke-width="%d"`, w.colour(s.Ink), s.Weight.Width())
		}
	}
	if stroke, gap := s.Dash.Pattern(); gap > 0 {
		fmt.Fprintf(w, ` stroke-dasharray="%d %d" stroke-linecap="butt"`, stroke, gap)
	}
	if s.Weight.Flat() && s.Dash == page.Full {
		w.WriteString(` stroke-linecap="butt"`)
	}
	switch {
	case w.opt.Embed:
	case s.Fill == page.Solid:
		fmt.Fprintf(w, ` fill="%s"`, w.colour(s.Ink))
	case s.Fill == page.Knockout:
		fmt.Fprintf(w, ` fill="%s"`, w.colour(page.Paper))
	}
}

// text gives the width that was measured, so that a reader with another font
// squeezes the words into the room that was left for them.
func (w *writer) text(s page.Text, style page.Style) {
	words := page.Clean(s.Words)
	if strings.TrimSpace(words) == "" {
		return
	}
	fmt.Fprintf(w, `<text x="%d" y="%d" font-size="%d"`, s.At.X, s.At.Y, s.Size)
	if s.Anchor != page.Start {
		fmt.Fprintf(w, ` text-anchor="%v"`, s.Anchor)
	}
	if s.Bold {
		w.WriteString(` font-weight="bold"`)
	}
	fmt.Fprintf(w, ` class="%v" fill="%s" textLength="%d" lengthAdjust="spacingAndGlyphs"`, style.Ink, w.colour(style.Ink), page.Width(words, s.Size, s.Bold))
	fmt.Fprintf(w, ">%s</text>\n", escape(words))
}

func (w *writer) colour(k page.Ink) string {
	if k == page.Paper && w.opt.White {
		return "#ffffff"
	}
	return Colour(k)
}

// Colour is an ink's colour as SVG and CSS write it: #262421.
func Colour(k page.Ink) string {
	r, g, b := k.RGB()
	return fmt.Sprintf("#%02x%02x%02x", r, g, b)
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// escape makes words harmless in text and in attributes.
func escape(words string) string {
	lines := strings.Split(words, "\n")
	for i, line := range lines {
		lines[i] = escaper.Replace(page.Clean(line))
	}
	return strings.Join(lines, "\n")
}
