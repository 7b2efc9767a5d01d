// Package session runs a circuit by hand, live, for as long as one likes: a list
// of actions and a cursor. The cursor goes to and fro; where it stands, hands act.
//
//	s := session.New(c, nil, session.Options{})
//	s.Move(2 * time.Second)
//	s.Do(circuit.Action{Verb: circuit.Press, Device: s1})
//	s.Trace() // what happened
//
// What happens is what the same actions do as a script: see Script.
package session

// A session keeps one machine, which stands at the time called Known. To act at
// an earlier time it is made again: a fork of the checkpoint plays the actions
// over again up to the cursor. The engine's rules leave no room for chance, so
// that it gets there in the state that was seen.
//
// What is kept is bounded. When so many events have come since the checkpoint as
// half of what may be kept, the next checkpoint is made: a fork whose trace
// begins there. When all of them have come, the machine goes on as a fork with a
// trace from the next checkpoint on, and that becomes the oldest. So a trace
// always reaches back over at least half of what may be kept.
//
// A script puts the hands first in an instant, and the hands of one instant
// together. With a cursor one sees what fell due at an instant and acts then;
// taken by that rule, the action would undo what was seen. Such a hand is
// therefore a moment late, as hands are. Several hands at one instant are taken
// together as in a script: the machine is made again up to there.

import (
	"slices"
	"sort"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/trace"
)

const (
	defaultKeep = 100_000
	// mostAtOnce is how many events one call, and one instant, may make.
	mostAtOnce = 1_000_000
	// moment is how much later than the cursor a hand comes at most, where
	// something fell due at the cursor.
	moment = time.Millisecond
)

// Options limit a session. The zero value keeps 100,000 events.
type Options struct {
	// Keep is about how many events are kept on record, 0 for 100,000. What
	// tells the state at the oldest instant comes on top of it.
	Keep int
}

// Session is a circuit run by hands. It is not safe for use by several
// goroutines at once.
type Session struct {
	circuit *circuit.Circuit
	keep    int
	actions []circuit.Action // by time, each without For
	done    int              // how many of them the machine has done
	now     time.Duration
	machine *engine.Machine
	// fell is the last instant at which something was due, -1 for none, so far
	// as the machine has been run since it was made.
	fell time.Duration
	made int // events made so far, and instants without any
	base checkpoint
	next *checkpoint // nil while it is too early for one
}

// checkpoint is a machine that is never run, only forked; everything at its time
// is over.
type checkpoint struct {
	machine *engine.Machine
	done    int
}

// New returns a session at time zero, settled, with the actions of time zero
// done and the others ahead; they are put in the order of a script's. What a
// device of the circuit cannot do is left out.
func New(c *circuit.Circuit, actions []circuit.Action, opt Options) *Session {
	s := &Session{circuit: c, keep: opt.Keep, actions: inOrder(c, actions)}
	if s.keep <= 0 {
		s.keep = defaultKeep
	}
	m := engine.New(c, engine.Options{Limit: mostAtOnce})
	m.Start()
	s.base = checkpoint{machine: m}
	s.restart()
	return s
}

// inOrder puts actions in order, one for each thing that is done.
func inOrder(c *circuit.Circuit, actions []circuit.Action) []circuit.Action {
	list := (&circuit.Script{Actions: actions}).Timeline()
	return slices.DeleteFunc(list, func(a circuit.Action) bool { return a.At < 0 || !can(c, a) })
}

// can reports whether the circuit has a device that can do the action.
func can(c *circuit.Circuit, a circuit.Action) bool {
	if a.Verb == circuit.SupplyOff || a.Verb == circuit.SupplyOn {
		return a.Device == circuit.NoDevice
	}
	if a.Device < 0 || int(a.Device) >= len(c.Devices) {
		return false
	}
	d := &c.Devices[a.Device]
	switch {
	case !slices.Contains(d.Kind.Info().Verbs, a.Verb):
		return false
	case a.Verb == circuit.Turn:
		return a.Position >= 0 && a.Position < len(d.Positions)
	case a.Verb == circuit.SetPreset:
		p := a.Presets
		return p[0] >= 0 && p[1] >= 0 && (p[0] > 0 || p[1] > 0) && (p[1] == 0 || d.Function.Info().Times == 2)
	}
	return true
}

// Now returns the cursor, a time since the start.
func (s *Session) Now() time.Duration { return s.now }

// Known returns how far the circuit has been run; what lies behind it is not yet
// worked out. A run that ended by itself ended there.
func (s *Session) Known() time.Duration { return s.machine.Now() }

// From returns the oldest instant still on record, 0 if nothing was dropped.
func (s *Session) From() time.Duration { return s.machine.Trace().From }

// Trace returns what is on record, up to Known. Its Ending is Running unless the
// run ended by itself. It is valid until the next Move or Do.
func (s *Session) Trace() *trace.Trace {
	t := s.machine.Trace()
	t.End = s.Known()
	return t
}

// Actions returns all actions in order of time, those done and those ahead. Each
// is one movement: For is 0.
func (s *Session) Actions() []circuit.Action { return slices.Clone(s.actions) }

// Next returns the next instant after Now at which something happened or is due
// or an action lies ahead, and false if there is none.
func (s *Session) Next() (time.Duration, bool) {
	t := s.machine.Trace()
	if i := s.eventsUntil(func(at time.Duration) bool { return at > s.now }); i < t.Len() {
		return t.Event(trace.ID(i)).At, true
	}
	if s.machine.Ended() {
		return 0, false
	}
	return s.ahead()
}

// ahead returns the first instant after Known at which something is due or is
// to be done.
func (s *Session) ahead() (time.Duration, bool) {
	at, any := s.machine.NextDue()
	if s.done < len(s.actions) && (!any || s.actions[s.done].At < at) {
		return s.actions[s.done].At, true
	}
	return at, any
}

// Back returns the latest instant before Now at which something happened, and
// false if there is none on record. Something always happens at 0.
func (s *Session) Back() (time.Duration, bool) {
	i := s.eventsUntil(func(at time.Duration) bool { return at >= s.now })
	if i == 0 || s.now <= s.From() {
		return 0, false
	}
	return max(s.machine.Trace().Event(trace.ID(i-1)).At, s.From()), true
}

// eventsUntil returns how many events lie before the first whose time is such.
func (s *Session) eventsUntil(such func(time.Duration) bool) int {
	t := s.machine.Trace()
	return sort.Search(t.Len(), func(i int) bool { return such(t.Event(trace.ID(i)).At) })
}
