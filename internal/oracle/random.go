package oracle

import (
	"fmt"
	"time"

	"tarry/circuit"
)

// Source is where the random numbers come from; a *rand.Rand of math/rand/v2
// is one.
type Source interface {
	// IntN returns a number from 0 to n-1.
	IntN(n int) int
}

// Random makes a small circuit that is packed with contacts, and a script for
// it, from src alone. Many times are multiples of one unit, so that things
// often happen at the same instant.
func Random(src Source) (*circuit.Circuit, *circuit.Script) {
	for {
		m := &maker{src: src, c: &circuit.Circuit{Supply: circuit.Supply{Rails: [2]string{"L", "N"}}}}
		m.circuit()
		if !railsWired(m.c) {
			return m.c, m.script()
		}
	}
}

// railsWired reports whether wire alone joins the rails: such a circuit is
// never run.
func railsWired(c *circuit.Circuit) bool {
	open := func(circuit.Contact) bool { return false }
	return newGrid(c).reach(leftRail, open)[rightRail]
}

// maker holds a circuit in the making.
type maker struct {
	src    Source
	c      *circuit.Circuit
	unit   int // milliseconds
	inputs []circuit.DeviceID
	relays []circuit.DeviceID // all that have a coil and contacts
	ends   []circuit.DeviceID // lamps, motors and the like
	left   []string           // named nets before the loads
	right  []string           // named nets behind the loads
}

func (m *maker) circuit() {
	m.unit = []int{1, 2, 5, 5, 10}[m.src.IntN(5)]
	m.hands()
	m.coils()
	m.loads()
	m.rungs()
	m.ties()
	m.plants()
}

// percent is true in p of 100 cases.
func (m *maker) percent(p int) bool { return m.src.IntN(100) < p }

// between returns a number from lo to hi.
func (m *maker) between(lo, hi int) int { return lo + m.src.IntN(hi-lo+1) }

func pick[T any](m *maker, list []T) T { return list[m.src.IntN(len(list))] }

// duration returns a time of lo to hi units, seldom a little more.
func (m *maker) duration(lo, hi int) time.Duration {
	t := m.unit * m.between(lo, hi)
	if m.percent(12) {
		t += m.src.IntN(m.unit)
	}
	return time.Duration(t) * time.Millisecond
}

func (m *maker) add(letter string, d circuit.Device) circuit.DeviceID {
	id := circuit.DeviceID(len(m.c.Devices))
	d.Tag = fmt.Sprintf("%s%d", letter, id)
	m.c.Devices = append(m.c.Devices, d)
	return id
}

func (m *maker) hands() {
	for range m.between(2, 4) {
		d := circuit.Device{}
		letter := "S"
		switch m.src.IntN(10) {
		case 0, 1, 2, 3:
			d.Kind = circuit.Button
		case 4, 5:
			d.Kind = circuit.Switch
		case 6:
			d.Kind = circuit.Selector
			d.Positions = []string{"hand", "off", "auto"}[:m.between(2, 3)]
		case 7, 8:
			letter = "B"
			d.Kind = circuit.Limit + circuit.Kind(m.src.IntN(int(circuit.Speed-circuit.Limit)+1))
		default:
			letter = "F"
			d.Kind = pick(m, []circuit.Kind{circuit.Overload, circuit.Breaker})
		}
		m.inputs = append(m.inputs, m.add(letter, d))
	}
}

func (m *maker) coils() {
	for range m.between(2, 7) {
		switch n := m.src.IntN(100); {
		case n < 25:
			m.relays = append(m.relays, m.add("K", m.relay()))
		case n < 32:
			m.relays = append(m.relays, m.add("K", circuit.Device{Kind: circuit.LatchingRelay}))
		case n < 38:
			m.relays = append(m.relays, m.add("K", circuit.Device{Kind: circuit.SteppingRelay}))
		case n < 44:
			m.relays = append(m.relays, m.add("P", circuit.Device{Kind: circuit.Counter, Count: m.between(1, 3)}))
		default:
			m.relays = append(m.relays, m.add("KT", m.timer()))
		}
	}
}

func (m *maker) relay() circuit.Device {
	d := circuit.Device{Kind: pick(m, []circuit.Kind{circuit.Relay, circuit.Relay, circuit.Contactor})}
	if m.percent(30) {
		d.Operate = m.duration(0, 3)
		d.Release = m.duration(0, 3)
	}
	return d
}

func (m *maker) timer() circuit.Device {
	f := pick(m, circuit.Functions())
	d := circuit.Device{Kind: circuit.Timer, Function: f.Function}
	for i := range f.Times {
		d.Presets[i] = m.duration(1, 8)
	}
	d.StartingOff = f.Function == circuit.Flasher && m.percent(40)
	d.Forgetful = f.Function == circuit.Accumulating && m.percent(40)
	if m.percent(60) {
		d.Storage = pick(m, []circuit.Storage{circuit.Air, circuit.Electronic})
	}
	if d.Forgetful { // an air timer's stored energy keeps its time
		d.Storage = circuit.ByFunction
	}
	return d
}

func (m *maker) loads() {
	kinds := []circuit.Kind{circuit.Lamp, circuit.Lamp, circuit.Horn, circuit.Solenoid, circuit.Motor, circuit.Motor, circuit.Heater, circuit.Brake}
	for range m.between(1, 2) {
		m.ends = append(m.ends, m.add("H", circuit.Device{Kind: pick(m, kinds)}))
	}
}

// plants lets sensors answer loads. Two rules that move one sensor to and fro
// belong to the start and the stop of one load, so that they are never due at
// once.
func (m *maker) plants() {
	for _, s := range m.inputs {
		load := m.plantLoad()
		kind := m.c.Devices[s].Kind
		if kind < circuit.Limit || kind > circuit.Speed || load == circuit.NoDevice || m.percent(20) {
			continue
		}
		p := circuit.Plant{Sensor: s, Closes: m.percent(60), After: m.duration(1, 8), Load: load, OnStart: m.percent(60)}
		m.c.Plants = append(m.c.Plants, p)
		p.After = m.duration(1, 8)
		switch {
		case m.percent(60):
			p.OnStart, p.Closes = !p.OnStart, !p.Closes
		case m.percent(50):
			p.Load, p.OnStart = m.plantLoad(), m.percent(60)
		default:
			continue
		}
		m.c.Plants = append(m.c.Plants, p)
	}
}

// plantLoad picks a device whose main coil or load stands in a rung.
func (m *maker) plantLoad() circuit.DeviceID {
	var fed []circuit.DeviceID
	for _, r := range m.c.Rungs {
		for _, l := range r.Loads {
			if l.Part == circuit.Main {
				fed = append(fed, l.Device)
			}
		}
	}
	if len(fed) == 0 {
		return circuit.NoDevice
	}
	return pick(m, fed)
}
