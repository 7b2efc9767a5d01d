package engine_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/trace"
)

// The engine and the oracle share nothing but the rules. Every random circuit
// is run by both, and every signal must have the same edges, in the same order
// within an instant. ORACLE_SEED and ORACLE_RUNS choose other circuits and
// another number of them.

const oracleWorkers = 4

func TestEngineAgreesWithOracle(t *testing.T) {
	seed, runs := fromEnv(t, "ORACLE_SEED", 1), fromEnv(t, "ORACLE_RUNS", 10_000)
	t.Logf("circuits %d to %d of seed %d", 0, runs-1, seed)
	for worker := range uint64(oracleWorkers) {
		t.Run(fmt.Sprint("part", worker), func(t *testing.T) {
			t.Parallel()
			for i := worker; i < runs; i += oracleWorkers {
				if !agree(t, seed, i) {
					return
				}
			}
		})
	}
}

func fromEnv(t *testing.T, name string, otherwise uint64) uint64 {
	text := os.Getenv(name)
	if text == "" {
		return otherwise
	}
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return n
}

// agree compares one random circuit and reports the smallest one that still
// differs.
func agree(t *testing.T, seed, i uint64) bool {
	c, s := oracle.Random(rand.New(rand.NewPCG(seed, i)))
	if difference(c, s) == "" {
		return true
	}
	fails := func(c *circuit.Circuit, s *circuit.Script) bool { return difference(c, s) != "" }
	small, short := oracle.Shrink(c, s, fails)
	t.Errorf("circuit %d of seed %d: %s\n%s", i, seed, difference(small, short), oracle.Describe(small, short))
	return false
}

// difference runs both and returns the first difference, or nothing.
func difference(c *circuit.Circuit, s *circuit.Script) (found string) {
	defer func() {
		if p := recover(); p != nil {
			found = fmt.Sprint("panic: ", p)
		}
	}()
	want, got := oracle.Run(c, s), engine.Run(c, s, engine.Options{})
	if ending(got.Ending) != want.Ending.String() || got.End != milliseconds(want.End) {
		return fmt.Sprintf("the engine ends %s at %v, the oracle %v at %d ms", ending(got.Ending), got.End, want.Ending, want.End)
	}
	if d := signalsDiffer(c, want, got); d != "" {
		return d
	}
	for _, sig := range want.Signals {
		if d := edgesDiffer(until(want), want.Edges[sig], got.Edges(sig)); d != "" {
			return c.SignalName(sig) + ": " + d
		}
	}
	return orderDiffers(c, want, got)
}

func milliseconds(n int) time.Duration { return time.Duration(n) * time.Millisecond }

// ending gives the engine's ending in the oracle's words.
func ending(e trace.Ending) string {
	switch e {
	case trace.Finished:
		return oracle.Finished.String()
	case trace.Chattering:
		return oracle.Chatter.String()
	case trace.Shorted:
		return oracle.Short.String()
	}
	return fmt.Sprint("with ", e)
}

// until returns from when on edges are not compared: which round of a circuit
// that chatters is the last one shown does not matter.
func until(r oracle.Result) int {
	if r.Ending == oracle.Chatter {
		return r.End
	}
	return r.End + 1
}

func signalsDiffer(c *circuit.Circuit, want oracle.Result, got *trace.Trace) string {
	list := got.Signals()
	for _, sig := range want.Signals {
		if !slices.Contains(list, sig) {
			return "the trace does not list " + c.SignalName(sig)
		}
	}
	if len(list) != len(want.Signals) {
		return fmt.Sprintf("the trace lists %d signals, the oracle %d", len(list), len(want.Signals))
	}
	return ""
}

func edgesDiffer(until int, want []oracle.Edge, got []trace.Edge) string {
	for i := range max(len(want), len(got)) {
		w, g := "none", "none"
		if i < len(want) && want[i].At < until {
			w = fmt.Sprintf("%v at %v", want[i].On, milliseconds(want[i].At))
		}
		if i < len(got) && got[i].At < milliseconds(until) {
			g = fmt.Sprintf("%v at %v", got[i].On, got[i].At)
		}
		if w != g {
			return fmt.Sprintf("edge %d of the engine is %s, of the oracle %s", i, g, w)
		}
	}
	return ""
}

// moment is a small step in which some signal has an edge.
type moment struct {
	at   time.Duration
	step int
}

// orderDiffers compares which edges of an instant fall into one small step. It
// expects edges that are the same otherwise.
func orderDiffers(c *circuit.Circuit, want oracle.Result, got *trace.Trace) string {
	ours, theirs := map[moment]bool{}, map[moment]bool{}
	for _, sig := range want.Signals {
		for _, e := range want.Edges[sig] {
			ours[moment{milliseconds(e.At), e.Step}] = true
		}
		for _, e := range got.Edges(sig) {
			theirs[moment{e.At, e.Step}] = true
		}
	}
	rankOurs, rankTheirs := ranks(ours), ranks(theirs)
	for _, sig := range want.Signals {
		edges := got.Edges(sig)
		for i, e := range want.Edges[sig] {
			if e.At >= until(want) {
				break
			}
			w, g := rankOurs[moment{milliseconds(e.At), e.Step}], rankTheirs[moment{edges[i].At, edges[i].Step}]
			if w != g {
				return fmt.Sprintf("%s: edge %d at %d ms is in small step %d of the engine, %d of the oracle", c.SignalName(sig), i, e.At, g, w)
			}
		}
	}
	return ""
}

// ranks numbers the small steps of each instant that have edges, from 0.
func ranks(seen map[moment]bool) map[moment]int {
	var list []moment
	for m := range seen {
		list = append(list, m)
	}
	slices.SortFunc(list, func(a, b moment) int {
		if a.at != b.at {
			return int(a.at - b.at)
		}
		return a.step - b.step
	})
	rank := map[moment]int{}
	for i, m := range list {
		if i > 0 && list[i-1].at == m.at {
			rank[m] = rank[list[i-1]] + 1
		} else {
			rank[m] = 0
		}
	}
	return rank
}
