package tarry_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"tarry"
)

// markTable marks a table against the dab circuit.
func markTable(t *testing.T, table, form string, change func(*tarry.MarkRequest)) (output string, leftOut []string) {
	t.Helper()
	r := tarry.MarkRequest{Source: dabSource(), Answers: answersOf("a.csv", "learner,item,signal,answer\n"+table), Form: form}
	if change != nil {
		change(&r)
	}
	out, err := tarry.Mark(r)
	if err != nil && !errors.Is(err, tarry.ErrInput) {
		t.Fatal(err)
	}
	return string(out.Output), out.LeftOut
}

// TestNothingToMark: an answer of which no line can be marked is listed, with the
// places of its lines, and counts nowhere.
func TestNothingToMark(t *testing.T) {
	table := "Ada,2,H1,on 7 s .. 12 s\nBen,2,H9,never\nCy,2,H1,on 77 s .. 99 s\nDi,2,h1,never\nEd,2,H1,\n"
	text, left := markTable(t, table, "", nil)
	if !strings.Contains(text, "3 answers by 3 learners") || !strings.Contains(text, "Di · Whole time · 0 of 2") || !strings.Contains(text, "Ed · Whole time · 0 of 2") ||
		!strings.Contains(text, "H1 has no line yet") || strings.Contains(text, "Ben") || strings.Contains(text, "Cy") {
		t.Error(text)
	}
	want := []string{
		`a.csv, line 3: Ben, "Whole time": “H9” is no signal of this circuit. It was not marked.`,
		`a.csv, line 3: Ben, "Whole time": nothing of this answer could be marked, so it does not count.`,
		`a.csv, line 4: Cy, "Whole time": 1 min 17 s lies behind the end of the run at 16 s, and was taken for the end in the line for “H1”. Write end for what lasts to the end.`,
		`a.csv, line 4: Cy, "Whole time": nothing of this answer could be marked, so it does not count.`,
	}
	if !slices.Equal(left, want) {
		t.Errorf("left out:\n%s", strings.Join(left, "\n"))
	}
	for _, form := range []string{"csv", "json"} {
		text, _ := markTable(t, table, form, nil)
		if rows, _, _ := strings.Cut(text, "leftOut"); strings.Contains(rows, "Ben") || strings.Contains(rows, "Cy") || !strings.Contains(rows, "Di") {
			t.Errorf("%s: %s", form, text)
		}
	}
	class, err := tarry.Class(tarry.ClassRequest{Source: dabSource(), Answers: []tarry.AnswerFile{answersOf("a.csv", "learner,item,signal,answer\n"+table)}})
	if err != nil || class.Marked != 3 {
		t.Errorf("class: %v, %d marked", err, class.Marked)
	}
	_, left = markTable(t, "Ada,2,H1,never\nBen,2,KT1,never\n", "", func(r *tarry.MarkRequest) { r.Rows = []string{"h1"} })
	if len(left) != 2 || !strings.Contains(left[0], "line 3") || !strings.Contains(left[0], "not asked for") || !strings.Contains(left[1], "does not count") {
		t.Errorf("rows that were named: %q", left)
	}
}

// TestOwnRows marks an answer that draws other rows than most on its own.
func TestOwnRows(t *testing.T) {
	text, left := markTable(t, "Ada,2,H1,on 7 s .. 12 s\nBen,2,H1,never\nCy,2,KT1,on 2 s .. 12 s\nCy,2,H9,never\n", "", nil)
	if !strings.Contains(text, "Cy · Whole time · 2 of 2") || !strings.Contains(text, "Ada · Whole time · 2 of 2") {
		t.Error(text)
	}
	if len(left) != 2 || !strings.HasPrefix(left[0], "a.csv, line 4: Cy") || !strings.Contains(left[0], "marked on its own rows") || !strings.HasPrefix(left[1], "a.csv, line 5: Cy") {
		t.Errorf("%q", left)
	}
}

// TestToleranceInSquares takes a grid's own squares, or those of the chart: half a
// second here.
func TestToleranceInSquares(t *testing.T) {
	for _, k := range []struct{ answer, tolerance, points, about string }{
		{"H1 on 7.25 s .. 12 s", "half a square", "2 of 2", "half a square (250 ms on the chart) off"},
		{"H1 on 7.3 s .. 12 s", "half a square", "1 of 2", ""},
		{"H1 on 7.5 s .. 12 s", "1 square", "2 of 2", "1 square (500 ms on the chart) off"},
		{"H1 on 7.5 s .. 12 s", "a square", "2 of 2", ""},
		{"H1 on 8 s .. 12 s", "2 Squares", "2 of 2", "2 squares (1 s on the chart) off"},
		{"H1 on 8.1 s .. 12 s", "2 squares", "1 of 2", ""},
		{"H1 on 8.1 s .. 12 s", "2.25 squares", "2 of 2", "2.25 squares (1.125 s on the chart) off"},
		{"square 1 s\nH1 | ________####_", "1 square", "2 of 2", ""}, // on from 8 s
		{"square 1 s\nH1 | _________###_", "1 square", "1 of 2", ""},
		{"square 1 s\nH1 | _________###_", "2 squares", "2 of 2", ""},
	} {
		out, err := tarry.Mark(tarry.MarkRequest{Source: dabSource(), Tolerance: k.tolerance,
			Answers: answersOf("a.txt", "learner Ada\nitem 2\n"+k.answer+"\n")})
		text := strings.Join(strings.Fields(string(out.Output)), " ")
		if err != nil || !strings.Contains(text, "Ada · Whole time · "+k.points) || !strings.Contains(text, k.about) {
			t.Errorf("%s, %s: %v\n%s", k.answer, k.tolerance, err, text)
		}
	}
	for _, tolerance := range []string{"soon", "0 squares", "-1 squares", "squares", "1e9 squares", "NaN squares", "1.0001 squares", ". squares", "1.2.3 squares", "half", "inf squares"} {
		_, err := tarry.Mark(tarry.MarkRequest{Source: dabSource(), Tolerance: tolerance, Answers: answersOf("a.csv", "")})
		if err == nil || !strings.Contains(err.Error(), `neither a time nor a number of squares; write one such as 0.5s, "half a square"`) {
			t.Errorf("%s: %v", tolerance, err)
		}
	}
}

// TestAskNextWithOneRowMore: where no script parts the ideas by the same rows, one
// row more does.
func TestAskNextWithOneRowMore(t *testing.T) {
	e, err := tarry.LibraryFind("6")
	if err != nil {
		t.Fatal(err)
	}
	next := func(text string) string {
		out, err := tarry.Mark(tarry.MarkRequest{Source: tarry.Source{Name: e.Name, Text: e.Text}, Answers: answersOf("a.txt", "learner Ada\nitem One long turn\n"+text), Columns: tarry.Columns{Width: 200}})
		if err != nil {
			t.Fatal(err)
		}
		_, text, _ = strings.Cut(string(out.Output), "Ask next: ")
		text, _, _ = strings.Cut(text, "\n")
		return text
	}
	for text, want := range map[string]string{
		"H1 on 2 s .. 7 s\n":                     "the same script, with the row H3 as well, parts them best.",
		"H1 on 2 s .. 7 s\nH3 on 12 s .. 17 s\n": "",
	} {
		if got := next(text); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
	rows := func(r *tarry.MarkRequest) { r.Rows = []string{"H1", "KT1"} }
	if text, _ := markTable(t, "Ben,2,H1,never\n", "", rows); !strings.Contains(text, `Ask next: script "Stopped early" parts them best.`) {
		t.Error("the same rows come first:", text)
	}
}
