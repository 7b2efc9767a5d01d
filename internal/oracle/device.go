package oracle

import "tarry/circuit"

// parts is how many coils or windings a device can have.
const parts = 5

// Moving parts of a device: places in device.out.
const (
	plain  = iota // instantaneous contacts
	timed         // the timed output; a star-delta timer's star output
	second        // a star-delta timer's delta output
)

// device is the state of one device.
type device struct {
	*circuit.Device
	preset   [2]int
	coil     [parts]bool // by circuit.LoadPart
	out      [3]bool     // what is operated
	position int         // selectors; -1 between two
	clock    clock       // the timer's time, or the contacts' travel
	count    int
}

func newDevice(d *circuit.Device) *device {
	return &device{Device: d, preset: [2]int{ms(d.Presets[0]), ms(d.Presets[1])}}
}

// groupOf returns the moving part that carries a kind of contact.
func groupOf(k circuit.ContactKind) int {
	switch k {
	case circuit.NO, circuit.NC:
		return plain
	case circuit.DeltaOut:
		return second
	}
	return timed
}

// opensAtRest reports whether a contact is open with nothing operated.
func opensAtRest(k circuit.ContactKind) bool {
	switch k {
	case circuit.NC, circuit.NCTO, circuit.NCTC, circuit.TNC:
		return false
	}
	return true
}

// react is called when one of the coils has changed.
func (d *device) react(before [parts]bool, live bool) {
	rise := d.coil[circuit.Main] && !before[circuit.Main]
	fall := !d.coil[circuit.Main] && before[circuit.Main]
	switch d.Kind {
	case circuit.Relay, circuit.Contactor:
		d.travel()
	case circuit.LatchingRelay:
		d.latch()
	case circuit.SteppingRelay:
		if rise {
			d.out[plain] = !d.out[plain]
		}
	case circuit.Counter:
		d.countUp(rise)
	case circuit.Timer:
		d.out[plain] = d.coil[circuit.Main]
		if live || d.Stored() == circuit.Air {
			d.time(rise, fall)
		}
	}
}

// travel sets the contacts of a relay on their way to where the coil wants
// them.
func (d *device) travel() {
	d.clock = clock{}
	want := d.coil[circuit.Main]
	if d.out[plain] == want {
		return
	}
	if d.travelTime() == 0 {
		d.out[plain] = want
		return
	}
	d.clock = started(0)
}

func (d *device) travelTime() int {
	if d.coil[circuit.Main] {
		return ms(d.Operate)
	}
	return ms(d.Release)
}

func (d *device) latch() {
	if d.coil[circuit.ResetCoil] {
		d.out[plain] = false
	} else if d.coil[circuit.SetCoil] {
		d.out[plain] = true
	}
}

func (d *device) countUp(rise bool) {
	if d.coil[circuit.ResetCoil] {
		d.count = 0
	} else if rise && d.count < d.Count {
		d.count++
	}
	d.out[plain] = d.count >= d.Count
}

// due reports whether the device's clock has run out.
func (d *device) due() bool {
	if !d.clock.running {
		return false
	}
	if d.Kind == circuit.Timer {
		return d.clock.elapsed >= d.preset[d.clock.phase]
	}
	return d.clock.elapsed >= d.travelTime()
}

// operate is called when the clock has run out.
func (d *device) operate() {
	if d.Kind == circuit.Timer {
		d.timeOut()
		return
	}
	d.clock = clock{}
	d.out[plain] = d.coil[circuit.Main]
}

// plantSees starts and stops the clocks of the rules about a load.
func (m *machine) plantSees(load circuit.DeviceID, before, now bool) {
	if before == now {
		return
	}
	for i, p := range m.c.Plants {
		if p.Load != load {
			continue
		}
		m.rules[i] = clock{}
		if p.OnStart == now {
			m.rules[i] = started(0)
		}
	}
}

// operateDue operates everything that is due, all at once. It reports whether
// there was anything.
func (m *machine) operateDue() bool {
	moved := false
	for _, d := range m.devices {
		if d.due() {
			d.operate()
			moved = true
		}
	}
	for i, p := range m.c.Plants {
		if m.rules[i].running && m.rules[i].elapsed >= ms(p.After) {
			m.rules[i] = clock{}
			m.devices[p.Sensor].out[plain] = p.Closes
			moved = true
		}
	}
	return moved
}
