package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"tarry/page"
	"tarry/page/svg"
)

// parse reads a file strictly and returns its elements with their attributes,
// and the words in it.
func parse(t *testing.T, file []byte) (elements []xml.StartElement, words string) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(file))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return elements, words
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, file)
		}
		switch token := token.(type) {
		case xml.StartElement:
			elements = append(elements, token.Copy())
		case xml.CharData:
			words += string(token)
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func drawing(words string) *page.Page {
	p := &page.Page{Title: words, Description: words + "\nsecond line", Width: 5000, Height: 3000}
	for i := range page.Unit(4) {
		shows := page.Shows{ID: []string{"KT1.notc", words, "KT1.notc", "drawing-title"}[i], Class: words}
		p.Add(
			page.Element{Shape: page.Text{At: page.Point{X: 100, Y: 500 * i}, Size: 300, Words: words}, Shows: shows},
			page.Element{Shape: page.Line(page.Point{X: 1, Y: 2}, page.Point{X: 3, Y: 4}), Style: page.Style{Weight: page.Heavy}, Shows: shows},
		)
	}
	return p
}

// hostile labels are what a user, or one who sends a user a file, may write.
var hostile = []string{
	"plain", "", "</text><script>alert(1)</script>", `" onload="alert(1)`, "' x='", "<![CDATA[", "]]>", "&amp;&#0;&bogus;",
	"\x00\x01\x1b[31m\x7f", "\xff\xfe broken", "\u202eturned", "\uFFFE\uFFFF\U0001FFFE", "<!--", "--><!DOCTYPE x>", "漢字 ü 🍐", "\n\r\t",
}

func TestHostileWordsStayWords(t *testing.T) {
	plain, _ := parse(t, svg.Encode(drawing("plain"), svg.Options{}))
	for _, h := range hostile {
		for _, prefix := range []string{"", "a-", h} {
			elements, words := parse(t, svg.Encode(drawing(h), svg.Options{Prefix: prefix}))
			want := len(plain)
			if strings.TrimSpace(page.Clean(h)) == "" {
				want -= 4 // nothing to write
			}
			if h == "" {
				want-- // nothing to group
			}
			if len(elements) != want {
				t.Errorf("%q: %d elements, want %d", h, len(elements), want)
			}
			if !strings.Contains(words, strings.TrimSpace(page.Clean(h))) {
				t.Errorf("%q is not in %q", h, words)
			}
		}
	}
}

func TestIDsAreUnique(t *testing.T) {
	for _, h := range hostile {
		elements, _ := parse(t, svg.Encode(drawing(h), svg.Options{Prefix: "p."}))
		seen := map[string]bool{}
		for _, e := range elements {
			id := attribute(e, "id")
			if seen[id] && id != "" || strings.ContainsAny(id, " <>&\"'") {
				t.Errorf("%q: id %q", h, id)
			}
			seen[id] = true
		}
		if !seen["p.KT1.notc"] || !seen["p.KT1.notc-2"] {
			t.Errorf("%q: ids are %v", h, seen)
		}
	}
}

func TestHead(t *testing.T) {
	elements, _ := parse(t, svg.Encode(drawing("x"), svg.Options{}))
	root := elements[0]
	for name, want := range map[string]string{
		"width": "50.00mm", "height": "30.00mm", "viewBox": "0 0 5000 3000", "role": "img",
		"aria-labelledby": "drawing-title drawing-text", "font-family": svg.Fonts,
	} {
		if got := attribute(root, name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if elements[1].Name.Local != "title" || elements[2].Name.Local != "desc" || elements[3].Name.Local != "rect" {
		t.Errorf("begins with %v", elements[:4])
	}
	bare, _ := parse(t, svg.Encode(drawing("x"), svg.Options{NoPaper: true}))
	if bare[3].Name.Local == "rect" {
		t.Error("there is paper where none was wanted")
	}
}

func TestEveryShape(t *testing.T) {
	box := page.Box{Max: page.Point{X: 100, Y: 50}}
	for _, c := range []struct {
		shape page.Shape
		style page.Style
		want  string
	}{
		{page.Line(box.Min, box.Max), page.Style{Weight: page.Hair, Dash: page.Dotted, Ink: page.Faint}, `<path d="M0 0L100 50" class="faint hair" stroke="#8a847a" stroke-width="12" stroke-dasharray="30 90" stroke-linecap="butt"/>`},
		{page.Line(box.Min, box.Max), page.Style{Weight: page.Heavy, Ink: page.Live}, `<path d="M0 0L100 50" class="live heavy" stroke="#b86a04" stroke-width="85" stroke-linecap="butt"/>`},
		{page.Poly{Points: []page.Point{box.Min, box.Max, {}}, Closed: true}, page.Style{Fill: page.Solid}, `<polygon points="0,0 100,50 0,0" class="ink" fill="#262421"/>`},
		{page.Poly{Points: []page.Point{box.Min, box.Max, {}}}, page.Style{Weight: page.Thin}, `<polyline points="0,0 100,50 0,0" class="ink thin" stroke="#262421" stroke-width="22"/>`},
		{page.Rect{Box: box, Round: 9}, page.Style{Fill: page.Knockout}, `<rect x="0" y="0" width="100" height="50" rx="9" class="ink" fill="#fcfaf5"/>`},
		{page.Circle(box.Max, 20), page.Style{Weight: page.Medium}, `<circle cx="100" cy="50" r="20" class="ink medium" stroke="#262421" stroke-width="35"/>`},
		{page.Arc{Centre: box.Max, Radius: 20, Sweep: -270}, page.Style{Weight: page.Medium}, `<path d="M120 50A20 20 0 1 0 100 70" class="ink medium" stroke="#262421" stroke-width="35"/>`},
		{page.Hatch{Box: box, Pitch: 50}, page.Style{Weight: page.Hair, Ink: page.Timing}, `<path d="M0 50L50 0M50 50L100 0" class="timing hair" stroke="#4d6c8c" stroke-width="12"/>`},
		{page.Text{Size: 2048, Anchor: page.End, Bold: true, Words: "1 < 2"}, page.Style{}, `<text x="0" y="0" font-size="2048" text-anchor="end" font-weight="bold" class="ink" fill="#262421" textLength="4612" lengthAdjust="spacingAndGlyphs">1 &lt; 2</text>`},
	} {
		p := &page.Page{Width: 1000, Height: 1000}
		p.Add(page.Element{Shape: c.shape, Style: c.style})
		if file := string(svg.Encode(p, svg.Options{})); !strings.Contains(file, c.want+"\n") {
			t.Errorf("%T: no %s in\n%s", c.shape, c.want, file)
		}
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	p := drawing("x")
	if a, b := svg.Encode(p, svg.Options{}), svg.Encode(p, svg.Options{}); !bytes.Equal(a, b) {
		t.Error(fmt.Sprintf("%s\ndiffers from\n%s", a, b))
	}
}
