package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/casetest"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
	"tarry/page/pdf"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
)

// read returns a circuit with the traces of all its scripts.
func readText(t testing.TB, name string, text []byte) (*circuit.Circuit, []*trace.Trace) {
	t.Helper()
	file, _ := notation.Read(name, text)
	if file == nil || file.Circuit == nil {
		t.Fatalf("%s cannot be read", name)
	}
	var traces []*trace.Trace
	for i := range file.Circuit.Scripts {
		traces = append(traces, engine.Run(file.Circuit, &file.Circuit.Scripts[i], engine.Options{}))
	}
	return file.Circuit, traces
}

func libraryCircuit(t testing.TB, query string) (*circuit.Circuit, []*trace.Trace) {
	t.Helper()
	e, ok := library.Find(query)
	if !ok {
		t.Fatalf("the library has no circuit %s", query)
	}
	return readText(t, e.Name, e.Text)
}

func makeSet(t testing.TB, c *circuit.Circuit, traces []*trace.Trace, opt sheet.Options) []sheet.Part {
	t.Helper()
	parts, err := sheet.Set(c, traces, opt)
	if err != nil {
		t.Fatal(err)
	}
	return parts
}

var someHeader = sheet.Header{College: "Orchard Line College", Author: "The author", Date: "Week 7",
	Revision: "B", Variant: "V3", Exercise: "12"}

// check reports what collides on a page and what lies too near to its edge.
func checkSheet(t *testing.T, name string, p *page.Page) {
	t.Helper()
	for _, f := range page.Faults(p) {
		t.Errorf("%s: %s", name, f)
	}
	inner := page.Box{Min: page.Point{X: 1200, Y: 800}, Max: page.Point{X: p.Width - 800, Y: p.Height - 800}}
	for _, e := range p.Elements {
		if b := e.Shape.Bounds(); !inner.Holds(b) {
			t.Errorf("%s: %v %v is too near to the edge (%s)", name, b.Min, b.Max, e.Shows.Class)
			return
		}
	}
}

func TestNothingCollidesInTheLibrary(t *testing.T) {
	for i, e := range library.All() {
		t.Run(e.Name, func(t *testing.T) {
			t.Parallel()
			c, traces := readText(t, e.Name, e.Text)
			for look := range 4 {
				opt := sheet.Options{Header: someHeader, Symbols: schematic.Tradition(look % 2), Layout: schematic.Layout(look / 2)}
				opt.Paper = sheet.Paper((i + look) % 2)
				if len(traces) > 1 && look != i%4 {
					opt.Scripts = []string{traces[0].Script} // all of them in one look
				}
				for _, part := range makeSet(t, c, traces, opt) {
					for n, p := range part.Pages {
						checkSheet(t, fmt.Sprintf("look %d, %s %d", look, part.Name, n+1), p)
					}
				}
			}
		})
	}
}

func TestFramesPerPage(t *testing.T) {
	c, traces := libraryCircuit(t, "9")
	for _, n := range []int{1, 2, 4, 6} {
		parts := makeSet(t, c, traces[:1], sheet.Options{Parts: []string{"storyboard"}, PerPage: n})
		for i, p := range parts[0].Pages {
			checkSheet(t, fmt.Sprintf("%d to a page, %d", n, i), p)
			if got := strings.Count(page.List(p), "[step]"); got != n && i < len(parts[0].Pages)-1 {
				t.Errorf("%d to a page: %d", n, got)
			}
		}
	}
	for _, n := range []int{-1, 3, 5, 7} {
		if _, err := sheet.Set(c, traces, sheet.Options{PerPage: n}); err == nil {
			t.Errorf("%d frames to a page went through", n)
		}
	}
	for i, p := range sheet.Frames(traces[0], sheet.Options{}) {
		for _, f := range page.Faults(p) {
			t.Errorf("slide %d: %s", i, f)
		}
	}
}

// A run that no script drives has no name: then the circuit's title stands alone.
func TestTitleOfSlides(t *testing.T) {
	c, traces := libraryCircuit(t, "9")
	if got, want := sheet.Frames(traces[0], sheet.Options{})[0].Title, c.Title+": "+traces[0].Script; got != want {
		t.Errorf("a script's slide is headed %q, not %q", got, want)
	}
	free := *traces[0]
	free.Script = ""
	if p := sheet.FrameAt(&free, 0, sheet.Options{}); p.Title != c.Title || strings.Contains(wordsOf(p), c.Title+":") {
		t.Errorf("a free run's picture is headed %q", p.Title)
	}
}

// A run with too many instants is drawn up to a limit, and says so at its end;
// a storyboard gives answers, and says what its marks mean.
func TestLongStory(t *testing.T) {
	text := strings.NewReplacer("on-delay 2 s", "flasher 1 s 1 s", "KT1.notc", "KT1.tno", "  5 s open S1\n  end 6 s", "  end 99.5 s").Replace(smallText)
	c, traces := readText(t, "long.tarry", []byte(text))
	pages := makeSet(t, c, traces, sheet.Options{Parts: []string{"storyboard"}, PerPage: 4})[0].Pages
	slides := sheet.Frames(traces[0], sheet.Options{})
	if len(pages) != 15 || len(slides) != 60 {
		t.Fatalf("%d pages and %d slides", len(pages), len(slides))
	}
	for n, list := range [][]*page.Page{pages, slides} {
		for i, p := range list {
			words := wordsOf(p)
			if last := strings.Contains(words, "… and 40 more instants are not drawn."); last != (i == len(list)-1) {
				t.Errorf("%d of %d: more instants %v", i+1, len(list), last)
			}
			if key := strings.Contains(words, "KEY\n"); key != (n == 0) || !strings.Contains(words, "Filled dot: closed now.") {
				t.Errorf("%d of %d: key mark %v, or no legend", i+1, len(list), key)
			}
			for _, f := range page.Faults(p) {
				t.Errorf("%d of %d: %s", i+1, len(list), f)
			}
		}
	}
}

// A small chart that leaves rows out says so, and keeps its loads.
func TestSmallChartLeavesOut(t *testing.T) {
	c, traces := libraryCircuit(t, "5")
	p := makeSet(t, c, traces[:1], sheet.Options{Parts: []string{"storyboard"}, PerPage: 6})[0].Pages[0]
	if !strings.Contains(wordsOf(p), "more signals are not shown") {
		t.Error("rows are left out silently")
	}
}

// words returns all texts of a page, one a line.
func wordsOf(p *page.Page) string {
	var b strings.Builder
	for _, e := range p.Elements {
		if t, ok := e.Shape.(page.Text); ok {
			b.WriteString(t.Words + "\n")
		}
	}
	return b.String()
}

func TestTitleBlock(t *testing.T) {
	c, traces := libraryCircuit(t, "5")
	parts := makeSet(t, c, traces[:1], sheet.Options{Header: someHeader})
	total, n := 0, 0
	for _, part := range parts {
		total += len(part.Pages)
	}
	for _, part := range parts {
		for _, p := range part.Pages {
			n++
			text := wordsOf(p)
			for _, want := range []string{c.Title, c.Station + " · 24 V dc", someHeader.College, someHeader.Author, someHeader.Date, someHeader.Revision,
				someHeader.Variant, someHeader.Exercise, fmt.Sprintf("%d of %d", n, total), "IEC 60617", "nothing operated"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s: %q is missing", part.Name, want)
				}
			}
			learner, key := strings.Contains(text, "\ngroup\n"), strings.Contains(text, "KEY\n")
			if learner && key {
				t.Errorf("%s is for the learner and a key at once", part.Name)
			}
			if want := strings.HasSuffix(part.Name, "-filled") || part.Name == "key" || part.Name == "storyboard"; key != want {
				t.Errorf("%s: key mark %v", part.Name, key)
			}
			if part.Name == "chart-blank" && !learner {
				t.Errorf("%s has no box for a name", part.Name)
			}
		}
	}
}

func TestPartNames(t *testing.T) {
	c, traces := libraryCircuit(t, "1")
	for _, name := range sheet.PartNames() {
		parts := makeSet(t, c, traces, sheet.Options{Parts: []string{name}})
		if len(parts) != 1 || parts[0].Name != name || parts[0].Title == "" {
			t.Errorf("part %s: %v", name, parts)
		}
	}
	_, err := sheet.Set(c, traces, sheet.Options{Parts: []string{"drawing", "poster"}})
	if err == nil || !strings.Contains(err.Error(), `"poster"`) || !strings.Contains(err.Error(), "chart-blank") {
		t.Errorf("unknown part: %v", err)
	}
	_, err = sheet.Set(c, traces, sheet.Options{Scripts: []string{"None of them"}})
	if err == nil || !strings.Contains(err.Error(), traces[0].Script) {
		t.Errorf("unknown script: %v", err)
	}
}

// listing writes all pages of a set.
func listing(parts []sheet.Part) string {
	var b strings.Builder
	for _, part := range parts {
		for _, p := range part.Pages {
			b.WriteString("# " + part.Name + "\n" + page.List(p))
		}
	}
	return b.String()
}

func TestSameInSameOut(t *testing.T) {
	c, traces := libraryCircuit(t, "11")
	first := listing(makeSet(t, c, traces, sheet.Options{Header: someHeader}))
	for range 3 {
		if listing(makeSet(t, c, traces, sheet.Options{Header: someHeader})) != first {
			t.Fatal("a set came out differently")
		}
	}
}

const smallText = `circuit "One lamp, late"
caution "Lamps only."
supply 24 V dc
S1 switch "Feed"
KT1 on-delay 2 s
H1 lamp
1: S1.no -> KT1
2: KT1.notc -> H1
script "On and off"
  1 s close S1
  5 s open S1
  end 6 s
`

func TestGoldenSet(t *testing.T) {
	c, traces := readText(t, "small.tarry", []byte(smallText))
	opt := sheet.Options{Header: someHeader, Parts: []string{"drawing", "chart-blank", "chart-part", "chart-filled"}}
	casetest.Golden(t, "testdata/small.set", []byte(listing(makeSet(t, c, traces, opt))))
}

func TestLongWordsFold(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("extraordinarily long words ", 8))[:200]
	text := strings.NewReplacer(`"Feed"`, `"`+long+`"`, "One lamp, late", long, "Lamps only.", long).Replace(smallText)
	c, traces := readText(t, "long.tarry", []byte(text))
	if c.Devices[0].Label != long {
		t.Fatalf("the label came out as %q", c.Devices[0].Label)
	}
	h := sheet.Header{College: long, Author: long, Date: long, Revision: long, Variant: long, Exercise: strings.ReplaceAll(long, " ", "")}
	for look := range 4 {
		opt := sheet.Options{Header: h, Symbols: schematic.Tradition(look % 2), Layout: schematic.Layout(look / 2)}
		for _, part := range makeSet(t, c, traces, opt) {
			for n, p := range part.Pages {
				checkSheet(t, fmt.Sprintf("look %d, %s %d", look, part.Name, n+1), p)
			}
		}
	}
}

func TestReadOnly(t *testing.T) {
	for query, want := range map[string]bool{"39": true, "38": true, "5": false} {
		c, traces := libraryCircuit(t, query)
		if got := sheet.ReadOnly(c) != ""; got != want {
			t.Errorf("%s: read only %v", query, got)
		}
		for _, p := range makeSet(t, c, traces, sheet.Options{Parts: []string{"drawing"}})[0].Pages {
			if got := strings.Contains(page.List(p), "read-only"); got != want {
				t.Errorf("%s: warning across the sheet %v", query, got)
			}
		}
		drawings := schematic.Draw(c, schematic.Options{})
		before := len(drawings[0].Elements)
		sheet.WarnReadOnly(c, drawings)
		if got := len(drawings[0].Elements) > before; got != want {
			t.Errorf("%s: warning across the drawing %v", query, got)
		}
		for _, f := range page.Faults(drawings[0]) {
			t.Errorf("%s: %s", query, f)
		}
	}
}

func BenchmarkSet(b *testing.B) {
	c, traces := libraryCircuit(b, "5")
	var pages []*page.Page
	for b.Loop() {
		pages = nil
		for _, part := range makeSet(b, c, traces, sheet.Options{}) {
			pages = append(pages, part.Pages...)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/set")
	file, err := pdf.Encode(pages, pdf.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(file.Bytes))/1024, "KB")
	b.ReportMetric(float64(len(pages)), "pages")
}
