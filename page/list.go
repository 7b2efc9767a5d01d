package page

import (
	"fmt"
	"strings"
)

// List writes a page as plain text, one element a line, in the order of
// painting: what a test compares and a reviewer reads. Lengths are in
// millimetres.
func List(p *Page) string {
	var b strings.Builder
	fmt.Fprintf(&b, "page %v x %v\n", p.Width, p.Height)
	fmt.Fprintf(&b, "title %q\n", Clean(p.Title))
	for _, line := range strings.Split(p.Description, "\n") {
		if line = strings.TrimSpace(Clean(line)); line != "" {
			fmt.Fprintf(&b, "describe %q\n", line)
		}
	}
	for _, e := range p.Elements {
		words := []string{shapeWords(e.Shape), styleWords(e)}
		if e.Shows != (Shows{}) {
			words = append(words, fmt.Sprintf("[%s]", strings.TrimSpace(Clean(e.Shows.ID+" "+e.Shows.Class))))
		}
		b.WriteString(strings.Join(words, " ") + "\n")
	}
	return b.String()
}

func shapeWords(s Shape) string {
	switch s := s.(type) {
	case Poly:
		return polyWords(s)
	case Rect:
		words := "rect " + boxWords(s.Box)
		if s.Round > 0 {
			words += fmt.Sprintf(" round %v", s.Round)
		}
		return words
	case Arc:
		if s.Sweep == 360 {
			return fmt.Sprintf("circle %v,%v radius %v", s.Centre.X, s.Centre.Y, s.Radius)
		}
		return fmt.Sprintf("arc %v,%v radius %v from %d sweep %d", s.Centre.X, s.Centre.Y, s.Radius, s.From, s.Sweep)
	case Hatch:
		return fmt.Sprintf("hatch %s pitch %v", boxWords(s.Box), s.Pitch)
	case Text:
		return textWords(s)
	}
	panic(fmt.Sprintf("page: unknown shape %T", s))
}

func boxWords(b Box) string {
	return fmt.Sprintf("%v,%v %v,%v", b.Min.X, b.Min.Y, b.Max.X, b.Max.Y)
}

func polyWords(s Poly) string {
	word := "line"
	switch {
	case s.Closed:
		word = "polygon"
	case len(s.Points) > 2:
		word = "polyline"
	}
	for _, q := range s.Points {
		word += fmt.Sprintf(" %v,%v", q.X, q.Y)
	}
	return word
}

func textWords(s Text) string {
	words := fmt.Sprintf("text %v,%v %v %v", s.At.X, s.At.Y, s.Anchor, s.Size)
	if s.Bold {
		words += " bold"
	}
	if s.Tabular {
		words += " tabular"
	}
	return words + fmt.Sprintf(" %q", Clean(s.Words))
}

func styleWords(e Element) string {
	var words []string
	for _, w := range []string{e.Style.Weight.String(), e.Style.Dash.String(), e.Style.Ink.String(), e.Style.Fill.String()} {
		if w != "" {
			words = append(words, w)
		}
	}
	return strings.Join(words, " ")
}
