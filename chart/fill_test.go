package chart_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/chart"
	"tarry/engine"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
	"tarry/trace"
)

// inLibrary calls visit with the run of every script of the library.
func inLibrary(visit func(name string, t *trace.Trace)) {
	for _, entry := range library.All() {
		file, _ := notation.Read(entry.Name, entry.Text)
		for i := range file.Circuit.Scripts {
			visit(entry.Name, engine.Run(file.Circuit, &file.Circuit.Scripts[i], engine.Options{}))
		}
	}
}

func TestFillsCollideNowhere(t *testing.T) {
	inLibrary(func(name string, tr *trace.Trace) {
		half := tr.End / 2
		for _, opt := range []chart.Options{
			{Fill: chart.Blank}, {Fill: chart.Blank, NoStart: true, Bare: true}, {Fill: chart.PartFilled, Bare: true},
			{Compact: true, Bare: true, NoLegend: true, Cursor: &half, Width: 12500},
		} {
			for _, f := range page.Faults(draw(t, tr, opt)) {
				t.Errorf("%s, %s, %+v: %s", name, tr.Script, opt, f)
			}
		}
	})
}

// classes lists which classes of elements a page shows, and of which rows.
func classes(p *page.Page) map[string][]string {
	found := map[string][]string{}
	for _, e := range p.Elements {
		if c := e.Shows.Class; c != "" && !slices.Contains(found[c], e.Shows.ID) {
			found[c] = append(found[c], e.Shows.ID)
		}
	}
	return found
}

// TestBlankGivesNothingAway holds that what a learner is to find stands nowhere
// on the chart, its description for screen readers included.
func TestBlankGivesNothingAway(t *testing.T) {
	inLibrary(func(name string, tr *trace.Trace) {
		p := draw(t, tr, chart.Options{Fill: chart.Blank, Bare: true, NoStart: true})
		found := classes(p)
		for _, class := range []string{"guide", "timing", "dimension", "dimension-words", "notice", "state"} {
			if class == "state" { // the ends of a ramp's scale are on the drawing too
				found[class] = slices.DeleteFunc(found[class], func(id string) bool { return strings.HasSuffix(id, ".elapsed") })
			}
			if len(found[class]) > 0 {
				t.Errorf("%s: %s of %v", name, class, found[class])
			}
		}
		if strings.Contains(p.Description, " from ") || !strings.Contains(p.Description, "to be drawn") {
			t.Errorf("%s: %s", name, p.Description)
		}
		if len(found["square"]) != len(chart.Rows(tr)) {
			t.Errorf("%s: squares in %v", name, found["square"])
		}
	})
}

func TestSquares(t *testing.T) {
	inLibrary(func(name string, tr *trace.Trace) {
		last := map[string]page.Unit{}
		for _, e := range draw(t, tr, chart.Options{Fill: chart.Blank}).Elements {
			b := e.Shape.Bounds()
			if e.Shows.Class != "square" || b.Width() != 0 {
				continue
			}
			if b.Height() != 600 {
				t.Fatalf("%s: a square of %v", name, b.Height())
			}
			if x, ok := last[e.Shows.ID]; ok && (b.Min.X-x < 400 || b.Min.X-x > 3000) {
				t.Errorf("%s, %s: a square is %v wide", name, tr.Script, b.Min.X-x)
			}
			last[e.Shows.ID] = b.Min.X
		}
	})
}

func TestPartFilled(t *testing.T) {
	tr := cases()["dabbed-then-held"]
	p := draw(t, tr, chart.Options{Fill: chart.PartFilled, NoStart: true})
	found := classes(p)
	if len(found["hand"]) == 0 || len(found["coil"]) == 0 || len(found["timed-contact"])+len(found["load"]) > 0 {
		t.Errorf("drawn are %v", found)
	}
}

func TestCursor(t *testing.T) {
	tr := cases()["dabbed-then-held"]
	var before page.Unit
	for _, at := range []time.Duration{0, tr.End / 2, tr.End} {
		for _, e := range draw(t, tr, chart.Options{Cursor: &at}).Elements {
			if e.Shows.Class == "cursor" {
				if x := e.Shape.Bounds().Min.X; x <= before {
					t.Errorf("the cursor stands at %v, then at %v", before, x)
				} else {
					before = x
				}
				break
			}
		}
	}
}
