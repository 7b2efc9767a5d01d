package svg

import (
	"bytes"
	"fmt"
	"strconv"

	"tarry/page"
)

// A browser's time goes by the number of elements. A chart of a busy run has
// thousands of strokes, but few styles in each row: for a screen, strokes of
// one thing that look the same become one path. Order counts only where
// something hides what lies below it, so only that ends a path. Words come
// last; nothing hides them.

// merged writes the elements that show one thing with as few paths as will do.
func (w *writer) merged(list []page.Element) {
	var styles []page.Style
	paths := map[page.Style]*bytes.Buffer{}
	flush := func() {
		for _, s := range styles {
			fmt.Fprintf(w, `<path d="%s"`, paths[s].Bytes())
			w.style(s)
			w.WriteString("/>\n")
		}
		styles, paths = styles[:0], map[page.Style]*bytes.Buffer{}
	}
	var words []page.Element
	for _, e := range list {
		if _, ok := e.Shape.(page.Text); ok {
			words = append(words, e)
			continue
		}
		if !merges(e) {
			flush()
			w.element(e)
			continue
		}
		b := paths[e.Style]
		if b == nil {
			b = &bytes.Buffer{}
			paths[e.Style] = b
			styles = append(styles, e.Style)
		}
		trace(b, e.Shape)
	}
	flush()
	for _, e := range words {
		w.element(e)
	}
}

// merges reports whether an element may become a part of a path with others.
func merges(e page.Element) bool {
	switch e.Shape.(type) {
	case page.Poly, page.Hatch:
		return e.Style.Fill != page.Knockout
	}
	return false
}

// trace writes a shape as a part of a path.
func trace(b *bytes.Buffer, s page.Shape) {
	switch s := s.(type) {
	case page.Hatch:
		for _, l := range s.Lines() {
			point(b, 'M', l[0])
			point(b, 'L', l[1])
		}
	case page.Poly:
		letter := byte('M')
		for _, p := range s.Points {
			point(b, letter, p)
			letter = 'L'
		}
		if s.Closed {
			b.WriteByte('Z')
		}
	}
}

// point writes one step of a path. There are thousands of them in a chart, so
// they are written without the detour of a format.
func point(b *bytes.Buffer, letter byte, p page.Point) {
	out := append(b.AvailableBuffer(), letter)
	out = strconv.AppendInt(out, int64(p.X), 10)
	out = append(out, ' ')
	b.Write(strconv.AppendInt(out, int64(p.Y), 10))
}
