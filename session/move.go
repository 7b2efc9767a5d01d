package session

import (
	"sort"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Move puts the cursor to a time. Back, it goes to From at the earliest. Forward,
// the circuit is run as far, and the actions that lie ahead are done when their
// time comes; where the run ends by itself, the cursor stops. Move returns false
// if it gave up on the way because too much happens: the cursor stands where it
// got to, and another Move goes on from there.
func (s *Session) Move(to time.Duration) bool {
	if to <= s.Known() {
		s.now = max(to, s.From())
		return true
	}
	arrived := s.run(to, mostAtOnce)
	s.now = s.Known()
	return arrived
}

// Do lets hands act at Now and settles. Everything recorded after Now and all
// actions that lie ahead are forgotten first. What a device of the circuit cannot
// do is left out; a For puts the end of the action ahead. Where something fell
// due at Now, and at a From other than 0, the hands come a moment later, at most
// 1 ms and before anything else is due, and Now is that time then. Nothing can be
// done at the end of a run that ended by itself.
func (s *Session) Do(actions ...circuit.Action) {
	late := s.actionsUntil(func(at time.Duration) bool { return at > s.now })
	s.actions = s.actions[:late:late]
	if s.Known() > s.now {
		s.again(s.now)
	}
	if s.machine.Ended() {
		return
	}
	at := s.now
	if s.fell == at || s.From() == at && at > 0 {
		at += s.moment()
	}
	list := make([]circuit.Action, len(actions))
	for i, a := range actions {
		a.At = at
		list[i] = s.whole(a)
	}
	if list = inOrder(s.circuit, list); len(list) == 0 {
		return
	}
	together := s.fell == at || s.done > 0 && s.actions[s.done-1].At == at
	s.actions = append(s.actions, list...)
	if together {
		s.again(at)
	} else {
		s.run(at, mostAtOnce)
		s.instant(at)
	}
	s.now = at
}

// whole fills the settings that an action leaves as they are with those in force,
// so that the action means the same wherever it is read: a text would take them
// from the device's line.
func (s *Session) whole(a circuit.Action) circuit.Action {
	if a.Verb != circuit.SetPreset || a.Presets == [2]time.Duration{} || a.Device < 0 || int(a.Device) >= len(s.circuit.Devices) {
		return a
	}
	inForce := s.machine.Trace().Preset(a.Device, trace.Settled(a.At))
	for i, p := range a.Presets {
		if p == 0 {
			a.Presets[i] = inForce[i]
		}
	}
	return a
}

// moment returns how much later than now a hand comes after what fell due now:
// no later than half-way to what is due next. It is 0 if that leaves no time at
// all; then the hand comes first, as in a script.
func (s *Session) moment() time.Duration {
	if due, any := s.machine.NextDue(); any {
		return min(moment, (due-s.now)/2)
	}
	return moment
}

// actionsUntil returns how many actions lie before the first whose time is such.
func (s *Session) actionsUntil(such func(time.Duration) bool) int {
	return sort.Search(len(s.actions), func(i int) bool { return such(s.actions[i].At) })
}

// restart makes the machine again as it stood at the oldest checkpoint.
func (s *Session) restart() {
	s.machine = s.base.machine.Fork(0)
	s.done, s.next, s.fell = s.base.done, nil, -1
	s.instant(s.machine.Now())
}

// again makes the machine again as it stood at a time, with all that happened at
// that time.
func (s *Session) again(at time.Duration) {
	s.restart()
	for !s.run(at, mostAtOnce) {
	}
}

// run lets time pass to a time, or to the end of the run; it returns false if it
// gave up because it made more events than it may.
func (s *Session) run(to time.Duration, most int) bool {
	for start := s.made; s.Known() < to && !s.machine.Ended(); {
		if s.made-start >= most {
			return false
		}
		at, any := s.ahead()
		if !any || at > to {
			at = to
		}
		s.instant(at)
	}
	return true
}

// instant does everything that is to be done at a time and lets everything
// happen that is due then; nothing may be due or lie ahead before. The hands come
// first.
func (s *Session) instant(at time.Duration) {
	m := s.machine
	m.Allow(mostAtOnce)
	before := m.Trace().Len()
	if n := s.actionsUntil(func(t time.Duration) bool { return t > at }); n > s.done {
		m.Act(at, s.actions[s.done:n]...)
		s.done = n
	}
	if due, any := m.NextDue(); any && due <= at && !m.Ended() {
		s.fell = at
	}
	m.Advance(at)
	s.made += m.Trace().Len() - before + 1
	s.forget()
}

// forget makes the next checkpoint when it is time, and drops what lies before it
// when it is too much.
func (s *Session) forget() {
	m, t := s.machine, s.machine.Trace()
	if m.Ended() {
		return
	}
	more := t.Len() - s.base.machine.Trace().Len()
	if s.next == nil && more >= s.keep/2 && m.Now() > 0 && t.Event(trace.ID(t.Len()-1)).At == m.Now() {
		s.next = &checkpoint{m.Fork(m.Now()), s.done}
	}
	if s.next != nil && more >= s.keep {
		s.base, s.next = *s.next, nil
		s.machine = m.Fork(s.base.machine.Trace().From)
	}
}
