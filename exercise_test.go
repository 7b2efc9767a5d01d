package tarry

import (
	"fmt"
	"testing"

	"tarry/exercise"
	"tarry/page"
	"tarry/sheet"
)

// TestExercisePages looks for words that collide on the sheets of every level, and
// holds each exercise to a sheet of its own with its boxes for the name.
func TestExercisePages(t *testing.T) {
	for _, l := range exercise.Levels() {
		for _, size := range []sheet.Paper{sheet.A4, sheet.Letter} {
			list, err := exercise.Make(l.Name, "SPRING-07", 5)
			if err != nil {
				t.Fatal(err)
			}
			b := exerciseBook{list: list, opt: sheet.Options{Paper: size}}
			set, err := b.sheetParts()
			if err != nil {
				t.Fatal(err)
			}
			names, keys := 0, 0
			for _, part := range set {
				if part.Name == "key" {
					keys += len(part.Pages)
				} else if keys > 0 || len(part.Pages) != 1 {
					t.Errorf("%s: %s has %d sheets, %d keys stand before it", l.Name, part.Title, len(part.Pages), keys)
				}
				for i, p := range part.Pages {
					names += held(t, fmt.Sprintf("%s, %s, sheet %d", l.Name, part.Title, i+1), p)
				}
			}
			if names != 5 || keys == 0 {
				t.Errorf("%s: %d sheets have a box for the name, %d are keys", l.Name, names, keys)
			}
		}
	}
}

// held looks for words that collide and for ink beyond the paper, and counts the
// boxes for a name.
func held(t *testing.T, where string, p *page.Page) (names int) {
	for _, fault := range page.Faults(p) {
		t.Errorf("%s: %s", where, fault)
	}
	paper := page.Box{Max: page.Point{X: p.Width, Y: p.Height}}
	for _, e := range p.Elements {
		if !paper.Holds(e.Shape.Bounds()) {
			t.Errorf("%s: %v is beyond the paper", where, e.Shape)
		}
		if words, ok := e.Shape.(page.Text); ok && words.Words == "name" && e.Shows.Class == "learner-box" {
			names++
		}
	}
	return names
}

// TestExerciseOfManyRungs: what is too large for one sheet goes over several, with
// the words beside the chart.
func TestExerciseOfManyRungs(t *testing.T) {
	for _, name := range []string{"8", "11", "20", "24"} {
		e, err := LibraryFind(name)
		if err != nil {
			t.Fatal(err)
		}
		list, err := exercise.Vary(e.Name, e.Text, "SPRING-07", 1, exercise.VaryOptions{})
		if err != nil {
			continue // some leave nothing to vary
		}
		b := exerciseBook{list: list}
		set, err := b.sheetParts()
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range set {
			for i, p := range part.Pages {
				held(t, fmt.Sprintf("circuit %s, %s, sheet %d", name, part.Title, i+1), p)
			}
		}
	}
}
