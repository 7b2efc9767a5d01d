package engine_test

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
	"tarry/trace"
)

// The order in which devices, rungs and plant rules are declared does not
// matter.
func TestOrderOfDeclarationIsIrrelevant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		order := rapid.Permutation(identity(len(c.Devices))).Draw(t, "devices")
		other, script := renumbered(c, s, order)
		other.Rungs = rapid.Permutation(other.Rungs).Draw(t, "rungs")
		if len(other.Plants) > 0 {
			other.Plants = rapid.Permutation(other.Plants).Draw(t, "plants")
		}
		want := engine.Run(c, s, engine.Options{})
		sameEdges(t, c, s, want, engine.Run(other, script, engine.Options{}))
	})
}

func identity(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// renumbered declares the devices in another order: device order[i] becomes
// number i.
func renumbered(c *circuit.Circuit, s *circuit.Script, order []int) (*circuit.Circuit, *circuit.Script) {
	place := make([]circuit.DeviceID, len(order))
	out := &circuit.Circuit{Supply: c.Supply}
	for i, old := range order {
		place[old] = circuit.DeviceID(i)
		out.Devices = append(out.Devices, c.Devices[old])
	}
	for _, r := range c.Rungs {
		r.Path, r.Return = renumberedPath(r.Path, place), renumberedPath(r.Return, place)
		r.Loads = slices.Clone(r.Loads)
		for i := range r.Loads {
			r.Loads[i].Device = place[r.Loads[i].Device]
		}
		out.Rungs = append(out.Rungs, r)
	}
	for _, p := range c.Plants {
		p.Sensor, p.Load = place[p.Sensor], place[p.Load]
		out.Plants = append(out.Plants, p)
	}
	script := *s
	script.Actions = slices.Clone(s.Actions)
	for i := range script.Actions {
		if a := &script.Actions[i]; a.Device != circuit.NoDevice {
			a.Device = place[a.Device]
		}
	}
	return out, &script
}

func renumberedPath(p circuit.Path, place []circuit.DeviceID) circuit.Path {
	var out circuit.Path
	for _, it := range p {
		if it.Contact.Kind != circuit.NoContact {
			it.Contact.Device = place[it.Contact.Device]
		}
		var branches []circuit.Path
		for _, b := range it.Branches {
			branches = append(branches, renumberedPath(b, place))
		}
		it.Branches = branches
		out = append(out, it)
	}
	return out
}

// Everything k times as slow gives the same trace k times as slow.
func TestScaledTimesScaleTheTrace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		k := time.Duration(rapid.IntRange(2, 1_000_000).Draw(t, "k"))
		slow, script := scaled(c, s, k)
		want := told(engine.Run(c, s, engine.Options{}), 0, 0)
		got := engine.Run(slow, script, engine.Options{})
		for i := range want {
			text, rest, _ := strings.Cut(want[i], "/")
			at, err := time.ParseDuration(text)
			if err != nil {
				t.Fatal(err)
			}
			want[i] = fmt.Sprint(at*k) + "/" + rest
		}
		sameStory(t, "scaled\n"+oracle.Describe(c, s), want, told(got, 0, 0))
	})
}

func scaled(c *circuit.Circuit, s *circuit.Script, k time.Duration) (*circuit.Circuit, *circuit.Script) {
	out, script := *c, *s
	out.Devices, out.Plants = slices.Clone(c.Devices), slices.Clone(c.Plants)
	for i := range out.Devices {
		d := &out.Devices[i]
		d.Presets[0], d.Presets[1] = d.Presets[0]*k, d.Presets[1]*k
		d.Operate, d.Release = d.Operate*k, d.Release*k
	}
	for i := range out.Plants {
		out.Plants[i].After *= k
	}
	script.End *= k
	script.Actions = slices.Clone(s.Actions)
	for i := range script.Actions {
		a := &script.Actions[i]
		a.At, a.For = a.At*k, a.For*k
		a.Presets[0], a.Presets[1] = a.Presets[0]*k, a.Presets[1]*k
	}
	return &out, &script
}

// Time may pass in as many pieces as one likes.
func TestStoppingAndResumingChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		want := engine.Run(c, s, engine.Options{})
		m := engine.New(c, engine.Options{})
		m.Start()
		for _, acts := range instants(s) {
			at := acts[0].At
			if at > s.End {
				break
			}
			for m.Now() < at-1 && rapid.Bool().Draw(t, "stop") {
				m.Advance(m.Now() + time.Duration(rapid.Int64Range(0, int64(at-1-m.Now())).Draw(t, "for")))
			}
			m.Act(at, acts...)
		}
		m.Advance(s.End)
		sameStory(t, "in pieces\n"+oracle.Describe(c, s), told(want, 0, 0), told(m.Trace(), 0, 0))
	})
}

// A machine can be started over again, however its last run ended.
func TestStartingAgainForgetsTheLastRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		m := engine.New(c, engine.Options{})
		m.Play(s)
		first := told(m.Trace(), 0, 0)
		m.Play(s)
		sameStory(t, "again\n"+oracle.Describe(c, s), first, told(m.Trace(), 0, 0))
	})
}

// A copy made in the middle of a run goes on like the original, and does not
// disturb it.
func TestCopiesGoOnAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		middle := time.Duration(rapid.Int64Range(0, int64(s.End)-1).Draw(t, "middle"))
		m := engine.New(c, engine.Options{})
		m.Start()
		perform(m, s, 0, middle)
		if m.Ended() {
			return
		}
		before := m.Trace().Len()
		made := m.Copy()
		used := engine.New(c, engine.Options{})
		used.Play(s)
		after := used.Trace().Len()
		used.CopyFrom(m)
		perform(made, s, middle+1, s.End)
		perform(m, s, middle+1, s.End)
		perform(used, s, middle+1, s.End)
		want := told(m.Trace(), before, 0)
		sameStory(t, "a copy from "+middle.String()+"\n"+oracle.Describe(c, s), want, told(made.Trace(), 0, 0))
		sameStory(t, "an overwritten machine from "+middle.String(), want, told(used.Trace(), after, 0))
		sameStory(t, "the original", told(engine.Run(c, s, engine.Options{}), 0, 0), told(m.Trace(), 0, 0))
	})
}

// Two machines with equal discrete states and equal clocks have the same
// future. Presets and plant rules have clocks that cannot be asked for, so they
// are left out here.
func TestEqualStatesHaveEqualFutures(t *testing.T) {
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		bare := *c
		bare.Plants = nil
		s = calm(s)
		m := engine.New(&bare, engine.Options{})
		m.Start()
		seen := map[string]*engine.Machine{}
		for at := time.Duration(0); at < s.End && !m.Ended(); at += time.Millisecond {
			perform(m, s, at, at)
			if m.Ended() {
				break
			}
			key := fmt.Sprintf("%q %v", m.State(), m.Clocks())
			if old := seen[key]; old != nil && m.Now() > old.Now() {
				met++
				futuresAgree(t, old, m, s)
			}
			seen[key] = m.Copy()
		}
	})
	if met < 100 {
		t.Errorf("only %d states came back", met)
	}
}

// futuresAgree does the same things to copies of two machines.
func futuresAgree(t *rapid.T, a, b *engine.Machine, s *circuit.Script) {
	var stories [2][]string
	for i, m := range []*engine.Machine{a.Copy(), b.Copy()} {
		now := m.Now() + 1
		for _, acts := range instants(s) {
			later := slices.Clone(acts)
			for j := range later {
				later[j].At += now
			}
			m.Act(later[0].At, later...)
		}
		m.Advance(now + s.End)
		stories[i] = told(m.Trace(), 0, now)
		sortSteps(stories[i])
	}
	sameStory(t, fmt.Sprintf("equal states at %v and %v", a.Now(), b.Now()), stories[0], stories[1])
}

// sortSteps puts the events of each small step in an order of their own: which
// of two clocks that are due together stands first does not matter.
func sortSteps(list []string) {
	step := func(event string) string { return event[:strings.IndexByte(event, ' ')] }
	for from := 0; from < len(list); {
		to := from
		for to < len(list) && step(list[to]) == step(list[from]) {
			to++
		}
		slices.Sort(list[from:to])
		from = to
	}
}

// Every event that is not a hand's, the supply's or start-up's has causes, and
// they lie before it.
func TestCausesLeadDownToHandsOrTheStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		r := engine.Run(c, s, engine.Options{})
		for id := range r.Len() {
			e := r.Event(trace.ID(id))
			if e.Part == trace.NoticePart {
				continue
			}
			if len(e.Because) == 0 && id >= r.Startup && !e.ByHand() {
				t.Fatalf("event %d (%v of %d at %v) has no cause\n%s", id, e.Part, e.Device, e.At, oracle.Describe(c, s))
			}
			for i, cause := range e.Because {
				b := r.Event(cause)
				if cause >= e.ID || i > 0 && cause <= e.Because[i-1] || b.At > e.At || b.Part == trace.NoticePart {
					t.Fatalf("event %d at %v is put down to %v\n%s", id, e.At, e.Because, oracle.Describe(c, s))
				}
			}
		}
	})
}
