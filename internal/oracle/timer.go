package oracle

import "tarry/circuit"

// time is a timer's answer to a change of its coil, one function after the
// other as the table of the timer functions has them.
func (d *device) time(rise, fall bool) {
	switch d.Function {
	case circuit.OnDelay:
		d.onDelay(rise, fall)
	case circuit.OffDelay:
		d.offDelay(rise, fall)
	case circuit.OnOffDelay:
		d.onOffDelay(rise, fall)
	case circuit.Interval:
		d.interval(rise, fall)
	case circuit.Pulse:
		if rise && !d.clock.running {
			d.out[timed], d.clock = true, started(0)
		}
	case circuit.PulseOnRelease:
		if fall {
			d.out[timed], d.clock = true, started(0)
		}
	case circuit.MinimumOn:
		d.minimumOn(rise, fall)
	case circuit.Flasher:
		d.flasher(rise, fall)
	case circuit.Accumulating:
		d.accumulating()
	case circuit.Watchdog:
		if rise {
			d.out[timed], d.clock = true, started(0)
		}
	case circuit.StarDelta:
		d.interval(rise, fall)
	}
}

func (d *device) onDelay(rise, fall bool) {
	if rise {
		d.clock = started(0)
	}
	if fall {
		d.rest()
	}
}

func (d *device) offDelay(rise, fall bool) {
	if rise {
		d.out[timed], d.clock = true, clock{}
	}
	if fall {
		d.clock = started(0)
	}
}

func (d *device) onOffDelay(rise, fall bool) {
	if rise || fall {
		d.clock = clock{}
	}
	if rise && !d.out[timed] {
		d.clock = started(0)
	}
	if fall && d.out[timed] {
		d.clock = started(1)
	}
}

// interval serves star-delta timers too: the star output comes on, and all
// returns with the coil.
func (d *device) interval(rise, fall bool) {
	if rise {
		d.out[timed], d.clock = true, started(0)
	}
	if fall {
		d.rest()
	}
}

func (d *device) minimumOn(rise, fall bool) {
	if rise && !d.out[timed] {
		d.out[timed], d.clock = true, started(0)
	}
	if fall && !d.clock.running {
		d.out[timed] = false
	}
}

func (d *device) flasher(rise, fall bool) {
	if rise {
		d.out[timed], d.clock = true, started(0)
		if d.StartingOff {
			d.out[timed], d.clock = false, started(1)
		}
	}
	if fall {
		d.rest()
	}
}

func (d *device) accumulating() {
	if d.coil[circuit.ResetCoil] {
		d.rest()
		return
	}
	d.clock.running = d.coil[circuit.Main] && !d.out[timed]
}

// rest puts the timed outputs and the time back to the beginning.
func (d *device) rest() {
	d.out[timed], d.out[second], d.clock = false, false, clock{}
}

// supplyFails is what an electronic timer does when its supply fails.
func (d *device) supplyFails() {
	if d.Kind != circuit.Timer || d.Stored() == circuit.Air {
		return
	}
	if d.Function == circuit.Accumulating && !d.Forgetful {
		d.clock.running = false
		return
	}
	d.rest()
}

// timeOut is what a timer does when its time is over.
func (d *device) timeOut() {
	phase := d.clock.phase
	d.clock.running = false
	switch d.Function {
	case circuit.OnDelay, circuit.Accumulating:
		d.out[timed] = true
	case circuit.OffDelay, circuit.Interval, circuit.Pulse, circuit.PulseOnRelease, circuit.Watchdog:
		d.out[timed] = false
	case circuit.OnOffDelay:
		d.out[timed] = phase == 0
	case circuit.MinimumOn:
		d.out[timed] = d.coil[circuit.Main]
	case circuit.Flasher:
		d.out[timed] = phase == 1
		d.clock = started(1 - phase)
	case circuit.StarDelta:
		d.starDelta(phase)
	}
}

func (d *device) starDelta(phase int) {
	if phase == 0 {
		d.out[timed], d.clock = false, started(1)
		return
	}
	d.out[second] = true
}
