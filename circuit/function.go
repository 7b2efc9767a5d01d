package circuit

// Function is what a timer does with its time. The zero value belongs to
// devices that are no timers.
type Function uint8

// The timer functions. Their rules are in docs/ARCHITECTURE.md and, as code,
// in package engine.
const (
	NoFunction Function = iota
	OnDelay
	OffDelay
	OnOffDelay
	Interval
	Pulse
	PulseOnRelease
	MinimumOn
	Flasher
	Accumulating
	Watchdog
	StarDelta
)

// FunctionInfo is what the reader and the drawing need to know of a function.
type FunctionInfo struct {
	Function Function
	Word     string // as written in the notation
	Times    int    // how many presets it takes, 1 or 2
	// Contacts lists its timed contacts in the names that are used in output:
	// the trade's where it has them.
	Contacts []ContactKind
	// Reset says whether it has a reset coil.
	Reset bool
}

var functions = [...]FunctionInfo{
	{OnDelay, "on-delay", 1, []ContactKind{NOTC, NCTO}, false},
	{OffDelay, "off-delay", 1, []ContactKind{NOTO, NCTC}, false},
	{OnOffDelay, "on-off-delay", 2, []ContactKind{TNO, TNC}, false},
	{Interval, "interval", 1, []ContactKind{TNO, TNC}, false},
	{Pulse, "pulse", 1, []ContactKind{TNO, TNC}, false},
	{PulseOnRelease, "pulse-on-release", 1, []ContactKind{TNO, TNC}, false},
	{MinimumOn, "minimum-on", 1, []ContactKind{TNO, TNC}, false},
	{Flasher, "flasher", 2, []ContactKind{TNO, TNC}, false},
	{Accumulating, "accumulating", 1, []ContactKind{TNO, TNC}, true},
	{Watchdog, "watchdog", 1, []ContactKind{TNO, TNC}, false},
	{StarDelta, "star-delta", 2, []ContactKind{StarOut, DeltaOut}, false},
}

// Functions lists every timer function in the order of the documentation. The
// caller must not change the list.
func Functions() []FunctionInfo { return functions[:] }

// Info returns what is known of f, or the zero FunctionInfo for NoFunction.
func (f Function) Info() FunctionInfo {
	if f == NoFunction || int(f) > len(functions) {
		return FunctionInfo{}
	}
	return functions[f-1]
}

// String returns the function's word in the notation.
func (f Function) String() string { return f.Info().Word }

// Storage says what a timer does without supply. The zero value leaves it to
// the function; Device.Stored resolves it.
type Storage uint8

// The kinds of storage.
const (
	ByFunction Storage = iota
	Air                // stored energy: finishes timing though the rail is dead
	Electronic         // returns to rest at once when its supply fails
)

// ContactKind names a contact as the trade does. The zero value is no contact.
type ContactKind uint8

// The kinds of contact. NO and NC follow the coil or the hand at once; the
// others are timed, but for AtPosition, a selector's contact, which is closed
// while the selector stands in its position.
const (
	NoContact ContactKind = iota
	NO
	NC
	NOTC // normally open, timed closed (on-delay)
	NCTO // normally closed, timed open (on-delay)
	NOTO // normally open, timed open (off-delay)
	NCTC // normally closed, timed closed (off-delay)
	TNO  // timed, normally open: functions without a trade name of their own
	TNC  // timed, normally closed
	StarOut
	DeltaOut
	AtPosition
)

var contactWords = [...]string{"", "no", "nc", "notc", "ncto", "noto", "nctc", "tno", "tnc", "star", "delta", "position"}

// String returns the word behind the dot; a selector's contact is written by
// its position's name instead.
func (k ContactKind) String() string { return contactWords[k] }

// ContactKindOf returns the kind that a word names, or NoContact.
func ContactKindOf(word string) ContactKind {
	for k, w := range contactWords {
		if w == word && k != 0 && k != int(AtPosition) {
			return ContactKind(k)
		}
	}
	return NoContact
}

// ClosedAtRest reports whether the contact is closed with nothing operated. A
// selector's contact depends on its position; see Device.ClosedAtRest.
func (k ContactKind) ClosedAtRest() bool {
	return k == NC || k == NCTO || k == NCTC || k == TNC
}

// Group tells which moving part of a device carries a contact: all contacts
// of one group move at the same small step.
type Group uint8

// The groups.
const (
	Instant Group = iota // follows the coil or the hand
	Timed                // the timed output; a star-delta timer's star output
	Second               // a star-delta timer's delta output
)

// Group returns the moving part that carries contacts of kind k.
func (k ContactKind) Group() Group {
	switch k {
	case NO, NC, AtPosition, NoContact:
		return Instant
	case DeltaOut:
		return Second
	}
	return Timed
}

// Fit returns the kind that a contact written as k has on a timer of function
// f: the trade's name where tno or tnc was written for a function that has
// one, and NoContact where k does not belong to f.
func (f Function) Fit(k ContactKind) ContactKind {
	if k == NO || k == NC {
		return k
	}
	names := f.Info().Contacts
	for i, name := range names {
		if k == name || (f != StarDelta && i == 0 && k == TNO) || (f != StarDelta && i == 1 && k == TNC) {
			return name
		}
	}
	return NoContact
}
