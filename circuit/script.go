package circuit

import (
	"sort"
	"time"
)

// Verb is what a script does to a device.
type Verb uint8

// The verbs. SupplyOff and SupplyOn belong to no device.
const (
	NoVerb Verb = iota
	Close
	Open
	Press
	Release
	Turn
	Trip
	Reset
	SetPreset
	SupplyOff
	SupplyOn
)

var verbs = [...]string{"", "close", "open", "press", "release", "turn", "trip", "reset", "set", "supply off", "supply on"}

// String returns the verb as written in a script.
func (v Verb) String() string { return verbs[v] }

// VerbOf returns the verb that a word or two name, or NoVerb.
func VerbOf(words string) Verb {
	for v := range verbs {
		if v > 0 && verbs[v] == words {
			return Verb(v)
		}
	}
	return NoVerb
}

// Undo returns the verb that ends what v began, or NoVerb: press and release,
// close and open, trip and reset, supply off and supply on.
func (v Verb) Undo() Verb {
	switch v {
	case Press:
		return Release
	case Close:
		return Open
	case Trip:
		return Reset
	case SupplyOff:
		return SupplyOn
	}
	return NoVerb
}

// Action is one thing that a hand or the supply does at a time after the
// start.
type Action struct {
	At       time.Duration
	Verb     Verb
	Device   DeviceID         // NoDevice for the supply
	Position int              // Turn: place in Device.Positions
	For      time.Duration    // undone again this long after; 0 for not
	Presets  [2]time.Duration // SetPreset: the new settings; a zero keeps the old one
}

// Script is a named run: what is done, how long it lasts, what must come out.
type Script struct {
	Name    string
	Actions []Action
	Expects []Expect
	// End is when the run stops; 0 if the text says nothing, see
	// engine.Run.
	End time.Duration
}

// Timeline returns the actions in order of time with every "for" written out
// as two actions. Actions of one instant keep the order of the text; what ends
// an action begun earlier comes before what the text writes at that instant.
func (s *Script) Timeline() []Action {
	var ends, begins []Action
	for _, a := range s.Actions {
		if a.For > 0 {
			undo := a
			undo.At, undo.For, undo.Verb = a.At+a.For, 0, a.Verb.Undo()
			ends = append(ends, undo)
			a.For = 0
		}
		begins = append(begins, a)
	}
	line := append(ends, begins...)
	sort.SliceStable(line, func(i, j int) bool { return line[i].At < line[j].At })
	return line
}

// Signal is one thing that is on or off, closed or open, over time: a contact
// if Contact is set, else a coil or load. The bare tag of a device with
// contacts but no main coil (a latching relay) means its position.
type Signal struct {
	Device   DeviceID
	Load     LoadPart
	Contact  ContactKind
	Position int
}

// SignalName writes a signal as the notation does.
func (c *Circuit) SignalName(s Signal) string {
	if s.Contact != NoContact {
		return c.ContactName(Contact{s.Device, s.Contact, s.Position})
	}
	return c.LoadName(Load{s.Device, s.Load})
}

// Span is a stretch of time, closed at From and open at To. ToEnd means the
// end of the run, and To is then zero.
type Span struct {
	From, To time.Duration
	ToEnd    bool
}

// Expect says when a signal is on (closed) and that it is off at every other
// instant of the run; with Off set, the other way round. "never" is no span,
// "always" is one from zero to the end.
type Expect struct {
	Signal Signal
	Off    bool
	Spans  []Span
	// Within is how far an edge may lie from the one expected; Percent, in
	// 1/100 %, adds that share of the expected edge's time. Both zero means
	// exact.
	Within  time.Duration
	Percent int
}

// Tolerant reports whether an edge may lie elsewhere than expected.
func (x *Expect) Tolerant() bool { return x.Within > 0 || x.Percent > 0 }
