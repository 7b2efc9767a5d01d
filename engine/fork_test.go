package engine_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/trace"
)

// forked plays a random script to a random middle and forks the machine there,
// from an instant on at which something happened. It returns nil for both if the
// run has ended by then.
func forked(t *rapid.T, c *circuit.Circuit, s *circuit.Script) (whole, fork *engine.Machine) {
	middle := time.Duration(rapid.Int64Range(0, int64(s.End)-1).Draw(t, "middle"))
	m := engine.New(c, engine.Options{})
	m.Start()
	perform(m, s, 0, middle)
	if m.Ended() {
		return nil, nil
	}
	from := m.Trace().Event(trace.ID(rapid.IntRange(0, m.Trace().Len()-1).Draw(t, "from"))).At
	return m, m.Fork(from)
}

// A fork goes on exactly like the original: the same events with the same
// causes, and the same state.
func TestForksGoOnAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		m, f := forked(t, c, s)
		if m == nil {
			return
		}
		for range 2 {
			from, now := f.Trace().From, m.Now()
			perform(m, s, now+1, now+(s.End-now)/2)
			perform(f, s, now+1, now+(s.End-now)/2)
			what := fmt.Sprintf("a fork from %v made at %v\n%s", from, now, oracle.Describe(c, s))
			sameStory(t, what, causal(m.Trace(), from), causal(f.Trace(), from))
			if m.State() != f.State() || fmt.Sprint(m.Clocks()) != fmt.Sprint(f.Clocks()) || m.Ended() != f.Ended() {
				t.Fatalf("%s\nends otherwise", what)
			}
			if f.Ended() {
				return
			}
			f = f.Fork(max(from, f.Trace().Event(trace.ID(f.Trace().Len()-1)).At))
		}
	})
}

// causal tells a trace's events from an instant on with what caused them.
func causal(r *trace.Trace, from time.Duration) []string {
	list := told(r, 0, 0)
	first := 0
	for id := range list {
		e := r.Event(trace.ID(id))
		if e.At < from {
			first = id + 1
			continue
		}
		if e.Lost {
			list[id] += " lost"
		}
		for _, cause := range e.Because {
			b := r.Event(cause)
			if b.Part == trace.PresetPart {
				b.Value = 0
			}
			list[id] += fmt.Sprintf(" because %d %v %d at %v/%d", b.Device, b.Part, b.Value, b.At, b.Step)
		}
		if e.Part == trace.NoticePart {
			list[id] += fmt.Sprintf(" %+v", r.Notices[e.Value])
		}
	}
	return list[first:]
}

// From its first instant on, a tail says what the whole trace says.
func TestTailsAgreeWithTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		m, f := forked(t, c, s)
		if m == nil {
			return
		}
		perform(m, s, m.Now()+1, s.End)
		perform(f, s, f.Now()+1, s.End)
		whole, tail := m.Trace(), f.Trace()
		for id := range tail.Len() {
			e := tail.Event(trace.ID(id))
			if e.At < tail.From {
				continue
			}
			for _, at := range []trace.Moment{trace.Before(e), trace.After(e), trace.Settled(e.At), {At: e.At + 1}} {
				agreeAt(t, whole, tail, at, s)
			}
		}
		for _, sig := range whole.Signals() {
			want, got := edgesFrom(whole, sig, tail.From), edgesFrom(tail, sig, tail.From)
			if !slices.Equal(want, got) {
				t.Fatalf("from %v: %s has %v instead of %v\n%s", tail.From, c.SignalName(sig), got, want, oracle.Describe(c, s))
			}
		}
	})
}

// edgesFrom tells a signal's edges from an instant on, behind its value before.
func edgesFrom(r *trace.Trace, s circuit.Signal, from time.Duration) []string {
	list := []string{fmt.Sprint(r.SignalAt(s, trace.Moment{At: from, Step: -1}))}
	if from == 0 {
		list[0] = ""
	}
	for i, e := range r.Edges(s) {
		if i == 0 && from > 0 && r.From > 0 && (e.At != r.From || fmt.Sprint(e.On) != list[0]) {
			return append(list, fmt.Sprintf("begins %t at %v", e.On, e.At))
		}
		if e.At > from || e.At == from && i > 0 {
			list = append(list, fmt.Sprintf("%v/%d=%t", e.At, e.Step, e.On))
		}
	}
	return list
}

func agreeAt(t *rapid.T, whole, tail *trace.Trace, m trace.Moment, s *circuit.Script) {
	c := whole.Circuit
	fail := func(what string, want, got any) {
		t.Fatalf("from %v, at %v: %s is %v instead of %v\n%s", tail.From, m, what, got, want, oracle.Describe(c, s))
	}
	for _, sig := range whole.Signals() {
		if w, g := whole.SignalAt(sig, m), tail.SignalAt(sig, m); w != g {
			fail(c.SignalName(sig), w, g)
		}
		w, g := whole.EventOf(sig, m), tail.EventOf(sig, m)
		if (w == trace.None) != (g == trace.None) || w != trace.None && whole.Event(w).At != tail.Event(g).At {
			fail("the last event of "+c.SignalName(sig), w, g)
		}
	}
	for d := range c.Devices {
		id := circuit.DeviceID(d)
		we, wr := whole.Elapsed(id, m)
		ge, gr := tail.Elapsed(id, m)
		if we != ge || wr != gr {
			fail("the elapsed time of "+c.Devices[d].Tag, []any{we, wr}, []any{ge, gr})
		}
		if w, g := whole.Preset(id, m), tail.Preset(id, m); w != g {
			fail("the preset of "+c.Devices[d].Tag, w, g)
		}
	}
	for l := range whole.Wiring.Loads {
		if w, g := fmt.Sprint(whole.FeedOf(l, m)), fmt.Sprint(tail.FeedOf(l, m)); w != g {
			fail("the feed of "+c.LoadName(whole.Wiring.Loads[l].Load), w, g)
		}
	}
	if whole.Live(m) != tail.Live(m) {
		fail("the supply", whole.Live(m), tail.Live(m))
	}
}

// A time that adds up with pauses, and a screw that was turned while it ran, are
// known to a fork although what began them is long past.
func TestForkOfATimeWithPauses(t *testing.T) {
	d := newDraft()
	s1, s2 := d.device(circuit.Device{Kind: circuit.Switch}), d.device(circuit.Device{Kind: circuit.Switch})
	kt := d.timer(circuit.Accumulating, 10*time.Second)
	d.rung(circuit.Path{contact(s1, circuit.NO)}, kt)
	h := d.device(circuit.Device{Kind: circuit.Lamp})
	d.rung(circuit.Path{contact(s2, circuit.NO)}, h)
	m := engine.New(&d.Circuit, engine.Options{})
	m.Start()
	for i := range 4 { // runs from 1 s to 2 s, from 3 s to 4 s, and so on
		at := time.Duration(2*i+1) * time.Second
		m.Act(at, circuit.Action{Verb: circuit.Close, Device: s1})
		m.Act(at+time.Second, circuit.Action{Verb: circuit.Open, Device: s1})
	}
	m.Act(9*time.Second, circuit.Action{Verb: circuit.Close, Device: s1})
	m.Act(10*time.Second, circuit.Action{Verb: circuit.SetPreset, Device: kt, Presets: [2]time.Duration{6 * time.Second}})
	m.Act(10500*time.Millisecond, circuit.Action{Verb: circuit.Close, Device: s2})
	f := m.Fork(m.Now())
	if elapsed, runs := f.Trace().Elapsed(kt, trace.Settled(m.Now())); elapsed != 5500*time.Millisecond || !runs {
		t.Errorf("at %v it has run %v (%t)", m.Now(), elapsed, runs)
	}
	f.Advance(20 * time.Second)
	last := f.Trace().Event(trace.ID(f.Trace().Len() - 1))
	if last.At != 11*time.Second || len(last.Because) != 2 {
		t.Fatalf("the last event is %+v", last)
	}
	coil, screw := f.Trace().Event(last.Because[0]), f.Trace().Event(last.Because[1])
	if coil.At != 9*time.Second || coil.Part != trace.Coil || screw.At != 10*time.Second || screw.Part != trace.PresetPart {
		t.Errorf("it is put down to %+v and %+v", coil, screw)
	}
}

// A fork has looked for races as often as the original.
func TestForkCountsRaces(t *testing.T) {
	d := newDraft()
	s1 := d.device(circuit.Device{Kind: circuit.Switch})
	k1, k2 := d.device(circuit.Device{Kind: circuit.Relay}), d.device(circuit.Device{Kind: circuit.Relay})
	d.rung(circuit.Path{contact(s1, circuit.NO), either(contact(k1, circuit.NO), contact(k2, circuit.NC))}, k1)
	d.rung(circuit.Path{contact(s1, circuit.NO), either(contact(k2, circuit.NO), contact(k1, circuit.NC))}, k2)
	m := engine.New(&d.Circuit, engine.Options{})
	m.Start()
	press := func(m *engine.Machine, times int) {
		for range times {
			m.Act(m.Now()+time.Second, circuit.Action{Verb: circuit.Close, Device: s1})
			m.Act(m.Now()+time.Second, circuit.Action{Verb: circuit.Open, Device: s1})
		}
	}
	press(m, 450)
	f := m.Fork(m.Now())
	from := m.Trace().Len()
	press(m, 100)
	press(f, 100)
	want, got := told(m.Trace(), from, 0), told(f.Trace(), f.Trace().Len()-(m.Trace().Len()-from), 0)
	if !slices.Equal(want, got) {
		t.Errorf("the fork tells\n%q\ninstead of\n%q", got, want)
	}
	if n := m.Trace().Notices; len(n) < 450 || n[len(n)-1].Kind != trace.RaceSkip {
		t.Errorf("%d notices; there is no race often enough", len(n))
	}
}
