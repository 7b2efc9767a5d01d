package chart

import (
	"fmt"
	"sort"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// A window is a part of a run. What is read for it is found by halving the
// lists of events, so that a chart of the last minute costs the same after a
// day. Of a timer only what it did since its time last stood at zero is read
// back. Beyond the last event everything goes on as it is: levels stay, and a
// time that runs goes on to its preset.

// window is the stretch of a run that is drawn.
type window struct {
	from, to time.Duration
	whole    bool // all of the run: nothing needs to be looked for
}

func wholeOf(t *trace.Trace) window { return window{to: t.End, whole: true} }

// latest is the last instant that a chart can show.
var latest = roundTimes[len(roundTimes)-1]

func (o *Options) window(t *trace.Trace) (window, error) {
	if o.From == 0 && o.To == 0 {
		return wholeOf(t), nil
	}
	w := window{from: o.From, to: o.To}
	if w.to == 0 {
		w.to = t.End
	}
	if w.from < 0 || w.to <= w.from || w.to > latest {
		return w, fmt.Errorf("chart: a window from %s to %s can't be drawn; it begins at 0 s or later and ends after it begins, by %s at the latest",
			span(w.from), span(w.to), span(latest))
	}
	return w, nil
}

// holds reports whether an instant is drawn.
func (w window) holds(at time.Duration) bool { return w.whole || at >= w.from && at <= w.to }

// eventsIn returns those of a device's events that lie in the window.
func (w window) eventsIn(t *trace.Trace, d circuit.DeviceID) []trace.ID {
	list := t.EventsOf(d)
	if w.whole {
		return list
	}
	return list[firstAt(t, list, w.from):firstAt(t, list, w.to+1)]
}

// firstAt returns how many of the events in list lie before an instant.
func firstAt(t *trace.Trace, list []trace.ID, at time.Duration) int {
	return sort.Search(len(list), func(i int) bool { return t.Event(list[i]).At >= at })
}

// edgesIn returns the signal's value as the window begins and its changes in
// it. An edge at the very beginning is a change: the value is that before it.
func (w window) edgesIn(t *trace.Trace, s circuit.Signal) []trace.Edge {
	if w.from == 0 {
		edges := t.Edges(s)
		if w.whole {
			return edges
		}
		n := 1 + sort.Search(len(edges)-1, func(i int) bool { return edges[i+1].At > w.to })
		return edges[:n]
	}
	d := &t.Circuit.Devices[s.Device]
	part := trace.PartOfLoad(d, s.Load)
	if s.Contact != circuit.NoContact {
		part = trace.PartOf(d, s.Contact)
	}
	edges := []trace.Edge{{At: w.from, On: t.SignalAt(s, trace.Settled(w.from-1)), Event: trace.None}}
	for _, id := range w.eventsIn(t, s.Device) {
		e := t.Event(id)
		if on := t.On(s, e.Value); e.Part == part && on != edges[len(edges)-1].On {
			edges = append(edges, trace.Edge{At: e.At, Step: e.Step, On: on, Event: id})
		}
	}
	return edges
}

// supplyIn returns the same of the rails; at time zero they begin behind event
// 0, which switches them on.
func (w window) supplyIn(t *trace.Trace) []trace.Edge {
	edges := []trace.Edge{{On: true}}
	first := 1
	if w.from > 0 {
		edges[0].On = t.Live(trace.Settled(w.from - 1))
		first = sort.Search(t.Len(), func(i int) bool { return t.Event(trace.ID(i)).At >= w.from })
	}
	for id := trace.ID(first); int(id) < t.Len(); id++ {
		e := t.Event(id)
		if !w.holds(e.At) {
			break
		}
		if e.Part == trace.SupplyPart && (e.Value == 1) != edges[len(edges)-1].On {
			edges = append(edges, trace.Edge{At: e.At, Step: e.Step, On: e.Value == 1, Event: id})
		}
	}
	return edges
}

// timesIn returns the events that a timer's time in the window follows from:
// those in it, and those before it since the time last stood at zero.
func (w window) timesIn(t *trace.Trace, d circuit.DeviceID) []trace.ID {
	list := t.EventsOf(d)
	if w.whole {
		return list
	}
	list = list[:firstAt(t, list, w.to+1)]
	begin := firstAt(t, list, w.from)
	for begin > 0 {
		begin--
		if timing := t.Event(list[begin]).Timing; timing == trace.Started || timing == trace.Cleared {
			break
		}
	}
	return list[begin:]
}

// clip leaves of a timeline what the window shows; its ramp then begins where
// the window does.
func (w window) clip(l timeline) timeline {
	if w.whole {
		return l
	}
	for len(l.runs) > 0 && l.runs[0].to <= w.from {
		l.runs = l.runs[1:]
	}
	if w.from == 0 {
		return l
	}
	begin := corner{at: w.from}
	n := sort.Search(len(l.ramp), func(i int) bool { return l.ramp[i].at > w.from })
	if n > 0 {
		begin.elapsed = l.ramp[n-1].elapsed
		if n < len(l.ramp) && l.ramp[n].elapsed > begin.elapsed {
			begin.elapsed += w.from - l.ramp[n-1].at
		}
	}
	l.ramp = append([]corner{begin}, l.ramp[n:]...)
	return l
}
