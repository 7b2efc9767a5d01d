package chart_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/chart"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/page"
	"tarry/trace"
)

// lines are given lines for all rows that can have one: the right line moved,
// each with a first difference marked somewhere.
func lines(tr *trace.Trace, w [2]time.Duration, r *rand.Rand) []chart.Given {
	var list []chart.Given
	for _, name := range chart.Rows(tr) {
		s, ok := tr.Circuit.FindSignal(name)
		if !ok || strings.HasSuffix(name, ".elapsed") {
			continue
		}
		g := chart.Given{Row: name, Levels: slices.Clone(tr.Edges(s))}
		for i := range g.Levels {
			g.Levels[i].At += time.Duration(r.Int64N(int64(w[1])))
		}
		at := w[0] + time.Duration(r.Int64N(int64(w[1]-w[0])+1))
		if r.IntN(4) > 0 {
			g.Wrong = &at
		}
		list = append(list, g)
	}
	return list
}

func TestNothingCollidesInWindows(t *testing.T) {
	for i := range uint64(200) {
		r := rand.New(rand.NewPCG(9, i))
		tr := random(r)
		if i%2 == 0 {
			c, script := oracle.Random(r)
			tr = engine.Run(c, script, engine.Options{})
		}
		from := time.Duration(r.Int64N(int64(tr.End) + 1))
		to := from + 1 + time.Duration(r.Int64N(int64(tr.End)+2))
		opt := chart.Options{From: from, To: to, Square: to / 7, Uncut: r.IntN(2) == 0, Bare: r.IntN(2) == 0, Cursor: &to}
		opt.Given = lines(tr, [2]time.Duration{from, to}, r)
		for _, g := range opt.Given {
			if r.IntN(2) == 0 {
				opt.Blank = append(opt.Blank, g.Row)
			}
		}
		for _, opt.Width = range []page.Unit{80 * page.MM, 90 * page.MM, 160 * page.MM, 0} {
			p, plan, err := chart.DrawWithPlan(tr, opt)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range page.Faults(p) {
				t.Errorf("trace %d, %v to %v, %v wide: %s", i, from, to, opt.Width, f)
			}
			checkPlan(t, p, plan, from, to)
		}
	}
}

func checkPlan(t *testing.T, p *page.Page, plan *chart.Plan, from, to time.Duration) {
	t.Helper()
	if plan.At(0) != from || plan.At(p.Width) != to || plan.X(from) != plan.Left || plan.X(to) != plan.Right {
		t.Errorf("the plan goes from %v to %v, want %v to %v", plan.At(0), plan.At(p.Width), from, to)
	}
	for x := plan.Left; x <= plan.Right; x += 97 {
		at := plan.At(x)
		if back := plan.X(at); to-from > time.Second && (back > x || back < x-1) {
			t.Errorf("%v is %v, which is %v", x, at, back)
		}
	}
	last := plan.Top
	for _, r := range plan.Rows {
		if r.Top < last || r.High < r.Top || r.Low <= r.High || r.Bottom < max(r.Low, r.GivenLow) || r.Bottom > plan.Bottom {
			t.Errorf("a row at %+v, below %v", r, last)
		}
		last = r.Bottom
	}
}

// The edges that are drawn stand where the plan has them, breaks or not.
func TestPlanHasTheEdges(t *testing.T) {
	for _, opt := range []chart.Options{{}, {Width: 90 * page.MM}, {From: 500 * ms, To: 51 * time.Minute}} {
		tr := cases()["long-quiet"]
		p, plan, err := chart.DrawWithPlan(tr, opt)
		if err != nil {
			t.Fatal(err)
		}
		var got, want []page.Unit
		for _, e := range p.Elements {
			b := e.Shape.Bounds()
			if e.Shows.ID == "KT2.noto" && e.Shows.Class == "timed-contact" && b.Width() == 0 {
				got = append(got, b.Min.X)
			}
		}
		for _, at := range []time.Duration{1 * s, 3800 * ms, 50 * time.Minute} {
			want = append(want, plan.X(at))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%+v: edges at %v, the plan has %v", opt, got, want)
		}
		if i := slices.IndexFunc(plan.Rows, func(r chart.PlanRow) bool { return r.Name == "KT2.noto" }); i < 0 || plan.Rows[i].On != "closed" || plan.Rows[i].Tag != "KT2" {
			t.Errorf("rows %+v", plan.Rows)
		}
	}
}

// Behind the end levels stay, and a time goes on to its preset and no further.
func TestBeyondTheEnd(t *testing.T) {
	tr := play(delays(), "Under way", 2*s, pressed(1*s)...)
	tr.Ending = trace.Running
	for to, want := range map[time.Duration]string{4 * s: "KT1 3 of 4 s", 20 * s: "KT1 4 s"} {
		p, plan, err := chart.DrawWithPlan(tr, chart.Options{To: to})
		if err != nil {
			t.Fatal(err)
		}
		if got := words(p, "dimension-words"); !slices.Equal(got, []string{want}) {
			t.Errorf("to %v: %q, want %q", to, got, want)
		}
		for _, e := range p.Elements {
			if e.Shows.ID == "KT1.elapsed" && e.Shows.Class == "elapsed-time" {
				if b := e.Shape.Bounds(); b.Max.X > plan.Right {
					t.Errorf("to %v: the ramp reaches to %v, behind %v", to, b.Max.X, plan.Right)
				}
			}
		}
	}
}

// A row in a window keeps its place while time passes.
func TestRowsStandStill(t *testing.T) {
	tr := cases()["dabbed-then-held"]
	var before []chart.PlanRow
	for at := 0 * s; at < 16*s; at += 700 * ms {
		_, plan, err := chart.DrawWithPlan(tr, chart.Options{From: at, To: at + 6*s, Uncut: true, NoLegend: true})
		if err != nil {
			t.Fatal(err)
		}
		if before != nil && !slices.Equal(before, plan.Rows) {
			t.Fatalf("at %v the rows move: %+v, before %+v", at, plan.Rows, before)
		}
		before = plan.Rows
	}
}

func TestWhatCannotBeDrawn(t *testing.T) {
	tr := cases()["tie"]
	for want, opt := range map[string]chart.Options{
		`called "H9"`:      {Blank: []string{"H9"}},
		`called "supply"`:  {Given: []chart.Given{{Row: "supply"}}},
		"which is a ramp":  {Given: []chart.Given{{Row: "KT1.elapsed"}}},
		"from 9 s to 8 s":  {From: 9 * s},
		"from -1 s to 8 s": {From: -s},
		"at the latest":    {To: 1<<63 - 1},
	} {
		if _, err := chart.Draw(tr, opt); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %s", opt, err, want)
		}
	}
}

// A row that is blank by name shows the learner's line and nothing of its own.
func TestBlankByName(t *testing.T) {
	tr, at := cases()["dabbed-then-held"], 2*s
	given := []chart.Given{{Row: "H2", Levels: []trace.Edge{{}, {At: 2 * s, On: true}}, Wrong: &at, Word: "Ann"}}
	p := draw(t, tr, chart.Options{Blank: []string{"H2", "H1"}, Given: given, NoStart: true})
	found := classes(p)
	if !slices.Equal(found["square"], []string{"H1", "H2"}) || !slices.Equal(found["given"], []string{"H2"}) || found["load"] != nil {
		t.Errorf("squares in %q, given %q, loads %q", found["square"], found["given"], found["load"])
	}
	if !slices.Contains(words(p, "given"), "Ann") || !slices.Contains(words(p, "first-difference"), "first difference") {
		t.Errorf("words %q", words(p, ""))
	}
	if n := len(found["dimension"]); n != 0 {
		t.Errorf("%d dimensions tell when blank rows move", n)
	}
	if !strings.Contains(p.Description, "H1 lamp: to be drawn.") || !strings.Contains(p.Description, "First difference at 2 s.") {
		t.Error(p.Description)
	}
}

// A learner's edge in a quiet stretch keeps it from being cut out there.
func TestGivenEdgesShow(t *testing.T) {
	at := 30 * time.Minute
	given := []chart.Given{{Row: "H2", Levels: []trace.Edge{{}, {At: at, On: true}}, Wrong: &at}}
	p, plan, err := chart.DrawWithPlan(cases()["long-quiet"], chart.Options{Given: given})
	if err != nil {
		t.Fatal(err)
	}
	for i := 2; i < len(plan.Scale); i += 2 {
		if plan.Scale[i-1].At < at && at < plan.Scale[i].At {
			t.Errorf("%v is cut out between %v and %v", at, plan.Scale[i-1].At, plan.Scale[i].At)
		}
	}
	var got []page.Unit
	for _, e := range p.Elements {
		if b := e.Shape.Bounds(); e.Shows.Class == "given" && b.Width() == 0 {
			got = append(got, b.Min.X)
		}
	}
	if !slices.Equal(got, []page.Unit{plan.X(at)}) {
		t.Errorf("edges at %v, want one at %v", got, plan.X(at))
	}
}
