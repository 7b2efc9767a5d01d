package library_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"tarry/circuit"
	"tarry/diag"
	"tarry/engine"
	"tarry/library"
	"tarry/notation"
	"tarry/trace"
)

// allowedDiagnostics names the diagnostics that a circuit is meant to cause,
// by "name code", and why.
var allowedDiagnostics = map[string]string{}

// allowedNotices names the notices that a run is meant to give, by circuit,
// script and kind, and why.
var allowedNotices = map[noticeKey]string{
	{"23-self-resetting-timer", "Four cycles, then cleared", trace.Race}:                         cutsItself,
	{"23-self-resetting-timer", "Switched off before the time is up", trace.Race}:                cutsItself,
	{"23-self-resetting-timer", "The count is kept without supply, the time is not", trace.Race}: cutsItself,
}

type noticeKey struct {
	circuit, script string
	kind            trace.NoticeKind
}

const cutsItself = "the timer drops out in the step in which the counter picks up, and one by one the counter may miss the pulse: that is the lesson"

// maxWidth is how wide a line of a circuit may be before it is hard to read on
// paper; expectations that list many spans may be wider.
const maxWidth = 160

func TestSortedAndFound(t *testing.T) {
	all := library.All()
	if len(all) == 0 {
		t.Fatal("the library is empty")
	}
	for i, e := range all {
		if i > 0 && all[i-1].Number >= e.Number {
			t.Errorf("%s does not come after %s", e.Name, all[i-1].Name)
		}
		if !strings.HasPrefix(e.Name, fmt.Sprintf("%02d-", e.Number)) {
			t.Errorf("%s: the name does not begin with the number %02d", e.Name, e.Number)
		}
		for _, query := range []string{fmt.Sprint(e.Number), fmt.Sprintf("%02d", e.Number), e.Name} {
			if got, ok := library.Find(query); !ok || got.Name != e.Name || !bytes.Equal(got.Text, e.Text) {
				t.Errorf("Find(%q) = %s, %v", query, got.Name, ok)
			}
		}
	}
	for _, query := range []string{"", "0", "-1", "999", "sizer", "01-", "01-sizer-ready.tarry"} {
		if e, ok := library.Find(query); ok {
			t.Errorf("Find(%q) = %s", query, e.Name)
		}
	}
}

func TestTextBelongsToCaller(t *testing.T) {
	e := library.All()[0]
	e.Text[0] ^= 1
	if again, _ := library.Find(e.Name); bytes.Equal(again.Text, e.Text) {
		t.Error("a change of Text has reached the library")
	}
}

// each reads every circuit and runs check on it.
func each(t *testing.T, check func(t *testing.T, e library.Entry, c *circuit.Circuit)) {
	t.Helper()
	for _, e := range library.All() {
		t.Run(e.Name, func(t *testing.T) {
			file, _ := notation.Read(e.Name+".tarry", e.Text)
			check(t, e, file.Circuit)
		})
	}
}

func TestReadsWithoutFault(t *testing.T) {
	for _, e := range library.All() {
		t.Run(e.Name, func(t *testing.T) {
			_, ds := notation.Read(e.Name+".tarry", e.Text)
			for _, d := range ds {
				key := e.Name + " " + d.Code
				if d.Grade == diag.Notice || allowedDiagnostics[key] != "" {
					continue
				}
				line := 1 + bytes.Count(e.Text[:d.At.Start], []byte("\n"))
				t.Errorf("line %d: %s %s: %s", line, d.Grade, d.Code, d.Summary)
			}
		})
	}
}

func TestTeachingText(t *testing.T) {
	each(t, func(t *testing.T, e library.Entry, c *circuit.Circuit) {
		if c.Title == "" || c.Station == "" || c.Supply.Millivolts == 0 {
			t.Errorf("title %q, station %q, supply %d mV", c.Title, c.Station, c.Supply.Millivolts)
		}
		for _, word := range []string{"aim", "trap", "caution", "say"} {
			if len(c.NotesOf(word)) == 0 {
				t.Errorf("no %s", word)
			}
		}
		for i, line := range strings.Split(string(e.Text), "\n") {
			if n := utf8.RuneCountInString(line); n > maxWidth && !strings.HasPrefix(line, "  expect") {
				t.Errorf("line %d is %d characters wide", i+1, n)
			}
			if strings.TrimRight(line, " \t") != line || strings.Contains(line, "\t") {
				t.Errorf("line %d has tabs or spaces at its end", i+1)
			}
		}
	})
}

// readOnly begins the caution of a circuit that is not to be built; a drawing
// looks for it and prints the caution across itself.
const readOnly = "Read only: "

func TestReadOnlyCircuitsSaySo(t *testing.T) {
	each(t, func(t *testing.T, e library.Entry, c *circuit.Circuit) {
		marked := slices.ContainsFunc(c.NotesOf("caution"), func(text string) bool {
			return strings.HasPrefix(text, readOnly)
		})
		if want := e.Number == 38 || e.Number == 39; marked != want {
			t.Errorf("a caution that begins with %q: %v, want %v", readOnly, marked, want)
		}
		if marked && !bytes.HasPrefix(e.Text, []byte("# For reading")) {
			t.Error("the first line does not say that it is for reading")
		}
	})
}

// shown are the kinds whose state a learner sees, so that every script must
// say what they do.
var shown = []circuit.Kind{
	circuit.Contactor, circuit.Lamp, circuit.Horn, circuit.Solenoid,
	circuit.Motor, circuit.Heater, circuit.Brake,
}

func TestScriptsSayWhatEveryLoadDoes(t *testing.T) {
	each(t, func(t *testing.T, e library.Entry, c *circuit.Circuit) {
		if len(c.Scripts) < 2 {
			t.Errorf("%d scripts", len(c.Scripts))
		}
		fed := circuit.Wire(c).Loads
		for i := range c.Scripts {
			s := &c.Scripts[i]
			if s.End == 0 {
				t.Errorf("%q has no end", s.Name)
			}
			for _, l := range fed {
				if slices.Contains(shown, c.Devices[l.Device].Kind) && !expects(s, l.Load) {
					t.Errorf("%q expects nothing of %s", s.Name, c.LoadName(l.Load))
				}
			}
		}
	})
}

func expects(s *circuit.Script, l circuit.Load) bool {
	return slices.ContainsFunc(s.Expects, func(x circuit.Expect) bool {
		return x.Signal == trace.LoadSignal(l)
	})
}

func TestScriptsRunAsExpected(t *testing.T) {
	each(t, func(t *testing.T, e library.Entry, c *circuit.Circuit) {
		for i := range c.Scripts {
			s := &c.Scripts[i]
			t.Run(s.Name, func(t *testing.T) {
				tr := engine.Run(c, s, engine.Options{})
				checkRun(t, c, s, tr)
				for _, n := range tr.Notices {
					key := noticeKey{e.Name, s.Name, n.Kind}
					if allowedNotices[key] == "" {
						t.Errorf("notice of kind %d at %v: %s", n.Kind, n.At, tags(c, n.Devices))
					}
				}
			})
		}
	})
}

func checkRun(t *testing.T, c *circuit.Circuit, s *circuit.Script, tr *trace.Trace) {
	t.Helper()
	if tr.Ending != trace.Finished || tr.End != s.End {
		t.Errorf("the run ended at %v in state %d, not at its end %v", tr.End, tr.Ending, s.End)
	}
	for _, v := range tr.CheckAll(s) {
		if !v.OK {
			t.Errorf("%s: from %v on not as expected\n got %v\nwant %v",
				c.SignalName(v.Expect.Signal), v.Differs, v.Got, v.Want)
		}
	}
}

// TestAllowancesAreNeeded fails for an allowance that nothing asks for.
func TestAllowancesAreNeeded(t *testing.T) {
	needed := map[any]bool{}
	for _, e := range library.All() {
		file, ds := notation.Read(e.Name+".tarry", e.Text)
		for _, d := range ds {
			needed[e.Name+" "+d.Code] = true
		}
		for i := range file.Circuit.Scripts {
			s := &file.Circuit.Scripts[i]
			for _, n := range engine.Run(file.Circuit, s, engine.Options{}).Notices {
				needed[noticeKey{e.Name, s.Name, n.Kind}] = true
			}
		}
	}
	for key := range allowedDiagnostics {
		if !needed[key] {
			t.Errorf("%s is allowed but does not occur", key)
		}
	}
	for key := range allowedNotices {
		if !needed[key] {
			t.Errorf("%v is allowed but does not occur", key)
		}
	}
}

func tags(c *circuit.Circuit, list []circuit.DeviceID) string {
	var words []string
	for _, d := range list {
		words = append(words, c.Devices[d].Tag)
	}
	return strings.Join(words, ", ")
}
