package trace

// A run that goes on for hours must forget. What it forgets is chosen by an
// instant: every event from there on stays, and of those before it the few that
// say how things stand. They come first, keep their times and small steps, and
// are read by the same methods as all others; nothing else need know.
//
// What is needed from before: the last event of each part; of a timer what its
// elapsed time is summed from, which begins where it was last started from
// zero; of a counter as many pick-ups as its count can come from; whatever an
// event that stays names as its cause, and whatever the caller names. An event
// of before whose causes are not among them is Lost: it has no causes, but was
// done by no hand either.

import (
	"slices"
	"sort"
	"time"

	"tarry/circuit"
)

// Tail returns a new trace that holds everything from an instant on and, of
// what was before, only what tells the state from then on and the events named
// in keep. Its field From is that instant, or the trace's own From if that is
// later. The function returned tells the new number of an event, None for one
// that is gone.
func (t *Trace) Tail(from time.Duration, keep ...ID) (*Trace, func(ID) ID) {
	from = max(from, t.From)
	first := ID(sort.Search(len(t.records), func(i int) bool { return t.records[i].at >= from }))
	kept := t.needed(first, keep)
	place := func(id ID) ID {
		if id >= first {
			return id - first + ID(len(kept))
		}
		if i, found := slices.BinarySearch(kept, id); found {
			return ID(i)
		}
		return None
	}
	n := &Trace{Circuit: t.Circuit, Wiring: t.Wiring, Script: t.Script, End: t.End, Ending: t.Ending,
		NoCauses: t.NoCauses, From: from}
	n.Reserve(len(kept) + len(t.records) - int(first))
	for _, id := range kept {
		n.adopt(t, id, place)
	}
	for id := first; int(id) < len(t.records); id++ {
		n.adopt(t, id, place)
	}
	return n, place
}

// adopt appends event id of another trace.
func (t *Trace) adopt(o *Trace, id ID, place func(ID) ID) {
	e := o.Event(id)
	value := e.Value
	switch {
	case e.Part == NoticePart:
		t.Notices = append(t.Notices, o.Notices[value])
		value = len(t.Notices) - 1
	case e.Part == PresetPart:
		value = t.AddPreset(o.presets[value])
	}
	added := t.Add(e.At, e.Step, e.Device, e.Part, value)
	t.Mark(added, e.Timing)
	if int(id) < o.Startup {
		t.Startup++
	}
	lost := e.Lost
	for _, cause := range e.Because {
		now := place(cause)
		t.Because(now)
		lost = lost || now == None
	}
	if lost {
		t.lost = append(t.lost, added)
	}
}

// isLost reports whether causes of the event were left out.
func (t *Trace) isLost(id ID) bool {
	_, found := slices.BinarySearch(t.lost, id)
	return found
}

// needed lists the events before first that a tail from there needs, lowest
// first.
func (t *Trace) needed(first ID, keep []ID) []ID {
	if first == 0 {
		return nil
	}
	list := []ID{0}
	x := t.indexed()
	list = append(list, lastBefore(x.supply, first, 1)...)
	for d := range t.Circuit.Devices {
		for _, part := range x.part[d] {
			list = append(list, lastBefore(part, first, 1)...)
		}
		switch t.Circuit.Devices[d].Kind {
		case circuit.Timer:
			list = t.neededOfTimer(list, circuit.DeviceID(d), first)
		case circuit.Counter:
			list = t.neededOfCounter(list, circuit.DeviceID(d), first)
		}
	}
	for id := first; int(id) < len(t.records); id++ {
		list = append(list, t.Event(id).Because...)
	}
	list = append(list, keep...)
	list = slices.DeleteFunc(list, func(id ID) bool { return id == None || id >= first })
	slices.Sort(list)
	return slices.Compact(list)
}

// lastBefore returns the last n of the events in list that lie before first, or
// as many as there are.
func lastBefore(list []ID, first ID, n int) []ID {
	end, _ := slices.BinarySearch(list, first)
	return list[max(end-n, 0):end]
}

// neededOfTimer adds what tells how the timer stood when it was last started
// from zero, and what its time and its settings did since.
func (t *Trace) neededOfTimer(list []ID, d circuit.DeviceID, first ID) []ID {
	x := t.indexed()
	all := lastBefore(x.device[d], first, len(t.records))
	begin := len(all) - 1
	for begin > 0 && t.records[all[begin]].timing != Started {
		begin--
	}
	if begin < 0 {
		return list
	}
	for _, part := range x.part[d] {
		list = append(list, lastBefore(part, all[begin], 1)...)
	}
	again, cleared := None, None // again: the latest event that cleared what stood at zero already
	zero := false
	for _, id := range all[begin:] {
		r := &t.records[id]
		if r.timing == Cleared {
			cleared = id
		}
		switch {
		case r.timing == Cleared && zero:
			again = id
		case r.timing != Untouched:
			zero, again = r.timing == Cleared, None
			list = append(list, id)
		case r.part == TimedOut || r.part == SecondOut || r.part == PresetPart:
			list = append(list, id)
		}
	}
	return t.addRoot(append(list, again), cleared)
}

// addRoot adds the first causes of an event, down to the hand of the same
// instant that brought it about.
func (t *Trace) addRoot(list []ID, id ID) []ID {
	if id == None {
		return list
	}
	for at := t.records[id].at; t.records[id].at == at; {
		e := t.Event(id)
		list = append(list, id)
		if len(e.Because) == 0 {
			break
		}
		id = e.Because[0]
	}
	return list
}

// neededOfCounter adds the last time that the counter was cleared, and the
// pick-ups since that its count can come from.
func (t *Trace) neededOfCounter(list []ID, d circuit.DeviceID, first ID) []ID {
	cleared := ID(0)
	resets := lastBefore(t.indexed().part[d][ResetCoil], first, 2) // on, and perhaps off again
	for _, id := range resets {
		cleared = id
	}
	list = append(list, resets...)
	coil := t.indexed().part[d][Coil]
	end, _ := slices.BinarySearch(coil, first)
	counted := 0
	for i := end - 1; i >= 0 && coil[i] > cleared && counted < t.Circuit.Devices[d].Count; i-- {
		if t.records[coil[i]].value == 1 {
			list = append(list, coil[i])
			counted++
		}
	}
	return list
}
