package oracle

import (
	"math/rand/v2"
	"testing"

	"tarry/circuit"
)

// tally counts what a number of random runs show.
type tally struct {
	endings [3]int
	moved   map[string]int // by function or kind: runs in which an output moved after the start
	pulses  int            // runs with a pulse of no width
	edges   int
}

func (n *tally) add(c *circuit.Circuit, r Result) {
	n.endings[r.Ending]++
	seen := map[string]bool{}
	pulse := false
	for _, s := range r.Signals {
		edges := r.Edges[s]
		n.edges += len(edges) - 1
		for i := 1; i < len(edges); i++ {
			pulse = pulse || edges[i].At == edges[i-1].At && i > 1
			seen[outputName(&c.Devices[s.Device], s)] = true
		}
	}
	for name := range seen {
		n.moved[name]++
	}
	if pulse {
		n.pulses++
	}
}

func outputName(d *circuit.Device, s circuit.Signal) string {
	switch {
	case d.Kind != circuit.Timer:
		return d.Kind.String()
	case s.Contact == circuit.NoContact || groupOf(s.Contact) == plain:
		return "timer"
	}
	return d.Function.String() + "." + s.Contact.String()
}

func TestRandomCircuitsAreWorthRunning(t *testing.T) {
	n := tally{moved: map[string]int{}}
	const runs = 1000
	for seed := range uint64(runs) {
		c, s := Random(rand.New(rand.NewPCG(1, seed)))
		n.add(c, Run(c, s))
	}
	t.Logf("endings %v, with pulses of no width %d, edges %d, moved %v", n.endings, n.pulses, n.edges, n.moved)
	if n.endings[Finished] < runs*70/100 || n.endings[Chatter] == 0 || n.endings[Short] == 0 {
		t.Errorf("of %d runs %d finish, %d chatter and %d end in a short", runs, n.endings[Finished], n.endings[Chatter], n.endings[Short])
	}
	for _, name := range outputs() {
		if n.moved[name] < 3 {
			t.Errorf("%s moves in %d of %d runs", name, n.moved[name], runs)
		}
	}
}

// outputs lists everything that should move in some of the runs.
func outputs() []string {
	var names []string
	for _, k := range circuit.Kinds() {
		names = append(names, k.Kind.String())
	}
	for _, f := range circuit.Functions() {
		for _, k := range f.Contacts {
			names = append(names, f.Word+"."+k.String())
		}
	}
	return names
}

func TestShrinkKeepsWhatFails(t *testing.T) {
	c, s := Random(rand.New(rand.NewPCG(1, 4)))
	fails := func(c *circuit.Circuit, s *circuit.Script) bool { return len(c.Rungs) >= 2 && len(s.Actions) >= 1 }
	c, s = Shrink(c, s, fails)
	if len(c.Rungs) != 2 || len(s.Actions) != 1 {
		t.Errorf("%d rungs and %d actions are left\n%s", len(c.Rungs), len(s.Actions), Describe(c, s))
	}
}
