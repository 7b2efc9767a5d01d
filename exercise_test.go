package tarry

import (
	"testing"

	"tarry/exercise"
	"tarry/page"
	paper "tarry/report"
	"tarry/schematic"
)

// TestExercisePages looks for words that collide on the sheets of every level, and
// holds each exercise to a sheet of its own with its boxes for the name.
func TestExercisePages(t *testing.T) {
	for _, l := range exercise.Levels() {
		for _, size := range []paper.Paper{paper.A4, paper.Letter} {
			list, err := exercise.Make(l.Name, "SPRING-07", 5)
			if err != nil {
				t.Fatal(err)
			}
			b := exerciseBook{list: list, paper: size, style: schematic.Options{Bare: true}}
			pages, err := b.sheetPages()
			if err != nil {
				t.Fatal(err)
			}
			names, keys := 0, 0
			for i, p := range pages {
				for _, fault := range page.Faults(p) {
					t.Errorf("%s, page %d: %s", l.Name, i+1, fault)
				}
				paper := page.Box{Max: page.Point{X: p.Width, Y: p.Height}}
				for _, e := range p.Elements {
					if !paper.Holds(e.Shape.Bounds()) {
						t.Errorf("%s, page %d: %v is beyond the paper", l.Name, i+1, e.Shape)
					}
					if words, ok := e.Shape.(page.Text); ok && words.Words == "Name" {
						names++
					}
				}
				if p.Title == "Key" {
					keys++
				} else if keys > 0 {
					t.Errorf("%s: page %d stands behind the keys", l.Name, i+1)
				}
			}
			if names != 5 || keys == 0 {
				t.Errorf("%s: %d of %d sheets have a box for the name, %d are keys", l.Name, names, len(pages), keys)
			}
		}
	}
}
