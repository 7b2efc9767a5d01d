package svg_test

import (
	"strings"
	"testing"

	"tarry/page"
	"tarry/page/svg"
)

// TestEmbeddedStrokesBecomeOnePath: strokes of one thing that look alike are one
// path, but nothing moves past what hides it.
func TestEmbeddedStrokesBecomeOnePath(t *testing.T) {
	thin, heavy := page.Style{Weight: page.Thin}, page.Style{Weight: page.Heavy}
	hide := page.Style{Fill: page.Knockout}
	row := page.Shows{ID: "H1", Class: "load"}
	line := func(x page.Unit, s page.Style) page.Element {
		return page.Element{Shape: page.Line(page.Point{X: x}, page.Point{X: x, Y: 10}), Style: s, Shows: row}
	}
	p := &page.Page{Width: 100, Height: 100}
	p.Add(line(1, thin), line(2, heavy), line(3, thin),
		page.Element{Shape: page.Rect{Box: page.Box{Max: page.Point{X: 9, Y: 9}}}, Style: hide, Shows: row}, line(4, thin))
	got := svg.Shapes(p, svg.Options{Embed: true, NoPaper: true})
	want := `<g id="H1" data-shows="H1" class="load">
<path d="M1 0L1 10M3 0L3 10" class="ink thin"/>
<path d="M2 0L2 10" class="ink heavy" stroke-linecap="butt"/>
<rect x="0" y="0" width="9" height="9" class="ink knockout"/>
<path d="M4 0L4 10" class="ink thin"/>
</g>
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestRunsAreTheDrawing: the groups of a drawing, put together, are the drawing.
func TestRunsAreTheDrawing(t *testing.T) {
	a, b := page.Shows{ID: "A", Class: "x"}, page.Shows{ID: "B"}
	p := &page.Page{Width: 100, Height: 100}
	for i, s := range []page.Shows{a, a, b, a, {}} {
		p.Add(page.Element{Shape: page.Circle(page.Point{X: page.Unit(i)}, 5), Style: page.Style{Weight: page.Thin}, Shows: s})
	}
	opt := svg.Options{Embed: true, NoPaper: true}
	whole, ids := svg.Shapes(p, opt), map[string]bool{}
	for _, g := range svg.Runs(p, opt) {
		if i := strings.Index(whole, g.Body); i < 0 {
			t.Errorf("%q is not in what is left of the drawing", g.Body)
		} else {
			whole = whole[i+len(g.Body):]
		}
		if ids[g.ID] || g.ID == "" {
			t.Errorf("id %q stands twice, or is none", g.ID)
		}
		ids[g.ID] = true
	}
	if len(ids) != 4 {
		t.Errorf("%d groups, not 4", len(ids))
	}
}
