package exercise

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/casetest"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
)

// each calls do for so many exercises of every level.
func each(t *testing.T, n int, do func(v *Level, list []Exercise)) {
	t.Helper()
	for _, v := range Levels() {
		list, err := Make(v.Name, "spring-07", n)
		if err != nil || len(list) != n {
			t.Fatalf("%s: %d, %v", v.Name, len(list), err)
		}
		do(&v, list)
	}
}

// TestFirst keeps the first exercise of each level as it is: a code that has been
// printed must go on giving the same.
func TestFirst(t *testing.T) {
	each(t, 1, func(v *Level, list []Exercise) {
		e := &list[0]
		text := fmt.Sprintf("%s\n# %s %d, %s, given %s\n# %s\n", e.Text, e.Code, e.Number, e.Level,
			strings.Join(e.Given, " "), strings.Join(e.Key(), "\n# "))
		casetest.Golden(t, "testdata/"+v.Name+".tarry", []byte(text))
	})
}

func TestVariants(t *testing.T) {
	each(t, 200, func(v *Level, list []Exercise) {
		seen := map[string]bool{}
		for i := range list {
			e := &list[i]
			if e.Shape != v.Shape || e.Code != "SPRING-07" || e.Number != i+1 || seen[string(e.Text)] {
				t.Fatalf("%s %d: %+v", v.Name, i, e.Shape)
			}
			seen[string(e.Text)] = true
			fit(t, e, square)
		}
		longer, err := Make(v.Name, " SPRING-07 ", 201)
		if err != nil || !reflect.DeepEqual(longer[:200], list) {
			t.Errorf("%s: a longer list begins otherwise, %v", v.Name, err)
		}
		other, err := Make(v.Name, "AUTUMN-07", 1)
		if err != nil || seen[string(other[0].Text)] {
			t.Errorf("%s: another code gives the same, %v", v.Name, err)
		}
	})
}

// TestDistinct: of so many that some are drawn twice, none is made twice.
func TestDistinct(t *testing.T) {
	list, err := Make("seal-in", "MANY", 2000)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for i := range list {
		seen[string(list[i].Text)] = true
	}
	if len(seen) != len(list) {
		t.Errorf("of %d exercises %d are different", len(list), len(seen))
	}
}

// fit looks at an exercise from outside: its text reads without complaint, the
// plain engine gives what the text expects, and nothing is to be noticed.
func fit(t *testing.T, e *Exercise, apart time.Duration) {
	t.Helper()
	file, ds := notation.Read("x", e.Text)
	if !clean(ds) || !reflect.DeepEqual(file.Circuit, e.Circuit) {
		t.Fatalf("%s\n%v", e.Text, ds)
	}
	run := engine.Run(file.Circuit, &file.Circuit.Scripts[0], engine.Options{})
	if len(run.Notices) > 0 || len(file.Circuit.Scripts[0].Expects) != len(e.Asked) {
		t.Fatalf("%s\n%v", e.Text, run.Notices)
	}
	for _, v := range run.CheckAll(&file.Circuit.Scripts[0]) {
		if !v.OK {
			t.Errorf("%s\n%+v", e.Text, v)
		}
	}
	if sh, reason := shapeOf(run, e.signals(), apart); sh != e.Shape || reason != "" {
		t.Errorf("%s\n%+v %s", e.Text, sh, reason)
	}
}

// TestContactsByHand works the four contacts out by their definitions.
func TestContactsByHand(t *testing.T) {
	list, _ := Make("contacts", "BY-HAND", 50)
	for i := range list {
		e := &list[i]
		on, off := e.Circuit.Devices[1].Presets[0], e.Circuit.Devices[2].Presets[0]
		last := e.Script.Actions[1]
		late := []time.Duration{last.At + on, last.At + last.For}
		long := []time.Duration{e.Script.Actions[0].At, last.At + last.For + off}
		want := map[circuit.ContactKind]line{circuit.NOTC: {false, late}, circuit.NCTO: {true, late},
			circuit.NOTO: {false, long}, circuit.NCTC: {true, long}}
		run := e.Trace()
		for _, r := range e.Circuit.Rungs[1:] {
			got := lineOf(run.Edges(circuit.Signal{Device: r.Loads[0].Device}), run.End)
			if w := want[r.Path[0].Contact.Kind]; !reflect.DeepEqual(got, w) {
				t.Errorf("%s\n%v, want %v", e.Text, got, w)
			}
		}
	}
}

func TestUnfit(t *testing.T) {
	const head = "S1 switch\nKT1 on-delay 5 s\nKT2 off-delay 5 s\nH1 lamp\nH2 lamp\n1: S1.no -> KT1, KT2\n2: KT1.notc -> H1\n3: KT2.noto -> H2\nscript \"x\"\n"
	for _, x := range []struct{ script, reason string }{
		{"1 s close S1 for 8 s\nend 30 s", ""},
		{"1 s close S1 for 5 s\nend 30 s", "its run has something to notice at 6 s"},
		{"1 s close S1 for 4.5 s\n12 s close S1 for 8 s\nend 30 s", "KT1 is cut short within 1 s of its time at 5.5 s"},
		{"1 s close S1 for 5.5 s\nend 30 s", "two things happen within 1 s of each other at 6.5 s"},
		{"1 s close S1 for 4 s\nend 30 s", "H1 has no edge"},
		{"1 s close S1 for 8 s\nend 14 s", "something happens at its very end"},
		{"1 s close S1 for 8 s\n1 s close S1\nend 30 s", "its run has something to notice at 1 s"},
	} {
		file, _ := notation.Read("x", []byte(head+x.script))
		c := file.Circuit
		signals, _ := signalsOf(c, []string{"H1", "H2"})
		if _, got := shapeOf(engine.Run(c, &c.Scripts[0], engine.Options{}), signals, s); got != x.reason {
			t.Errorf("%s: %q, want %q", x.script, got, x.reason)
		}
	}
}

func TestMakeErrors(t *testing.T) {
	for _, x := range []struct {
		level, code string
		n           int
		words       string
	}{
		{"hard", "A", 1, "contacts, timers, chain, seal-in or sequence"}, {"chain", " ", 1, "SPRING-07"},
		{"chain", "a_b", 1, "'_'"}, {"chain", strings.Repeat("A", 33), 1, "32 at most"},
		{"chain", "A", 0, "1 to 10000"}, {"chain", "A", 10_001, "1 to 10000"},
	} {
		if _, err := Make(x.level, x.code, x.n); err == nil || !strings.Contains(err.Error(), x.words) {
			t.Errorf("%v, want %s", err, x.words)
		}
	}
}

func TestVary(t *testing.T) {
	made := 0
	for _, x := range library.All() {
		list, err := Vary(x.Name, x.Text, "A-1", 3, VaryOptions{})
		if err != nil {
			if !strings.Contains(err.Error(), "not fit for an exercise") && !strings.Contains(err.Error(), "no timer has to do with") {
				t.Errorf("%s: %v", x.Name, err)
			}
			continue
		}
		made++
		again, _ := Vary(x.Name, x.Text, "A-1", 3, VaryOptions{})
		if !reflect.DeepEqual(list, again) {
			t.Errorf("%s: a second call gives something else", x.Name)
		}
		for i := range list {
			e := &list[i]
			if e.Shape != list[0].Shape || i > 0 && string(e.Text) == string(list[0].Text) {
				t.Errorf("%s: %+v", x.Name, e.Shape)
			}
			fit(t, e, min(e.Square, 500*time.Millisecond))
		}
	}
	if made < 24 {
		t.Errorf("only %d of the library's circuits vary", made)
	}
}

func TestVaryErrors(t *testing.T) {
	good, _ := library.Find("5")
	for _, x := range []struct {
		text, words string
		opt         VaryOptions
	}{
		{"S1 swich", "x, line 1: ", VaryOptions{}},
		{string(good.Text), "no script \"y\": name one of \"A dab starts", VaryOptions{Script: "y"}},
		{string(good.Text), "no row \"H9\"", VaryOptions{Asked: []string{"H9"}}},
		{"S1 switch\nH1 lamp\n1: S1.no -> H1\n", "write one", VaryOptions{}},
		{"S1 switch\nH1 lamp\n1: S1.no -> H1\nscript \"a\"\n1 s close S1\nend 3 s\n", "no more variants", VaryOptions{}},
	} {
		if _, err := Vary("x", []byte(x.text), "A", 50, x.opt); err == nil || !strings.Contains(err.Error(), x.words) {
			t.Errorf("%v, want %s", err, x.words)
		}
	}
}

func TestFaded(t *testing.T) {
	each(t, 20, func(v *Level, list []Exercise) {
		for i := range list {
			e := &list[i]
			run := e.Trace()
			last := 0
			for n, f := range e.Faded() {
				if f.Step != n+1 || f.Edges <= last || f.Edges == 0 {
					t.Errorf("%s step %d leaves %d edges", v.Name, f.Step, f.Edges)
				}
				last = f.Edges
				if rows := len(f.Given) + len(f.Blank); rows != len(e.Rows()) || slices.ContainsFunc(f.Given, func(r string) bool { return slices.Contains(f.Blank, r) }) {
					t.Errorf("%s step %d: %v, %v", v.Name, f.Step, f.Given, f.Blank)
				}
				if _, err := chart.Draw(run, f.ChartOptions()); err != nil {
					t.Error(err)
				}
				if n == 0 && len(f.Told)+1 != edgesOf(run, f.Blank[0]) || n > 0 && len(f.Told) > 0 {
					t.Errorf("%s step %d tells %v", v.Name, f.Step, f.Told)
				}
				if n == 4 && strings.Contains(strings.Join(f.Given, " "), "K") {
					t.Errorf("%s: the last step gives %v", v.Name, f.Given)
				}
			}
			for _, opt := range []chart.Options{e.ChartOptions(), e.KeyOptions()} {
				if _, err := chart.Draw(run, opt); err != nil {
					t.Error(err)
				}
			}
		}
	})
}

// TestNothingGivenAway: on the learner's chart no timer's time is written above its
// coil.
func TestNothingGivenAway(t *testing.T) {
	each(t, 3, func(v *Level, list []Exercise) {
		for i := range list {
			e := &list[i]
			opts := []chart.Options{e.ChartOptions()}
			for _, f := range e.Faded() {
				opts = append(opts, f.ChartOptions())
			}
			for _, opt := range opts {
				p, err := chart.Draw(e.Trace(), opt)
				if err != nil {
					t.Fatal(err)
				}
				for _, el := range p.Elements {
					if words, is := el.Shape.(page.Text); is && strings.HasPrefix(words.Words, "KT") && strings.HasSuffix(words.Words, " s") {
						t.Errorf("%s %d: %s", v.Name, i, words.Words)
					}
				}
			}
		}
	})
}

// FuzzCode: any words are a code or a sentence, and a code gives the same twice.
func FuzzCode(f *testing.F) {
	for _, code := range []string{"SPRING-07", "", "spring 07", "a\xff", "Ä", strings.Repeat("9", 40), "\x00"} {
		f.Add(code)
	}
	f.Fuzz(func(t *testing.T, code string) {
		a, err := Make("contacts", code, 1)
		b, _ := Make("contacts", code, 1)
		clean, codeErr := Code(code)
		if (err == nil) != (codeErr == nil) || !reflect.DeepEqual(a, b) {
			t.Fatal(err, codeErr)
		}
		if err == nil && (a[0].Code != clean || clean == "" || len(clean) > 32) {
			t.Errorf("%q became %q", code, a[0].Code)
		}
	})
}

func BenchmarkMake1000(b *testing.B) {
	for b.Loop() {
		for _, v := range Levels() {
			if list, err := Make(v.Name, "SPRING-07", 200); err != nil || len(list) != 200 {
				b.Fatal(err)
			}
		}
	}
}
