package engine_test

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/trace"
)

// What the trace works out afterwards agrees with what the engine recorded.

// broken reports whether a run broke off at a time, so that nothing had
// settled there.
func broken(r *trace.Trace, at time.Duration) bool { return r.Ending > trace.Finished && at == r.End }

// A load is energised whenever closed contacts join it to opposite rails, and
// only then.
func TestFeedsAgreeWithRecordedLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		r := engine.Run(c, s, engine.Options{})
		for id := range r.Len() {
			at := r.Event(trace.ID(id)).At
			if broken(r, at) {
				break
			}
			for _, m := range []trace.Moment{trace.Settled(at), {At: at + 1}} {
				for l := range r.Wiring.Loads {
					feedAgrees(t, r, l, m, s)
				}
			}
		}
	})
}

func feedAgrees(t *rapid.T, r *trace.Trace, l int, m trace.Moment, s *circuit.Script) {
	load := r.Wiring.Loads[l]
	if next := r.NextOf(load.Device, trace.Part(load.Part), m); next != trace.None && r.Event(next).At == m.At {
		return
	}
	on := r.ValueAt(load.Device, trace.Part(load.Part), m) == 1
	feed := r.FeedOf(l, m)
	if feed.Energised != on {
		t.Fatalf("%s is on=%t at %v, but its feed says %+v\n%s", r.Circuit.LoadName(load.Load), on, m, feed, oracle.Describe(r.Circuit, s))
	}
	if on && !leads(r, load, feed.Contacts, m) {
		t.Fatalf("%s at %v: the path %v does not lead from rail to rail\n%s", r.Circuit.LoadName(load.Load), m, feed.Contacts, oracle.Describe(r.Circuit, s))
	}
}

// leads reports whether closed contacts lead from one rail to the load and,
// behind it, on to the other.
func leads(r *trace.Trace, l circuit.WiredLoad, path []int32, m trace.Moment) bool {
	net, used := circuit.LeftRail, false
	pass := func(a, b circuit.NetID) bool {
		if net != a && net != b {
			return false
		}
		net = a + b - net
		return true
	}
	for i := 0; i <= len(path); i++ {
		if i < len(path) {
			k := r.Wiring.Contacts[path[i]]
			if !r.Closed(k.Contact, m) {
				return false
			}
			if pass(k.A, k.B) {
				continue
			}
		}
		if used || !pass(l.A, l.B) {
			return used && i == len(path) && net == circuit.RightRail
		}
		used = true
		i--
	}
	return used && net == circuit.RightRail
}

// Each recorded edge of a load is what its feed said just before.
func TestFeedsExplainEveryEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		r := engine.Run(c, s, engine.Options{})
		for id := range r.Len() {
			e := r.Event(trace.ID(id))
			if e.Part > trace.DeltaLoad {
				continue
			}
			l := slices.IndexFunc(r.Wiring.Loads, func(l circuit.WiredLoad) bool {
				return l.Device == e.Device && trace.Part(l.Part) == e.Part
			})
			if feed := r.FeedOf(l, trace.Before(e)); feed.Energised != (e.Value == 1) {
				t.Fatalf("event %d: %s becomes %d at %v/%d, but its feed was %+v\n%s", id,
					c.LoadName(r.Wiring.Loads[l].Load), e.Value, e.At, e.Step, feed, oracle.Describe(c, s))
			}
		}
	})
}

// Elapsed times in the trace are those of the machine's clocks, do not exceed
// the preset that they run towards, and of a clock that was never held are
// counted from where it was started.
func TestElapsedTimesAgreeWithClocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := randomCircuit(t)
		s = calm(s)
		m := engine.New(c, engine.Options{})
		m.Start()
		for at := time.Duration(0); at <= s.End && !m.Ended(); at += 500 * time.Microsecond {
			perform(m, s, at, at)
			if !m.Ended() {
				clocksAgree(t, m)
			}
		}
	})
}

func clocksAgree(t *rapid.T, m *engine.Machine) {
	r, now := m.Trace(), trace.Settled(m.Now())
	running := map[circuit.DeviceID]engine.Clock{}
	for _, k := range m.Clocks() {
		running[k.Device] = k
	}
	for i := range r.Circuit.Devices {
		d, id := &r.Circuit.Devices[i], circuit.DeviceID(i)
		if d.Kind != circuit.Timer {
			continue
		}
		elapsed, runs := r.Elapsed(id, now)
		k := running[id]
		if elapsed != k.Elapsed || runs != (k.Remaining > 0) {
			t.Fatalf("%s at %v: the trace says %v (running: %t), the machine %+v", d.Tag, m.Now(), elapsed, runs, k)
		}
		if runs && k.Elapsed+k.Remaining != d.Presets[0] && k.Elapsed+k.Remaining != d.Presets[1] {
			t.Fatalf("%s at %v: %+v does not run towards %v", d.Tag, m.Now(), k, d.Presets)
		}
		if since := r.TimingSince(id, now); runs && d.Function != circuit.Accumulating && m.Now()-r.Event(since).At != elapsed {
			t.Fatalf("%s at %v: started at %v, but has run %v", d.Tag, m.Now(), r.Event(since).At, elapsed)
		}
	}
}

// A screw that is turned while the clock runs changes when it is due, and
// nothing else of it.
func TestTurnedScrewsKeepElapsedTimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times := rapid.SliceOfN(rapid.IntRange(1, 20), 1, 6).Draw(t, "presets")
		d := newDraft()
		kt := d.timer(circuit.OnDelay, 10*time.Second)
		d.rung(nil, kt)
		m := engine.New(&d.Circuit, engine.Options{})
		m.Start()
		want := 10 * time.Second
		for i, p := range times {
			at := time.Duration(i+1) * time.Second
			m.Act(at, circuit.Action{Verb: circuit.SetPreset, Device: kt, Presets: [2]time.Duration{time.Duration(p) * time.Second}})
			if want < at { // it has operated already
				return
			}
			elapsed, runs := m.Trace().Elapsed(kt, trace.Settled(at))
			due, any := m.NextDue()
			want = max(time.Duration(p)*time.Second, at)
			if elapsed != at || !runs || !any || due != want {
				t.Fatalf("set to %d s at %v: it has run %v (%t) and is due at %v", p, at, elapsed, runs, due)
			}
		}
	})
}
