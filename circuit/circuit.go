// Package circuit is the model: what is wired, and the scripts, expectations
// and teaching notes that belong to it. It knows no text and no time; package
// notation reads it, package engine runs it.
package circuit

// A Circuit is held as the drawing shows it: rungs of contacts in series and
// parallel groups. The electrical graph of nets is not stored beside it but
// worked out by Wire, so that the two cannot disagree.

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Circuit is what is wired, with the text that goes with it. A Circuit is
// never changed once it is made.
type Circuit struct {
	Title   string
	Station string
	Notes   []Note
	Supply  Supply
	Devices []Device
	Rungs   []Rung
	Plants  []Plant
	Pins    []Pin
	Scripts []Script
}

// Note is a line of the teaching text: "aim", "trap", "caution", "try" or
// "say", in the order written.
type Note struct {
	Word string
	Text string
}

// Supply is the pair of rails. The zero value has no voltage given.
type Supply struct {
	// Millivolts is the supply's voltage in 1/1000 V, 0 if not given.
	Millivolts int64
	AC         bool
	// Rails are the names of the left and the right rail, which are nets by
	// these names too.
	Rails [2]string
}

// String returns the voltage exactly, "24 V dc", or "" if it is not given.
func (s Supply) String() string {
	if s.Millivolts == 0 {
		return ""
	}
	volts := strconv.FormatInt(s.Millivolts/1000, 10)
	if rest := s.Millivolts % 1000; rest != 0 {
		volts += strings.TrimRight(fmt.Sprintf(".%03d", rest), "0")
	}
	if s.AC {
		return volts + " V ac"
	}
	return volts + " V dc"
}

// ExtraLow says whether the voltage, if given, is extra-low: at most 50 V ac or
// 120 V dc, the limits of IEC 61140 (from memory).
func (s Supply) ExtraLow() bool {
	if s.AC {
		return s.Millivolts <= 50_000
	}
	return s.Millivolts <= 120_000
}

// Pin fixes the wire number that a drawing gives to a named net.
type Pin struct {
	Net    string
	Number int
}

// DeviceID is a device's place in Circuit.Devices. NoDevice is none.
type DeviceID int32

// NoDevice stands where an event or a signal belongs to no device.
const NoDevice DeviceID = -1

// Device is one thing with a tag. Times are exact; fields that do not belong
// to the kind are zero.
type Device struct {
	Tag      string
	Kind     Kind
	Function Function // timers only
	Label    string
	// Presets are the timer's settings: T, or T1 and T2, or ON and OFF, or T
	// and the gap.
	Presets [2]time.Duration
	// Operate and Release are the declared travel times of a relay's or
	// contactor's contacts; both zero means ideal.
	Operate, Release time.Duration
	// Tolerance is the declared spread of the setting in 1/100 %, so 500 is
	// +-5%; 0 if not given. It does not change what the engine does.
	Tolerance   int
	Colour      string   // lamps
	Positions   []string // selectors, at least two, the first is the rest position
	Storage     Storage  // timers
	StartingOff bool     // flashers
	Forgetful   bool     // accumulating timers
	Count       int      // counters: the preset count, at least 1
}

// Stored returns what a timer does without supply, with the function's own
// rule filled in where the text says nothing: an off-delay timer is an air
// timer, every other one is electronic.
func (d *Device) Stored() Storage {
	switch {
	case d.Storage != ByFunction:
		return d.Storage
	case d.Function == OffDelay:
		return Air
	}
	return Electronic
}

// ClosedAtRest reports whether a contact of d is closed with nothing operated
// and every selector in its first position.
func (d *Device) ClosedAtRest(c Contact) bool {
	if c.Kind == AtPosition {
		return c.Position == 0
	}
	return c.Kind.ClosedAtRest()
}

// HasReset reports whether the device has a reset coil beside its main one.
func (d *Device) HasReset() bool {
	return d.Kind == Counter || d.Kind == LatchingRelay || d.Function.Info().Reset
}

// TakesLoad reports whether a rung may feed part p of d.
func (d *Device) TakesLoad(p LoadPart) bool {
	if d.Kind == Timer && p == ResetCoil {
		return d.Function.Info().Reset
	}
	for _, q := range d.Kind.Info().Loads {
		if p == q {
			return true
		}
	}
	return false
}

// Contact is one contact of a device. The same contact may stand in a circuit
// once only as a symbol; two symbols of one kind are two contacts that move
// together.
type Contact struct {
	Device   DeviceID
	Kind     ContactKind
	Position int // AtPosition only: place in Device.Positions
}

// Load is one coil or load that a rung feeds.
type Load struct {
	Device DeviceID
	Part   LoadPart
}

// Rung is one numbered line of the drawing: from the left rail, or from the
// named net that its path begins with, through contacts to loads and on to the
// right rail; or, with Tie set, to another named net.
type Rung struct {
	Number int
	Path   Path
	Loads  []Load
	Return Path   // contacts behind the loads, nil for none
	Tie    string // the net that a tie ends on; then Loads is empty
}

// Path is a series of items, from left to right.
type Path []Item

// Item is one of: a contact (Contact.Kind is not NoContact), a parallel group
// (Branches), or a named net at this point of the path (Net).
type Item struct {
	Contact  Contact
	Branches []Path
	Net      string
}

// Plant is a rule by which the plant answers a load: Sensor operates (or
// returns) After the load has started (or stopped).
type Plant struct {
	Sensor  DeviceID
	Closes  bool
	After   time.Duration
	Load    DeviceID
	OnStart bool
}

// Find returns the device with the tag, or NoDevice.
func (c *Circuit) Find(tag string) DeviceID {
	for i := range c.Devices {
		if c.Devices[i].Tag == tag {
			return DeviceID(i)
		}
	}
	return NoDevice
}

// ContactName writes a contact as the notation does: KT1.notc, S2.auto.
func (c *Circuit) ContactName(k Contact) string {
	d := &c.Devices[k.Device]
	if k.Kind == AtPosition {
		return d.Tag + "." + d.Positions[k.Position]
	}
	return d.Tag + "." + k.Kind.String()
}

// LoadName writes a load as the notation does: K1, K2.set.
func (c *Circuit) LoadName(l Load) string {
	if l.Part == Main {
		return c.Devices[l.Device].Tag
	}
	return c.Devices[l.Device].Tag + "." + l.Part.String()
}

// NotesOf returns the texts of the notes with the word, in order.
func (c *Circuit) NotesOf(word string) []string {
	var texts []string
	for _, n := range c.Notes {
		if n.Word == word {
			texts = append(texts, n.Text)
		}
	}
	return texts
}

// Contacts returns the contacts of the circuit in drawing order, each rung
// from left to right, groups branch by branch.
func (p Path) Contacts(add func(Contact)) {
	for _, it := range p {
		if it.Contact.Kind != NoContact {
			add(it.Contact)
		}
		for _, b := range it.Branches {
			b.Contacts(add)
		}
	}
}

// EqualTag reports whether two tags would be confused on a drawing: the same
// but for case.
func EqualTag(a, b string) bool { return strings.EqualFold(a, b) }
