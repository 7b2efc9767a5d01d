package chart

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// run is a stretch during which a timer's time ran.
type run struct {
	timer         circuit.DeviceID
	from, to      time.Duration
	base, reached time.Duration // elapsed time at from and to
	target        time.Duration // the preset that counted
	second        bool          // the function's second time was running
	resumed       bool          // it went on from base
	done          bool          // it ended because the time was up
	open          bool          // still running when the trace ends
}

// timeline is a timer's elapsed time over the trace.
type timeline struct {
	runs []run
	// ramp lists the corners of the elapsed time.
	ramp []corner
}

type corner struct {
	at, elapsed time.Duration
}

// timelineOf reads a timer's runs from what its events did to its time, as far
// as the window shows them.
func timelineOf(t *trace.Trace, d circuit.DeviceID, w window) timeline {
	var l timeline
	var now *run
	var elapsed time.Duration
	finish := func(at time.Duration, done bool) {
		if now == nil {
			return
		}
		elapsed += at - now.from
		now.to, now.reached, now.done = at, elapsed, done
		now.target = target(t, *now)
		if at > now.from {
			l.runs = append(l.runs, *now)
		}
		now = nil
	}
	for _, id := range w.timesIn(t, d) {
		e := t.Event(id)
		if e.Timing == trace.Untouched {
			continue
		}
		finish(e.At, timesOut(e))
		l.ramp = append(l.ramp, corner{e.At, elapsed})
		if e.Timing == trace.Started || e.Timing == trace.Cleared {
			elapsed = 0
			l.ramp = append(l.ramp, corner{e.At, 0})
		}
		if e.Timing == trace.Started || e.Timing == trace.Resumed {
			now = &run{timer: d, from: e.At, base: elapsed, resumed: elapsed > 0, second: runsSecond(t, d, e)}
		}
	}
	if now != nil {
		now.to, now.open = w.to, true
		due := now.from + max(target(t, *now)-elapsed, 0)
		if w.whole || due > w.to {
			finish(w.to, false)
		} else { // the window shows more than has happened
			now.open = false
			finish(due, true)
			l.ramp = append(l.ramp, corner{due, elapsed})
		}
	}
	l.ramp = append(l.ramp, corner{w.to, elapsed})
	return w.clip(l)
}

// timesOut reports whether an event that ends a run is the time being up, and
// not a coil that cuts it short, be it at the very instant.
func timesOut(e trace.Event) bool {
	by := e.Part == trace.TimedOut || e.Part == trace.SecondOut || e.Part == trace.Clock
	return by && e.Timing != trace.Cleared
}

// target returns the preset that a run was to reach, as set when it ended.
func target(t *trace.Trace, r run) time.Duration {
	presets := t.Preset(r.timer, trace.Settled(r.to))
	if r.second {
		return presets[1]
	}
	return presets[0]
}

// runsSecond reports whether the time that e starts is the function's second
// one: the release of an on-off-delay, the off part of a flasher, the gap of a
// star-delta timer.
func runsSecond(t *trace.Trace, d circuit.DeviceID, e trace.Event) bool {
	settled := trace.Settled(e.At)
	switch t.Circuit.Devices[d].Function {
	case circuit.OnOffDelay:
		return t.ValueAt(d, trace.Coil, settled) == 0
	case circuit.Flasher, circuit.StarDelta:
		return t.ValueAt(d, trace.TimedOut, settled) == 0
	}
	return false
}

// concerns reports whether a contact waits for the run.
func (r *run) concerns(k circuit.ContactKind) bool {
	switch k {
	case circuit.StarOut:
		return !r.second
	case circuit.DeltaOut:
		return r.second
	}
	return k.Group() == circuit.Timed
}

// label is what a dimension says: the time, and of how much if it was cut
// short, with the timer's tag where there is room for it.
func (r *run) label(tag string) string {
	words := ""
	switch ran := r.reached - r.base; {
	case r.resumed && r.done:
		words = "+" + span(ran) + " = " + span(r.reached)
	case r.resumed:
		words = "+" + span(ran) + " = " + share(r.reached, r.target)
	case r.done:
		words = span(r.reached)
	default:
		words = share(r.reached, r.target)
	}
	if tag != "" {
		return tag + " " + words
	}
	return words
}
