package misread

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/trace"
)

// Prediction is a run as a learner thinks. Read the signals through Edges: the
// trace is that of a changed circuit.
type Prediction struct {
	Trace *trace.Trace
	// IDs are the readings played, none for the right run.
	IDs []string
	// End is when the run ends. It is that of the right run, but for a run that
	// breaks off.
	End time.Duration

	change *change // nil for the right run
	runner *Runner
	script *circuit.Script
	right  *trace.Trace // played when it is first asked for
	cuts   []cut
	stops  map[circuit.Signal][]trace.Edge
}

// Runner plays scripts on one circuit under many readings, and keeps the machines
// that it made. It is not safe for use by several goroutines at once.
type Runner struct {
	circuit *circuit.Circuit
	opt     engine.Options
	right   *engine.Machine
	models  map[string]*model
}

// model is a circuit as some readings take it.
type model struct {
	change  *change
	reason  string // why there is no machine
	machine *engine.Machine
}

// NewRunner returns a runner for c. A run has a million events at most, if opt
// says nothing else; ties and races are not looked for in what a learner predicts.
func NewRunner(c *circuit.Circuit, opt engine.Options) *Runner {
	return &Runner{circuit: c, opt: opt, right: engine.New(c, opt), models: map[string]*model{}}
}

// Right plays a script as it is. The prediction is valid until the runner plays
// again.
func (r *Runner) Right(s *circuit.Script) *Prediction {
	r.right.Play(s)
	t := r.right.Trace()
	return &Prediction{Trace: t, End: t.End}
}

// Play plays a script as a learner thinks who has the readings; with none, it is
// Right. The prediction is valid until the runner plays again.
func (r *Runner) Play(s *circuit.Script, ids ...string) (*Prediction, error) {
	if len(ids) == 0 {
		return r.Right(s), nil
	}
	m := r.model(ids)
	if m.reason != "" {
		return nil, fmt.Errorf("misread: %s: %s", strings.Join(ids, ", "), m.reason)
	}
	p := &Prediction{IDs: slices.Clone(ids), change: m.change, runner: r, script: s}
	m.play(p)
	return p, nil
}

// model returns the circuit as the readings take it, made once.
func (r *Runner) model(ids []string) *model {
	key := strings.Join(ids, " ")
	m, made := r.models[key]
	if !made {
		m = &model{}
		r.models[key] = m
		if m.change, m.reason = changed(r.circuit, ids); m.reason == "" {
			opt := r.opt
			opt.OneOrder = true
			m.machine = engine.New(m.change.c, opt)
		}
	}
	return m
}

// play plays the prediction's script on the changed circuit, to the end of the
// right run.
func (m *model) play(p *Prediction) {
	script := *p.script
	if script.End == 0 {
		script.End = p.rightRun().End
	}
	s, end := &script, script.End
	if m.change.script != nil {
		s = m.change.script(s)
	}
	if m.change.frozen {
		s, p.cuts = cutSupply(s)
	}
	m.machine.Play(s)
	p.Trace = m.machine.Trace()
	if p.End = end; p.Trace.Ending != trace.Finished {
		p.End = p.restored(p.Trace.End)
	}
	if m.change.stops {
		p.stops = inOrder(p)
	}
}

// rightRun returns the right run of the script.
func (p *Prediction) rightRun() *trace.Trace {
	if p.right == nil {
		p.right = p.runner.Right(p.script).Trace
	}
	return p.right
}

// Edges returns a signal of the original circuit as the learner would draw it,
// like trace.Edges. A signal that a hand moves is as in the right run.
func (p *Prediction) Edges(s circuit.Signal) []trace.Edge {
	if p.change == nil {
		return p.Trace.Edges(s)
	}
	if edges, known := p.stops[s]; known {
		return edges
	}
	if p.byHand(s.Device) {
		return p.rightRun().Edges(s)
	}
	at := s
	if as, elsewhere := p.change.as[s]; elsewhere {
		at = as
	}
	return p.restore(s, p.Trace.Edges(at))
}

// byHand reports whether hands alone move a device.
func (p *Prediction) byHand(id circuit.DeviceID) bool {
	c := p.runner.circuit
	if len(c.Devices[id].Kind.Info().Loads) > 0 {
		return false
	}
	return !slices.ContainsFunc(c.Plants, func(rule circuit.Plant) bool { return rule.Sensor == id })
}

// cut is a stretch without supply that is taken out of a script: where the script
// goes on, and how much was cut out there.
type cut struct{ at, length time.Duration }

// cutSupply takes the stretches without supply out of a script. What hands do
// meanwhile is done where the script goes on.
func cutSupply(s *circuit.Script) (*circuit.Script, []cut) {
	out := *s
	out.Actions = nil
	var cuts []cut
	off, gone := time.Duration(-1), time.Duration(0)
	for _, a := range s.Timeline() {
		switch {
		case a.At > s.End:
		case a.Verb == circuit.SupplyOff && off < 0:
			off = a.At
		case a.Verb == circuit.SupplyOn && off >= 0:
			cuts = append(cuts, cut{off - gone, a.At - off})
			gone += a.At - off
			off = -1
		case a.Device != circuit.NoDevice:
			if off >= 0 {
				a.At = off
			}
			a.At -= gone
			out.Actions = append(out.Actions, a)
		}
	}
	if off >= 0 {
		cuts = append(cuts, cut{off - gone, s.End - off})
		gone += s.End - off
	}
	out.End = max(s.End-gone, 1)
	return &out, cuts
}

// restored is the time in the whole script. What falls on a cut comes after it.
func (p *Prediction) restored(at time.Duration) time.Duration {
	to := at
	for _, c := range p.cuts {
		if c.at <= at && at > 0 {
			to += c.length
		}
	}
	return to
}

// restore puts edges back where they stand in the whole script. Contacts stay
// where they are without supply, loads are off.
func (p *Prediction) restore(s circuit.Signal, edges []trace.Edge) []trace.Edge {
	if len(p.cuts) == 0 {
		return edges
	}
	out := []trace.Edge{edges[0]}
	on := edges[0].On
	load := s.Contact == circuit.NoContact && p.runner.circuit.Devices[s.Device].Kind != circuit.LatchingRelay
	gone, next := time.Duration(0), 1
	flow := func(before time.Duration, last bool) {
		for ; next < len(edges) && (last || edges[next].At < before); next++ {
			e := edges[next]
			e.At += gone
			out, on = append(out, e), e.On
		}
	}
	for _, c := range p.cuts {
		flow(c.at, false)
		if load && on {
			out = append(out, trace.Edge{At: c.at + gone, Event: trace.None})
		}
		gone += c.length
		if load && on {
			out = append(out, trace.Edge{At: c.at + gone, On: true, Event: trace.None})
		}
	}
	flow(0, true)
	return out
}

// inOrder lets what runs stop in the order in which it started: the same stops,
// given to the others.
func inOrder(p *Prediction) map[circuit.Signal][]trace.Edge {
	type stretch struct {
		signal   circuit.Signal
		from, to trace.Edge
	}
	rounds := map[int][]stretch{} // the first stretch of each, the second, …
	out := map[circuit.Signal][]trace.Edge{}
	for i := range p.runner.circuit.Devices {
		if !isDrive(&p.runner.circuit.Devices[i]) {
			continue
		}
		s := circuit.Signal{Device: circuit.DeviceID(i)}
		edges := p.Trace.Edges(s)
		out[s] = edges[:1:1]
		if edges[0].On {
			return nil // it ran from the start
		}
		for n := 1; n+1 < len(edges); n += 2 {
			rounds[n] = append(rounds[n], stretch{s, edges[n], edges[n+1]})
		}
		if len(edges)%2 == 0 {
			return nil // it runs to the end
		}
	}
	for n := 1; len(rounds[n]) > 0; n += 2 {
		list := rounds[n]
		slices.SortStableFunc(list, func(a, b stretch) int { return cmp.Compare(a.from.At, b.from.At) })
		var ends []trace.Edge
		for _, x := range list {
			ends = append(ends, x.to)
		}
		slices.SortStableFunc(ends, func(a, b trace.Edge) int { return cmp.Compare(a.At, b.At) })
		for i, x := range list {
			if x.from.At > ends[i].At {
				return nil // they don't run together
			}
			out[x.signal] = append(out[x.signal], x.from, ends[i])
		}
	}
	return out
}
