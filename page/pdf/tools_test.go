package pdf_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"tarry/chart"
	"tarry/engine"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
	"tarry/page/pdf"
)

// tool runs a program of somebody else's and returns what it writes. Without
// the program the test fails: make test installs it.
func tool(t *testing.T, env []string, name string, args ...string) []byte {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Fatalf("%s is not here; make test installs it (Debian: poppler-utils, qpdf, librsvg2-bin)", name)
	}
	cmd := exec.Command(path, args...)
	cmd.Env = append(os.Environ(), env...)
	var out, complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil || complaints.Len() > 0 {
		t.Fatalf("%s %q: %v\n%s%s", name, args, err, complaints.Bytes(), out.Bytes())
	}
	return out.Bytes()
}

func encode(t testing.TB, opt pdf.Options, pages ...*page.Page) pdf.Result {
	t.Helper()
	r, err := pdf.Encode(pages, opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// saved writes a file for the tools and returns its name.
func saved(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// chartPage draws the first script of a circuit of the library.
func chartPage(t testing.TB, query string) *page.Page {
	t.Helper()
	e, ok := library.Find(query)
	if !ok {
		t.Fatalf("no circuit %s", query)
	}
	read, _ := notation.Read(e.Name, e.Text)
	p, err := chart.Draw(engine.Run(read.Circuit, &read.Circuit.Scripts[0], engine.Options{}), chart.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The circuits whose charts the tests look at.
var charts = []string{"05", "09", "22"}

func at(x, y page.Unit) page.Point { return page.Point{X: x, Y: y} }

func box(x1, y1, x2, y2 page.Unit) page.Box { return page.Box{Min: at(x1, y1), Max: at(x2, y2)} }

// sample has every kind of shape on it in every weight, with every pattern,
// ink and fill.
func sample() *page.Page {
	p := &page.Page{Title: "Sample", Width: 20000, Height: 12000}
	for w := page.Hair; w <= page.Heavy; w++ {
		for d := page.Full; d <= page.Dotted; d++ {
			y := 800*page.Unit(w) + 150*page.Unit(d)
			style := page.Style{Weight: w, Dash: d, Ink: page.Ink(uint8(w) % 4)}
			p.Add(page.Element{Shape: page.Line(at(500, y), at(3000, y)), Style: style},
				page.Element{Shape: page.Poly{Points: []page.Point{at(3500, y), at(4500, y+60), at(4700, y-300), at(5500, y)}}, Style: style})
		}
	}
	x := page.Unit(1500)
	for f := page.NoFill; f <= page.Knockout; f++ {
		for k := page.Black; k <= page.Timing; k++ {
			style := page.Style{Weight: page.Thin + page.Weight(k%3), Ink: k, Fill: f}
			p.Add(
				page.Element{Shape: page.Hatch{Box: box(x-650, 4300, x+650, 6500), Pitch: 150}, Style: page.Style{Weight: page.Hair, Ink: k}},
				page.Element{Shape: page.Rect{Box: box(x-500, 4500, x+500, 5000)}, Style: style},
				page.Element{Shape: page.Rect{Box: box(x-500, 5200, x+500, 6300), Round: 200}, Style: style},
				page.Element{Shape: page.Circle(at(x, 7200), 400), Style: style},
				page.Element{Shape: page.Arc{Centre: at(x, 8200), Radius: 400, From: 30 * int(k), Sweep: 100 * int(f+1)}, Style: style},
				page.Element{Shape: page.Arc{Centre: at(x, 9200), Radius: 400, From: 200, Sweep: -250}, Style: page.Style{Weight: page.Medium, Ink: k, Dash: page.Dash(f)}},
				page.Element{Shape: page.Poly{Points: []page.Point{at(x-500, 10500), at(x, 9800), at(x+500, 10500)}, Closed: true}, Style: style},
			)
			x += 1500
		}
	}
	for i, a := range []page.Anchor{page.Start, page.Middle, page.End} {
		for j := range 4 {
			p.Add(page.Element{
				Shape: page.Text{At: at(12500, 600+270*page.Unit(4*i+j)), Anchor: a, Size: 250 + 50*page.Unit(j%2), Bold: j > 1, Words: fmt.Sprintf("Öl %d: 2.4 of 5 s ± 1 %% → KT%d", i, j)},
				Style: page.Style{Ink: page.Ink(j)},
			})
		}
	}
	return p
}
