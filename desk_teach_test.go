package tarry_test

import (
	"strings"
	"testing"
	"time"

	"tarry"
	"tarry/answer"
)

// delayed is a circuit with one timed contact of 5 s.
const delayed = `circuit "Bin tipper"
S1 switch "Bin in place"
KT1 on-delay 5 s
H1 lamp white "Tipper runs"
1: S1.no -> KT1
2: KT1.notc -> H1
script "One long turn"
  2 s close S1 for 10 s
  end 18 s
  expect H1 on 7 s .. 12 s
`

func TestMarkOnTheDesk(t *testing.T) {
	d, _ := onDesk(t, delayed)
	given := func(edges ...time.Duration) tarry.DeskMarked {
		m, err := d.Mark(tarry.DeskChartRequest{Given: []tarry.DeskLine{{Row: "H1", Edges: edges}}})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	if m := given(7*s, 12*s); m.Points != 2 || m.Of != 2 || m.Rows[0].Wrong || len(m.Rows[0].Edges) != 0 {
		t.Errorf("the right line: %+v", m)
	}
	m := given(2*s, 12*s) // no delay
	if len(m.Fits) == 0 || !m.Fits[0].Explains || m.Fits[0].Readings[0].Name != "No delay" || m.Fits[0].Readings[0].Belief == "" {
		t.Fatalf("no delay: %+v", m.Fits)
	}
	if got := m.Fits[0].Words; !strings.HasPrefix(got, "Either would explain both edges.") {
		t.Errorf("how well it explains: %q", got)
	}
	if !strings.HasPrefix(m.Text, "Your answer fits more than one idea. Look at 2 s") {
		t.Errorf("the ideas stand below the text with their beliefs, and not in it: %q", m.Text)
	}
	if got := m.Rows[0].Edges[0].Words; got != "H1 comes on at 7 s, not at 2 s." {
		t.Errorf("its first wrong edge: %q", got)
	}
	if got := m.Rows[0].Edges[0].At; got != 2*s {
		t.Errorf("its lines part at %v", got)
	}
	m = given()
	if got := m.Rows[0].Edges[0].Words; got != "H1 comes on at 7 s; your line stays off there." {
		t.Errorf("the first edge that is missing is told in the words of the first difference, but: %q", got)
	}
	if got := m.Rows[0].Edges[1].Words; got != "H1 goes off at 12 s; your line has no such change." {
		t.Errorf("a line that never changes: %q", got)
	}
	if m := given(1*s, 4*s, 14*s, 15*s); m.Finding != answer.Unexplained.String() {
		t.Errorf("nonsense is %q", m.Finding)
	}
	if _, err := d.Mark(tarry.DeskChartRequest{Given: []tarry.DeskLine{{Row: "H9"}}}); err == nil || !strings.Contains(err.Error(), "H9") {
		t.Errorf("an unknown row: %v", err)
	}
}

// TestPressFails takes a press that the desk finds, and holds it to what it says:
// on it the idea must give another line than the right one.
func TestPressFails(t *testing.T) {
	d, _ := onDesk(t, delayed)
	p, err := d.Press(tarry.DeskPressRequest{Rows: []string{"H1"}, IDs: []string{"M05"}})
	if err != nil || p.None != "" || p.Row != "H1" {
		t.Fatalf("%v %+v", err, p)
	}
	if len(p.Says) < 2 || p.Says[0].Line == p.Says[1].Line {
		t.Errorf("nobody is told apart: %+v", p.Says)
	}
	text := delayed + "script \"" + p.Name + "\"\n" + strings.Join(p.Lines, "\n") + "\n"
	d, out := onDesk(t, text)
	if len(out.Sheet.Diagnostics) != 0 || len(out.Sheet.Scripts) != 2 {
		t.Fatalf("the press is not fit for the text:\n%s\n%+v", text, out.Sheet.Diagnostics)
	}
	again, err := d.Press(tarry.DeskPressRequest{Rows: []string{"H1"}, IDs: []string{"M05"}})
	if err != nil || again.Name == p.Name {
		t.Errorf("a second press has the name of the first: %q", again.Name)
	}
	none, err := d.Press(tarry.DeskPressRequest{Rows: []string{"H1"}, IDs: []string{"M14"}})
	if err != nil || none.None == "" {
		t.Errorf("a reading of off-delays in an on-delay: %v %+v", err, none)
	}
}

func TestTellingOnTheDesk(t *testing.T) {
	d, _ := onDesk(t, delayed)
	out, err := d.Telling(tarry.DeskTellRequest{})
	if err != nil {
		t.Fatal(err)
	}
	if got := out.Scripts[0]; !got.Blind || !strings.Contains(got.Words, "“On-delay adds up its time”") {
		t.Errorf("one long turn can't reveal adding up, but: %+v", got)
	}
	if len(out.Presses) == 0 || len(out.Presses[0].Lines) == 0 {
		t.Errorf("no presses: %+v", out)
	}
	names := map[string]bool{}
	for _, p := range out.Presses {
		if names[p.Name] {
			t.Errorf("two presses are named %q", p.Name)
		}
		names[p.Name] = true
	}
	bare, _, _ := strings.Cut(delayed, "script")
	d2, _ := onDesk(t, bare)
	if out, err := d2.Telling(tarry.DeskTellRequest{}); err != nil || len(out.Presses) == 0 {
		t.Errorf("without a script there are presses all the same: %v %+v", err, out.Words)
	}
	if out, err := d.Telling(tarry.DeskTellRequest{IDs: []string{"M04"}}); err != nil || out.Scripts[0].Blind {
		t.Errorf("one long turn reveals who sees no delay: %v %+v", err, out.Scripts)
	}
}

func TestQuestionKeepsItsAnswer(t *testing.T) {
	d, _ := onDesk(t, delayed)
	for _, r := range []tarry.DeskExercise{{}, {Level: "contacts", Code: "BAY-7", Number: 2}, {Level: "chain", Code: "BAY-7", Number: 1, Width: 9000}} {
		q, err := d.Question(r)
		if err != nil {
			t.Fatal(err)
		}
		right := 0
		for _, o := range q.Options {
			wellFormed(t, "option", o.Picture.SVG)
			r.Letter = o.Letter
			c, err := d.Choose(r)
			if err != nil {
				t.Fatal(err)
			}
			if c.Right {
				right++
			}
			if c.Right != (c.Letter == o.Letter) || c.Right != (len(c.Readings) == 0) || c.Feedback == "" {
				t.Errorf("option %s: %+v", o.Letter, c)
			}
			if strings.Contains(c.Text, "expect ") {
				t.Errorf("the text tells the answer:\n%s", c.Text)
			}
			wrong := false
			for _, l := range c.Lines {
				wrong = wrong || l.Wrong >= 0
			}
			if wrong == c.Right {
				t.Errorf("option %s is right: %v, but a line is wrong: %v", o.Letter, c.Right, wrong)
			}
		}
		if right != 1 {
			t.Errorf("%d of %d options are right", right, len(q.Options))
		}
	}
	for _, r := range []tarry.DeskExercise{{Level: "contacts", Code: "BAY-7"}, {Level: "none", Code: "BAY-7", Number: 1}, {Level: "chain", Number: 1}, {Script: 5}, {Rows: []string{"H9"}}} {
		if _, err := d.Question(r); err == nil || strings.HasPrefix(err.Error(), "exercise:") {
			t.Errorf("%+v: %v", r, err)
		}
	}
}

const table = `learner,item,signal,answer,sure
Ada,One long turn,H1,on 2 s .. 12 s,certain
Ben,One long turn,H1,on 7 s .. 12 s,fairly
Cleo,One long turn,H1,on 7 s .. end,guess
`

func TestClassOnTheDesk(t *testing.T) {
	d, _ := onDesk(t, delayed)
	r := tarry.DeskClassRequest{Files: []tarry.DeskAnswerFile{{Name: "class.csv", Text: table}}, Tolerance: s / 2}
	c, err := d.Class(r)
	if err != nil || len(c.Answers) != 3 {
		t.Fatalf("%v %+v", err, c)
	}
	if len(c.Sure) != 1 || c.Sure[0].Learner != "Ada" || c.Sure[0].Row != "H1" || len(c.Sure[0].Readings) == 0 {
		t.Errorf("sure and wrong: %+v", c.Sure)
	}
	if len(c.Ideas) == 0 || c.Ideas[0].Name == "" || c.Presses == "" {
		t.Errorf("the class: %+v", c)
	}
	r.Overrules = []answer.Overrule{{Learner: "Cleo", Item: "One long turn", Signal: "H1", Mark: 2, Note: "said so aloud"}}
	over, err := d.Class(r)
	if err != nil || over.Answers[2].Points != 2 || !over.Answers[2].Rows[0].Overruled || c.Answers[2].Points == 2 {
		t.Errorf("overruled: %v %+v", err, over.Answers[2])
	}
	r.Form = "overrules"
	f, err := d.ClassFile(r)
	if err != nil {
		t.Fatal(err)
	}
	back, err := d.Overrules(string(f.Data))
	if err != nil || len(back.List) != 1 || back.List[0] != r.Overrules[0] || len(back.Problems) != 0 {
		t.Errorf("overrules come back as %+v", back)
	}
	for form, want := range map[string]string{"csv": "Cleo,One long turn,H1,2", "json": `"learner": "Cleo"`} {
		r.Form = form
		if f, err := d.ClassFile(r); err != nil || !strings.Contains(string(f.Data), want) {
			t.Errorf("%s: %v\n%s", form, err, f.Data)
		}
	}
	bad, err := d.Class(tarry.DeskClassRequest{Files: []tarry.DeskAnswerFile{{"x.json", "{"}, {"y.csv", "nothing"}, {"z.txt", ""}}})
	if err != nil || len(bad.Answers) != 0 || len(bad.Problems) < 2 {
		t.Errorf("bad files: %v %+v", err, bad)
	}
	if bad, err := d.Overrules("{}"); err != nil || len(bad.Problems) == 0 {
		t.Errorf("no file of overrules: %v %+v", err, bad)
	}
}
