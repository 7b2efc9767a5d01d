package pdf

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"tarry/page"
)

// perEm is the number of font units in the size of a text.
const perEm = 2048

// typeface is one of the two fonts as it is in the program.
type typeface struct {
	name   string
	bold   bool
	source []byte
	parsed func() *sfnt.Font
}

func newTypeface(name string, bold bool, source []byte) *typeface {
	return &typeface{name, bold, source, sync.OnceValue(func() *sfnt.Font {
		f, err := sfnt.Parse(source)
		if err != nil {
			panic(fmt.Sprintf("pdf: the built-in font %s: %v", name, err))
		}
		return f
	})}
}

var (
	plainFace = newTypeface("GoRegular", false, goregular.TTF)
	boldFace  = newTypeface("Go-Bold", true, gobold.TTF)
)

// font is a typeface with the characters of it that a file uses.
type font struct {
	*typeface
	buffer sfnt.Buffer
	chars  []char // by CID, less one
	cids   map[rune]int
}

// char is a character in a file.
type char struct {
	rune    rune
	glyph   int
	advance int  // in 1/2048 of the size, as page.Width has it
	missing bool // the font has no glyph; that of a blank keeps its room
}

// boxed reports whether a box stands in for the character. A rare kind of
// blank needs none.
func (c char) boxed() bool { return c.missing && !unicode.Is(unicode.Zs, c.rune) }

// cid returns the number of a character in the file, which is new if the
// character is.
func (f *font) cid(r rune) int {
	if n, ok := f.cids[r]; ok {
		return n
	}
	c := char{rune: r, glyph: f.glyph(r), advance: int(page.Width(string(r), perEm, f.bold))}
	if c.glyph == 0 {
		c.missing, c.glyph = true, f.glyph(' ')
	}
	f.chars = append(f.chars, c)
	f.cids[r] = len(f.chars)
	return len(f.chars)
}

// glyph returns the number of a character's glyph, 0 if it has none.
func (f *font) glyph(r rune) int {
	n, err := f.parsed().GlyphIndex(&f.buffer, r)
	if err != nil {
		panic(fmt.Sprintf("pdf: the built-in font %s, %U: %v", f.name, r, err))
	}
	return int(n)
}

// fonts are the two fonts of a file.
type fonts struct {
	plain, bold *font
}

func newFonts() *fonts {
	return &fonts{
		plain: &font{typeface: plainFace, cids: map[rune]int{}},
		bold:  &font{typeface: boldFace, cids: map[rune]int{}},
	}
}

// pick returns a font and its name on the pages.
func (f *fonts) pick(bold bool) (*font, string) {
	if bold {
		return f.bold, "B"
	}
	return f.plain, "R"
}

// write writes the fonts in use and returns the entries for the pages'
// resources, and the characters that have no glyph, in order.
func (f *fonts) write(file *file) (resources string, missing []rune) {
	for _, bold := range []bool{false, true} {
		font, name := f.pick(bold)
		if len(font.chars) == 0 {
			continue
		}
		resources += fmt.Sprintf("/%s %d 0 R ", name, font.write(file))
		for _, c := range font.chars {
			if c.missing {
				missing = append(missing, c.rune)
			}
		}
	}
	slices.Sort(missing)
	return resources, slices.Compact(missing)
}

// write writes the font's objects and returns the number of the one that a
// page names (ISO 32000-1, 9.7: a composite font over one TrueType font).
func (f *font) write(file *file) int {
	glyphs := map[int]bool{}
	gids := []byte{0, 0}
	widths := make([]string, len(f.chars))
	for i, c := range f.chars {
		glyphs[c.glyph] = true
		gids = append(gids, byte(c.glyph>>8), byte(c.glyph))
		widths[i] = number(float64(c.advance)*1000/perEm, 4)
	}
	name := f.tag() + "+" + f.name
	cut := subset(f.source, glyphs)
	program := file.addStream(fmt.Sprintf(" /Length1 %d", len(cut)), cut)
	m := f.metrics()
	descriptor := file.add(fmt.Sprintf("<< /Type /FontDescriptor /FontName /%s /Flags 4 /FontBBox [%s]"+
		" /ItalicAngle 0 /Ascent %s /Descent %s /CapHeight %s /StemV %d /FontFile2 %d 0 R >>",
		name, m.box, m.ascent, m.descent, m.capHeight, m.stem, program))
	below := file.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /%s"+
		" /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >>"+
		" /FontDescriptor %d 0 R /CIDToGIDMap %d 0 R /DW 0 /W [1 [%s]] >>",
		name, descriptor, file.addStream("", gids), strings.Join(widths, " ")))
	return file.add(fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H"+
		" /DescendantFonts [%d 0 R] /ToUnicode %d 0 R >>", name, below, file.addStream("", f.toUnicode())))
}

// tag returns the six letters that mark a font as a part of a whole one, made
// from what is in the part.
func (f *font) tag() string {
	sum := uint32(2166136261)
	for _, c := range f.chars {
		sum = (sum ^ uint32(c.rune)) * 16777619
	}
	letters := make([]byte, 6)
	for i := range letters {
		letters[i] = 'A' + byte(sum%26)
		sum /= 26
	}
	return string(letters)
}

// toUnicode leads from the numbers of characters back to them (ISO 32000-1,
// 9.10.3). A list in it has at most 100 lines.
func (f *font) toUnicode() []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	for from := 0; from < len(f.chars); from += 100 {
		part := f.chars[from:min(from+100, len(f.chars))]
		fmt.Fprintf(&b, "%d beginbfchar\n", len(part))
		for i, c := range part {
			fmt.Fprintf(&b, "<%04X> <%s>\n", from+i+1, utf16Hex(c.rune))
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.Bytes()
}

// metrics are what a descriptor says about a font, in 1/1000 of the size.
type metrics struct {
	box, ascent, descent, capHeight string
	stem                            int
}

func (f *font) metrics() metrics {
	head, hhea, os2 := table(f.source, "head"), table(f.source, "hhea"), table(f.source, "OS/2")
	thousandth := func(data []byte, at int) string {
		return number(float64(int16(be16(data, at)))*1000/perEm, 0)
	}
	var box []string
	for at := 36; at < 44; at += 2 {
		box = append(box, thousandth(head, at))
	}
	m := metrics{strings.Join(box, " "), thousandth(hhea, 4), thousandth(hhea, 6), thousandth(os2, 88), 88}
	if f.bold {
		m.stem = 150
	}
	return m
}
