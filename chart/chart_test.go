package chart_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/casetest"
	"tarry/internal/oracle"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
	"tarry/trace"
)

func draw(t *testing.T, tr *trace.Trace, opt chart.Options) *page.Page {
	t.Helper()
	p, err := chart.Draw(tr, opt)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestGolden(t *testing.T) {
	for _, name := range []string{"dabbed-then-held", "long-quiet", "no-width"} {
		list := page.List(draw(t, cases()[name], chart.Options{}))
		casetest.Golden(t, "testdata/"+name+".page", []byte(list))
	}
}

// widths are a telephone's, a column's, a sheet's, and a poster's.
var widths = []page.Unit{1, 120 * page.MM, 160 * page.MM, 0, 420 * page.MM}

func TestNothingCollides(t *testing.T) {
	for name, tr := range cases() {
		for _, w := range widths {
			for _, f := range page.Faults(draw(t, tr, chart.Options{Width: w})) {
				t.Errorf("%s, %v wide: %s", name, w, f)
			}
		}
	}
}

func TestNothingCollidesInTheLibrary(t *testing.T) {
	for _, entry := range library.All() {
		file, _ := notation.Read(entry.Name, entry.Text)
		for i := range file.Circuit.Scripts {
			tr := engine.Run(file.Circuit, &file.Circuit.Scripts[i], engine.Options{})
			for _, w := range widths {
				for _, f := range page.Faults(draw(t, tr, chart.Options{Width: w})) {
					t.Errorf("%s, %s, %v wide: %s", entry.Name, tr.Script, w, f)
				}
			}
		}
	}
}

func TestNothingCollidesOnRandomCircuits(t *testing.T) {
	for i := range uint64(150) {
		c, script := oracle.Random(rand.New(rand.NewPCG(4, i)))
		tr := engine.Run(c, script, engine.Options{})
		for _, w := range widths {
			for _, f := range page.Faults(draw(t, tr, chart.Options{Width: w})) {
				t.Errorf("circuit %d, %v wide: %s", i, w, f)
			}
		}
	}
}

// random makes a trace that no circuit would leave behind: parts move and times
// start and stop as they like.
func random(r *rand.Rand) *trace.Trace {
	c := delays()
	for i := range c.Devices {
		c.Devices[i].Label = strings.Repeat("Wäsche ", r.IntN(8))
	}
	var events []event
	unit := []time.Duration{time.Microsecond, ms, 70 * ms, s, time.Hour, 90 * time.Hour}[r.IntN(6)]
	at := time.Duration(0)
	values := map[string]int{}
	for range r.IntN(60) {
		at += time.Duration(r.IntN(4)*r.IntN(40)) * unit / 3
		d := &c.Devices[r.IntN(len(c.Devices))]
		e := event{at: at, tag: d.Tag, part: trace.Coil}
		if d.Kind == circuit.Button {
			e.part = trace.Contacts
		}
		if d.Kind == circuit.Timer {
			e.part = []trace.Part{trace.Coil, trace.TimedOut}[r.IntN(2)]
			e.timing = trace.Timing(r.IntN(int(trace.Cleared) + 1))
		}
		key := e.tag + string(rune('0'+e.part))
		values[key] = 1 - values[key]
		e.value = values[key]
		events = append(events, e)
	}
	t := play(c, "Random", at+time.Duration(r.IntN(30))*unit, events...)
	for range r.IntN(8) {
		n := trace.Notice{Kind: trace.NoticeKind(r.IntN(10)), Devices: []circuit.DeviceID{0, 1, 2, 3}[:r.IntN(5)]}
		if t.End > 0 {
			n.At = time.Duration(r.Int64N(int64(t.End)))
		}
		t.Notices = append(t.Notices, n)
	}
	return t
}

func TestNothingCollidesOnRandomTraces(t *testing.T) {
	for i := range uint64(300) {
		tr := random(rand.New(rand.NewPCG(1, i)))
		for _, w := range widths {
			p := draw(t, tr, chart.Options{Width: w})
			for _, f := range page.Faults(p) {
				t.Errorf("trace %d, %v wide: %s", i, w, f)
			}
		}
	}
}

func TestSamePageEveryTime(t *testing.T) {
	for name := range cases() {
		a, b := draw(t, cases()[name], chart.Options{}), draw(t, cases()[name], chart.Options{})
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s comes out differently", name)
		}
	}
}

// words returns every text on the page of a class, "" for all.
func words(p *page.Page, class string) []string {
	var list []string
	for _, e := range p.Elements {
		if x, ok := e.Shape.(page.Text); ok && (class == "" || e.Shows.Class == class) {
			list = append(list, x.Words)
		}
	}
	return list
}

func TestDimensions(t *testing.T) {
	for name, want := range map[string][]string{
		"dabbed-then-held":  {"KT1 2 of 4 s", "KT1 4 s", "KT2 1 of 2.5 s", "KT2 2.5 s"},
		"tie":               {"KT1 4 of 4 s", "KT2 2.5 s"},
		"preset-and-supply": {"KT1 6 s", "KT2 2.5 s"},
	} {
		got := words(draw(t, cases()[name], chart.Options{}), "dimension-words")
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

func TestRowsInOrderOfCause(t *testing.T) {
	want := []string{"S1", "KT1", "KT1", "KT1", "KT2", "KT2", "KT2", "H1", "H2"}
	var got []string
	for _, e := range draw(t, cases()["tie"], chart.Options{}).Elements {
		if x, ok := e.Shape.(page.Text); ok && x.Bold && e.Shows.Class == "row-label" {
			got = append(got, x.Words)
		}
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestChosenRows(t *testing.T) {
	p := draw(t, cases()["tie"], chart.Options{Rows: []string{"H2", " KT1.notc", "supply"}})
	var got []string
	for _, e := range p.Elements {
		if e.Shows.Class == "state" && (len(got) == 0 || got[len(got)-1] != e.Shows.ID) {
			got = append(got, e.Shows.ID)
		}
	}
	if want := []string{"H2", "KT1.notc", "supply"}; !reflect.DeepEqual(got, want) {
		t.Errorf("rows %q, want %q", got, want)
	}
	if got, want := words(p, "dimension-words"), []string{"KT1 4 of 4 s"}; !reflect.DeepEqual(got, want) {
		t.Errorf("without its own row the time is dimensioned at the contact: %q, want %q", got, want)
	}
}

func TestUnknownRow(t *testing.T) {
	_, err := chart.Draw(cases()["tie"], chart.Options{Rows: []string{"KT1", "KT7.notc"}})
	if err == nil {
		t.Fatal("no error")
	}
	for _, want := range []string{`"KT7.notc"`, "supply, S1.no, KT1, KT1.elapsed, KT1.notc, KT2", "H2"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q does not mention %s", err, want)
		}
	}
}

func TestWhatIsSaidOfMarks(t *testing.T) {
	for name, want := range map[string][]string{
		"no-width":          {"race: KT1, H1", "no effect", "there and back at one instant"},
		"tie":               {"tie: S1, KT1", "cut short"},
		"chatter-at-zero":   {"chatter: H1"},
		"short-at-the-end":  {"short circuit"},
		"preset-and-supply": {"KT1 set to 6 s", "Supply", "setting changed"},
		"long-quiet":        {"time left out"},
	} {
		all := words(draw(t, cases()[name], chart.Options{}), "")
		for _, w := range want {
			if !contains(all, w) {
				t.Errorf("%s: no %q in %q", name, w, all)
			}
		}
	}
}

func contains(list []string, w string) bool {
	for _, s := range list {
		if s == w {
			return true
		}
	}
	return false
}

func TestScaleIsStated(t *testing.T) {
	for name, want := range map[string]string{
		"dabbed-then-held": "To scale: 1 s = ",
		"long-quiet":       "Left out at the break marks: ",
	} {
		if got := strings.Join(words(draw(t, cases()[name], chart.Options{}), "scale"), " "); !strings.Contains(got, want) {
			t.Errorf("%s: %q does not say %q", name, got, want)
		}
	}
	p := draw(t, cases()["long-quiet"], chart.Options{Uncut: true})
	if got := strings.Join(words(p, ""), " "); strings.Contains(got, "left out") || strings.Contains(got, "Left out") {
		t.Errorf("cut though it was not to be: %s", got)
	}
}

// Every edge must stand at the place that the stated scale gives it.
func TestEdgesAreToScale(t *testing.T) {
	p := draw(t, cases()["dabbed-then-held"], chart.Options{Rows: []string{"KT1.notc"}})
	var edges []page.Unit
	for _, e := range p.Elements {
		if l, ok := e.Shape.(page.Poly); ok && e.Shows.Class == "timed-contact" && len(l.Points) == 2 && l.Points[0].X == l.Points[1].X {
			edges = append(edges, l.Points[0].X)
		}
	}
	if len(edges) != 2 || edges[1]-edges[0] == 0 {
		t.Fatalf("edges at %v, want two", edges)
	}
	scale := strings.Join(words(p, "scale"), " ")
	if want := "1 s = " + strings.TrimRight(strings.TrimRight((edges[1]-edges[0]).String(), "0"), ".") + " mm"; !strings.Contains(scale, want) {
		t.Errorf("an edge of 1 s takes %v, but the scale is %q", edges[1]-edges[0], scale)
	}
}

func TestCautionStands(t *testing.T) {
	for name, tr := range cases() {
		got := strings.Join(words(draw(t, tr, chart.Options{Width: 120 * page.MM}), "caution"), " ")
		for _, w := range []string{"Teaching material", "Work dead", "after you have let go", "not safety devices", "licensed person"} {
			if !strings.Contains(got, w) {
				t.Errorf("%s: %q lacks %q", name, got, w)
			}
		}
	}
}

// TestTickLabels: the times at the ticks stand at one distance, however narrow the
// squares are.
func TestTickLabels(t *testing.T) {
	for _, square := range []time.Duration{200 * ms, 250 * ms, 700 * ms, s} {
		for width := 120 * page.MM; width < 300*page.MM; width += 10 * page.MM {
			p := draw(t, cases()["dabbed-then-held"], chart.Options{Width: width, Square: square, Uncut: true, Fill: chart.Blank})
			var got []float64
			for _, label := range words(p, "axis") {
				if at, err := strconv.ParseFloat(label, 64); err == nil {
					got = append(got, at)
				}
			}
			if len(got) < 3 {
				t.Fatalf("only %v", got)
			}
			for i := 2; i < len(got); i++ {
				if math.Abs(got[i]-got[i-1]-got[1]) > 1e-9 {
					t.Errorf("%v wide, squares of %v: labels %v", width, square, got)
					break
				}
			}
		}
	}
}

// TestBeside: two charts that know of each other's rows have one scale.
func TestBeside(t *testing.T) {
	tr := cases()["dabbed-then-held"]
	tr.Circuit.Devices[0].Tag = "S1-much-longer"
	for _, square := range []time.Duration{50 * ms, s} {
		given, asked := []string{"S1-much-longer.no"}, []string{"H1"}
		opt := chart.Options{Rows: given, Beside: asked, Square: square, Uncut: true, Compact: true, Width: 180 * page.MM}
		_, one, err := chart.DrawWithPlan(tr, opt)
		if err != nil {
			t.Fatal(err)
		}
		opt.Rows, opt.Beside, opt.Blank = asked, given, asked
		_, two, err := chart.DrawWithPlan(tr, opt)
		if err != nil || !reflect.DeepEqual(one.Scale, two.Scale) || one.Square != two.Square {
			t.Errorf("%v: %v, %v by %v, and %v by %v", err, square, one.Scale, one.Square, two.Scale, two.Square)
		}
	}
	if _, err := chart.Draw(tr, chart.Options{Beside: []string{"H9"}}); err == nil || !strings.Contains(err.Error(), `"H9"`) {
		t.Error(err)
	}
}
