package engine_test

import (
	"fmt"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
)

// The four families that the engine's speed is measured on, each grown to
// about n coils. An edge is a recorded change of a coil, of a timed output or
// of a hand's contact; contacts that simply follow a coil are not counted
// again.

const edgesPerRun = 2_000_000

type family struct {
	name string
	make func(n int) (*circuit.Circuit, []circuit.Action)
}

var families = []family{
	{"flashers", flashers},
	{"seal-in", sealIns},
	{"ring", ring},
	{"starters", starters},
}

// draft builds circuits of benchmarks.
type draft struct{ circuit.Circuit }

func newDraft() *draft {
	d := &draft{}
	d.Supply.Rails = [2]string{"L+", "L-"}
	return d
}

func (d *draft) device(dev circuit.Device) circuit.DeviceID {
	dev.Tag = fmt.Sprintf("D%d", len(d.Devices))
	d.Devices = append(d.Devices, dev)
	return circuit.DeviceID(len(d.Devices) - 1)
}

func (d *draft) timer(f circuit.Function, t time.Duration) circuit.DeviceID {
	return d.device(circuit.Device{Kind: circuit.Timer, Function: f, Presets: [2]time.Duration{t}})
}

func (d *draft) rung(path circuit.Path, loads ...circuit.DeviceID) {
	r := circuit.Rung{Number: len(d.Rungs) + 1, Path: path}
	for _, l := range loads {
		r.Loads = append(r.Loads, circuit.Load{Device: l})
	}
	d.Rungs = append(d.Rungs, r)
}

func contact(d circuit.DeviceID, k circuit.ContactKind) circuit.Item {
	return circuit.Item{Contact: circuit.Contact{Device: d, Kind: k}}
}

func either(a, b circuit.Item) circuit.Item {
	return circuit.Item{Branches: []circuit.Path{{a}, {b}}}
}

// spread gives the i-th cell a time of its own, so that cells do not move in
// step.
func spread(i int, base time.Duration) time.Duration {
	return base + time.Duration(i*7919%1009)*time.Millisecond + time.Duration(i)
}

// flashers are pairs of cross-coupled on-delay timers, each with the other's
// contact in its rung, and a lamp.
func flashers(n int) (*circuit.Circuit, []circuit.Action) {
	d := newDraft()
	for i := 0; i < n/2; i++ {
		a := d.timer(circuit.OnDelay, spread(i, time.Second))
		b := d.timer(circuit.OnDelay, spread(i, 500*time.Millisecond))
		d.rung(circuit.Path{contact(b, circuit.NCTO)}, a)
		d.rung(circuit.Path{contact(a, circuit.NOTC)}, b)
	}
	return &d.Circuit, nil
}

// sealIns are start-stop cells with a lamp, pressed by a pseudo-random hand.
func sealIns(n int) (*circuit.Circuit, []circuit.Action) {
	d := newDraft()
	var stop, start []circuit.DeviceID
	for i := 0; i < max(n/2, 1); i++ {
		s0 := d.device(circuit.Device{Kind: circuit.Button})
		s1 := d.device(circuit.Device{Kind: circuit.Button})
		k := d.device(circuit.Device{Kind: circuit.Relay})
		h := d.device(circuit.Device{Kind: circuit.Lamp})
		d.rung(circuit.Path{contact(s0, circuit.NC), either(contact(s1, circuit.NO), contact(k, circuit.NO))}, k)
		d.rung(circuit.Path{contact(k, circuit.NO)}, h)
		stop, start = append(stop, s0), append(start, s1)
	}
	var acts []circuit.Action
	seed := uint32(1)
	for i := 0; i < 200_000; i++ {
		seed = seed*1664525 + 1013904223
		cell := int(seed>>8) % len(start)
		b := start[cell]
		if i%2 == 1 {
			b = stop[cell]
		}
		at := time.Duration(i) * 100 * time.Millisecond
		acts = append(acts, circuit.Action{At: at, Verb: circuit.Press, Device: b},
			circuit.Action{At: at + 37*time.Millisecond, Verb: circuit.Release, Device: b})
	}
	return &d.Circuit, acts
}

// ring is a chain of on-delays, each started by the one before; the last one's
// opening contact starts the first, so that the whole chain drops and begins
// anew.
func ring(n int) (*circuit.Circuit, []circuit.Action) {
	d := newDraft()
	for i := 0; i < n; i++ {
		d.timer(circuit.OnDelay, spread(i, 100*time.Millisecond))
	}
	for i := 0; i < n; i++ {
		if i == 0 {
			d.rung(circuit.Path{contact(circuit.DeviceID(n-1), circuit.NCTO)}, 0)
			continue
		}
		d.rung(circuit.Path{contact(circuit.DeviceID(i-1), circuit.NOTC)}, circuit.DeviceID(i))
	}
	return &d.Circuit, nil
}

// starters are two-step motor starters that run by themselves: a flasher
// stands for the demand, an on-delay brings in the second step, an off-delay
// keeps the fan running on. Six coils each.
func starters(n int) (*circuit.Circuit, []circuit.Action) {
	d := newDraft()
	for i := 0; i < max(n/6, 1); i++ {
		demand := d.device(circuit.Device{Kind: circuit.Timer, Function: circuit.Flasher,
			Presets: [2]time.Duration{spread(i, 20*time.Second), spread(i, 9*time.Second)}})
		m1 := d.device(circuit.Device{Kind: circuit.Contactor})
		m2 := d.device(circuit.Device{Kind: circuit.Contactor})
		step := d.timer(circuit.OnDelay, spread(i, 4*time.Second))
		after := d.timer(circuit.OffDelay, spread(i, 6*time.Second))
		fan := d.device(circuit.Device{Kind: circuit.Contactor})
		stop := d.device(circuit.Device{Kind: circuit.Button})
		d.rung(circuit.Path{contact(stop, circuit.NC)}, demand)
		d.rung(circuit.Path{contact(demand, circuit.TNO)}, m1)
		d.rung(circuit.Path{contact(m1, circuit.NO)}, step)
		d.rung(circuit.Path{contact(m1, circuit.NO), contact(step, circuit.NOTC)}, m2)
		d.rung(circuit.Path{contact(m1, circuit.NO)}, after)
		d.rung(circuit.Path{contact(after, circuit.NOTO)}, fan)
	}
	return &d.Circuit, nil
}

// play runs a machine until it has recorded the edges, over and over again
// through the actions.
func play(m *engine.Machine, acts []circuit.Action, edges int) {
	m.Start()
	for i, shift := 0, time.Duration(0); m.Trace().Len() < edges; {
		if len(acts) == 0 {
			next, _ := m.NextDue()
			m.Advance(next)
			continue
		}
		a := acts[i]
		a.At += shift
		m.Act(a.At, a)
		if i++; i == len(acts) {
			i, shift = 0, a.At+100*time.Millisecond
		}
	}
}

func BenchmarkEngine(b *testing.B) {
	for _, f := range families {
		for _, n := range []int{10, 100, 1000, 10000} {
			for _, causes := range []bool{false, true} {
				name := fmt.Sprintf("%s/N=%d/causes=%t", f.name, n, causes)
				b.Run(name, func(b *testing.B) { benchFamily(b, f, n, causes) })
			}
		}
	}
}

func benchFamily(b *testing.B, f family, n int, causes bool) {
	c, acts := f.make(n)
	m := engine.New(c, engine.Options{NoCauses: !causes, Limit: 1 << 30})
	play(m, acts, edgesPerRun) // the trace has its room from here on
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		play(m, acts, edgesPerRun)
	}
	edges := float64(m.Trace().Len()) * float64(b.N)
	b.ReportMetric(edges/b.Elapsed().Seconds()/1e6, "Medges/s")
	b.ReportMetric(float64(m.Trace().Bytes())/float64(m.Trace().Len()), "B/edge")
	b.ReportMetric(0, "ns/op")
}
