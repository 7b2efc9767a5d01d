package trace_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/diag"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/notation"
	"tarry/trace"
)

// run plays the first script of a circuit.
func run(t testing.TB, text string) *trace.Trace {
	t.Helper()
	file, diagnostics := notation.Read("test", []byte(text))
	if diag.HasErrors(diagnostics) {
		t.Fatal(diag.Show("test", []byte(text), diagnostics))
	}
	return engine.Run(file.Circuit, &file.Circuit.Scripts[0], engine.Options{})
}

// randomRun plays a random circuit.
func randomRun(i uint64) *trace.Trace {
	c, s := oracle.Random(rand.New(rand.NewPCG(3, i)))
	return engine.Run(c, s, engine.Options{})
}

// signal finds a signal by its name.
func signal(t testing.TB, r *trace.Trace, name string) circuit.Signal {
	t.Helper()
	s, ok := r.Circuit.FindSignal(name)
	if !ok {
		t.Fatalf("there is no signal %s", name)
	}
	return s
}

const second = time.Second

// dabs is a lamp behind an off-delay, dabbed twice.
const dabs = `circuit "Dabs $end"
S1  button
KT1 off-delay 2 s
H1  lamp
1: S1.no    -> KT1
2: KT1.noto -> H1
script "Two dabs"
  1 s press S1 for 500 ms
  6 s press S1 for 500 ms
  end 10 s
`

// blip gives H1 a pulse of no width at 1 s and H2 a drop-out at 2 s.
const blip = `circuit "No width"
S1 button
S2 selector a b
K1 relay
K2 relay
H1 lamp
H2 lamp
1: S1.no        -> K1
2: K1.no        -> K2
3: K1.no K2.nc  -> H1
4: (S2.a | S2.b) -> H2
script "Both"
  1 s press S1
  2 s turn S2 to b
  end 4 s
`
