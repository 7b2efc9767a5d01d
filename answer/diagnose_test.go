package answer_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tarry/answer"
	"tarry/library"
	"tarry/misread"
)

func diagnoserOf(t testing.TB, x misread.Example) *answer.Diagnoser {
	t.Helper()
	c, script, signals := x.Item()
	return answer.NewDiagnoser(answer.NewItem(x.File+", "+x.Script, c, script, signals), drawnOn)
}

func oneTimer(script string) misread.Example {
	return misread.Example{File: "on-delay", Script: script, Signals: []string{"H1"}}
}

// What is said of an answer, in words.
func TestFindings(t *testing.T) {
	long, twice := diagnoserOf(t, oneTimer("One long press")), diagnoserOf(t, oneTimer("Two long presses"))
	both := diagnoserOf(t, misread.Example{File: "on-delay", Script: "One long press", Signals: []string{"H1", "H2"}})
	for _, c := range []struct {
		d                  *answer.Diagnoser
		answer, fits, text string
	}{
		{long, "H1 on 7 s .. 12 s", "right", "All as it should be."},
		{long, "H1 on 8 s .. 12 s", "slip", "One edge is a little off, all else is right. H1 comes on at 7 s, not at 8 s."},
		{long, "H2 never", "unfinished", "You drew H2, but H1 was asked."},
		{both, "H3 never\nKT1 never", "unfinished", "You drew “H3” and KT1, but H1 and H2 were asked."},
		{both, "H1 on 8 s .. 12 s", "slip", "One edge is a little off, all else that is drawn is right; H2 is not drawn. H1 comes on at 7 s, not at 8 s."},
		{both, "H1 on 9 s .. 12 s", "unexplained", ""},
		{both, "H1 on 7 s .. 12 s", "unfinished", "What is drawn is as it should be. H2 has no line yet."},
		{both, "H2 on 0 s .. 3 s", "unexplained", "No single idea explains this answer. H2 goes off at 7 s, not at 3 s."},
		{both, "H2 on 0 s .. 7 s, 17 s .. end", "explained; M03 fits: it explains the whole answer", ""},
		{long, "H1 on 7 s .. 17 s", "explained; M03 fits: it explains the whole answer",
			"You seem to move the whole row of the coil to the right. Only one of the two edges waits. " +
				"Look at 12 s again, where S1 is let go: H1 goes off at 12 s."},
		{long, "H1 on 2 s .. 12 s", "explained; M04 or C03 fits: it explains the whole answer", "Your answer fits more than one idea: " +
			"“No delay” and “On another rung it moves with the coil”. Look at 2 s again, where S1 is closed: H1 comes on at 7 s."},
		{long, "H1 on 3 s .. 33 s", "unexplained", "No single idea explains this answer. H1 comes on at 7 s, not at 3 s."},
		{long, "H1 on 0 s .. 7 s, 12 s .. end", "explained; M09 fits: it explains the whole answer",
			"You seem to read normally as in normal running. It means at rest, with nothing energised. Look at the start again: H1 is off at the start."},
		{twice, "H1 on 6 s .. 13 s, 20 s .. 28 s", "explained; M03 explains 3 of 4 edges, and one more but for a slip", ""},
		{twice, "H1 on 7 s .. 8 s, 20 s .. 21 s", "unexplained", ""},
		{long, "H1 on 6 s .. 13 s", "unexplained", ""},
	} {
		d := c.d.Diagnose(typed(t, c.answer))
		words := d.Finding.String()
		for _, f := range d.Fits[:d.Explaining] {
			words += "; " + f.Words()
		}
		compare(t, c.answer, words, c.fits)
		if c.text != "" {
			compare(t, c.answer, strings.Replace(d.Text, "S1 is opened", "S1 is let go", 1), c.text)
		}
	}
}

// Two readings held at once are found where no single one fits.
func TestTwoIdeas(t *testing.T) {
	d := diagnoserOf(t, oneTimer("One long press"))
	p, err := misread.Run(d.Item.Circuit, d.Item.Script, engineOptions, "M03", "M09")
	if err != nil {
		t.Fatal(err)
	}
	got := d.Diagnose(answer.Answer{Lines: linesOf(d.Item, p.Edges)})
	found := slices.ContainsFunc(got.Fits, func(f answer.Fit) bool { return f.Together && slices.Equal(f.IDs, []string{"M03", "M09"}) })
	if got.Finding != answer.TwoIdeas || !found || len(got.IDs()) > 0 {
		t.Errorf("%v %v", got.Finding, got.Fits)
	}
	if !strings.Contains(got.Text, "“Delayed at both edges” and “Normally means in normal running”") {
		t.Error(got.Text)
	}
}

// On every example a reading's own answer names it, and the words stay short.
func TestEveryReadingsExample(t *testing.T) {
	said := 0
	for _, r := range misread.All() {
		if r.NotRun != "" || r.Section == "C" { // those speak of programs
			continue
		}
		d := diagnoserOf(t, r.Example)
		p, err := misread.Run(d.Item.Circuit, d.Item.Script, engineOptions, r.ID)
		if err != nil {
			t.Fatal(err)
		}
		got := d.Diagnose(answer.Answer{Lines: linesOf(d.Item, p.Edges)})
		if got.Finding == answer.AllRight || got.Finding == answer.Slip {
			continue // no more than a square from the right answer
		}
		said++
		if !slices.Contains(got.IDs(), r.ID) {
			t.Errorf("%s: %v %v", r.ID, got.Finding, got.Fits)
		}
		if n := strings.Count(got.Text, ". ") + strings.Count(got.Text, "? ") + 1; n < 2 || n > 3 || len(got.Text) > 320 {
			t.Errorf("%s: %d sentences, %d bytes: %s", r.ID, n, len(got.Text), got.Text)
		}
	}
	if said < 25 {
		t.Errorf("only %d readings were looked at", said)
	}
}

// The item to ask next parts the readings that fit.
func TestNext(t *testing.T) {
	items := []*answer.Diagnoser{diagnoserOf(t, oneTimer("One long press")), diagnoserOf(t, oneTimer("One short press")),
		diagnoserOf(t, oneTimer("A short press, then a long one")), diagnoserOf(t, oneTimer("Two long presses"))}
	for want, ids := range map[int][]string{
		0:  {"M06", "M11"},        // the second stays on behind a long press
		1:  {"M05", "M06", "M03"}, // never, to the end, 7 to 10 s
		3:  {"M20", "M12"},        // the second is for off-delays only
		-1: {"M04", "C03"},        // never parted by one timer
	} {
		if got := answer.Next(ids, items); got != want {
			t.Errorf("%v: item %d, want %d", ids, got, want)
		}
	}
	if answer.Next([]string{"M04"}, items) != -1 || answer.Next([]string{"M04", "M05"}, nil) != -1 {
		t.Error("nothing to part")
	}
}

// One row more parts readings that no other script does.
func TestNextRow(t *testing.T) {
	e, _ := library.Find("6")
	c := circuitOf(t, string(e.Text))
	item := func(names ...string) *answer.Diagnoser {
		return answer.NewDiagnoser(answer.NewItem("", c, &c.Scripts[0], signalsOf(t, c, names...)), drawnOn)
	}
	found := item("H1").Diagnose(typed(t, "H1 on 2 s .. 7 s"))
	ids := found.IDs()
	compare(t, "readings", fmt.Sprint(ids), "[M07 M16]")
	if i, n := answer.NextRow(ids, []*answer.Diagnoser{item("H1", "H2", "H3")}, 1); i != 0 || n != 2 {
		t.Errorf("item %d, row %d", i, n)
	}
	if i, n := answer.NextRow(ids, []*answer.Diagnoser{item("H1"), item("H1", "H2")}, 1); i != -1 || n != -1 {
		t.Errorf("item %d, row %d part nothing", i, n)
	}
}

func TestClass(t *testing.T) {
	one, two := diagnoserOf(t, oneTimer("One long press")), diagnoserOf(t, oneTimer("Two long presses"))
	var results []answer.Result
	for _, x := range []struct {
		d *answer.Diagnoser
		a string
	}{
		{one, "learner Ada\nH1 on 7 s .. 12 s certain"}, {one, "learner Ben\nH1 on 7 s .. 17 s certain"}, {one, "learner Cy\nH1 on 2 s .. 12 s"},
		{one, "learner Di\nH1 on 2 s .. 12 s"}, {one, "learner Ed\nH1 on 3 s .. 33 s certain"}, {one, "learner Flo\nH1 on 7 s .. 11 s"},
		{two, "learner Ada\nH1 on 6 s .. 8 s"}, {two, "learner Ben\nH1 on 6 s .. 13 s, 20 s .. 27 s"},
	} {
		a := typed(t, x.a)
		m := answer.Mark(x.d.Item, a, drawnOn)
		results = append(results, answer.Result{Marked: m, Diagnosis: x.d.DiagnoseMarked(a, m)})
	}
	class := answer.ClassOf(results, []*answer.Diagnoser{one, two}, false)
	compare(t, "ideas", fmt.Sprint(class.Ideas), "[{M03 1 2 2 1} {M04 2 2 0 0} {C03 2 2 0 0} {M20 1 1 1 0}]")
	compare(t, "sure", fmt.Sprint(class.SureWrong), "[{Ben on-delay, One long press H1 [M03]} {Ed on-delay, One long press H1 []}]")
	if len(class.Items) != 2 || len(class.Learners) != 6 {
		t.Fatal(class.Items, class.Learners)
	}
	g := class.Items[0]
	if g.Answers != 6 || g.Right != 1 || g.Slips != 1 || g.Explained != 3 || g.Open != 1 || g.SureWrong != 2 || g.Points != 2+1+1+1+0+1 || g.Of != 12 {
		t.Errorf("%+v", g)
	}
	if class.Ask != "on-delay, Two long presses" {
		t.Error(class.Ask)
	}
	hidden := answer.ClassOf(results, nil, true)
	if text := fmt.Sprint(hidden); strings.Contains(text, "Ben") || !strings.Contains(text, "{L02 on-delay, One long press H1 [M03]}") || hidden.Learners[5].Name != "L06" {
		t.Error(text)
	}
	if fmt.Sprint(class) != fmt.Sprint(answer.ClassOf(results, []*answer.Diagnoser{one, two}, false)) {
		t.Error("the same answers, another picture")
	}
}

// Without a tolerance a slip is still as wide as the item's square: here a quarter
// of three seconds.
func TestSlipWithoutTolerance(t *testing.T) {
	d := answer.NewDiagnoser(itemOf(t, delayed, 0, "H1"), answer.Tolerance{})
	for text, want := range map[string]answer.Finding{"H1 on 7.7 s .. 12 s": answer.Slip, "H1 on 7.8 s .. 12 s": answer.Unexplained} {
		if got := d.Diagnose(typed(t, text)).Finding; got != want {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
}

// What a human gave full marks is not wrong in the class.
func TestClassWithOverrules(t *testing.T) {
	d := answer.NewDiagnoser(itemOf(t, delayed, 0, "H1", "H2"), drawnOn)
	pictureOf := func(list ...answer.Overrule) answer.Class {
		a := typed(t, "learner Ben\nH1 on 7 s .. 17 s certain\nH2 on 7 s .. 15 s certain")
		marked := []answer.Marked{answer.Mark(d.Item, a, drawnOn)}
		found := d.DiagnoseMarked(a, marked[0])
		answer.ApplyOverrules(marked, list)
		return answer.ClassOf([]answer.Result{{Marked: marked[0], Diagnosis: found}}, nil, false)
	}
	for _, c := range []struct {
		list         []answer.Overrule
		sure, rights int
	}{
		{nil, 1, 0},
		{[]answer.Overrule{{Learner: "Ben", Item: "Long", Signal: "H1", Mark: 1}}, 1, 0},
		{[]answer.Overrule{{Learner: "Ben", Item: "Long", Signal: "H1", Mark: 2}}, 0, 1},
		{[]answer.Overrule{{Learner: "Ben", Item: "Long", Mark: 4}}, 0, 1},
		{[]answer.Overrule{{Learner: "Ben", Item: "Long", Mark: 3}}, 1, 0},
	} {
		class := pictureOf(c.list...)
		g := class.Items[0]
		if len(class.SureWrong) != c.sure || g.SureWrong != c.sure || g.Right != c.rights || g.Right+g.Slips+g.Explained+g.Open != 1 ||
			c.rights == 1 && len(class.Ideas) > 0 {
			t.Errorf("%v: %+v", c.list, class)
		}
	}
}

// TestOneWrongEdgeTakesNoTwoIdeas: two ideas held at once are a bold claim, and one
// edge is too little for it.
func TestOneWrongEdgeTakesNoTwoIdeas(t *testing.T) {
	const gate = "S0 button\nS1 button\nK1 relay\nKT1 interval 3 s\nKT2 on-delay 3 s\nH1 horn\nM1 motor\n" +
		"1: S0.nc (S1.no | K1.no) -> K1\n2: K1.no -> KT1, KT2\n3: KT1.tno -> H1\n4: KT2.notc -> M1\n" +
		"script \"a\"\n1 s press S1 for 500 ms\n12 s press S0 for 500 ms\nend 16 s\n"
	it := itemOf(t, gate, 0, "H1", "M1")
	got := answer.NewDiagnoser(it, answer.Tolerance{Time: s / 2}).Diagnose(typed(t, "H1 on 1 s .. 4 s\nM1 on 1 s .. 12 s"))
	if got.Finding == answer.TwoIdeas || slices.ContainsFunc(got.Fits, func(f answer.Fit) bool { return f.Together }) {
		t.Errorf("%v: %+v", got.Finding, got.Fits)
	}
}
