package pdf_test

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"math"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf16"

	"tarry/page"
	"tarry/page/pdf"
)

func TestSameBytesEveryTime(t *testing.T) {
	pages := []*page.Page{sample(), chartPage(t, "05")}
	opt := pdf.Options{Title: "Set", Author: "Jo", Paper: pdf.A4}
	want := encode(t, opt, pages...).Bytes
	for _, procs := range []int{1, 2} {
		before := runtime.GOMAXPROCS(procs)
		var wait sync.WaitGroup
		for range 20 {
			wait.Go(func() {
				if got, err := pdf.Encode(pages, opt); err != nil || !bytes.Equal(got.Bytes, want) {
					t.Errorf("other bytes with %d processors, %v", procs, err)
				}
			})
		}
		wait.Wait()
		runtime.GOMAXPROCS(before)
	}
}

// TestReadersAccept lets other programs read files of every kind.
func TestReadersAccept(t *testing.T) {
	pages := []*page.Page{sample(), chartPage(t, "05"), {Title: "empty", Width: 100, Height: 100}}
	for _, opt := range []pdf.Options{
		{}, {Paper: pdf.A4, Title: "Ünits (1\\)", Author: "J. Ö."}, {Paper: pdf.Letter, Mono: true},
		{Outline: []pdf.Bookmark{}}, {Outline: []pdf.Bookmark{{Title: "a", Below: []pdf.Bookmark{{Page: 2}, {Page: 1, Title: "c"}}}, {Title: "d", Page: 1}}},
	} {
		name := saved(t, "a.pdf", encode(t, opt, pages...).Bytes)
		if out := tool(t, nil, "qpdf", "--check", name); !bytes.Contains(out, []byte("No syntax or stream encoding errors")) {
			t.Errorf("%+v: %s", opt, out)
		}
	}
}

// words returns what a reader finds in a file.
func words(t *testing.T, file []byte) string {
	t.Helper()
	return string(tool(t, nil, "pdftotext", "-layout", saved(t, "a.pdf", file), "-"))
}

func TestWordsComeBack(t *testing.T) {
	for _, p := range []*page.Page{sample(), chartPage(t, "05"), chartPage(t, "09"), chartPage(t, "22")} {
		found := strings.Join(strings.Fields(words(t, encode(t, pdf.Options{}, p).Bytes)), " ")
		for _, e := range p.Elements {
			s, ok := e.Shape.(page.Text)
			if !ok {
				continue
			}
			// Words that stand wide apart come back with more than a blank.
			for _, want := range strings.Fields(s.Words) {
				if !strings.Contains(found, want) {
					t.Errorf("%s: %q is not in %q", p.Title, want, found)
				}
			}
		}
	}
}

func TestFontsAreEmbeddedAndCut(t *testing.T) {
	name := saved(t, "a.pdf", encode(t, pdf.Options{}, chartPage(t, "05")).Bytes)
	rows := strings.Split(strings.TrimSpace(string(tool(t, nil, "pdffonts", name))), "\n")[2:]
	if len(rows) != 2 {
		t.Fatalf("%q", rows)
	}
	for i, font := range []string{"GoRegular", "Go-Bold"} {
		fields := strings.Fields(rows[i])
		if len(fields) < 7 || !regexp.MustCompile("^[A-Z]{6}\\+"+font+"$").MatchString(fields[0]) ||
			!slices.Equal(fields[len(fields)-5:len(fields)-2], []string{"yes", "yes", "yes"}) {
			t.Errorf("%q", rows[i])
		}
	}
	plain := saved(t, "b.pdf", encode(t, pdf.Options{}, text("x", false)).Bytes)
	if out := string(tool(t, nil, "pdffonts", plain)); strings.Contains(out, "Bold") {
		t.Errorf("a font that isn't used: %s", out)
	}
}

func text(words string, bold bool) *page.Page {
	p := &page.Page{Title: words, Width: 20000, Height: 10000}
	p.Add(page.Element{Shape: page.Text{At: at(1000, 5000), Size: 400, Bold: bold, Words: words}})
	return p
}

var bboxes = regexp.MustCompile(`xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)<`)

// TestPlaces holds the place and the width of words, as a reader finds them,
// against those that were measured: to 1/100 mm.
func TestPlaces(t *testing.T) {
	p := &page.Page{Width: 20000, Height: 10000}
	for i, s := range []string{"mmmmmmmmmmmmmmmmmmmmmmmm", "iiiiiiiiiiiiiiiiiii…", "0123456789:;±°µ", "Füße,Öl"} {
		for j, a := range []page.Anchor{page.Start, page.Middle, page.End} {
			p.Add(page.Element{Shape: page.Text{At: at(10000, 1000+600*page.Unit(4*j+i)), Anchor: a, Size: 317, Bold: i%2 > 0, Words: s}})
		}
	}
	found := bboxes.FindAllStringSubmatch(string(tool(t, nil, "pdftotext", "-bbox", saved(t, "a.pdf", encode(t, pdf.Options{}, p).Bytes), "-")), -1)
	if len(found) != len(p.Elements) {
		t.Fatalf("%d words of %d", len(found), len(p.Elements))
	}
	for _, e := range p.Elements {
		s := e.Shape.(page.Text)
		want, best := s.Bounds(), 1000.0
		for _, f := range found {
			var v [4]float64 // in 1/100 mm
			for i := range v {
				v[i], _ = strconv.ParseFloat(f[i+1], 64)
				v[i] *= 2540.0 / 72
			}
			if f[5] == s.Words && v[1] < float64(s.At.Y) && v[3] > float64(s.At.Y) {
				best = max(math.Abs(v[0]-float64(want.Min.X)), math.Abs(v[2]-float64(want.Max.X)))
			}
		}
		if best > 1 {
			t.Errorf("%q, %v: off by %.2f", s.Words, s.Anchor, best/100)
		}
	}
}

// info returns what pdfinfo says about a file under a name.
func info(t *testing.T, file []byte, name string) string {
	t.Helper()
	out := string(tool(t, []string{"TZ=UTC", "LC_ALL=C.UTF-8"}, "pdfinfo", "-isodates", saved(t, "a.pdf", file)))
	for line := range strings.Lines(out) {
		if value, ok := strings.CutPrefix(line, name+":"); ok {
			return strings.TrimSpace(value)
		}
	}
	return ""
}

func TestInfo(t *testing.T) {
	made := time.Date(2031, 2, 3, 4, 5, 6, 789, time.FixedZone("", 3600))
	file := encode(t, pdf.Options{Title: " Sätze (1)\x00 \U0001F600", Author: "Jo\u202e\n& Co", Date: made}, sample(), sample()).Bytes
	plain := encode(t, pdf.Options{}, sample()).Bytes
	for _, c := range []struct {
		file       []byte
		name, want string
	}{
		{file, "Title", "Sätze (1) \U0001F600"}, {file, "Author", "Jo & Co"}, {file, "Pages", "2"},
		{file, "CreationDate", "2031-02-03T03:05:06Z"}, {file, "ModDate", "2031-02-03T03:05:06Z"},
		{file, "Page size", "566.929 x 340.157 pts"}, {plain, "Title", ""}, {plain, "Author", ""},
		{plain, "CreationDate", "2000-01-01T00:00:00Z"}, {plain, "ModDate", "2000-01-01T00:00:00Z"},
		{encode(t, pdf.Options{Paper: pdf.A4}, sample()).Bytes, "Page size", "841.89 x 595.276 pts (A4)"},
		{encode(t, pdf.Options{Paper: pdf.Letter}, sample()).Bytes, "Page size", "792 x 612 pts (letter)"},
	} {
		if got := info(t, c.file, c.name); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// plain returns a file's content without compression.
func plain(t *testing.T, file []byte) string {
	t.Helper()
	return string(tool(t, nil, "qpdf", "--stream-data=uncompress", "--normalize-content=n", saved(t, "a.pdf", file), "-"))
}

func TestMonoHasNoColour(t *testing.T) {
	coloured := regexp.MustCompile(`(?m)^[\d.]+ [\d.]+ [\d.]+ (rg|RG)$`)
	if !coloured.MatchString(plain(t, encode(t, pdf.Options{}, sample()).Bytes)) {
		t.Error("there is no colour where there should be")
	}
	mono := plain(t, encode(t, pdf.Options{Mono: true}, sample()).Bytes)
	if found := coloured.FindString(mono); found != "" || !strings.Contains(mono, "\n0.45 G\n") {
		t.Errorf("in black: %q", found)
	}
}

// outlined writes a file's bookmarks as lines, each indented below its parent.
func outlined(t *testing.T, file []byte) string {
	t.Helper()
	objects := map[string]string{}
	for _, m := range regexp.MustCompile(`(\d+) 0 obj\n(<< .*)\nendobj`).FindAllSubmatch(file, -1) {
		objects[string(m[1])] = string(m[2])
	}
	entry := func(object, name string) string {
		m := regexp.MustCompile("/" + name + ` \[?\s*<?([0-9a-fA-F]+)`).FindStringSubmatch(object)
		if m == nil {
			return ""
		}
		return m[1]
	}
	kids := regexp.MustCompile(`/Kids \[[^]]*\]`).Find(file)
	pages := regexp.MustCompile(`(\d+) 0 R`).FindAllStringSubmatch(string(kids), -1)
	var lines []string
	var walk func(first, indent string)
	walk = func(n, indent string) {
		for ; n != ""; n = entry(objects[n], "Next") {
			page := slices.IndexFunc(pages, func(m []string) bool { return m[1] == entry(objects[n], "Dest") })
			lines = append(lines, fmt.Sprintf("%s%s %d %s", indent, fromUTF16(t, entry(objects[n], "Title")), page, entry(objects[n], "Count")))
			walk(entry(objects[n], "First"), indent+" ")
		}
	}
	for _, o := range objects {
		if strings.Contains(o, "/Type /Outlines") {
			walk(entry(o, "First"), "")
		}
	}
	return strings.Join(lines, "\n")
}

func fromUTF16(t *testing.T, digits string) string {
	t.Helper()
	data, err := hex.DecodeString(digits)
	if err != nil || len(data)%2 > 0 || len(data) < 2 || data[0] != 0xFE || data[1] != 0xFF {
		t.Fatalf("%q is no UTF-16: %v", digits, err)
	}
	var units []uint16
	for i := 2; i < len(data); i += 2 {
		units = append(units, uint16(data[i])<<8|uint16(data[i+1]))
	}
	return string(utf16.Decode(units))
}

func TestBookmarks(t *testing.T) {
	pages := []*page.Page{text("Drawing", false), text("Chart \U0001F600", false), text("", false)}
	for _, c := range []struct {
		list []pdf.Bookmark
		want string
	}{
		{nil, "Drawing 0 \nChart \U0001F600 1 \nPage 3 2 "},
		{[]pdf.Bookmark{}, ""},
		{[]pdf.Bookmark{{Title: "Set", Below: []pdf.Bookmark{{Title: "Key", Page: 1, Below: []pdf.Bookmark{{Title: "Table", Page: 2}}}, {Title: "Parts"}}}, {Title: "End", Page: 2}},
			"Set 0 3\n Key 1 1\n  Table 2 \n Parts 0 \nEnd 2 "},
	} {
		if got := outlined(t, encode(t, pdf.Options{Outline: c.list}, pages...).Bytes); got != c.want {
			t.Errorf("got\n%s\nwant\n%s", got, c.want)
		}
	}
}

func TestErrors(t *testing.T) {
	good := text("x", false)
	for _, c := range []struct {
		pages []*page.Page
		opt   pdf.Options
		want  string
	}{
		{nil, pdf.Options{}, "at least one page"},
		{[]*page.Page{good, {Width: 100}}, pdf.Options{}, "page 2 has no area: 1.00 by 0.00 mm"},
		{[]*page.Page{{Width: 600000, Height: 100}}, pdf.Options{}, "at most 5080 mm"},
		{[]*page.Page{good}, pdf.Options{Paper: 9}, "no paper"},
		{[]*page.Page{good}, pdf.Options{Outline: []pdf.Bookmark{{Title: "a", Below: []pdf.Bookmark{{Title: "b", Page: 1}}}}}, `bookmark "b" leads to page 2 of 1`},
	} {
		if _, err := pdf.Encode(c.pages, c.opt); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
	r := encode(t, pdf.Options{Paper: pdf.A4}, good, &page.Page{Width: 554000, Height: 100}, good)
	if r.Scale != 0.05 || encode(t, pdf.Options{Paper: pdf.A4}, good).Scale != 1 {
		t.Errorf("scale %g", r.Scale)
	}
}
