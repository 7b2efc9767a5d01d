package circuit

// Kind is what a device is, in the trade's word for it. The zero value is no
// kind at all and never stands in a finished Circuit.
type Kind uint8

// The kinds of device. Which contacts and coils each has is in Kinds.
const (
	NoKind Kind = iota
	Switch
	Selector
	Button
	Limit
	Float
	Pressure
	Flow
	Photo
	Proximity
	Thermostat
	Speed
	Overload
	Breaker
	Relay
	Contactor
	LatchingRelay
	SteppingRelay
	Timer
	Lamp
	Horn
	Solenoid
	Motor
	Heater
	Brake
	Counter
)

// Class groups the kinds by what moves them.
type Class uint8

// The classes.
const (
	ByHand     Class = iota + 1 // maintained: stays where the hand leaves it
	WhileHeld                   // momentary: pressed and released
	BySensing                   // moved by the plant, so by the script or a plant rule
	ByTripping                  // tripped and reset
	ByCoil                      // relays, contactors, counters: contacts follow a coil
	ByTime                      // timers
	LoadOnly                    // no contacts
)

// KindInfo is what the notation, the drawing and the engine need to know of a
// kind.
type KindInfo struct {
	Kind  Kind
	Word  string // as written in the notation; a timer's word is its function's
	Class Class
	// Loads lists the coils or load terminals that a rung may feed; empty for a
	// device that only has contacts.
	Loads []LoadPart
	// Plain says whether the device has instantaneous no and nc contacts.
	Plain bool
	// Verbs lists the actions that a script may use on it.
	Verbs []Verb
}

var kinds = [...]KindInfo{
	{Switch, "switch", ByHand, nil, true, []Verb{Close, Open}},
	{Selector, "selector", ByHand, nil, false, []Verb{Turn}},
	{Button, "button", WhileHeld, nil, true, []Verb{Press, Release}},
	{Limit, "limit", BySensing, nil, true, []Verb{Close, Open}},
	{Float, "float", BySensing, nil, true, []Verb{Close, Open}},
	{Pressure, "pressure", BySensing, nil, true, []Verb{Close, Open}},
	{Flow, "flow", BySensing, nil, true, []Verb{Close, Open}},
	{Photo, "photo", BySensing, nil, true, []Verb{Close, Open}},
	{Proximity, "proximity", BySensing, nil, true, []Verb{Close, Open}},
	{Thermostat, "thermostat", BySensing, nil, true, []Verb{Close, Open}},
	{Speed, "speed", BySensing, nil, true, []Verb{Close, Open}},
	{Overload, "overload", ByTripping, nil, true, []Verb{Trip, Reset}},
	{Breaker, "breaker", ByTripping, nil, true, []Verb{Trip, Reset}},
	{Relay, "relay", ByCoil, []LoadPart{Main}, true, nil},
	{Contactor, "contactor", ByCoil, []LoadPart{Main}, true, nil},
	{LatchingRelay, "latching relay", ByCoil, []LoadPart{SetCoil, ResetCoil}, true, nil},
	{SteppingRelay, "stepping relay", ByCoil, []LoadPart{Main}, true, nil},
	{Timer, "timer", ByTime, []LoadPart{Main}, true, []Verb{SetPreset}},
	{Lamp, "lamp", LoadOnly, []LoadPart{Main}, false, nil},
	{Horn, "horn", LoadOnly, []LoadPart{Main}, false, nil},
	{Solenoid, "solenoid", LoadOnly, []LoadPart{Main}, false, nil},
	{Motor, "motor", LoadOnly, []LoadPart{Main, Star, Delta}, false, nil},
	{Heater, "heater", LoadOnly, []LoadPart{Main}, false, nil},
	{Brake, "brake", LoadOnly, []LoadPart{Main}, false, nil},
	{Counter, "counter", ByCoil, []LoadPart{Main, ResetCoil}, true, nil},
}

// Kinds lists every kind in the order of the documentation. The caller must
// not change the list.
func Kinds() []KindInfo { return kinds[:] }

// Info returns what is known of k, or the zero KindInfo for NoKind.
func (k Kind) Info() KindInfo {
	if k == NoKind || int(k) > len(kinds) {
		return KindInfo{}
	}
	return kinds[k-1]
}

// String returns the kind's word in the notation.
func (k Kind) String() string { return k.Info().Word }

// LoadPart tells apart the coils or windings of one device.
type LoadPart uint8

// The parts that a rung can feed. Main is the coil or load that a bare tag
// means.
const (
	Main LoadPart = iota
	SetCoil
	ResetCoil
	Star
	Delta
)

var loadParts = [...]string{"", "set", "reset", "star", "delta"}

// String returns the word behind the dot, empty for Main.
func (p LoadPart) String() string { return loadParts[p] }
