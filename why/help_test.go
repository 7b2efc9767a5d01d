package why_test

import (
	"strings"
	"testing"
	"time"

	"tarry/diag"
	"tarry/engine"
	"tarry/notation"
	"tarry/trace"
	"tarry/why"
)

// run plays the first script of a circuit.
func run(t *testing.T, text string) *trace.Trace {
	t.Helper()
	file, diagnostics := notation.Read("test", []byte(text))
	if diag.HasErrors(diagnostics) {
		t.Fatal(diag.Show("test", []byte(text), diagnostics))
	}
	return engine.Run(file.Circuit, &file.Circuit.Scripts[0], engine.Options{})
}

// asked answers "H1 at 3 s" in one line.
func asked(t *testing.T, r *trace.Trace, question string) string {
	t.Helper()
	name, when, _ := strings.Cut(question, " at ")
	s, ok := r.Circuit.FindSignal(name)
	if !ok {
		t.Fatalf("there is no signal %s", name)
	}
	at, err := notation.ParseTime(when)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(why.Explain(r, s, at).Answer, " ")
}

// answers holds the answers to questions against what they should be. Each
// line of the table is a question, a colon and the answer.
func answers(t *testing.T, text, table string) {
	t.Helper()
	r := run(t, text)
	for _, line := range strings.Split(strings.TrimSpace(table), "\n") {
		question, want, _ := strings.Cut(strings.TrimSpace(line), ": ")
		if got := asked(t, r, question); got != want {
			t.Errorf("%s:\n  %s\nnot\n  %s", question, got, want)
		}
	}
}

// told is the story of an instant.
func told(r *trace.Trace, at time.Duration) string {
	for _, in := range why.Story(r) {
		if in.At == at {
			return strings.Join(in.Sentences, " ")
		}
	}
	return ""
}

const warning = `S0   button
S1   button            "Start"
K1   relay
KT1  on-delay 4 s      "Warning time"
M1   contactor         "Packing belt"
1:  S0.nc (S1.no | K1.no)   -> K1
2:  K1.no                   -> KT1
3:  KT1.notc                -> M1
script "Start, run, stop"
  1 s    press S1 for 500 ms
  12 s   press S0 for 500 ms
  end 20 s
`

const second = time.Second
