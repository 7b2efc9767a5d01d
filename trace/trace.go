// Package trace holds what happened in a run: every edge, its instant, and the
// earlier edges that caused it. Signals, elapsed times, energising paths,
// state tables and files for other programs are all read from it.
package trace

// A trace stores edges only, so its size grows with what happens and not with
// time. An event is a record of 24 bytes in one slice; its causes are a run of
// numbers in another, found by where the run starts (it ends where the next
// event's starts). An edge with two causes therefore takes 32 bytes. Causes
// always have lower numbers than what they caused, so the graph has no circle
// and can be walked down to an action or to the start.

import (
	"sort"
	"time"

	"tarry/circuit"
)

// ID is an event's place in its trace, counted from 0. Event 0 is the supply
// coming on at time zero.
type ID int32

// None is no event.
const None ID = -1

// Part says which part of a device an event is about. The first five are the
// coils and loads, in the order of circuit.LoadPart.
type Part uint8

// The parts.
const (
	Coil       Part = iota
	SetCoil         // a latching relay's
	ResetCoil       // a latching relay's, an accumulating timer's, a counter's
	StarLoad        // a motor's windings joined in star
	DeltaLoad       // a motor's windings joined in delta
	Contacts        // the instantaneous contacts, where they do not simply follow the coil
	TimedOut        // the timed output; a star-delta timer's star output
	SecondOut       // a star-delta timer's delta output
	Clock           // a timer's elapsed time changed without any other edge
	PresetPart      // a timer's setting; Value counts the changes, see Trace.Preset
	SupplyPart      // the rails: 1 live, 0 dead
	NoticePart      // Value is the place in Trace.Notices
)

// Timing says what an event did to its timer's elapsed time.
type Timing uint8

// The effects. Started runs it from zero, Resumed from where it stood, Held
// stops it where it stands, Cleared stops it at zero.
const (
	Untouched Timing = iota
	Started
	Resumed
	Held
	Cleared
)

// Event is one edge or notice. Value is 1 for energised or operated and 0 for
// not; for a selector's Contacts it is the position, or -1 between two.
type Event struct {
	ID     ID
	At     time.Duration
	Step   int // small step within the instant, from 0
	Device circuit.DeviceID
	Part   Part
	Value  int
	Timing Timing
	// Because lists the events that caused this one, lowest first. It is empty
	// for what a hand or the supply did, for start-up, and in a trace without
	// causes. It is shared with the trace: do not change it.
	Because []ID
	// Lost says that causes of the event are no longer on record, see
	// Trace.Tail.
	Lost bool
}

// ByHand reports whether the event is an action of the script.
func (e Event) ByHand() bool {
	return len(e.Because) == 0 && !e.Lost && e.ID != 0 && (e.Part == Contacts || e.Part == SupplyPart || e.Part == PresetPart)
}

type record struct {
	at     time.Duration
	step   int32
	device circuit.DeviceID
	first  uint32 // where the causes start
	value  int16
	part   Part
	timing Timing
}

// RecordSize is the size in bytes of a stored event without its causes, and
// CauseSize that of each cause.
const (
	RecordSize = 24
	CauseSize  = 4
)

// Ending says why a run ended.
type Ending uint8

// The endings.
const (
	Running    Ending = iota // not finished: a live session
	Finished                 // the script's end
	Chattering               // it would never settle
	Shorted                  // contacts joined the rails
	TooMany                  // more than the limit of events
)

// Trace is one run. Its methods that look things up keep an index of their
// own, so a Trace must not be used by two goroutines at once.
type Trace struct {
	Circuit *circuit.Circuit
	Wiring  *circuit.Wiring
	Script  string
	End     time.Duration // when the run ended
	Ending  Ending
	Notices []Notice
	// Startup is how many events belong to the settling at time zero, before
	// any action.
	Startup int
	// NoCauses says that causes were not kept.
	NoCauses bool
	// From is the oldest instant on record, 0 unless the trace is the Tail of
	// another one. What is asked of the trace about an earlier time may be
	// wrong.
	From time.Duration

	records []record
	causes  []ID
	presets [][2]time.Duration
	lost    []ID // events with causes that are not on record
	index   index
}

// NoticeKind says what a notice is about.
type NoticeKind uint8

// The kinds of notice.
const (
	Tie       NoticeKind = iota + 1 // an action and a time-out at one instant
	Race                            // devices that react at once would settle differently one by one
	RaceSkip                        // too many devices to look whether they race
	Chatter                         // the circuit never settles
	Short                           // contacts join the rails
	NoEffect                        // an action that changed nothing
	BothCoils                       // set and reset coil energised together
	Limit                           // too many events
)

// Notice is something that the learner should look at. Which fields are used
// depends on the kind; package why has the words.
type Notice struct {
	Kind    NoticeKind
	At      time.Duration
	Step    int
	Devices []circuit.DeviceID // those concerned: who acted, who timed out, who loops
	// Contacts is a path as places in Wiring.Contacts: what joins the rails
	// (Short), or what feeds the coil that drops itself out (Chatter).
	Contacts []int32
	// Action is what the hand did: NoEffect and Tie.
	Action circuit.Action
	// Outcomes are the ends that the orders lead to: first the one that the
	// trace follows, then the first other one. Only what differs is listed.
	// Both are empty in a Tie whose orders end alike but pulse differently.
	Outcomes [2][]Outcome
}

// Outcome is a part of a device and the value it ends with; for a Clock, when it
// is due in nanoseconds, or -1 if it does not run.
type Outcome struct {
	Device circuit.DeviceID
	Part   Part
	Value  int
}

// Len returns the number of events.
func (t *Trace) Len() int { return len(t.records) }

// Event returns the event numbered id, which must be in the trace.
func (t *Trace) Event(id ID) Event {
	r := &t.records[id]
	end := uint32(len(t.causes))
	if int(id)+1 < len(t.records) {
		end = t.records[id+1].first
	}
	value := int(r.value)
	if r.part == NoticePart {
		value = t.noticePlace(r)
	}
	return Event{id, r.at, int(r.step), r.device, r.part, value, r.timing, t.causes[r.first:end:end],
		len(t.lost) > 0 && t.isLost(id)}
}

// noticePlace returns the place of a notice. The record has its last 16 bits
// only; notices stand in order of time, which tells the rest.
func (t *Trace) noticePlace(r *record) int {
	if len(t.Notices) < 1<<15 {
		return int(r.value)
	}
	i := sort.Search(len(t.Notices), func(i int) bool { return t.Notices[i].At >= r.at })
	return i + int(uint16(r.value)-uint16(i))
}

// Bytes returns what the events and their causes take, in bytes.
func (t *Trace) Bytes() int { return len(t.records)*RecordSize + len(t.causes)*CauseSize }

// Add appends an event and returns its number; the engine alone calls it.
// Times must not run backwards.
func (t *Trace) Add(at time.Duration, step int, d circuit.DeviceID, p Part, value int) ID {
	t.records = append(t.records, record{at, int32(step), d, uint32(len(t.causes)), int16(value), p, Untouched})
	return ID(len(t.records) - 1)
}

// Because adds a cause to the event added last.
func (t *Trace) Because(cause ID) {
	if !t.NoCauses && cause != None {
		t.causes = append(t.causes, cause)
	}
}

// CausesOfLast returns the causes added so far to the event added last; the
// caller may put them in order.
func (t *Trace) CausesOfLast() []ID { return t.causes[t.records[len(t.records)-1].first:] }

// DropCauses takes the causes of the event added last away again.
func (t *Trace) DropCauses() { t.causes = t.causes[:t.records[len(t.records)-1].first] }

// Mark says what event id did to its timer's elapsed time.
func (t *Trace) Mark(id ID, timing Timing) { t.records[id].timing = timing }

// AddPreset records new settings and returns the value that the event carries.
func (t *Trace) AddPreset(p [2]time.Duration) int {
	t.presets = append(t.presets, p)
	return len(t.presets) - 1
}

// Reserve makes room for n more events, so that a long run need not grow its
// slices.
func (t *Trace) Reserve(n int) {
	if free := cap(t.records) - len(t.records); free < n {
		t.records = append(make([]record, 0, len(t.records)+n), t.records...)
	}
	if free := cap(t.causes) - len(t.causes); free < n && !t.NoCauses {
		t.causes = append(make([]ID, 0, len(t.causes)+n), t.causes...)
	}
}

// Clear removes all events and keeps the room, for a run over again.
func (t *Trace) Clear() {
	t.records, t.causes, t.presets = t.records[:0], t.causes[:0], t.presets[:0]
	t.Notices, t.Startup, t.End, t.Ending = t.Notices[:0], 0, 0, Running
	t.From, t.lost = 0, t.lost[:0]
	t.index = index{}
}
