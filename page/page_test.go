package page_test

import (
	"os"
	"strings"
	"testing"

	"tarry/internal/casetest"

	"tarry/page"
)

func at(x, y page.Unit) page.Point { return page.Point{X: x, Y: y} }

// sample has every kind of shape and style on it.
func sample() *page.Page {
	p := &page.Page{Title: "Sample", Description: "One of each.\nNothing else.", Width: 100 * page.MM, Height: 60 * page.MM}
	shows := page.Shows{ID: "KT1.notc", Class: "timed-contact"}
	p.Add(
		page.Element{Shape: page.Line(at(500, 500), at(2000, 500)), Style: page.Style{Weight: page.Heavy, Ink: page.Live}, Shows: shows},
		page.Element{Shape: page.Poly{Points: []page.Point{at(500, 900), at(900, 700), at(1300, 900)}}, Style: page.Style{Weight: page.Medium, Dash: page.Dashed}, Shows: shows},
		page.Element{Shape: page.Poly{Points: []page.Point{at(500, 1500), at(900, 1300), at(1300, 1500)}, Closed: true}, Style: page.Style{Fill: page.Solid}},
		page.Element{Shape: page.Rect{Box: page.Box{Min: at(3000, 500), Max: at(4000, 900)}, Round: 50}, Style: page.Style{Weight: page.Thin, Fill: page.Knockout}},
		page.Element{Shape: page.Circle(at(5000, 1000), 300), Style: page.Style{Weight: page.Hair, Dash: page.Dotted, Ink: page.Faint}},
		page.Element{Shape: page.Arc{Centre: at(6000, 1000), Radius: 300, From: 30, Sweep: -240}, Style: page.Style{Weight: page.Thin}},
		page.Element{Shape: page.Hatch{Box: page.Box{Min: at(7000, 500), Max: at(8000, 900)}, Pitch: 150}, Style: page.Style{Weight: page.Hair, Ink: page.Timing}},
		page.Element{Shape: page.Text{At: at(5000, 3000), Anchor: page.Middle, Size: 400, Bold: true, Tabular: true, Words: "2.4 of 5 s"}},
		page.Element{Shape: page.Text{At: at(9000, 4000), Anchor: page.End, Size: 300, Words: "end\x1b[31m"}, Style: page.Style{Ink: page.Faint}},
	)
	return p
}

func TestListing(t *testing.T) {
	golden(t, "testdata/sample.txt", page.List(sample()))
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	if *casetest.Update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run the test with -update and look at the change:\n%s", name, got)
	}
}

func TestUnit(t *testing.T) {
	for u, want := range map[page.Unit]string{0: "0.00", 5: "0.05", 1234: "12.34", -250: "-2.50", -7: "-0.07"} {
		if got := u.String(); got != want {
			t.Errorf("%d: %s, want %s", u, got, want)
		}
	}
}

// The widths are those of Go Regular and Go Bold: a digit takes 1139/2048 of
// the size, an i 505/2048.
func TestWidth(t *testing.T) {
	for _, c := range []struct {
		words string
		bold  bool
		want  page.Unit
	}{
		{"", false, 0}, {"0123456789", false, 11390}, {"i", false, 505}, {"1.5 s", false, 1139 + 648 + 1139 + 569 + 1024},
		{"漢", false, 2048}, {"e\u0301", false, 1139}, {"\x00\u202e", false, 0}, {"W", true, 1933},
	} {
		if got := page.Width(c.words, 2048, c.bold); got != c.want {
			t.Errorf("%q: %d, want %d", c.words, got, c.want)
		}
	}
	for r := '0'; r <= '9'; r++ {
		if page.Width(string(r), 2048, true) != page.Width("0", 2048, false) {
			t.Errorf("%c is not as wide as the other figures", r)
		}
	}
}

func TestClean(t *testing.T) {
	got := page.Clean("a\tb\nc\x00d\x1b[2Je\u202ef\uFFFEg\xffh\u0085i")
	if want := "a b cd[2Jefg\uFFFDhi"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestFitAndFold(t *testing.T) {
	const size = 300
	words := "Cold-room fan run-on, left side of the drying tunnel"
	for width := page.Unit(0); width < 9000; width += 130 {
		if got := page.Fit(words, size, false, width); page.Width(got, size, false) > width {
			t.Fatalf("%q is wider than %v", got, width)
		}
		lines := page.Fold(words, size, false, width, 2)
		if len(lines) > 2 {
			t.Fatalf("%d lines", len(lines))
		}
		for _, l := range lines {
			if page.Width(l, size, false) > width {
				t.Fatalf("%q is wider than %v", l, width)
			}
		}
	}
	if got := page.Fit(words, size, false, 20000); got != words {
		t.Errorf("shortened for nothing: %q", got)
	}
	if got := strings.Join(page.Fold(words, size, false, 2500, 0), " "); got != words {
		t.Errorf("folding lost something: %q", got)
	}
}

// A number and its unit of time stay on one line, unless no line has room for both.
func TestFoldKeepsUnits(t *testing.T) {
	const size = 300
	words := "close S1 from 12 s to 20 s. Then (1.5 min) and 300 ms, at 2 h: 10 squares or 7 sorts."
	for width := page.Unit(700); width < 9000; width += 40 {
		lines := page.Fold(words, size, false, width, 0)
		if width > 1500 && strings.Join(lines, " ") != words {
			t.Fatalf("folding lost something: %q", lines)
		}
		for _, pair := range []string{"12 s", "20 s.", "(1.5 min)", "300 ms,", "2 h:"} {
			number, unit, _ := strings.Cut(pair, " ")
			for i, l := range lines {
				if page.Width(pair, size, false) <= width && i > 0 && strings.HasSuffix(lines[i-1], number) && strings.HasPrefix(l, unit) {
					t.Errorf("%v wide: %q", width, lines)
				}
			}
		}
	}
	if got := page.Fold("12 squares", size, false, page.Width("squares", size, false), 0); len(got) != 2 {
		t.Errorf("%q: squares are no unit", got)
	}
}

func TestHatchStaysInItsBoxAndMeetsItsNeighbour(t *testing.T) {
	left := page.Hatch{Box: page.Box{Min: at(-370, 20), Max: at(415, 500)}, Pitch: 130}
	right := page.Hatch{Box: page.Box{Min: at(415, 20), Max: at(1100, 500)}, Pitch: 130}
	ends := map[page.Unit]bool{}
	for _, h := range []page.Hatch{left, right} {
		if len(h.Lines()) < 7 {
			t.Errorf("only %d lines", len(h.Lines()))
		}
		for _, l := range h.Lines() {
			if !h.Box.Holds(page.Line(l[0], l[1]).Bounds()) || l[0].X+l[0].Y != l[1].X+l[1].Y {
				t.Errorf("line %v leaves %v or is not at 45 degrees", l, h.Box)
			}
			if l[1].X == 415 {
				ends[l[1].Y] = true
			}
		}
	}
	for _, l := range right.Lines() {
		if l[0].X == 415 && l[0].Y > 20 && l[0].Y < 500 && !ends[l[0].Y] {
			t.Errorf("no line of the left box meets %v", l[0])
		}
	}
	if n := len((page.Hatch{Box: left.Box}).Lines()); n != 0 {
		t.Errorf("%d lines without a pitch", n)
	}
}

func TestArcEnds(t *testing.T) {
	a := page.Arc{Centre: at(1000, 1000), Radius: 100, From: 90, Sweep: 180}
	if a.At(0) != at(1000, 1100) || a.At(90) != at(900, 1000) || a.At(180) != at(1000, 900) {
		t.Errorf("%v %v %v", a.At(0), a.At(90), a.At(180))
	}
	if b := page.Circle(at(0, 0), 250).Bounds(); b != (page.Box{Min: at(-250, -250), Max: at(250, 250)}) {
		t.Errorf("bounds of a circle: %v", b)
	}
}

func TestFaultsAreFound(t *testing.T) {
	text := func(x, y page.Unit, words string) page.Element {
		return page.Element{Shape: page.Text{At: at(x, y), Size: 300, Words: words}}
	}
	line := func(x1, y1, x2, y2 page.Unit) page.Element {
		return page.Element{Shape: page.Line(at(x1, y1), at(x2, y2)), Style: page.Style{Weight: page.Hair, Ink: page.Faint}}
	}
	ground := page.Element{Shape: page.Rect{Box: page.Box{Min: at(900, 700), Max: at(2500, 1100)}}, Style: page.Style{Fill: page.Knockout}}
	for _, c := range []struct {
		name string
		list []page.Element
		want int
	}{
		{"nothing wrong", []page.Element{text(1000, 1000, "words"), line(900, 1100, 3000, 1100)}, 0},
		{"text over text", []page.Element{text(1000, 1000, "words"), text(1100, 1100, "more")}, 1},
		{"struck through", []page.Element{text(1000, 1000, "words"), line(900, 950, 3000, 900)}, 1},
		{"struck before", []page.Element{line(900, 950, 3000, 900), text(1000, 1000, "words")}, 1},
		{"slanting past a corner", []page.Element{text(1000, 1000, "words"), line(500, 900, 1400, 500)}, 0},
		{"kept clear", []page.Element{line(900, 950, 3000, 900), ground, text(1000, 1000, "words")}, 0},
		{"covered", []page.Element{text(1000, 1000, "words"), ground}, 1},
		{"off the page", []page.Element{text(9900, 1000, "words"), line(0, 0, 10001, 0)}, 2},
	} {
		p := &page.Page{Width: 10000, Height: 5000, Elements: c.list}
		if got := page.Faults(p); len(got) != c.want {
			t.Errorf("%s: %q, want %d", c.name, got, c.want)
		}
	}
}
