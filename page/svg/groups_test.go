package svg_test

import (
	"strings"
	"testing"

	"tarry/page"
	"tarry/page/svg"
)

func mark(id, class string, fill page.Fill) page.Element {
	return page.Element{Shape: page.Circle(page.Point{X: 100, Y: 100}, 50), Style: page.Style{Weight: page.Thin, Fill: fill},
		Shows: page.Shows{ID: id, Class: class}}
}

// TestGroupsAreOneAThing asks for one group for each Shows, in order, with the
// same id and body whatever else is drawn.
func TestGroupsAreOneAThing(t *testing.T) {
	a, b, c := mark("K1.no:13", "live", page.NoFill), mark("K1.no:13", "mark-open", page.Knockout), mark("wire 4 1,2 3,2", "live", page.NoFill)
	all := svg.Groups([]page.Element{a, b, c, a}, svg.Options{Prefix: "m-"})
	if len(all) != 3 {
		t.Fatalf("%d groups", len(all))
	}
	if n := strings.Count(all[0].Body, "<circle"); n != 2 || strings.Count(all[1].Body, "<circle") != 1 {
		t.Errorf("the first group has %d circles:\n%s", n, all[0].Body)
	}
	if all[0].Shows != "K1.no:13" || all[0].Class != "live" || !strings.HasPrefix(all[0].ID, "m-K1.no") {
		t.Errorf("%+v", all[0])
	}
	alone := svg.Groups([]page.Element{c}, svg.Options{Prefix: "m-"})
	if len(alone) != 1 || alone[0] != all[2] {
		t.Errorf("alone it is %+v, among others %+v", alone, all[2])
	}
}

// TestGroupIDsDiffer draws things whose names differ only in what an id does
// not allow.
func TestGroupIDsDiffer(t *testing.T) {
	var list []page.Element
	for _, id := range []string{"a b", "a_b", "a_20_b", "ä1", "ü1", "", "a", "a_", "a:", "漢"} {
		for _, class := range []string{"", "b", "b c", "b_c", "_b"} {
			list = append(list, mark(id, class, page.NoFill))
		}
	}
	seen := map[string]string{}
	for _, g := range svg.Groups(list, svg.Options{Prefix: "p "}) {
		if other, ok := seen[g.ID]; ok && g.ID != "" {
			t.Errorf("%q of %q and of %q", g.ID, g.Shows+"|"+g.Class, other)
		}
		seen[g.ID] = g.Shows + "|" + g.Class
		if strings.ContainsAny(g.ID, " \"<>&'") {
			t.Errorf("id %q", g.ID)
		}
	}
	if len(seen) != len(list) {
		t.Errorf("%d ids for %d things", len(seen), len(list))
	}
}

func TestHostileWordsInGroups(t *testing.T) {
	for _, h := range hostile {
		groups := svg.Groups(drawing(h).Elements, svg.Options{Embed: true, Prefix: h})
		file := `<svg xmlns="http://www.w3.org/2000/svg">`
		for _, g := range groups {
			file += `<g id="` + g.ID + `" class="` + g.Class + `">` + g.Body + "</g>"
		}
		elements, _ := parse(t, []byte(file+"</svg>"))
		for _, e := range elements {
			switch e.Name.Local {
			case "svg", "g", "text", "path":
			default:
				t.Errorf("%q makes a %s", h, e.Name.Local)
			}
		}
	}
}

// TestEmbedded asks for a drawing that an HTML page can size and recolour.
func TestEmbedded(t *testing.T) {
	p := &page.Page{Width: 9000, Height: 5000}
	p.Add(mark("a", "mark", page.Solid), mark("b", "mark", page.Knockout), mark("c", "mark", page.NoFill),
		page.Element{Shape: page.Text{Size: 300, Words: "words"}})
	file := svg.Encode(p, svg.Options{Embed: true, Prefix: "x-"})
	elements, _ := parse(t, file)
	if w := attribute(elements[0], "width") + attribute(elements[0], "height"); w != "" || attribute(elements[0], "viewBox") != "0 0 9000 5000" {
		t.Errorf("sized %q, view box %q", w, attribute(elements[0], "viewBox"))
	}
	var classes []string
	for _, e := range elements {
		switch e.Name.Local {
		case "circle", "text", "rect":
			classes = append(classes, attribute(e, "class"))
		case "g", "title", "desc":
			if id := attribute(e, "id"); !strings.HasPrefix(id, "x-") {
				t.Errorf("id %q has no prefix", id)
			}
		}
	}
	if got := strings.Join(classes, "|"); got != "ink thin filled|ink thin knockout|ink thin|ink" {
		t.Errorf("classes %q", got)
	}
	if plain := string(svg.Encode(p, svg.Options{})); strings.Contains(plain, "filled") || !strings.Contains(plain, `width="90.00mm"`) {
		t.Errorf("without the option:\n%s", plain)
	}
}
