package exercise

import (
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
)

// variants varies a text that must have variants, and returns what it was.
func variants(t *testing.T, name string, text []byte, n int, opt VaryOptions) (*circuit.Circuit, []Exercise) {
	t.Helper()
	list, err := Vary(name, text, "B2", n, opt)
	if err != nil {
		t.Fatal(err)
	}
	file, _ := notation.Read(name, text)
	return file.Circuit, list
}

// inOrder holds the settings of a variant to the order of those of the original.
func inOrder(t *testing.T, was, is []time.Duration) {
	t.Helper()
	for i := range was {
		for k := range was {
			if (was[i] < was[k]) != (is[i] < is[k]) || was[i] < time.Second && is[i] != was[i] {
				t.Errorf("%v and %v became %v and %v", was[i], was[k], is[i], is[k])
			}
		}
	}
}

// presetsOf lists all settings, those of the first script behind those of the circuit.
func presetsOf(c *circuit.Circuit) []time.Duration {
	var list []time.Duration
	for i := range c.Devices {
		list = append(list, c.Devices[i].Presets[:]...)
	}
	for _, a := range c.Scripts[0].Actions {
		list = append(list, a.Presets[:]...)
	}
	return list
}

// TestSettingsKeepTheirOrder: a horn of 4 s within a warning of 5 s ends before it
// in every variant.
func TestSettingsKeepTheirOrder(t *testing.T) {
	differ := false
	for _, x := range library.All() {
		if _, err := Vary(x.Name, x.Text, "B2", 1, VaryOptions{}); err != nil {
			continue
		}
		c, list := variants(t, x.Name, x.Text, 10, VaryOptions{})
		for i := range list {
			inOrder(t, presetsOf(c), presetsOf(list[i].Circuit))
			differ = differ || !slices.Equal(presetsOf(c), presetsOf(list[i].Circuit))
		}
	}
	if !differ {
		t.Error("nothing is varied")
	}
	const text = "S1 switch\nKT1 on-delay 3 s\nKT2 on-delay 3 s\nKT3 on-delay 50 ms\nKT4 on-delay 4 s\nH1 lamp\nH2 lamp\n" +
		"1: S1.no -> KT1, KT4\n2: KT1.notc -> KT2\n3: KT2.notc -> KT3\n4: KT3.notc -> H1\n5: KT4.notc -> H2\n" +
		"script \"x\"\n1 s set KT4 to 5 s\n2 s close S1 for 9 s\nend 20 s\n"
	c, list := variants(t, "x", []byte(text), 10, VaryOptions{Asked: []string{"H2"}})
	for i := range list {
		inOrder(t, presetsOf(c), presetsOf(list[i].Circuit))
	}
}

// TestOnSquares: what was on whole seconds is on whole seconds, and on half-seconds
// where the original has such.
func TestOnSquares(t *testing.T) {
	const rungs = "H1 lamp\nH2 lamp\n1: S1.no -> KT1, KT2\n2: KT1.notc -> H1\n3: KT2.noto -> H2\nscript \"x\"\n"
	timers := func(t1, t2 string) string {
		return "S1 switch\nKT1 on-delay " + t1 + "\nKT2 off-delay " + t2 + "\n" + rungs
	}
	for text, want := range map[string]time.Duration{
		timers("6 s", "3 s") + "1 s close S1 for 9 s\nend 20 s":          time.Second,
		timers("6 s", "3 s") + "1.5 s close S1 for 9 s\nend 20 s":        500 * time.Millisecond,
		timers("6 s", "3 s") + "1 s close S1 for 8.2 s\nend 20 s":        500 * time.Millisecond,
		timers("6 s", "2.4 s") + "1 s close S1 for 9 s\nend 20 s":        500 * time.Millisecond,
		timers("2 min", "1 min") + "1 min close S1 for 4 min\nend 9 min": 10 * time.Second,
	} {
		_, list := variants(t, "x", []byte(text), 5, VaryOptions{})
		for i := range list {
			e := &list[i]
			if e.Square != want {
				t.Errorf("%s\nsquares of %v, want %v", text, e.Square, want)
			}
			for _, d := range append(timesOf(e.Circuit, e.Script), e.Script.End) {
				if d%want != 0 {
					t.Errorf("%s\n%v is not on squares of %v", e.Text, d, want)
				}
			}
		}
	}
}

// TestTooNear: edges that follow within a gap of 50 ms can't be drawn, but the rest
// of such a circuit can be asked.
func TestTooNear(t *testing.T) {
	x, _ := library.Find("11")
	_, err := Vary(x.Name, x.Text, "Q1", 3, VaryOptions{})
	if err == nil || !strings.Contains(err.Error(), "is not fit for an exercise: the edges at 7 s and 7.05 s are too near") {
		t.Error(err)
	}
	_, list := variants(t, x.Name, x.Text, 3, VaryOptions{Asked: []string{"M1", "M2"}})
	for i := range list {
		e := &list[i]
		if e.Circuit.Devices[4].Presets[0] != 50*time.Millisecond || e.Square != time.Second {
			t.Errorf("%s", e.Text)
		}
		if reason, err := undrawable(e.Trace(), e); reason != "" || err != nil {
			t.Error(reason, err)
		}
	}
}

// TestKeyRows: the key shows the times of timers of which the learner's chart shows
// nothing.
func TestKeyRows(t *testing.T) {
	x, _ := library.Find("11")
	_, list := variants(t, x.Name, x.Text, 1, VaryOptions{Asked: []string{"M1", "M2"}})
	e := &list[0]
	if !slices.Contains(e.keyRows(), "KT1") || slices.Contains(e.Rows(), "KT1") {
		t.Errorf("%v, of %v", e.keyRows(), e.Rows())
	}
	p, err := chart.Draw(e.Trace(), chart.Options{Rows: e.keyRows(), Square: e.Square, Uncut: true})
	if err != nil {
		t.Fatal(err)
	}
	want := circuit.FormatTime(e.Circuit.Devices[3].Presets[0])
	if !slices.ContainsFunc(p.Elements, func(el page.Element) bool {
		words, is := el.Shape.(page.Text)
		return is && words.Words == "KT1 "+want
	}) {
		t.Errorf("nothing says KT1 %s", want)
	}
	each(t, 1, func(v *Level, list []Exercise) {
		e := &list[0]
		if got := e.keyRows(); len(got) < len(e.Rows()) || got[len(got)-1] != e.Asked[len(e.Asked)-1] {
			t.Errorf("%s: %v", v.Name, got)
		}
	})
}
