package misread_test

import (
	"flag"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/diag"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/misread"
	"tarry/notation"
	"tarry/trace"
)

func init() { flag.Set("rapid.nofailfile", "true") }

// source lets rapid choose the numbers that a random circuit is made from.
type source struct{ t *rapid.T }

func (s source) IntN(n int) int { return rapid.IntRange(0, n-1).Draw(s.t, "n") }

func randomCircuit(t *rapid.T) (*circuit.Circuit, *circuit.Script) { return oracle.Random(source{t}) }

// read reads a text that must have no errors.
func read(t testing.TB, text string) *circuit.Circuit {
	t.Helper()
	file, found := notation.Read("test", []byte(text))
	for _, d := range found {
		if d.Grade == diag.Error {
			t.Fatalf("%s\n%s", d.Summary, text)
		}
	}
	return file.Circuit
}

// times writes when a line is on: "2-7 9-end", "never", "always". Pulses of no
// width are left out.
func times(edges []trace.Edge, end time.Duration) string {
	var parts []string
	from := time.Duration(-1)
	for i, e := range edges {
		if i+1 < len(edges) && edges[i+1].At == e.At || e.At >= end {
			continue
		}
		switch {
		case e.On && from < 0:
			from = e.At
		case !e.On && from >= 0:
			parts = append(parts, seconds(from)+"-"+seconds(e.At))
			from = -1
		}
	}
	switch {
	case from == 0 && len(parts) == 0:
		return "always"
	case from >= 0:
		parts = append(parts, seconds(from)+"-end")
	}
	if len(parts) == 0 {
		return "never"
	}
	return strings.Join(parts, " ")
}

func seconds(d time.Duration) string { return fmt.Sprint(d.Seconds()) }

// single is one switch, one timer and one contact of each name, as the catalogue
// has it.
func single(t testing.TB, timer, open, closed string) *circuit.Circuit {
	return read(t, strings.NewReplacer("TIMER", timer, "OPEN", open, "CLOSED", closed).Replace(`
S1 switch
KT1 TIMER
H1 lamp
H2 lamp
1: S1.no -> KT1
2: KT1.OPEN -> H1
3: KT1.CLOSED -> H2
`))
}

// presses are the scripts S1 to S5.
func presses() map[string]*circuit.Script {
	script := func(at ...int) *circuit.Script {
		s := &circuit.Script{End: 40 * time.Second}
		for i := 0; i < len(at); i += 2 {
			from, to := time.Duration(at[i])*time.Second, time.Duration(at[i+1])*time.Second
			s.Actions = append(s.Actions, circuit.Action{At: from, Verb: circuit.Close, For: to - from})
		}
		return s
	}
	return map[string]*circuit.Script{"S1": script(2, 12), "S2": script(2, 5), "S3": script(2, 5, 6, 13),
		"S4": script(2, 6, 9, 11), "S5": script(1, 8, 15, 22)}
}

// signal finds one by name.
func signal(t testing.TB, c *circuit.Circuit, name string) circuit.Signal {
	t.Helper()
	s, known := c.FindSignal(name)
	if !known {
		t.Fatalf("no signal %s", name)
	}
	return s
}

// play plays a script under readings, and says why if it can't.
func play(t testing.TB, c *circuit.Circuit, s *circuit.Script, ids ...string) *misread.Prediction {
	t.Helper()
	p, err := misread.Run(c, s, engine.Options{}, ids...)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
