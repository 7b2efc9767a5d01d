package tarry

import (
	"fmt"
	"strings"
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

// TestAfterImport: below the heading of the first question stands all that the test
// system shows of it: the drawing, the chart that is given, and those to choose from.
func TestAfterImport(t *testing.T) {
	for _, l := range exercise.Levels() {
		list, err := exercise.Make(l.Name, "SPRING-07", 2)
		if err != nil {
			t.Fatal(err)
		}
		set := &exercise.Set{Title: "Exercises"}
		for i := range list {
			q, err := exercise.Choices(&list[i], exercise.ChoiceOptions{})
			if err != nil {
				t.Fatal(err)
			}
			set.Questions = append(set.Questions, q)
		}
		b := exerciseBook{list: list}
		pages, err := b.importPages("qti21", set)
		if err != nil {
			t.Fatal(err)
		}
		heading, drawn, charts := -1, 0, 0
		for i, p := range pages {
			held(t, fmt.Sprintf("%s, sheet %d", l.Name, i+1), p)
			for _, e := range p.Elements {
				switch words, is := e.Shape.(page.Text); {
				case is && strings.HasPrefix(words.Words, "Question 1:"):
					heading = drawn + charts
				case e.Shows.Class == "rail":
					drawn++
				case e.Shows.Class == "axis" && is && words.Words == "s":
					charts++
				}
			}
		}
		if want := len(set.Questions[0].Options) + 1; heading != 0 || drawn == 0 || charts != want {
			t.Errorf("%s: %d pictures stand above the heading; %d rails, %d charts of %d", l.Name, heading, drawn, charts, want)
		}
	}
}

// TestKeysWithLongTitles: a title that is too long for the paper is cut on the keys too.
func TestKeysWithLongTitles(t *testing.T) {
	text := "circuit \"" + strings.Repeat("Four timers at the sizer, ", 12) + "\"\nS1 switch\nKT1 on-delay 5 s\nH1 lamp\n1: S1.no -> KT1\n2: KT1.notc -> H1\n" +
		"script \"a\"\n2 s close S1 for 10 s\nend 20 s\n"
	list, err := exercise.Vary("long", []byte(text), "A", 2, exercise.VaryOptions{})
	if err != nil {
		t.Fatal(err)
	}
	b := exerciseBook{list: list}
	set, err := b.sheetParts()
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range set {
		for i, p := range part.Pages {
			held(t, fmt.Sprintf("%s, sheet %d", part.Title, i+1), p)
		}
	}
}

// TestNoExerciseOfIt: what must not be built is no exercise, nor are sets without end.
func TestNoExerciseOfIt(t *testing.T) {
	for _, x := range []struct {
		r     ExerciseRequest
		words string
	}{
		{ExerciseRequest{Source: Source{Name: "x", Text: []byte("caution \"Read only: do not build this.\"\nS1 switch\nH1 lamp\n1: S1.no -> H1\nscript \"a\"\n2 s close S1 for 3 s\nend 9 s\n")}, Count: 1, Variant: "A"}, "Read only: do not build this"},
		{ExerciseRequest{Source: Source{Name: "x", Text: []byte("S1 switch\nH1 lamp\n1: S1.no -> H1\n")}, Count: 1, Variant: "A"}, "no script"},
		{ExerciseRequest{Level: "chain", Count: 501, Variant: "A"}, "too many"},
	} {
		if _, err := MakeExercises(x.r); err == nil || !strings.Contains(err.Error(), x.words) {
			t.Errorf("%v, want %s", err, x.words)
		}
	}
}
