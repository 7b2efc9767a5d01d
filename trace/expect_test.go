package trace_test

import (
	"encoding/csv"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// spanText writes spans shortly: 1s-3.5s, 6s-end.
func spanText(list []circuit.Span) string {
	var words []string
	for _, s := range list {
		to := s.To.String()
		if s.ToEnd {
			to = "end"
		}
		words = append(words, s.From.String()+"-"+to)
	}
	return strings.Join(words, " ")
}

func TestSpans(t *testing.T) {
	r := run(t, dabs)
	for name, want := range map[string]string{
		"S1.no":    "1s-1.5s 6s-6.5s",
		"S1.nc":    "0s-1s 1.5s-6s 6.5s-end",
		"KT1":      "1s-1.5s 6s-6.5s",
		"KT1.noto": "1s-3.5s 6s-8.5s",
		"KT1.nctc": "0s-1s 3.5s-6s 8.5s-end",
		"H1":       "1s-3.5s 6s-8.5s",
	} {
		if got := spanText(r.Spans(signal(t, r, name))); got != want {
			t.Errorf("%s is on %s, not %s", name, got, want)
		}
	}
}

func TestSpansOfNoWidth(t *testing.T) {
	r := run(t, blip)
	for name, want := range map[string]string{"H1": "1s-1s", "H2": "0s-2s 2s-end", "S2.a": "0s-2s", "S2.b": "2s-end"} {
		if got := spanText(r.Spans(signal(t, r, name))); got != want {
			t.Errorf("%s is on %s, not %s", name, got, want)
		}
	}
}

// What begins or ends at the very end of a finished run is no edge; a run that
// broke off has no end to last to.
func TestSpansAtTheEnd(t *testing.T) {
	text := "S1 switch\nS2 switch\nH1 lamp\n1: S1.no @x -> H1\n2: @x S2.no -> @L-\nscript \"a\"\n 1 s close S1\n 3 s open S1\n"
	r := run(t, text+" end 3 s\n")
	if got := spanText(r.Spans(signal(t, r, "H1"))); got != "1s-end" {
		t.Errorf("ending on the edge: %s", got)
	}
	r = run(t, text+" 5 s close S1\n end 5 s\n")
	if got := spanText(r.Spans(signal(t, r, "H1"))); got != "1s-3s" {
		t.Errorf("beginning on the edge: %s", got)
	}
	r = run(t, strings.Replace(text, "3 s open S1", "3 s close S2", 1)+" end 9 s\n")
	if got := spanText(r.Spans(signal(t, r, "S1.no"))); got != "1s-3s" || r.Ending != trace.Shorted {
		t.Errorf("shorted at 3 s: %s, %v", got, r.Ending)
	}
}

// check holds a run of the dabs against an expectation in the notation and
// says when it differs first, "ok" if it does not.
func check(t *testing.T, text, expect string) string {
	t.Helper()
	r := run(t, text+"  expect "+expect+"\n")
	v := r.CheckAll(&r.Circuit.Scripts[0])
	if len(v) != 1 {
		t.Fatalf("%s gives %d verdicts", expect, len(v))
	}
	if v[0].OK {
		return "ok"
	}
	return v[0].Differs.String()
}

func TestCheck(t *testing.T) {
	for expect, want := range map[string]string{
		"H1 on 1 s .. 3.5 s, 6 s .. 8.5 s":              "ok",
		"H1 on 1 s .. 3.5 s":                            "6s",
		"H1 on 1 s .. 3.5 s, 6 s .. 8.5 s, 9 s .. end":  "9s",
		"H1 on 1 s .. 3 s, 6 s .. 8.5 s":                "3s",
		"H1 on 0.5 s .. 3.5 s, 6 s .. 8.5 s":            "500ms",
		"H1 on 1 s .. 3.5 s, 6 s .. end":                "8.5s",
		"H1 on 1 s .. 2 s, 2 s .. 3.5 s, 6 s .. 8.5 s":  "2s",
		"H1 off 1 s .. 3.5 s, 6 s .. 8.5 s":             "0s",
		"H1 off 0 s .. 1 s, 3.5 s .. 6 s, 8.5 s .. end": "ok",
		"H1 never":     "1s",
		"H1 always":    "0s",
		"KT1.nc never": "0s",
		"S1.no closed 1 s .. 1.5 s, 6 s .. 6.5 s":          "ok",
		"S1.nc open 1 s .. 1.5 s, 6 s .. 6.5 s":            "ok",
		"H1 on 1.1 s .. 3.4 s, 6 s .. 8.5 s +- 0.1 s":      "ok",
		"H1 on 1.1 s .. 3.4 s, 6 s .. 8.5 s +- 99 ms":      "1s",
		"H1 on 1 s .. 3.5 s, 6.06 s .. 8.42 s +- 1%":       "ok",
		"H1 on 1 s .. 3.5 s, 6.07 s .. 8.5 s +- 1%":        "6s",
		"H1 on 1 s .. 3.5 s, 6 s .. 8.5 s +- 0.1 s":        "ok",
		"H1 on 1 s .. 3.5 s, 6 s .. 6.2 s, 6.2 s .. 8.5 s": "6.2s",
		"H1 on 1 s .. 3.5 s, 6 s .. 8.5 s, 8.6 s .. 8.6 s": "8.6s",
	} {
		if got := check(t, dabs, expect); got != want {
			t.Errorf("%s: %s, not %s", expect, got, want)
		}
	}
}

func TestCheckPulsesOfNoWidth(t *testing.T) {
	for expect, want := range map[string]string{
		"H1 on 1 s .. 1 s":                "ok",
		"H1 never":                        "1s",
		"H1 off 0 s .. 1 s, 1 s .. end":   "ok",
		"H2 on 0 s .. 2 s, 2 s .. end":    "ok",
		"H2 always":                       "2s",
		"H2 off 2 s .. 2 s":               "ok",
		"K1 on 1 s .. end":                "ok",
		"K1 on 1 s .. 4 s":                "ok",
		"K1 on 0.99 s .. 3.99 s +- 20 ms": "ok",
	} {
		if got := check(t, blip, expect); got != want {
			t.Errorf("%s: %s, not %s", expect, got, want)
		}
	}
}

// What is expected after the end of a run that finished does not count.
func TestCheckBeyondTheEnd(t *testing.T) {
	r := run(t, dabs)
	x := circuit.Expect{Signal: signal(t, r, "H1"), Spans: append(r.Spans(signal(t, r, "H1")), circuit.Span{From: 20 * second, ToEnd: true})}
	if v := r.Check(x); !v.OK || len(v.Want) != 2 {
		t.Errorf("the verdict is %+v", v)
	}
}

// A signal's verdict on its own spans is good, and on any others it is not.
func TestCheckAgreesWithSpans(t *testing.T) {
	for i := range uint64(200) {
		r := randomRun(i)
		for _, s := range r.Signals() {
			x := circuit.Expect{Signal: s, Spans: r.Spans(s)}
			if v := r.Check(x); !v.OK {
				t.Fatalf("circuit %d: %s is not on when it is: %+v", i, r.Circuit.SignalName(s), v)
			}
			off := r.Check(circuit.Expect{Signal: s, Off: true}).Got
			if v := r.Check(circuit.Expect{Signal: s, Off: true, Spans: off}); !v.OK {
				t.Fatalf("circuit %d: %s is not off when it is: %+v", i, r.Circuit.SignalName(s), v)
			}
			x.Spans = append([]circuit.Span{{From: 0, To: 0}}, x.Spans...)
			if v := r.Check(x); v.OK {
				t.Fatalf("circuit %d: %s is on when it is not", i, r.Circuit.SignalName(s))
			}
		}
	}
}

func TestCSV(t *testing.T) {
	want := `Two dabs,0,0,S1.no,open
Two dabs,0,0,KT1,off
Two dabs,0,0,KT1.noto,open
Two dabs,0,0,H1,off
Two dabs,1,1,S1.no,closed
Two dabs,1,2,KT1,on
Two dabs,1,2,KT1.noto,closed
Two dabs,1,3,H1,on
Two dabs,1.5,1,S1.no,open
Two dabs,1.5,2,KT1,off
Two dabs,3.5,1,KT1.noto,open
Two dabs,3.5,2,H1,off
`
	if got := string(run(t, dabs).CSV()); !strings.HasPrefix(got, want) {
		t.Errorf("the table is\n%s", got)
	}
	quoted := run(t, strings.Replace(dabs, "Two dabs", "Two, short", 1)).CSV()
	rows, err := csv.NewReader(strings.NewReader(trace.CSVHeader + string(quoted))).ReadAll()
	if err != nil || len(rows) != 21 || rows[1][0] != "Two, short" || rows[0][3] != "signal" {
		t.Errorf("read back: %v, %d rows\n%s", err, len(rows), quoted)
	}
}

// The rows replay to the value that each signal has at the end.
func TestRowsReplay(t *testing.T) {
	for i := range uint64(200) {
		r := randomRun(i)
		value, last := map[circuit.Signal]bool{}, trace.Moment{}
		for _, row := range r.Rows() {
			if at := (trace.Moment{At: row.At, Step: row.Step}); at.At < last.At || at.At == last.At && at.Step < last.Step {
				t.Fatalf("circuit %d: the rows go back to %v from %v", i, at, last)
			} else {
				last = at
			}
			value[row.Signal] = row.On
		}
		for _, s := range r.Signals() {
			if value[s] != r.SignalAt(s, trace.Settled(r.End)) {
				t.Fatalf("circuit %d: %s ends %t in the rows", i, r.Circuit.SignalName(s), value[s])
			}
		}
	}
}

func TestSeconds(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "0", second: "1", 1500 * time.Millisecond: "1.5", 1: "0.000000001", -250 * time.Millisecond: "-0.25",
		100 * time.Hour: "360000", time.Minute + 20*time.Microsecond: "60.00002",
	} {
		if got := trace.Seconds(d); got != want {
			t.Errorf("%v is written %s, not %s", d, got, want)
		}
	}
}
