package misread

import (
	"slices"
	"time"

	"tarry/circuit"
)

// Section C: what a controller's timer does, played with relay timers wherever
// the same belief shows there.

// oneScan is how long a pulse of one scan is drawn.
const oneScan = 20 * time.Millisecond

// Tags of what P01 adds; no text can have them.
const (
	memoryTag = "the program's memory"
	stepTag   = "a small step"
)

// mostTimers is how many timers P01 and P02 take: they are put in each other's way,
// pair by pair.
const mostTimers = 10

// waitsAtTimer is P01: what stands below an on-delay's rung keeps its state
// while the timer times. A relay remembers it.
func waitsAtTimer(k *change) string {
	list, n := k.onDelays(), 0
	if len(list) > mostTimers {
		return tooMany
	}
	for _, id := range list {
		from := k.rungOf(id) + 1
		rungs := slices.Clone(k.c.Rungs[:from])
		for _, r := range k.c.Rungs[from:] {
			frozen := k.freeze(r, id)
			rungs = append(rungs, frozen...)
			n += len(frozen) - 1
		}
		k.c.Rungs = rungs
	}
	return unless(n, "no rung stands below an on-delay timer's rung")
}

const tooMany = "there are more than ten on-delay timers"

// onDelays returns the on-delay timers in the order of their rungs.
func (k *change) onDelays() []circuit.DeviceID {
	var list []circuit.DeviceID
	for i := range k.c.Rungs {
		for _, l := range k.c.Rungs[i].Loads {
			if l.Part == circuit.Main && k.c.Devices[l.Device].Function == circuit.OnDelay && !slices.Contains(list, l.Device) {
				list = append(list, l.Device)
			}
		}
	}
	return list
}

// freeze returns rungs in place of r that keep its state while a timer times, if it is a plain one. A
// memory takes the loads' place; it learns only what still holds two small steps
// later, when a timer that was energised together with it has moved its contacts.
func (k *change) freeze(r circuit.Rung, timer circuit.DeviceID) []circuit.Rung {
	if len(r.Loads) == 0 || slices.Contains(r.Loads, circuit.Load{Device: timer}) || k.helps(r) {
		return []circuit.Rung{r}
	}
	for _, it := range r.Path {
		if it.Net != "" {
			return []circuit.Rung{r}
		}
	}
	memory := k.add(circuit.Device{Tag: memoryTag, Kind: circuit.Relay})
	first, second := k.add(circuit.Device{Tag: stepTag, Kind: circuit.Relay}), k.add(circuit.Device{Tag: stepTag, Kind: circuit.Relay})
	rung := func(id circuit.DeviceID, items ...circuit.Item) circuit.Rung {
		return circuit.Rung{Number: r.Number, Path: items, Loads: []circuit.Load{{Device: id}}}
	}
	goesOn := append(circuit.Path{item(second, circuit.NO), resting(timer)}, r.Path...)
	stays := append(timing(timer), item(memory, circuit.NO))
	again := append(circuit.Path{item(first, circuit.NO)}, r.Path...)
	added := []circuit.Rung{rung(first, r.Path...), rung(second, again...), rung(memory, either(goesOn, stays))}
	r.Path = circuit.Path{item(memory, circuit.NO)}
	return append(added, r)
}

// helps reports whether a rung was added, or stands behind a memory already, so
// that freezing the memory's own rung is enough.
func (k *change) helps(r circuit.Rung) bool {
	behind := len(r.Path) == 1 && r.Path[0].Contact.Kind != circuit.NoContact &&
		k.c.Devices[r.Path[0].Contact.Device].Tag == memoryTag
	return behind || k.c.Devices[r.Loads[0].Device].Tag == stepTag
}

// oneAfterAnother is P02: an on-delay waits while one above it times.
func oneAfterAnother(k *change) string {
	list, n := k.onDelays(), 0
	if len(list) > mostTimers {
		return tooMany
	}
	for i, id := range list {
		r := &k.c.Rungs[k.rungOf(id)]
		for _, above := range list[:i] {
			r.Path = inFront(r.Path, resting(above))
			n++
		}
	}
	return unless(n, "there are no two on-delay timers")
}

// doneIsOneScan is P05.
func doneIsOneScan(k *change) string {
	return unless(k.timers(func(id circuit.DeviceID, d *circuit.Device) {
		k.behave(id, circuit.Blips, d.Presets[0], oneScan)
	}, circuit.OnDelay), noOnDelay)
}

// survives is P04's other half: the sum outlives a power failure.
func survives(k *change) string {
	n := 0
	k.timers(func(_ circuit.DeviceID, d *circuit.Device) {
		if d.Forgetful {
			d.Forgetful = false
			n++
		}
	}, circuit.Accumulating)
	return unless(n, "there is no accumulating timer that forgets without supply")
}

// squareWave is P06: the done output stays as long as it waited.
func squareWave(k *change) string {
	return unless(k.selfResetting(func(id circuit.DeviceID) {
		t := k.c.Devices[id].Presets[0]
		k.behave(id, circuit.OnOffDelay, t, t)
	}), "no on-delay timer opens its own coil's rung")
}

// readsTheWiring is P09: of an input relay fed by nothing but a stop button's NC
// contact, the NC contact is taken for one that opens when the button is pressed.
func readsTheWiring(k *change) string {
	inputs := map[circuit.DeviceID]bool{}
	for i := range k.c.Rungs {
		r := &k.c.Rungs[i]
		if len(r.Path) != 1 || r.Path[0].Contact.Kind != circuit.NC || len(r.Loads) != 1 {
			continue
		}
		hand := k.c.Devices[r.Path[0].Contact.Device].Kind.Info().Class == circuit.WhileHeld
		if id := r.Loads[0].Device; hand && k.c.Devices[id].Kind == circuit.Relay {
			inputs[id] = true
		}
	}
	n := 0
	k.contacts(func(_ place, c *circuit.Contact) {
		if inputs[c.Device] && c.Kind == circuit.NC {
			k.replace(c, circuit.Contact{Device: c.Device, Kind: circuit.NO})
			n++
		}
	})
	return unless(n, "no input relay of an NC stop button has an NC contact in use")
}

// alwaysSeconds is P11: thousandths are read as whole seconds.
func alwaysSeconds(k *change) string {
	n := 0
	k.timers(func(_ circuit.DeviceID, d *circuit.Device) {
		for i, t := range d.Presets {
			if t > 0 && t < time.Second {
				d.Presets[i] = 1000 * t
				n++
			}
		}
	})
	return unless(n, "every preset is a second or more")
}

// keepsLikeAir is P13.
func keepsLikeAir(k *change) string {
	n := 0
	k.timers(func(_ circuit.DeviceID, d *circuit.Device) {
		if d.Stored() == circuit.Electronic {
			d.Storage = circuit.Air
			n++
		}
	}, circuit.OffDelay)
	return unless(n, "there is no electronic off-delay timer")
}
