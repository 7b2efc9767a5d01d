// Package oracle works out what a circuit does in the most simple-minded way
// that the rules allow. It exists to be compared with package engine and is
// imported by tests only.
package oracle

// Nothing here is clever, on purpose. Time moves in steps of one millisecond;
// every clock is a counter that is raised by one at each; every small step
// looks at the whole circuit. There is no queue of events, no island, no
// union of nets, so that a mistake of the engine is not likely to be made here
// a second time. All times of a circuit and its script must be whole
// milliseconds.

import (
	"fmt"
	"time"

	"tarry/circuit"
)

// Ending says how a run ended.
type Ending uint8

// The endings.
const (
	Finished Ending = iota
	Chatter         // a state came back within one settling
	Short           // closed contacts joined the rails
)

var endings = [...]string{"finished", "chatter", "short"}

// String returns the ending in a word.
func (e Ending) String() string { return endings[e] }

// Edge is a change of a signal, or its value at time zero.
type Edge struct {
	At   int // milliseconds since the start
	Step int // small step within the instant; 0 for the value at time zero
	On   bool
}

// Result is what came out of a run.
type Result struct {
	Ending Ending
	End    int // milliseconds since the start
	// Signals lists every contact and load of the rungs, each once.
	Signals []circuit.Signal
	// Edges has for each signal the value at time zero, then its every change.
	// The value at time zero is the one after start-up, unless the signal moved
	// more than once while starting: then it is the rest value and each change
	// follows.
	Edges map[circuit.Signal][]Edge
}

// Run runs the script on the circuit up to the script's End, events at End
// included.
func Run(c *circuit.Circuit, s *circuit.Script) Result {
	m := newMachine(c)
	m.startUp()
	line := s.Timeline()
	for end := ms(s.End); m.ending == Finished; m.tick() {
		n := 0
		for n < len(line) && ms(line[n].At) == m.now {
			n++
		}
		m.instant(line[:n])
		line = line[n:]
		if m.now == end {
			break
		}
	}
	return m.result()
}

// ms turns a duration into whole milliseconds.
func ms(d time.Duration) int {
	if d%time.Millisecond != 0 {
		panic(fmt.Sprintf("oracle: %v is not a whole number of milliseconds", d))
	}
	return int(d / time.Millisecond)
}

// clock counts the milliseconds of one timer, plant rule or travelling contact.
type clock struct {
	running bool
	elapsed int
	phase   int // which of the two times it runs towards
}

func started(phase int) clock { return clock{running: true, phase: phase} }

// machine is the whole state of a run.
type machine struct {
	c       *circuit.Circuit
	grid    *grid
	live    bool
	devices []*device
	rules   []clock // one for each plant rule
	now     int
	step    int
	ending  Ending
	tracks  []*track
}

// track is the record of one signal.
type track struct {
	signal  circuit.Signal
	edges   []Edge
	startUp int // how many of the edges belong to the settling at time zero
}

func newMachine(c *circuit.Circuit) *machine {
	m := &machine{c: c, grid: newGrid(c), rules: make([]clock, len(c.Plants))}
	for i := range c.Devices {
		m.devices = append(m.devices, newDevice(&c.Devices[i]))
	}
	for _, s := range m.grid.signals() {
		m.tracks = append(m.tracks, &track{signal: s, edges: []Edge{{On: m.on(s)}}})
	}
	return m
}

// startUp switches the supply on with everything as drawn and settles.
func (m *machine) startUp() {
	m.live = true
	m.settle()
	for _, t := range m.tracks {
		t.startUp = len(t.edges) - 1
	}
}

// instant does everything that happens now: actions first, then all that is
// due.
func (m *machine) instant(actions []circuit.Action) {
	for len(actions) > 0 && m.ending == Finished {
		n := batch(actions)
		m.act(actions[:n])
		actions = actions[n:]
	}
	m.settle()
	for m.ending == Finished && m.operateDue() {
		m.note()
		m.settle()
	}
}

// tick moves on to the next millisecond.
func (m *machine) tick() {
	if m.ending != Finished {
		return
	}
	m.now++
	m.step = 0
	for _, d := range m.devices {
		d.clock.tick()
	}
	for i := range m.rules {
		m.rules[i].tick()
	}
}

func (k *clock) tick() {
	if k.running {
		k.elapsed++
	}
}

// settle takes small steps until nothing moves.
func (m *machine) settle() {
	seen := map[string]bool{}
	for m.ending == Finished {
		toLeft, toRight := m.grid.reach(leftRail, m.closed), m.grid.reach(rightRail, m.closed)
		if m.live && toLeft[rightRail] {
			m.ending = Short
			return
		}
		if !m.feed(toLeft, toRight) {
			return
		}
		m.note()
		if key := m.key(); seen[key] {
			m.ending = Chatter
		} else {
			seen[key] = true
		}
	}
}

// feed gives every load its new state and lets those that changed react. It
// reports whether there were any.
func (m *machine) feed(toLeft, toRight []bool) bool {
	before := make([][parts]bool, len(m.devices))
	for i, d := range m.devices {
		before[i] = d.coil
		d.coil = [parts]bool{}
	}
	for _, l := range m.grid.loads {
		if m.live && (toLeft[l.a] && toRight[l.b] || toLeft[l.b] && toRight[l.a]) {
			m.devices[l.load.Device].coil[l.load.Part] = true
		}
	}
	moved := false
	for i, d := range m.devices {
		if d.coil != before[i] {
			moved = true
			d.react(before[i], m.live)
			m.plantSees(circuit.DeviceID(i), before[i][circuit.Main], d.coil[circuit.Main])
		}
	}
	return moved
}

// note records every signal that has changed, as one small step.
func (m *machine) note() {
	m.step++
	for _, t := range m.tracks {
		if on := m.on(t.signal); on != t.edges[len(t.edges)-1].On {
			t.edges = append(t.edges, Edge{m.now, m.step, on})
		}
	}
}

// key writes down the whole state.
func (m *machine) key() string {
	b := fmt.Appendf(nil, "%v %v", m.live, m.rules)
	for _, d := range m.devices {
		b = fmt.Appendf(b, " %v %v %v %v %v %v", d.coil, d.out, d.position, d.clock, d.count, d.preset)
	}
	return string(b)
}

// on reports whether a signal is on, or closed.
func (m *machine) on(s circuit.Signal) bool {
	d := m.devices[s.Device]
	switch {
	case s.Contact == circuit.NoContact:
		return d.coil[s.Load]
	case s.Contact == circuit.AtPosition:
		return d.position == s.Position
	}
	return d.out[groupOf(s.Contact)] == opensAtRest(s.Contact)
}

func (m *machine) closed(k circuit.Contact) bool {
	return m.on(circuit.Signal{Device: k.Device, Contact: k.Kind, Position: k.Position})
}

func (m *machine) result() Result {
	r := Result{Ending: m.ending, End: m.now, Edges: map[circuit.Signal][]Edge{}}
	for _, t := range m.tracks {
		edges := t.edges
		if t.startUp == 1 {
			edges = edges[1:]
			edges[0].Step = 0
		}
		r.Signals = append(r.Signals, t.signal)
		r.Edges[t.signal] = edges
	}
	return r
}
