package misread

import (
	"tarry/circuit"
)

// Section A: what a timed contact does. Each of these changes a copy of the
// circuit and returns why it can't, or "".

const (
	noOnDelay  = "there is no on-delay timer"
	noOffDelay = "there is no off-delay timer"
	noEither   = "there is no on-delay or off-delay timer"
	noTimed    = "no timed contact is drawn"
)

// unless returns a reason if nothing was changed.
func unless(changed int, reason string) string {
	if changed == 0 {
		return reason
	}
	return ""
}

// takes makes the rule that timers of some functions behave like another one.
func takes(to circuit.Function, reason string, from ...circuit.Function) func(*change) string {
	return func(k *change) string {
		return unless(k.timers(func(id circuit.DeviceID, _ *circuit.Device) { k.behave(id, to) }, from...), reason)
	}
}

func onDelayAs(to circuit.Function) func(*change) string {
	return takes(to, noOnDelay, circuit.OnDelay)
}

func offDelayAs(to circuit.Function) func(*change) string {
	return takes(to, noOffDelay, circuit.OffDelay)
}

// exchangeFamilies is M02. What the text leaves to the function is left to the
// other one.
func exchangeFamilies(k *change) string {
	return unless(k.timers(func(_ circuit.DeviceID, d *circuit.Device) {
		d.Function = circuit.OnDelay + circuit.OffDelay - d.Function
	}, circuit.OnDelay, circuit.OffDelay), noEither)
}

// noDelay is M04. A star-delta timer has two outputs, so "its coil" says nothing.
func noDelay(k *change) string {
	n := 0
	k.timers(func(id circuit.DeviceID, d *circuit.Device) {
		if d.Function != circuit.StarDelta {
			k.behave(id, circuit.Follows)
			n++
		}
	})
	return unless(n, "there is no timer with one timed output")
}

// blipAtTimeOut is M08: for a fifth of the preset.
func blipAtTimeOut(k *change) string {
	return unless(k.timers(func(id circuit.DeviceID, d *circuit.Device) {
		k.behave(id, circuit.Blips, d.Presets[0], max(d.Presets[0]/5, 1))
	}, circuit.OnDelay), noOnDelay)
}

var opposite = map[circuit.ContactKind]circuit.ContactKind{
	circuit.NOTC: circuit.NCTO, circuit.NCTO: circuit.NOTC,
	circuit.NOTO: circuit.NCTC, circuit.NCTC: circuit.NOTO,
	circuit.TNO: circuit.TNC, circuit.TNC: circuit.TNO,
}

// readAs puts other contacts for the timed ones, wherever they stand.
func (k *change) readAs(to func(circuit.ContactKind) circuit.ContactKind) int {
	n := 0
	k.timers(func(id circuit.DeviceID, _ *circuit.Device) {
		k.claim(k.reads, id)
		for kind := range opposite {
			if as := to(kind); as != kind {
				k.as[circuit.Signal{Device: id, Contact: kind}] = circuit.Signal{Device: id, Contact: as}
			}
		}
	})
	k.contacts(func(_ place, c *circuit.Contact) {
		if as, other := k.as[signalOf(*c)]; other {
			c.Kind = as.Contact
			n++
		}
	})
	return n
}

// exchangeNormals is M09.
func exchangeNormals(k *change) string {
	return unless(k.readAs(func(kind circuit.ContactKind) circuit.ContactKind {
		return opposite[kind]
	}), noTimed)
}

// ignoreClosed is M15.
func ignoreClosed(k *change) string {
	return unless(k.readAs(func(kind circuit.ContactKind) circuit.ContactKind {
		if kind.ClosedAtRest() {
			return opposite[kind]
		}
		return kind
	}), "no timed contact that is closed at rest is drawn")
}

// whileTiming is M16. An on-delay's timed contacts are operated while its clock
// runs. An off-delay's names say the state that the contact has at rest, so it
// never moves.
func whileTiming(k *change) string {
	on := k.timers(func(id circuit.DeviceID, _ *circuit.Device) { k.behave(id, circuit.Interval) }, circuit.OnDelay)
	off := k.timers(func(id circuit.DeviceID, _ *circuit.Device) { k.behave(id, circuit.NeverMoves) }, circuit.OffDelay)
	return unless(on+off, noEither)
}

// usedUp is M20.
func usedUp(k *change) string {
	on := k.timers(func(id circuit.DeviceID, _ *circuit.Device) { k.behave(id, circuit.OnceOnDelay) }, circuit.OnDelay)
	off := k.timers(func(id circuit.DeviceID, _ *circuit.Device) { k.behave(id, circuit.OnceOffDelay) }, circuit.OffDelay)
	return unless(on+off, noEither)
}
