package sheet_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tarry/exercise"
	"tarry/library"
	"tarry/page"
	"tarry/schematic"
	"tarry/sheet"
)

// tasksOf are exercises to lay out: some levels, and variants of some circuits.
func tasksOf(t *testing.T) map[string]sheet.Task {
	t.Helper()
	tasks := map[string]sheet.Task{}
	add := func(name string, list []exercise.Exercise, err error) {
		if err != nil {
			t.Fatal(err)
		}
		e := &list[0]
		tasks[name] = sheet.Task{Name: "Exercise 1", About: e.Title, Number: "1", Variant: e.Code, Trace: e.Trace(), Chart: e.ChartOptions(),
			Words: []string{"Draw " + strings.Join(e.Asked, ", ") + ". " + exercise.ScriptWords(e.Circuit, e.Script) + "."}}
	}
	for _, level := range []string{"chain", "sequence", "timers"} {
		list, err := exercise.Make(level, "B2", 1)
		add(level, list, err)
	}
	for name, asked := range map[string][]string{"5": nil, "8": nil, "10": nil, "11": {"M1", "M2", "H1"}, "14": nil} {
		x, _ := library.Find(name)
		list, err := exercise.Vary(x.Name, x.Text, "B2", 1, exercise.VaryOptions{Asked: asked})
		add(name, list, err)
	}
	return tasks
}

// TestTaskPages: the drawing and the chart of an exercise collide with nothing, in
// whatever way the drawing is cut, and can be read.
func TestTaskPages(t *testing.T) {
	for name, task := range tasksOf(t) {
		for _, opt := range []sheet.Options{{}, {Paper: sheet.Letter}, {Symbols: schematic.American},
			{Paper: sheet.Letter, Symbols: schematic.American}, {Layout: schematic.Paths}, {Paper: sheet.Letter, Layout: schematic.Paths},
			{Symbols: schematic.American, Layout: schematic.Paths}, {Paper: sheet.Letter, Symbols: schematic.American, Layout: schematic.Paths}} {
			set, err := sheet.Tasks("Exercises", []sheet.Task{task}, nil, opt)
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range set[0].Pages {
				where := fmt.Sprintf("%s, paper %d, symbols %d, layout %d, sheet %d", name, opt.Paper, opt.Symbols, opt.Layout, i+1)
				for _, fault := range page.Faults(p) {
					t.Errorf("%s: %s", where, fault)
				}
				paper := page.Box{Max: page.Point{X: p.Width, Y: p.Height}}
				if slices.ContainsFunc(p.Elements, func(e page.Element) bool { return !paper.Holds(e.Shape.Bounds()) }) {
					t.Errorf("%s: something is beyond the paper", where)
				}
			}
		}
	}
}

// TestTaskInColumns: a drawing that one column would make small stands in two, and
// one that fits is not cut.
func TestTaskInColumns(t *testing.T) {
	tasks := tasksOf(t)
	for _, x := range []struct {
		name   string
		layout schematic.Layout
		pieces int
	}{
		{"chain", schematic.Rungs, 1}, {"5", schematic.Rungs, 1}, {"14", schematic.Rungs, 1},
		{"sequence", schematic.Rungs, 2}, {"timers", schematic.Rungs, 2}, {"8", schematic.Rungs, 2}, {"10", schematic.Rungs, 2},
		{"chain", schematic.Paths, 1}, {"timers", schematic.Paths, 2},
	} {
		set, err := sheet.Tasks("Exercises", []sheet.Task{tasks[x.name]}, nil, sheet.Options{Layout: x.layout})
		if err != nil {
			t.Fatal(err)
		}
		if len(set[0].Pages) != 1 {
			t.Fatalf("%s: %d sheets", x.name, len(set[0].Pages))
		}
		rails := 0
		for _, e := range set[0].Pages[0].Elements {
			if e.Shows.Class == "rail" {
				rails++
			}
		}
		if rails != 2*x.pieces {
			t.Errorf("%s, layout %d: %d rails, want %d pieces", x.name, x.layout, rails, x.pieces)
		}
	}
}

// TestTaskPiecesAreNamed: pieces that refer to each other have names.
func TestTaskPiecesAreNamed(t *testing.T) {
	var b strings.Builder
	b.WriteString("circuit \"Shared\"\nsupply 24 V dc\nS1 switch\nS2 switch\n")
	for i := range 14 {
		fmt.Fprintf(&b, "H%d lamp white \"Lamp\"\n", i+1)
	}
	b.WriteString("1: S1.no -> @fed\n")
	for i := range 14 {
		fmt.Fprintf(&b, "%d: @fed S2.no -> H%d\n", i+2, i+1)
	}
	b.WriteString("script \"x\"\n1 s close S1\n3 s close S2\nend 9 s\n")
	_, traces := readText(t, "shared", []byte(b.String()))
	task := sheet.Task{Name: "Exercise 1", Trace: traces[0]}
	task.Chart.Rows = []string{"S1.no", "S2.no", "H1"}
	set, err := sheet.Tasks("Exercises", []sheet.Task{task}, nil, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var names, references []string
	for _, e := range set[0].Pages[0].Elements {
		words, is := e.Shape.(page.Text)
		switch {
		case is && e.Shows.Class == "piece":
			names = append(names, words.Words)
		case is && e.Shows.Class == "reference":
			references = append(references, words.Words)
		}
	}
	if len(set[0].Pages) != 1 || !slices.Contains(names, "Drawing 2") || !slices.ContainsFunc(references, func(r string) bool { return strings.HasSuffix(r, "→ drawing 2") }) {
		t.Errorf("%d sheets, names %q, references %q", len(set[0].Pages), names, references)
	}
	for _, fault := range page.Faults(set[0].Pages[0]) {
		t.Error(fault)
	}
}
