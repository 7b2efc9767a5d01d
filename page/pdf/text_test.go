package pdf_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"tarry/page"
	"tarry/page/pdf"
)

// hostile labels are what a user, or one who sends a user a file, may write.
var hostile = []string{
	"plain", "", " ", "\\", "(", ")", "(()", ">", "<<", "endstream endobj", "%%EOF", "ET Q", "\x00\x01\x1b[31m\x7f", "\xff\xfe broken \xc3",
	"\u202eturned\u202c \u200f\u200e", "\uFFFE\uFFFF\U0001FFFE\U0010FFFF", "漢字 ü 🍐👩\u200d🔧", "e\u0301\u0302\u0303", "\u0301", "\n\r\t", "שלום عربى", "\uD7FF\uE000\uF8FF",
	strings.Repeat("long ", 2000), strings.Repeat("🍐", 10000), everything(),
}

// everything is more characters than one list of a font file holds.
func everything() string {
	var b strings.Builder
	for r := rune(0x20); r < 0x3000; r++ {
		b.WriteRune(r)
	}
	return b.String()
}

func TestHostileWords(t *testing.T) {
	for _, h := range hostile {
		p := text(h, false)
		p.Add(page.Element{Shape: page.Text{At: at(1000, 8000), Size: 300, Bold: true, Anchor: page.End, Words: h}},
			page.Element{Shape: page.Text{At: at(1000, 9000), Size: 300, Words: "after"}})
		p.Description = h
		r := encode(t, pdf.Options{Title: h, Author: h, Outline: []pdf.Bookmark{{Title: h}}}, p)
		name := saved(t, "a.pdf", r.Bytes)
		if out := tool(t, nil, "qpdf", "--check", name); !bytes.Contains(out, []byte("No syntax or stream encoding errors")) {
			t.Errorf("%.40q: %s", h, out)
		}
		if !strings.Contains(string(tool(t, nil, "pdftotext", name, "-")), "after") {
			t.Errorf("%.40q: what stands behind is lost", h)
		}
	}
}

// TestMissing finds characters that no font has: each is reported once, a box
// stands in its place, and searching finds it.
func TestMissing(t *testing.T) {
	p := text("ok 漢🍐ok", false)
	p.Add(page.Element{Shape: page.Text{At: at(1000, 9000), Size: 300, Bold: true, Words: "漢✓ x\u202fy"}})
	r := encode(t, pdf.Options{}, p)
	if want := []rune("\u202f✓漢🍐"); !slices.Equal(r.Missing, want) {
		t.Errorf("missing %q, want %q", r.Missing, want)
	}
	if found := words(t, r.Bytes); !strings.Contains(found, "漢🍐ok") || !strings.Contains(found, "漢✓") {
		t.Errorf("found %q", found)
	}
	if n := strings.Count(plain(t, r.Bytes), " re\n"); n != 2*4 {
		t.Errorf("%d lines for 4 boxes", n)
	}
	if r := encode(t, pdf.Options{}, chartPage(t, "09")); len(r.Missing) > 0 {
		t.Errorf("a chart has %q", r.Missing)
	}
}

// signs are those that tarry draws or that a title may well have.
const signs = "–—·…→←↑↓Δ°±≥≤≠≈≡×÷µΩ−‘’“”„•‰€™"

// lacking are signs that neither font has a glyph for.
const lacking = "✓✗△▽⇒▶◀☐☑⌀漢🍐"

// TestWidths holds page.Width against the advances in the fonts. A glyph that
// its table doesn't have may be counted as a full square.
func TestWidths(t *testing.T) {
	for _, c := range []struct {
		source []byte
		bold   bool
	}{{goregular.TTF, false}, {gobold.TTF, true}} {
		f, err := sfnt.Parse(c.source)
		if err != nil {
			t.Fatal(err)
		}
		var square []rune
		for r := rune(' '); r < 0x20000; r++ {
			advance, ok := advanceOf(t, f, r)
			switch width := page.Width(string(r), 2048, c.bold); {
			case !ok, page.Clean(string(r)) == "", int(width) == advance:
			case width == 2048 && r > 0xFF && !strings.ContainsRune(signs, r):
				square = append(square, r)
			default:
				t.Errorf("bold %v, %q: page.Width has %d, the font %d", c.bold, r, width, advance)
			}
		}
		t.Logf("bold %v: %d glyphs counted as squares: %s", c.bold, len(square), string(square))
		for _, r := range signs {
			if _, ok := advanceOf(t, f, r); !ok {
				t.Errorf("bold %v: no %q", c.bold, r)
			}
		}
		for _, r := range lacking {
			if _, ok := advanceOf(t, f, r); ok {
				t.Errorf("bold %v: there is a %q", c.bold, r)
			}
		}
	}
}

// advanceOf returns a character's advance in 1/2048 of the size.
func advanceOf(t *testing.T, f *sfnt.Font, r rune) (int, bool) {
	t.Helper()
	var b sfnt.Buffer
	n, err := f.GlyphIndex(&b, r)
	if err != nil {
		t.Fatal(err)
	}
	advance, err := f.GlyphAdvance(&b, n, fixed.I(2048), font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	return advance.Round(), n != 0
}

// TestWidthsInTheFile reads the widths back that a reader of the file goes by.
func TestWidthsInTheFile(t *testing.T) {
	file := plain(t, encode(t, pdf.Options{}, text("Wi 5", false)).Bytes)
	if want := fmt.Sprintf("/W [ 1 [ %s ] ]", "943.8477 246.582 277.832 556.1523"); !strings.Contains(file, want) {
		t.Errorf("no %s", want)
	}
}

func BenchmarkEncode(b *testing.B) {
	for _, query := range charts {
		b.Run(query, func(b *testing.B) {
			p := chartPage(b, query)
			size := 0
			for b.Loop() {
				size = len(encode(b, pdf.Options{Paper: pdf.A4}, p).Bytes)
			}
			b.ReportMetric(float64(size)/1000, "KB")
		})
	}
}
