package circuit

// The hidden functions are what learners think that a timer does. They have no
// word in the notation and stand in no list, so no text can ask for them;
// package misread puts them in place of a timer's own function, and package
// engine runs them beside the real ones (engine/hidden.go).

// The hidden functions. T is the first preset.
const (
	// TimesOnRelease operates T after the coil goes off, and returns at on.
	TimesOnRelease Function = iota + 64
	// Slides moves its output as its coil moved, T later.
	Slides
	// Follows moves its output with its coil.
	Follows
	// KeepsTime is an on-delay whose elapsed time stands still at off.
	KeepsTime
	// Triggered operates T after on, whatever the coil does meanwhile, and returns
	// at the next off.
	Triggered
	// Blips is an on-delay whose output returns the second preset after it has
	// operated.
	Blips
	// NeverMoves keeps its output at rest.
	NeverMoves
	// StaysOperated is an on-delay whose output never returns.
	StaysOperated
	// FirstRelease is an off-delay that on does not call off.
	FirstRelease
	// FromZero operates once T has passed since time zero and the coil is on;
	// returns at off.
	FromZero
	// AddsReleases is an off-delay whose off-times add up.
	AddsReleases
	// OnceOnDelay and OnceOffDelay work as their names say until their output has
	// returned for the first time.
	OnceOnDelay
	OnceOffDelay
	// ClearsAtOff is an accumulating timer that goes back to zero at off.
	ClearsAtOff
	// RestartsAtSet is an on-delay whose time begins anew when its preset is
	// changed.
	RestartsAtSet
	// FromPowerUp is an off-delay that operates when the supply comes on, and times
	// from there.
	FromPowerUp
	// Stretches is a pulse that gets T longer with each further on.
	Stretches
)

// Hidden reports whether f is one of the hidden functions.
func (f Function) Hidden() bool { return f >= TimesOnRelease }
