package tarry_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"tarry"
)

// dab has two scripts; the second one's expectation is wrong.
const dab = `circuit "Dab"
S1   button           "Start"
KT1  off-delay 2.5 s  "Run-on"
H1   lamp green       "Running"
1:  S1.no     -> KT1
2:  KT1.noto  -> H1
script "A dab"
  1 s  press S1 for 500 ms
  end 10 s
  expect H1 on 1 s .. 4 s
script "Held"
  1 s  press S1
  end 100 s
  expect H1 on 1 s .. 4 s
`

func source(text string) tarry.Source { return tarry.Source{Name: "dab.tarry", Text: []byte(text)} }

// faulty adds a line that is wrong to a text.
func faulty(text string) tarry.Source { return source("K9 realy\n" + text) }

// TestPartialResults asks every request of a text with a fault in it.
func TestPartialResults(t *testing.T) {
	s := faulty(dab)
	check := func(what string, c tarry.Checked, err error, partial bool) {
		t.Helper()
		if err != nil || !c.Errors || len(c.Diagnostics) == 0 || c.Diagnostics[0].Code != "unknown-kind" || !strings.Contains(c.Listing, "dab.tarry:1:4: error unknown-kind") {
			t.Errorf("%s: %v, %+v", what, err, c)
		}
		if !partial {
			t.Errorf("%s gives no partial result", what)
		}
	}
	checked, err := tarry.Check(s)
	check("Check", checked, err, true)
	for _, form := range []tarry.Form{tarry.Text, tarry.CSV, tarry.JSON, tarry.VCD} {
		run, err := tarry.Run(tarry.RunRequest{Source: s, Script: "A dab", Form: form})
		check("Run", run.Checked, err, bytes.Contains(run.Output, []byte("H1")) && run.Failed == 0)
	}
	why, err := tarry.Why(tarry.WhyRequest{Source: s, Of: "H1", At: "2s"})
	check("Why", why.Checked, err, why.Value == "on" && why.Script == "A dab" && len(why.Answer) > 0 && len(why.Story) > 0)
	chart, err := tarry.Chart(tarry.ChartRequest{Source: s})
	check("Chart", chart.Checked, err, bytes.HasPrefix(chart.SVG, []byte("<svg ")) || bytes.HasPrefix(chart.SVG, []byte("<?xml")))
	text, err := tarry.Format(s)
	check("Format", text.Checked, err, bytes.Contains(text.Text, []byte("K9 realy\n")))
}

// TestErrInput asks for what there is not.
func TestErrInput(t *testing.T) {
	s := faulty(dab)
	var errs []error
	add := func(c tarry.Checked, err error) {
		errs = append(errs, err)
		if len(c.Diagnostics) == 0 {
			t.Errorf("%v hides the diagnostics", err)
		}
	}
	for _, script := range []string{"nosuch", "0", "3", "-1", "99999999999999999999"} {
		run, err := tarry.Run(tarry.RunRequest{Source: s, Script: script})
		add(run.Checked, err)
	}
	run, err := tarry.Run(tarry.RunRequest{Source: s, Form: tarry.VCD, Script: "nosuch"})
	add(run.Checked, err)
	for _, r := range []tarry.WhyRequest{{Of: "H2", At: "1s"}, {Of: "", At: "1s"}, {Of: "S1", At: "1s"}, {Of: "H1", At: "soon"},
		{Of: "H1", At: ""}, {Of: "H1", At: "-1s"}, {Of: "H1", At: "11s"}, {Of: "H1", At: "1s", Script: "nosuch"}} {
		r.Source = s
		out, err := tarry.Why(r)
		add(out.Checked, err)
	}
	chart, err := tarry.Chart(tarry.ChartRequest{Source: s, Rows: []string{"H2"}})
	add(chart.Checked, err)
	_, err = tarry.LibraryFind("nosuch")
	errs = append(errs, err)
	_, err = tarry.Run(tarry.RunRequest{Source: s, Width: 20})
	errs = append(errs, err)
	for i, err := range errs {
		if !errors.Is(err, tarry.ErrInput) || strings.Contains(err.Error(), "bad input") {
			t.Errorf("error %d: %v", i, err)
		}
	}
}

// TestFailed counts expectations that did not come true, in every form.
func TestFailed(t *testing.T) {
	for _, form := range []tarry.Form{tarry.Text, tarry.CSV, tarry.JSON} {
		run, err := tarry.Run(tarry.RunRequest{Source: source(dab), Form: form})
		if err != nil || run.Failed != 1 || run.Errors {
			t.Errorf("form %d: %d failed, %v", form, run.Failed, err)
		}
	}
	run, err := tarry.Run(tarry.RunRequest{Source: source(dab), Form: tarry.VCD, Script: "2"})
	if err != nil || run.Failed != 1 {
		t.Errorf("%d failed, %v", run.Failed, err)
	}
}

// TestScripts names scripts by name and number.
func TestScripts(t *testing.T) {
	for script, want := range map[string]string{"A dab": "A dab", "Held": "Held", "1": "A dab", "2": "Held"} {
		out, err := tarry.Why(tarry.WhyRequest{Source: source(dab), Script: script, Of: "H1", At: "1s"})
		if err != nil || out.Script != want {
			t.Errorf("script %q is %q, %v", script, out.Script, err)
		}
	}
	run, err := tarry.Run(tarry.RunRequest{Source: source("H1 lamp\n1: -> H1\n"), Form: tarry.CSV})
	if err != nil || string(run.Output) != "script,time_s,step,signal,value\nat rest,0,0,H1,on\n" {
		t.Errorf("without scripts: %s, %v", run.Output, err)
	}
	run, err = tarry.Run(tarry.RunRequest{Source: source("")})
	if err != nil || run.Errors || len(run.Output) == 0 {
		t.Errorf("an empty text: %s, %v", run.Output, err)
	}
}

// TestTimes gives the ways to write a time.
func TestTimes(t *testing.T) {
	for at, want := range map[string]string{"3.2s": "3.2 s", "3.2 s": "3.2 s", "3.2": "3.2 s", "3200ms": "3.2 s", " 3.2s ": "3.2 s",
		"300ms": "300 ms", "0.3": "300 ms", "1 min 30 s": "1 min 30 s", "1min30s": "1 min 30 s", "90": "1 min 30 s", "0": "0 s"} {
		out, err := tarry.Why(tarry.WhyRequest{Source: source(dab), Script: "Held", Of: "H1", At: at})
		if err != nil || !strings.Contains(out.Answer[0], " at "+want) {
			t.Errorf("--at %q: %q, %v", at, out.Answer, err)
		}
	}
}

// everything is all that can be made of one text.
func everything(t *testing.T, s tarry.Source) []byte {
	t.Helper()
	var all bytes.Buffer
	for _, form := range []tarry.Form{tarry.Text, tarry.CSV, tarry.JSON, tarry.VCD} {
		r := tarry.RunRequest{Source: s, Form: form}
		if form == tarry.VCD {
			r.Script = "1"
		}
		run, err := tarry.Run(r)
		if err != nil {
			t.Fatal(err)
		}
		all.WriteString(run.Listing)
		all.Write(run.Output)
		if form == tarry.JSON && !json.Valid(run.Output) {
			t.Fatalf("%s: no JSON", s.Name)
		}
	}
	chart, err := tarry.Chart(tarry.ChartRequest{Source: s})
	if err != nil {
		t.Fatal(err)
	}
	all.Write(chart.SVG)
	text, err := tarry.Format(s)
	if err != nil {
		t.Fatal(err)
	}
	all.Write(text.Text)
	return all.Bytes()
}

// TestSameBytes makes everything of the library several times, with more and
// fewer processors; Go itself shakes the order of maps each time.
func TestSameBytes(t *testing.T) {
	files, err := filepath.Glob("library/*.tarry")
	if err != nil || len(files) == 0 {
		t.Fatalf("no library: %v", err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []tarry.Source{{Name: name, Text: text}, {Name: name, Text: append([]byte("K999 realy\n"), text...)}} {
			runtime.GOMAXPROCS(1)
			first := everything(t, s)
			for _, n := range []int{1, 2, 8} {
				runtime.GOMAXPROCS(n)
				if !bytes.Equal(first, everything(t, s)) {
					t.Errorf("%s: other bytes with %d processors", name, n)
				}
			}
		}
	}
}
