package misread_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/library"
	"tarry/misread"
	"tarry/notation"
	"tarry/trace"
)

// Every reading has its words, and what can be run has an example that it gets
// wrong; what the example's text expects is right.
func TestReadings(t *testing.T) {
	seen, run := map[string]bool{}, 0
	for _, r := range misread.All() {
		if seen[r.ID] || r.Name == "" || r.Belief == "" || r.Rebuttal == "" || !strings.Contains("ABC", r.Section) {
			t.Errorf("%s: double, or without words", r.ID)
		}
		seen[r.ID] = true
		if n := strings.Count(r.Feedback, ".") + strings.Count(r.Feedback, "?"); n < 2 || n > 3 || !strings.Contains(r.Feedback, "You") {
			t.Errorf("%s: feedback of %d sentences: %s", r.ID, n, r.Feedback)
		}
		if (r.NotRun == "") == (r.Example.File == "") {
			t.Errorf("%s: an example or a reason", r.ID)
		}
		if r.NotRun != "" {
			continue
		}
		run++
		c, s, signals := r.Example.Item()
		if ok, reason := misread.Applies(c, r); !ok {
			t.Errorf("%s does not apply to its example: %s", r.ID, reason)
		}
		if groups := misread.Coincide(c, s, signals, []string{r.ID}); len(groups) != 2 {
			t.Errorf("%s answers its example right", r.ID)
		}
		right := engine.Run(c, s, engine.Options{})
		for i := range s.Expects {
			if v := right.Check(s.Expects[i]); !v.OK {
				t.Errorf("%s: example %s, %s: expectation %d does not hold", r.ID, r.Example.File, s.Name, i+1)
			}
		}
	}
	if len(seen) != 20+14+17+2 || run != len(seen)-4 {
		t.Errorf("%d readings, %d of them run", len(seen), run)
	}
	if _, known := misread.Find("m05"); !known {
		t.Error("case counts")
	}
	if _, known := misread.Find("M21"); known {
		t.Error("there is an M21")
	}
}

// The examples are read without errors.
func TestExamplesRead(t *testing.T) {
	for _, r := range misread.All() {
		if r.Example.File != "" {
			read(t, r.Example.Text())
		}
	}
}

// runnable lists the IDs that can be run, of one section or of all.
func runnable(section string) []string {
	var ids []string
	for _, r := range misread.All() {
		if r.NotRun == "" && strings.Contains(section, r.Section) {
			ids = append(ids, r.ID)
		}
	}
	return ids
}

func TestMixtures(t *testing.T) {
	on := single(t, "on-delay 5 s", "notc", "ncto")
	both := read(t, `
S1 switch
KT1 on-delay 5 s
KT2 off-delay 5 s
1: S1.no -> KT1, KT2
`)
	long := presses()["S1"]
	for _, x := range []struct {
		c      *circuit.Circuit
		ids    string
		signal string
		want   string
	}{
		{on, "M02 M09", "KT1.notc", "0-2 17-end"},
		{on, "M09 M02", "KT1.notc", "0-2 17-end"},
		{on, "M02 M13", "KT1.notc", "2-12"}, // taken for an off-delay, and that wrongly
		{on, "M13 M02", "KT1.notc", "2-12"},
		{on, "M01 M09", "KT1.notc", "0-17"},
		{on, "M07 M15", "KT1.ncto", "2-7"},
		{both, "M07 M12", "KT2.noto", "2-7"},
		{both, "M07 M13", "KT1.notc", "2-7"},
	} {
		p := play(t, x.c, long, strings.Fields(x.ids)...)
		if got := times(p.Edges(signal(t, x.c, x.signal)), p.End); got != x.want {
			t.Errorf("%s: %s on %s, want %s", x.ids, x.signal, got, x.want)
		}
	}
	for _, ids := range []string{"M05 M07", "M09 M15", "M04 M13", "M05 C12", "P03 P05", "M99", "P07"} {
		if p, err := misread.Run(both, long, engine.Options{}, strings.Fields(ids)...); err == nil {
			t.Errorf("%s are run together: %v", ids, p.IDs)
		}
	}
}

// In a circuit without timers nothing of section A applies.
func TestWithoutTimers(t *testing.T) {
	c := read(t, "S1 switch\nK1 relay\n1: S1.no -> K1\n")
	for _, r := range misread.All() {
		if ok, reason := misread.Applies(c, r); r.Section == "A" && (ok || reason == "") {
			t.Errorf("%s applies", r.ID)
		}
	}
	groups := misread.Coincide(c, presses()["S1"], []circuit.Signal{{Device: 1}}, runnable("A"))
	if len(groups) != 1 || len(groups[0].IDs) != 21 {
		t.Errorf("%v", groups)
	}
}

// A long press on an NOTC contact, the usual lesson: who is right all the same.
func TestCoincide(t *testing.T) {
	c := single(t, "on-delay 5 s", "notc", "ncto")
	groups := misread.Coincide(c, presses()["S1"], []circuit.Signal{signal(t, c, "KT1.notc")}, runnable("A"))
	var got []string
	for _, g := range groups {
		got = append(got, strings.Join(g.IDs, " "))
	}
	want := []string{"right M05 M06 M12 M13 M14 M15 M18 M19 M20", "M01", "M02", "M03", "M04", "M07 M16", "M08", "M09", "M10", "M11", "M17"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if s := groups[5].Sentence; s != "M07 and M16 give the same wrong answer here: it can't tell them apart." {
		t.Error(s)
	}
}

// C10's other half: with a button and a seal, it restarts.
func TestDipWithSeal(t *testing.T) {
	c := read(t, misread.Example{File: "instant-seal"}.Text())
	p := play(t, c, &c.Scripts[1], "C10")
	for name, want := range map[string]string{"KT1": "1-4 6-end", "H1": "8-end", "KT1.no": "1-end", "S1.no": "1-2"} {
		if got := times(p.Edges(signal(t, c, name)), p.End); got != want {
			t.Errorf("%s on %s, want %s", name, got, want)
		}
	}
}

// C11, with the supply back within the time.
func TestLitWhileTheSupplyIsBack(t *testing.T) {
	c := read(t, misread.Example{File: "dark-rail"}.Text())
	p := play(t, c, &c.Scripts[1], "C11")
	if got := times(p.Edges(signal(t, c, "H1")), p.End); got != "1-8" {
		t.Errorf("H1 on %s", got)
	}
}

// Preset, supply and start-up meet the hidden behaviours too.
func TestHiddenWithoutSupply(t *testing.T) {
	off := single(t, "off-delay 5 s", "noto", "nctc")
	electronic := single(t, "off-delay 5 s electronic", "noto", "nctc")
	on := single(t, "on-delay 5 s", "notc", "ncto")
	s := func(at int, verb circuit.Verb) circuit.Action {
		return circuit.Action{At: time.Duration(at) * time.Second, Verb: verb, Device: circuit.NoDevice}
	}
	hand := func(from, to int) circuit.Action {
		return circuit.Action{At: time.Duration(from) * time.Second, Verb: circuit.Close, For: time.Duration(to-from) * time.Second}
	}
	for _, x := range []struct {
		c       *circuit.Circuit
		id      string
		actions []circuit.Action
		want    string
	}{
		{off, "M03", []circuit.Action{hand(1, 3), s(4, circuit.SupplyOff), s(5, circuit.SupplyOn)}, "6-8"},
		{electronic, "M03", []circuit.Action{hand(1, 30), s(4, circuit.SupplyOff), s(5, circuit.SupplyOn)}, "10-35"},
		{electronic, "M19", []circuit.Action{hand(1, 3), s(4, circuit.SupplyOff), s(5, circuit.SupplyOn), hand(9, 10)}, "1-4 9-15"},
		{off, "M14", []circuit.Action{hand(1, 20), s(4, circuit.SupplyOff), s(5, circuit.SupplyOn)}, "1-9"},
		{on, "M05", []circuit.Action{hand(1, 20), s(4, circuit.SupplyOff), s(5, circuit.SupplyOn)}, "10-20"},
		{on, "M05", []circuit.Action{hand(1, 3), hand(4, 6), hand(7, 20)}, "8-20"},
		{off, "P12", []circuit.Action{s(8, circuit.SupplyOff), s(10, circuit.SupplyOn)}, "0-5 10-15"},
		{off, "P12", []circuit.Action{hand(2, 9)}, "0-14"},
		{off, "P12", []circuit.Action{hand(1, 3), s(4, circuit.SupplyOff), s(6, circuit.SupplyOn)}, "0-8"},
	} {
		p := play(t, x.c, &circuit.Script{Actions: x.actions, End: 40 * time.Second}, x.id)
		if got := times(p.Edges(circuit.Signal{Device: 1, Contact: circuit.TNO}), p.End); got != x.want {
			t.Errorf("%s %v: on %s, want %s", x.id, x.actions, got, x.want)
		}
	}
}

// More timers and contacts than the examples have.
func TestLargerCircuits(t *testing.T) {
	three := read(t, `
S1 switch
KT1 on-delay 3 s
KT2 on-delay 10 s
KT3 on-delay 4 s
1: S1.no -> KT1
2: S1.no -> KT2
3: S1.no -> KT3
`)
	twice := read(t, `
S1 button
KT1 on-delay 5 s
H1 lamp
1: (S1.no | KT1.no) -> KT1
2: KT1.no -> H1
`)
	chain := read(t, `
S1 switch
KT1 on-delay 6 s
KT2 on-delay 4 s
KT3 on-delay 2 s
H1 lamp
1: S1.no -> KT1
2: KT1.notc -> KT2
3: KT2.notc -> KT3
4: KT3.notc -> H1
`)
	hold := func(to int, verb circuit.Verb) *circuit.Script {
		a := circuit.Action{At: time.Second, Verb: verb, For: time.Duration(to-1) * time.Second}
		return &circuit.Script{Actions: []circuit.Action{a}, End: 40 * time.Second}
	}
	for _, x := range []struct {
		c                *circuit.Circuit
		s                *circuit.Script
		id, signal, want string
	}{
		{three, hold(30, circuit.Close), "P02", "KT3", "14-30"},
		{three, hold(30, circuit.Close), "P02", "KT3.notc", "18-30"},
		{three, hold(30, circuit.Close), "P01", "KT3.notc", "18-30"}, // which leaves them one after another too
		{twice, hold(2, circuit.Press), "C04", "KT1.no", "1-end"},
		{twice, hold(2, circuit.Press), "C04", "H1", "never"},
		{chain, hold(30, circuit.Close), "C12", "H1", "7-30"},
	} {
		p := play(t, x.c, x.s, x.id)
		if got := times(p.Edges(signal(t, x.c, x.signal)), p.End); got != x.want {
			t.Errorf("%s: %s on %s, want %s", x.id, x.signal, got, x.want)
		}
	}
}

// A prediction ends with the right run, and says nothing of other orders; one
// that would never settle ends at once.
func TestEnds(t *testing.T) {
	c := single(t, "on-delay 5 s", "notc", "ncto")
	s := presses()["S1"]
	s.End = 0
	p := play(t, c, s, "M01")
	if right := engine.Run(c, s, engine.Options{}); p.End != right.End || p.Trace.End != right.End || p.Trace.Ending != trace.Finished {
		t.Errorf("ends at %v, not at %v", p.End, right.End)
	}
	exact := &circuit.Script{End: 20 * time.Second, Actions: []circuit.Action{{At: time.Second, Verb: circuit.Close, For: 5 * time.Second}}}
	if p := play(t, c, exact, "M15"); len(p.Trace.Notices) > 0 {
		t.Errorf("notices %v", p.Trace.Notices)
	}
	own := read(t, misread.Example{File: "own-contact"}.Text())
	late := &circuit.Script{End: 20 * time.Second, Actions: []circuit.Action{{At: 6 * time.Second, Verb: circuit.Close}}}
	if p := play(t, own, late, "M17"); p.Trace.Ending != trace.Chattering || p.End != 6*time.Second {
		t.Errorf("ends %v at %v", p.Trace.Ending, p.End)
	}
}

const fewEvents = 3000

// Every reading on random circuits: it ends, hands keep their rows, and a second
// run, on the same runner or another, gives the same.
func TestRandomCircuits(t *testing.T) {
	ids := runnable("ABC")
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		opt := engine.Options{Limit: fewEvents}
		r := misread.NewRunner(c, opt)
		right := engine.Run(c, s, opt)
		signals := right.Signals()
		for _, id := range ids {
			p, err := r.Play(s, id)
			if err != nil {
				continue
			}
			if p.Trace.Len() > 2*fewEvents || p.Trace.Ending == trace.Running {
				t.Fatalf("%s: %d events, %v\n%s", id, p.Trace.Len(), p.Trace.Ending, oracle.Describe(c, s))
			}
			first := rows(p, signals)
			for i, sig := range signals {
				if moved(c, sig.Device) && first[i] != fmt.Sprint(right.Edges(sig)) {
					t.Fatalf("%s changes %s: %s instead of %v\n%s", id, c.SignalName(sig), first[i], right.Edges(sig), oracle.Describe(c, s))
				}
			}
			p, _ = r.Play(s, id)
			again := rows(p, signals)
			q, _ := misread.Run(c, s, opt, id)
			if !slices.Equal(first, again) || !slices.Equal(first, rows(q, signals)) {
				t.Fatalf("%s: another answer the second time\n%s", id, oracle.Describe(c, s))
			}
		}
	})
}

// moved reports whether hands alone move a device.
func moved(c *circuit.Circuit, id circuit.DeviceID) bool {
	byPlant := slices.ContainsFunc(c.Plants, func(p circuit.Plant) bool { return p.Sensor == id })
	return len(c.Devices[id].Kind.Info().Loads) == 0 && !byPlant
}

func rows(p *misread.Prediction, signals []circuit.Signal) []string {
	var list []string
	for _, s := range signals {
		edges := p.Edges(s)
		for i := range edges {
			if i > 0 && (edges[i].At < edges[i-1].At || edges[i].On == edges[i-1].On) {
				list = append(list, "not a line: ")
			}
		}
		list = append(list, fmt.Sprint(edges))
	}
	return list
}

// A changed circuit is another one: the circuit that was asked about stays.
func TestTheCircuitStays(t *testing.T) {
	for _, e := range library.All() {
		file, _ := notation.Read(e.Name, e.Text)
		again, _ := notation.Read(e.Name, e.Text)
		for i := range file.Circuit.Scripts {
			r := misread.NewRunner(file.Circuit, engine.Options{})
			for _, id := range runnable("ABC") {
				r.Play(&file.Circuit.Scripts[i], id)
			}
		}
		if fmt.Sprintf("%+v", file.Circuit) != fmt.Sprintf("%+v", again.Circuit) {
			t.Errorf("%s has changed", e.Name)
		}
	}
}
