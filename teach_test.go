package tarry_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"tarry"
)

const teachDab = `circuit "Dab"
supply 24 V dc
S0 button "Stop"
S1 button "Start"
KT1 on-delay 5 s "Start delay"
H1 lamp "Belt runs"
1: S0.nc (S1.no | KT1.no) -> KT1
2: KT1.notc -> H1
script "Stopped early"
  1 s press S1 for 300 ms
  4 s press S0 for 300 ms
  8 s press S1 for 300 ms
  end 18 s
script "Whole time"
  2 s press S1 for 300 ms
  12 s press S0 for 300 ms
  end 16 s
`

func dabSource() tarry.Source { return tarry.Source{Name: "dab.tarry", Text: []byte(teachDab)} }

func answersOf(name, text string) tarry.AnswerFile {
	return tarry.AnswerFile{Name: name, Content: strings.NewReader(text)}
}

// TestMisreadLibrary runs every misreading on every circuit of the library: a
// fault of ours would come back as one, and no line is wider than asked.
func TestMisreadLibrary(t *testing.T) {
	list, err := tarry.Library()
	if err != nil {
		t.Fatal(err)
	}
	ran := 0
	for _, e := range list {
		for _, id := range tarry.MisreadIDs() {
			out, err := tarry.MisreadRun(tarry.MisreadRequest{Source: tarry.Source{Name: e.Name, Text: e.Text}, As: []string{id[0]},
				Columns: tarry.Columns{Width: 60}})
			if err != nil {
				if !errors.Is(err, tarry.ErrInput) {
					t.Errorf("%s as %s: %v", e.Name, id[0], err)
				}
				continue
			}
			ran++
			for line := range strings.Lines(string(out.Output)) {
				if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 60 && strings.Contains(line, " ") && !strings.Contains(line, "|") {
					t.Errorf("%s as %s: %d columns: %s", e.Name, id[0], n, line)
				}
			}
		}
	}
	if ran < 500 {
		t.Errorf("only %d runs could be compared", ran)
	}
}

func TestMisreadCards(t *testing.T) {
	for _, id := range tarry.MisreadIDs() {
		out, err := tarry.MisreadShow(strings.ToLower(id[0]), tarry.Columns{})
		if err != nil {
			t.Errorf("%s: %v", id[0], err)
			continue
		}
		text := string(out.Output)
		for _, part := range []string{id[1], "Belief", "Shown false", "To say"} {
			if !strings.Contains(text, part) {
				t.Errorf("the card of %s lacks %q", id[0], part)
			}
		}
		if !strings.Contains(text, "Not run") && !strings.Contains(text, "What differs") {
			t.Errorf("the example of %s shows no difference:\n%s", id[0], text)
		}
	}
}

// TestShortStretch keeps a dab of 10 ms in an hour visible, at its place.
func TestShortStretch(t *testing.T) {
	text := strings.ReplaceAll(teachDab, "  2 s press S1 for 300 ms\n  12 s press S0 for 300 ms\n  end 16 s", "  30 min press S1 for 10 ms\n  end 60 min")
	out, err := tarry.MisreadRun(tarry.MisreadRequest{Source: tarry.Source{Name: "x", Text: []byte(text)}, As: []string{"M06"}, Script: "2", Columns: tarry.Columns{Ascii: true}})
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(out.Output)) {
		if before, dab, after := strings.TrimSpace(line), "", ""; strings.HasPrefix(line, "S1.no") {
			before, dab, _ = strings.Cut(strings.TrimSpace(strings.TrimPrefix(before, "S1.no")), "#")
			after = strings.TrimLeft(dab, "#")
			if len(dab) != len(after) || len(before) < 10 || len(before)-len(after) > 2 || len(after)-len(before) > 2 {
				t.Errorf("10 ms in the middle of an hour are drawn %s", line)
			}
			return
		}
	}
	t.Errorf("no row S1.no in\n%s", out.Output)
}

// TestTellItems asks for one item of several: it must be one that tells most.
func TestTellItems(t *testing.T) {
	e, err := tarry.LibraryFind("8")
	if err != nil {
		t.Fatal(err)
	}
	out, err := tarry.Tell(tarry.TellRequest{Source: tarry.Source{Name: e.Name, Text: e.Text}, Items: 1, Columns: tarry.Columns{Width: 200},
		Among: []string{"M01", "M02", "M03", "M07", "M08", "M11", "M13", "M17"}})
	if err != nil {
		t.Fatal(err)
	}
	var all, pairs, of, wanted int
	text := string(out.Output)
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "Asked for were") {
			fmt.Sscanf(line, "Asked for were %d: these tell at least %d of the %d pairs apart.", &wanted, &pairs, &of)
		}
		if at := strings.Index(line, " items tell "); at >= 0 {
			fmt.Sscanf(line[:at], "%d", &all)
		}
	}
	if wanted != 1 || all < 2 || pairs*all < of || strings.Contains(text, "\n  2  Ask") {
		t.Errorf("%d of %d items tell %d of %d pairs apart:\n%s", wanted, all, pairs, of, text)
	}
}

// TestExercises holds a set to its numbers: a sheet for each exercise, the same
// bytes again, and other exercises under another code.
func TestExercises(t *testing.T) {
	var levels []string
	for _, l := range tarry.ExerciseLevels() {
		levels = append(levels, l[0])
	}
	if len(levels) != 5 {
		t.Fatalf("the levels are %q", levels)
	}
	for _, level := range levels {
		for _, form := range []string{"pdf", "qti21", "qti12"} {
			if form != "pdf" && level != "chain" {
				continue // pictures take their time
			}
			r := tarry.ExerciseRequest{Level: level, Count: 2, Variant: "spring-07", Form: form}
			one, err := tarry.MakeExercises(r)
			if err != nil {
				t.Errorf("%s as %s: %v", level, form, err)
				continue
			}
			two, _ := tarry.MakeExercises(r)
			r.Variant = "SPRING-08"
			other, _ := tarry.MakeExercises(r)
			for i, f := range one.Files {
				if !strings.HasPrefix(f.Name, level+"-SPRING-07") || len(f.Data) == 0 {
					t.Errorf("%s as %s: file %q of %d bytes", level, form, f.Name, len(f.Data))
				}
				if !bytes.Equal(f.Data, two.Files[i].Data) {
					t.Errorf("%s: other bytes the second time", f.Name)
				}
				if bytes.Equal(f.Data, other.Files[i].Data) {
					t.Errorf("%s: the same bytes under another code", f.Name)
				}
			}
		}
	}
}

func TestExerciseLesson(t *testing.T) {
	place := `<script type="application/json" id="lesson">null</script>`
	out, err := tarry.MakeExercises(tarry.ExerciseRequest{Level: "chain", Count: 4, Variant: "A", Form: "lesson", Desk: []byte("<p>" + place + "</p>")})
	if err != nil {
		t.Fatal(err)
	}
	text := string(out.Files[0].Data)
	if out.Files[0].Name != "chain-A-lesson.html" || strings.Count(text, `"predict":["H1"`) != 4 {
		t.Errorf("%s: not every circuit asks for its rows:\n%s", out.Files[0].Name, text)
	}
	if _, err := tarry.MakeExercises(tarry.ExerciseRequest{Level: "chain", Count: 1, Variant: "A", Form: "lesson"}); !errors.Is(err, tarry.ErrInput) {
		t.Errorf("a lesson without a desk: %v", err)
	}
}

func TestExerciseRefusals(t *testing.T) {
	for _, r := range []tarry.ExerciseRequest{
		{Level: "nosuch", Count: 1, Variant: "A"},
		{Level: "chain", Count: -1, Variant: "A"},
		{Level: "chain", Count: 1 << 40, Variant: "A"},
		{Level: "chain", Count: 1, Variant: ""},
		{Level: "chain", Count: 1, Variant: "A", Form: "doc"},
		{Level: "chain", Count: 1, Variant: "A", Paper: "a5"},
		{Source: dabSource(), Count: 1, Variant: "A", Script: "7"},
		{Source: dabSource(), Count: 1, Variant: "A", Asked: []string{"H9"}},
		{Source: tarry.Source{Name: "x", Text: []byte("nonsense")}, Count: 1, Variant: "A"},
		{Count: 1, Variant: "A"},
	} {
		out, err := tarry.MakeExercises(r)
		if !errors.Is(err, tarry.ErrInput) || len(out.Files) > 0 {
			t.Errorf("%+v: %v, %d files", r, err, len(out.Files))
		}
	}
}

func TestMark(t *testing.T) {
	mark := func(table, tolerance string, rows ...string) tarry.Marks {
		t.Helper()
		out, err := tarry.Mark(tarry.MarkRequest{Source: dabSource(), Answers: answersOf("a.csv", table), Tolerance: tolerance, Rows: rows})
		if err != nil && !errors.Is(err, tarry.ErrInput) {
			t.Fatal(err)
		}
		return out
	}
	head := "learner,item,signal,answer\n"
	for _, k := range []struct {
		table, tolerance string
		rows             []string
		marked           int
		says, leftOut    string
	}{
		{"Ada,Stopped early,H1,on 13 s .. end", "", nil, 1, "Ada · Stopped early · 1 of 1", ""},
		{"Ada,2,H1,on 7.5 s .. 12 s", "", nil, 1, "Ada · Whole time · 2 of 2", ""},
		{"Ada,2,H1,on 7.6 s .. 12 s", "", nil, 1, "Ada · Whole time · 1 of 2", ""},
		{"Ada,2,H1,on 7.6 s .. 12 s", "600ms", nil, 1, "Ada · Whole time · 2 of 2", ""},
		{"Ada,\"dab, whole time\",H1,never", "", nil, 1, "Ada · Whole time · 0 of 2", ""},
		{"Ada,1,H1,never\nAda,Stopped early,H1,on 13 s .. end", "", nil, 1, "0 of 1", "a second answer of Ada"},
		{"Ada,1,H1,never\nAda,2,H1,never\nBen,2,H1,never", "", nil, 3, "3 answers by 2 learners to 2 items", ""},
		{"Ada,1,H1,on 13 s .. end", "", []string{"H1", "KT1.notc"}, 1, "KT1.notc has no line yet", ""},
		// one of three draws KT1 too: it isn't asked
		{"Ada,1,H1,never\nBen,1,H1,never\nBen,1,KT1,never\nEve,1,H1,never", "", nil, 3, "Ada · Stopped early · 0 of 1", "not asked for"},
		{"Ada,,H1,never", "", nil, 0, "", "doesn't say which script"},
		{"Ada,1,H9,never", "", nil, 0, "", "no answer draws a signal"},
		{"Ada,0,H1,never", "", nil, 0, "", `no script "0"`},
	} {
		out := mark(head+k.table, k.tolerance, k.rows...)
		left := strings.Join(out.LeftOut, "\n")
		if out.Marked != k.marked || !strings.Contains(string(out.Output), k.says) || !strings.Contains(left, k.leftOut) || k.leftOut == "" && left != "" {
			t.Errorf("%q: %d marked\n%s\n%s", k.table, out.Marked, out.Output, left)
		}
	}
}

func TestMarkSameTwice(t *testing.T) {
	table := "learner,item,signal,answer,sure\nAda,1,H1,never,certain\nBen,1,H1,on 10 s .. end,\nBen,2,H1,on 2 s .. 12 s,\n"
	for _, form := range append([]string{""}, tarry.MarkForms...) {
		var outs [2][]byte
		for i := range outs {
			out, err := tarry.Mark(tarry.MarkRequest{Source: dabSource(), Answers: answersOf("a.csv", table), Form: form})
			if err != nil {
				t.Fatal(err)
			}
			outs[i] = out.Output
		}
		if !bytes.Equal(outs[0], outs[1]) || len(outs[0]) == 0 {
			t.Errorf("form %q: other bytes the second time", form)
		}
	}
}

// TestNonsense throws broken answers and broken circuits at the door: everything
// is refused in words, and nothing is a fault of ours.
func TestNonsense(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 7))
	pieces := []string{"learner", "item", "signal", "answer", ",", ";", "\n", "\"", "H1", "on", "3 s", "..", "end", "never", "{", "}", "\x00", "\xff", "99999999999999999999 s", "-1 s", "Ada", "1"}
	circuits := []string{teachDab, "", "nonsense", "script \"x\"\nend 5 s\n", "H1 lamp\n1: -> H1\nscript \"Stopped early\"\n end 0 s\n",
		"KT1 on-delay 1 ns\n1: KT1.nc -> KT1\nscript \"1\"\n end 10 s\n"}
	for i := range 600 {
		text := "learner,item,signal,answer\nAda,1,H1,never\n"
		if i%2 == 1 {
			text = ""
		}
		for range rng.IntN(40) {
			text += pieces[rng.IntN(len(pieces))]
		}
		source := tarry.Source{Name: "c.tarry", Text: []byte(circuits[i%len(circuits)])}
		names := []string{"a.csv", "a.json", "a.txt"}
		_, err := tarry.Mark(tarry.MarkRequest{Source: source, Answers: answersOf(names[i%3], text), Form: []string{"", "pdf", "csv", "json"}[i%4], Overrules: []byte(text)})
		if err != nil && !errors.Is(err, tarry.ErrInput) {
			t.Fatalf("mark %q: %v", text, err)
		}
		_, err = tarry.Class(tarry.ClassRequest{Source: source, Answers: []tarry.AnswerFile{answersOf("a.csv", text)}})
		if err != nil && !errors.Is(err, tarry.ErrInput) {
			t.Fatalf("class %q: %v", text, err)
		}
	}
	for _, c := range circuits {
		_, err := tarry.Tell(tarry.TellRequest{Source: tarry.Source{Name: "c", Text: []byte(c)}})
		if err != nil && !errors.Is(err, tarry.ErrInput) {
			t.Errorf("tell %q: %v", c, err)
		}
	}
}

// TestClassOwnCircuits gives learners the same circuit laid out differently, and
// one of them another circuit under the same name.
func TestClassOwnCircuits(t *testing.T) {
	prediction := func(learner, text string) tarry.AnswerFile {
		return answersOf(learner+".json", fmt.Sprintf(`{"format":"tarry predictions","version":1,"circuit":"Dab","script":"Whole time","learner":%q,"text":%q,
			"rows":[{"row":"H1","start":false,"edges":["7","12"],"sure":"certain"}],"earlier":[]}`, learner, text))
	}
	spaced := strings.ReplaceAll(teachDab, "S0 button", "S0      button")
	other := strings.ReplaceAll(teachDab, "on-delay 5 s", "on-delay 3 s")
	out, err := tarry.Class(tarry.ClassRequest{Answers: []tarry.AnswerFile{prediction("Ada", teachDab), prediction("Ben", spaced), prediction("Eve", other)}})
	if err != nil || out.Marked != 3 || len(out.LeftOut) > 0 {
		t.Fatalf("%v, %d marked, %q", err, out.Marked, out.LeftOut)
	}
	again, _ := tarry.Class(tarry.ClassRequest{Answers: []tarry.AnswerFile{prediction("Ada", teachDab), prediction("Ben", spaced), prediction("Eve", other)}})
	if !bytes.Equal(out.Output, again.Output) {
		t.Error("other bytes the second time")
	}
	twice, err := tarry.Class(tarry.ClassRequest{Answers: []tarry.AnswerFile{prediction("Ada", teachDab), prediction("Ada", spaced)}})
	if err != nil || twice.Marked != 1 || !slices.ContainsFunc(twice.LeftOut, func(s string) bool { return strings.Contains(s, "a second answer of Ada") }) {
		t.Errorf("one learner twice: %v, %d marked, %q", err, twice.Marked, twice.LeftOut)
	}
}

// BenchmarkExerciseSheets makes thirty exercises with their keys as one PDF.
func BenchmarkExerciseSheets(b *testing.B) {
	for b.Loop() {
		if _, err := tarry.MakeExercises(tarry.ExerciseRequest{Level: "sequence", Count: 30, Variant: "SPRING-07"}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMark marks and prints the answers of thirty learners to two items.
func BenchmarkMark(b *testing.B) {
	table := "learner,item,signal,answer\n"
	for i := range 30 {
		for item := 1; item <= 2; item++ {
			table += fmt.Sprintf("L%d,%d,H1,on %d s .. end\nL%d,%d,KT1.notc,closed %d s .. end\n", i, item, 3+i%10, i, item, 3+i%10)
		}
	}
	for b.Loop() {
		if _, err := tarry.Mark(tarry.MarkRequest{Source: dabSource(), Answers: answersOf("a.csv", table), Form: "pdf"}); err != nil {
			b.Fatal(err)
		}
	}
}
