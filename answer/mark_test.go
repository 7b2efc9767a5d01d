package answer_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/answer"
	"tarry/library"
)

// typed reads a typed answer, which must have no fault.
func typed(t testing.TB, text string) answer.Answer {
	t.Helper()
	list, problems := answer.ReadText(strings.NewReader(text), answer.Form{Square: s})
	if len(problems) > 0 || len(list) != 1 {
		t.Fatalf("%q: %v", text, problems)
	}
	return list[0]
}

const delayed = `
S1   switch
KT1  on-delay 5 s
KT2  off-delay 3 s
H1   lamp white
H2   lamp green
1: S1.no -> KT1
2: KT1.notc -> KT2, H1
3: KT2.noto -> H2
script "Long"
  2 s close S1 for 10 s
  end 30 s
script "Short"
  2 s close S1 for 3 s
  end 30 s
`

func itemOf(t testing.TB, text string, script int, names ...string) *answer.Item {
	c := circuitOf(t, text)
	return answer.NewItem(c.Scripts[script].Name, c, &c.Scripts[script], signalsOf(t, c, names...))
}

// Right: KT1.notc and H1 7–12, H2 7–15.
func TestMarks(t *testing.T) {
	it := itemOf(t, delayed, 0, "KT1.notc", "H1", "H2")
	for _, c := range []struct{ answer, want string }{
		{"KT1.notc closed 7 s .. 12 s\nH1 on 7 s .. 12 s\nH2 on 7 s .. 15 s",
			"6 of 6: KT1.notc: 2 of 2 points: 2 right. H1: 2 of 2 points: 2 right. H2: 2 of 2 points: 2 right."},
		// The contact is wrong; the lamps follow it.
		{"KT1.notc closed 7 s .. 17 s\nH1 on 7 s .. 17 s\nH2 on 7 s .. 20 s",
			"5 of 6: KT1.notc: 1 of 2 points: 1 right, 1 moved. H1: 2 of 2 points: 1 right, 1 only following another. " +
				"H2: 2 of 2 points: 1 right, 1 only following another."},
		// H2 doesn't keep its distance from what it follows.
		{"KT1.notc closed 7 s .. 17 s\nH1 on 7 s .. 17 s\nH2 on 7 s .. 22 s",
			"4 of 6: KT1.notc: 1 of 2 points: 1 right, 1 moved. H1: 2 of 2 points: 1 right, 1 only following another. " +
				"H2: 1 of 2 points: 1 right, 1 moved."},
		// What follows isn't forgiven where its leader is right.
		{"KT1.notc closed 7 s .. 12 s\nH1 on 7 s .. 17 s\nH2 on 7 s .. 15 s",
			"5 of 6: KT1.notc: 2 of 2 points: 2 right. H1: 1 of 2 points: 1 right, 1 moved. H2: 2 of 2 points: 2 right."},
		{"KT1.notc never\nH1 never\nH2 on 8 s .. 15 s",
			"3 of 6: KT1.notc: 0 of 2 points: 2 missing. H1: 2 of 2 points: 2 only following another. H2: 1 of 2 points: 1 right, 1 moved."},
		// A blank answer follows from nothing.
		{"KT1.notc never\nH1 never\nH2 never",
			"0 of 6: KT1.notc: 0 of 2 points: 2 missing. H1: 0 of 2 points: 2 missing. H2: 0 of 2 points: 2 missing."},
		{"KT1.notc closed 2 s .. 4 s, 7 s .. 12 s\nH1 on 2 s .. 4 s, 7 s .. 12 s\nH2 on 7 s .. 15 s",
			"4 of 6: KT1.notc: 0 of 2 points: 2 right, 2 too many. H1: 2 of 2 points: 2 right, 2 only following another. H2: 2 of 2 points: 2 right."},
		{"KT1.notc open 7 s .. 12 s\nH1 on 7 s .. 12 s",
			"2 of 6: KT1.notc: 0 of 2 points: 1 moved, 1 missing, 1 too many, wrong at the start. H1: 2 of 2 points: 2 right. H2 has no line yet."},
	} {
		m := answer.Mark(it, typed(t, c.answer), answer.Tolerance{Time: s / 2})
		compare(t, c.answer, told(m), c.want)
	}
}

func told(m answer.Marked) string {
	text := fmt.Sprintf("%d of %d:", m.Points, m.Of)
	for i := range m.Signals {
		text += " " + m.Signals[i].Sentence()
	}
	return text
}

// The belts follow one another over timers that nobody asks for.
func TestFollowingOverAChain(t *testing.T) {
	e, _ := library.Find("9")
	it := itemOf(t, string(e.Text), 0, "M3", "M2", "M1")
	m := answer.Mark(it, typed(t, "M3 on 1 s .. 20 s\nM2 on 6 s .. 20 s\nM1 on 10 s .. 20 s"), answer.Tolerance{})
	compare(t, "belts", told(m), "5 of 6: M3: 2 of 2 points: 2 right. M2: 1 of 2 points: 1 right, 1 moved. "+
		"M1: 2 of 2 points: 1 right, 1 only following another.")
}

// All contacts of a timer move at its time-out; a lamp follows the one that feeds
// it, whatever the order of the rows.
func TestFollowingOneOfTheContacts(t *testing.T) {
	e, _ := library.Find("6")
	for _, rows := range [][]string{{"KT1.notc", "KT1.ncto", "H1"}, {"KT1.ncto", "KT1.notc", "H1"}, {"H1", "KT1.notc", "KT1.ncto"}} {
		it := itemOf(t, string(e.Text), 0, rows...)
		for _, c := range []struct{ answer, want string }{
			{"KT1.notc closed 7 s .. 12 s\nKT1.ncto always\nH1 never", "H1: 0 of 2 points: 2 missing."},
			{"KT1.notc closed 9 s .. 12 s\nKT1.ncto open 7 s .. 12 s\nH1 on 9 s .. 12 s", "H1: 2 of 2 points: 1 right, 1 only following another."},
			{"KT1.notc closed 7 s .. 12 s\nKT1.ncto open 9 s .. 12 s\nH1 on 9 s .. 12 s", "H1: 1 of 2 points: 1 right, 1 moved."},
		} {
			m := answer.Mark(it, typed(t, c.answer), answer.Tolerance{})
			compare(t, c.answer, m.Signals[slices.Index(rows, "H1")].Sentence(), c.want)
		}
	}
}

// Whoever draws the lamp on a coil's feed has drawn the coil, where that isn't asked,
// and where both are their mistake is one. A line that is the same by chance is not
// meant.
func TestFollowingOverASharedFeed(t *testing.T) {
	const feed = `
S1   switch
S2   switch
KT1  on-delay 3 s
KT2  on-delay 4 s
H1   lamp white
H2   lamp green
H3   lamp red
H4   lamp white
H5   lamp white
H6   lamp white
S3   switch
1: S1.no -> KT1
2: KT1.notc -> KT2, H1
3: KT2.notc -> H2
4: S2.no -> H3
5: KT1.notc -> H4
6: KT1.ncto -> H5
7: S3.no KT1.notc -> H6
script "Long"
  0 s close S3 for 15 s
  1 s close S1 for 15 s
  4 s close S2 for 12 s
  end 20 s
`
	for _, c := range []struct{ rows, answer, want string }{
		{"H1 H2", "H1 on 6 s .. 16 s\nH2 on 10 s .. 16 s",
			"3 of 4: H1: 1 of 2 points: 1 right, 1 moved. H2: 2 of 2 points: 1 right, 1 only following another."},
		{"H1 H2", "H1 on 6 s .. 16 s\nH2 on 11 s .. 16 s",
			"2 of 4: H1: 1 of 2 points: 1 right, 1 moved. H2: 1 of 2 points: 1 right, 1 moved."},
		{"H1 KT2 H2", "H1 on 6 s .. 16 s\nKT2 on 6 s .. 16 s\nH2 on 10 s .. 16 s",
			"5 of 6: H1: 1 of 2 points: 1 right, 1 moved. KT2: 2 of 2 points: 1 right, 1 only following another. H2: 2 of 2 points: 1 right, 1 only following another."},
		{"KT2 H1", "KT2 on 6 s .. 16 s\nH1 on 6 s .. 16 s",
			"3 of 4: KT2: 1 of 2 points: 1 right, 1 moved. H1: 2 of 2 points: 1 right, 1 only following another."},
		{"H1 H3", "H1 on 6 s .. 16 s\nH3 on 6 s .. 16 s", // the same by chance
			"2 of 4: H1: 1 of 2 points: 1 right, 1 moved. H3: 1 of 2 points: 1 right, 1 moved."},
		{"H3 H2", "H3 on 6 s .. 16 s\nH2 on 10 s .. 16 s",
			"2 of 4: H3: 1 of 2 points: 1 right, 1 moved. H2: 1 of 2 points: 1 right, 1 moved."},
		// Between a contact and its only lamp there is no way back.
		{"H2 KT2.notc", "H2 on 10 s .. 16 s\nKT2.notc closed 10 s .. 16 s",
			"3 of 4: H2: 2 of 2 points: 1 right, 1 only following another. KT2.notc: 1 of 2 points: 1 right, 1 moved."},
		// One contact has two lamps, the other one feeds no more than its own.
		{"H5 H4 H6", "H4 on 6 s .. 16 s\nH5 off 4 s .. 16 s\nH6 on 6 s .. 15 s",
			"5 of 6: H5: 2 of 2 points: 2 right. H4: 1 of 2 points: 1 right, 1 moved. H6: 2 of 2 points: 1 right, 1 only following another."},
		{"H4 H5 H6", "H4 on 4 s .. 16 s\nH5 off 6 s .. 16 s\nH6 on 6 s .. 15 s",
			"4 of 6: H4: 2 of 2 points: 2 right. H5: 1 of 2 points: 1 right, 1 moved. H6: 1 of 2 points: 1 right, 1 moved."},
		// Both do too much, alike.
		{"H1 KT2", "H1 on 4 s .. 16 s, 18 s .. 19 s\nKT2 on 4 s .. 16 s, 18 s .. 19 s",
			"2 of 4: H1: 0 of 2 points: 2 right, 2 too many. KT2: 2 of 2 points: 2 right, 2 only following another."},
	} {
		m := answer.Mark(itemOf(t, feed, 0, strings.Fields(c.rows)...), typed(t, c.answer), answer.Tolerance{})
		compare(t, c.answer, told(m), c.want)
	}
}

// A name is found whatever its case, and the very name first.
func TestNamesInAnyCase(t *testing.T) {
	text := strings.Replace(delayed, "S1   switch", "S1   switch\nS2 selector off Auto", 1)
	c := circuitOf(t, text)
	for name, want := range map[string]string{"h1": "H1", " kt1.NOTC": "KT1.notc", "Kt1": "KT1", "H9": "", "kt1.nota": "", "s2.auto": "S2.Auto", "S2.Auto": "S2.Auto", "s2.no": "",
		"s2.OFF": "S2.off", "": "", "h1.no": ""} {
		s, known := answer.FindSignal(c, name)
		if known != (want != "") || known && c.SignalName(s) != want {
			t.Errorf("%q: %v %v, want %q", name, s, known, want)
		}
	}
	m := answer.Mark(itemOf(t, delayed, 0, "KT1.notc", "H1"), typed(t, "kt1.NOTC closed 7 s .. 12 s\nh1 on 7 s .. 12 s\nH9 never"), answer.Tolerance{})
	if m.Points != 4 || len(m.Problems) != 1 || m.Problems[0].Line != 3 {
		t.Errorf("%s %v", told(m), m.Problems)
	}
	marked := []answer.Marked{m}
	if unused := answer.ApplyOverrules(marked, []answer.Overrule{{Item: "Long", Signal: "h1", Mark: 1}}); len(unused) > 0 || marked[0].Points != 3 {
		t.Errorf("overruled: %v, %s", unused, told(marked[0]))
	}
}

// Behind the end of a run nothing can be drawn; what the tolerance takes for the end
// is its end.
func TestBeyondTheEnd(t *testing.T) {
	it := itemOf(t, delayed, 0, "H1", "H2")
	a, left := it.Beyond(typed(t, "H1 on 7 s .. 99 s\nH2 on 7 s .. 30.4 s"), answer.Tolerance{Time: s / 2})
	compare(t, "left out", listed(left), "line 1: 1 min 39 s lies behind the end of the run at 30 s, and was taken for the end in the line for “H1”. Write end for what lasts to the end.\n")
	if m := answer.Mark(it, a, answer.Tolerance{Time: s / 2}); m.Points != 3 { // H2 only follows
		t.Errorf("%+v: %s", a.Lines, told(m))
	}
	if a, left = it.Beyond(typed(t, "H1 on 99 s .. 120 s"), answer.Tolerance{}); len(left) != 1 || !a.Lines[0].Undrawn {
		t.Errorf("%+v %v", a.Lines, left)
	}
	if _, left = it.Beyond(typed(t, "H1 on 7 s .. 30 s\nH2 on 7 s .. end"), answer.Tolerance{}); len(left) > 0 {
		t.Error(left)
	}
	if _, left = it.Beyond(typed(t, "square 7 s\nH1 | _####_"), answer.Tolerance{}); len(left) > 0 { // in the last square
		t.Error(left)
	}
}

// A grid's own square is its tolerance, where the marking has none.
func TestSquareOfTheGrid(t *testing.T) {
	it := itemOf(t, delayed, 0, "H1")
	for text, right := range map[string]bool{
		"square 2 s\nH1 | ___###_________": true, "square 2 s\nH1 | ____##_________": true, "square 2 s\nH1 | __####_________": false,
		"square 2 s\nH1 | ____###________": false, "square 2 s\nH1 on 6 s .. 12 s": false, "square 1 s\nH1 | ______######": false,
	} {
		a := typed(t, text)
		m := answer.Mark(it, a, answer.Tolerance{Time: s / 2})
		found := answer.NewDiagnoser(it, answer.Tolerance{}).Diagnose(a).Finding
		if m.Right() != right || (found == answer.AllRight) != right {
			t.Errorf("%s: %s %v", text, told(m), found)
		}
	}
	// M03 has 7 s to 17 s, which the grid shows no better.
	d := answer.NewDiagnoser(it, answer.Tolerance{}).Diagnose(typed(t, "square 2 s\nH1 | ___#####_______"))
	if d.Finding != answer.Explained || !slices.Contains(d.IDs(), "M03") {
		t.Errorf("diagnosis by the grid's square: %v %v", d.Finding, d.Fits)
	}
	if m := answer.Mark(it, typed(t, "square 2 s\nH1 | ___###___"), answer.Tolerance{Square: s}); m.Right() {
		t.Error("the marking's own square counts more")
	}
}

// A lamp that does the opposite of a contact follows it too.
func TestFollowingTurnedRound(t *testing.T) {
	text := strings.Replace(delayed, "KT2.noto", "KT1.ncto", 1)
	m := answer.Mark(itemOf(t, text, 0, "KT1.notc", "H2"), typed(t, "KT1.notc closed 7 s .. 12 s, 20 s .. 21 s\nH2 off 7 s .. 12 s, 20 s .. 21 s"), answer.Tolerance{})
	compare(t, "turned", told(m), "2 of 4: KT1.notc: 0 of 2 points: 2 right, 2 too many. H2: 2 of 2 points: 2 right, 2 only following another.")
}

// An edge that the tolerance lets fall before the start is right, and those behind
// it keep their causes.
func TestStartWithinTheTolerance(t *testing.T) {
	text := strings.Replace(delayed, "2 s close S1 for 10 s", "300 ms close S1 for 10 s", 1)
	m := answer.Mark(itemOf(t, text, 0, "KT1", "KT1.notc"), typed(t, "KT1 on 0 s .. 12 s\nKT1.notc closed 5.3 s .. 12 s"), answer.Tolerance{Time: s / 2})
	compare(t, "start", told(m), "3 of 4: KT1: 1 of 2 points: 1 right, 1 moved. KT1.notc: 2 of 2 points: 1 right, 1 only following another.")
}

// Where nothing should happen the lamp still follows its wrong contact, by the
// wiring alone.
func TestFollowingWhereNothingHappens(t *testing.T) {
	it := itemOf(t, delayed, 1, "KT1.notc", "H1", "H2")
	m := answer.Mark(it, typed(t, "KT1.notc closed 7 s .. end\nH1 on 7 s .. end\nH2 never"), answer.Tolerance{})
	compare(t, "triggered", told(m), "2 of 3: KT1.notc: 0 of 1 point: 1 too many. H1: 1 of 1 point: 1 only following another. H2: 1 of 1 point.")
	m = answer.Mark(it, typed(t, "KT1.notc closed 0 s .. end\nH1 always\nH2 never"), answer.Tolerance{})
	compare(t, "always", told(m), "2 of 3: KT1.notc: 0 of 1 point: wrong at the start. H1: 1 of 1 point: wrong at the start. H2: 1 of 1 point.")
}

func TestPulsesAndFirstWrong(t *testing.T) {
	it := itemOf(t, delayed, 0, "H1", "H2")
	m := answer.Mark(it, typed(t, "H1 on 7 s .. 12 s, 20 s .. 21 s, 23 s .. 24 s\nH2 never\nH9 never\nKT1 never"), answer.Tolerance{Time: s})
	h1, h2 := m.Signals[0], m.Signals[1]
	if h1.ExtraPulses != 2 || h1.MissingPulses != 0 || h2.MissingPulses != 1 || h2.ExtraPulses != 0 {
		t.Errorf("pulses: %+v %+v", h1, h2)
	}
	if !h1.Wrong || h1.FirstWrong.Kind != answer.Extra || h1.FirstWrong.At != 20*s || h2.FirstWrong.Kind != answer.Missing {
		t.Errorf("first wrong: %+v %+v", h1.FirstWrong, h2.FirstWrong)
	}
	if len(m.Problems) != 2 || !strings.Contains(m.Problems[0].Reason, "no signal of this circuit") || !strings.Contains(m.Problems[1].Reason, "not asked for") {
		t.Error(m.Problems)
	}
}

// An edge counts on both lines of its square and anywhere between; an edge on a
// line is asked for there.
func TestSquares(t *testing.T) {
	it := itemOf(t, "S1 switch\nH1 lamp white\n1: S1.no -> H1\nscript \"Odd\"\n 2.3 s close S1 for 4.7 s\n end 12 s\n", 0, "H1")
	for text, points := range map[string]int{
		"H1 on 2 s .. 7 s": 2, "H1 on 3 s .. 7 s": 2, "H1 on 2.9 s .. 7.4 s": 2, "H1 | __#####__": 2, "H1 | ___####__": 2,
		"H1 on 1.9 s .. 7 s": 1, "H1 on 3.1 s .. 7.5 s": 0, "H1 on 2 s .. 6 s": 1, "H1 | _______#_": 0,
	} {
		if m := answer.Mark(it, typed(t, text), answer.Tolerance{Square: s}); m.Points != points || m.Right() != (points == 2) {
			t.Errorf("%s: %s", text, told(m))
		}
	}
	if m := answer.Mark(it, typed(t, "H1 on 1.9 s .. 7.5 s"), answer.Tolerance{Square: s, Time: s / 2}); m.Points != 2 {
		t.Errorf("both tolerances: %s", told(m))
	}
}

// The right answer has all points whatever the tolerance.
func TestRightAnswerHasFullMarks(t *testing.T) {
	for _, d := range itemsForAll(t) {
		right := answer.Answer{Lines: newMaker(d, nil).lines["right"]}
		for _, tolerance := range []answer.Tolerance{{}, {Time: 1}, {Time: s}, {Time: time.Hour}, {Square: 1}, {Square: s}, {Square: 7 * s}, {Square: time.Hour, Time: s}} {
			m := answer.Mark(d.Item, right, tolerance)
			if m.Points != m.Of || m.Of == 0 || !m.Right() {
				t.Errorf("%s, %v: %s", d.Item.Name, tolerance, told(m))
			}
		}
	}
}

// Marks agree with FirstWrong: what it finds right has all points, and what it
// doesn't is not all right. Counts add up, and points stay within bounds.
func TestMarksOfAnyAnswer(t *testing.T) {
	names := []string{"KT1.notc", "H1", "H2"}
	it := itemOf(t, delayed, 0, names...)
	right := newMaker(answer.NewDiagnoser(it, drawnOn), nil).lines["right"]
	rapid.Check(t, func(t *rapid.T) {
		var a answer.Answer
		for i, name := range names {
			l := answer.Line{Signal: name, Start: rapid.Bool().Draw(t, "start")}
			if rapid.Bool().Draw(t, "near") {
				l.Start = right[i].Start
				l.At = slices.Clone(right[i].At)
			}
			for range rapid.IntRange(0, 4).Draw(t, "edges") {
				l.At = append(l.At, time.Duration(rapid.IntRange(1, 59).Draw(t, "at"))*s/2)
			}
			slices.Sort(l.At)
			l.At = slices.Compact(l.At)
			a.Lines = append(a.Lines, l)
		}
		tolerance := time.Duration(rapid.IntRange(0, 4).Draw(t, "tolerance")) * s / 2
		m := answer.Mark(it, a, answer.Tolerance{Time: tolerance})
		for i := range m.Signals {
			v := &m.Signals[i]
			w, wrong := answer.FirstWrong(right[i].Edges(), a.Lines[i].Edges(), it.End, tolerance)
			if wrong != v.Wrong || w != v.FirstWrong {
				t.Fatalf("%v: %v and %v", a.Lines[i], v.FirstWrong, w)
			}
			if !wrong && v.Points != v.Of || v.Points < 0 || v.Points > v.Of {
				t.Fatalf("%v: %s", a.Lines[i], v.Sentence())
			}
			if wrong && tolerance == 0 && v.Right == len(v.Edges) && !v.WrongStart {
				t.Fatalf("%v is wrong, but nothing is marked: %+v", a.Lines[i], v)
			}
			if n := v.Right + v.Moved + v.Missing + v.Extra + v.FollowOn; n != len(v.Edges) {
				t.Fatalf("%d of %d edges: %+v", n, len(v.Edges), v)
			}
		}
	})
}

func TestOverrules(t *testing.T) {
	it := itemOf(t, delayed, 0, "H1", "H2")
	answers := []answer.Answer{typed(t, "learner Ada\nH1 on 7 s .. 12 s\nH2 never"), typed(t, "learner Ben\nH1 never\nH2 never")}
	list := []answer.Overrule{
		{"Ada", "Long", "H2", 1, "She explained it: \"it is late\",\nand it is.\t<b>"},
		{"Ben", "Long", "", 3, "Ill last week"},
		{"Cy", "Long", "H1", 2, ""},
		{"Ada", "Long", "H2", 2, "Second thoughts"},
	}
	var file bytes.Buffer
	if err := answer.WriteOverrules(&file, list); err != nil {
		t.Fatal(err)
	}
	read, problems := answer.ReadOverrules(bytes.NewReader(file.Bytes()))
	if len(problems) > 0 || !slices.Equal(read, list) {
		t.Fatalf("%v %v", read, problems)
	}
	for range 2 { // marked anew, the same again
		marked := []answer.Marked{answer.Mark(it, answers[0], drawnOn), answer.Mark(it, answers[1], drawnOn)}
		unused := answer.ApplyOverrules(marked, read)
		compare(t, "Ada", told(marked[0]), "4 of 4: H1: 2 of 2 points: 2 right. H2: 2 of 2 points: 2 missing; overruled: Second thoughts.")
		if marked[1].Points != 3 || marked[1].Of != 4 || marked[1].Overrule == nil {
			t.Errorf("Ben: %s", told(marked[1]))
		}
		if len(unused) != 1 || unused[0] != list[2] {
			t.Errorf("unused: %v", unused)
		}
	}
	for text, want := range map[string]string{
		"": "no file of overrules", "{}": "no file of overrules",
		strings.Replace(file.String(), `"version": 1`, `"version": 3`, 1): "version “3”",
		strings.Replace(file.String(), `"mark": 3`, `"mark": -3`, 1):      "Overrule 2 is damaged",
		strings.Replace(file.String(), `"mark": 3`, `"mark": "all"`, 1):   "Overrule 2 is damaged",
		strings.Replace(file.String(), `"signal": ""`, `"row": "H1"`, 1):  "Overrule 2 has a field “row”, which is not known",
	} {
		if _, problems := answer.ReadOverrules(strings.NewReader(text)); len(problems) != 1 || !strings.Contains(problems[0].Reason, want) {
			t.Errorf("%q: %v", want, problems)
		}
	}
}

// Lines too long for the table are marked all the same.
func TestLongLines(t *testing.T) {
	it := itemOf(t, "S1 switch\nKT1 flasher 1 s, 1 s\nH1 lamp white\n1: S1.no -> KT1\n2: KT1.tno -> H1\nscript \"Long\"\n 0 s close S1\n end 1 h\n", 0, "H1", "KT1.tno")
	l := answer.Line{Signal: "H1", Start: true}
	for at := s; at < time.Hour; at += s {
		l.At = append(l.At, at)
	}
	m := answer.Mark(it, answer.Answer{Lines: []answer.Line{l}}, answer.Tolerance{})
	if m.Signals[0].Points != 3599 || m.Signals[0].Of != 3599 {
		t.Errorf("%d of %d", m.Signals[0].Points, m.Signals[0].Of)
	}
	l.At = slices.Delete(l.At, 1000, 1002)
	l.At[2000] += s / 2
	m = answer.Mark(it, answer.Answer{Lines: []answer.Line{l}}, answer.Tolerance{})
	if v := m.Signals[0]; v.Missing != 3 || v.Extra != 1 || v.Points != 3599-3-1 {
		t.Errorf("%d missing, %d extra, %d points", v.Missing, v.Extra, v.Points)
	}
}
