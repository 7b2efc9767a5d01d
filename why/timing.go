package why

import (
	"fmt"
	"slices"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// What an edge means for the thing that it belongs to: a timer's time, a
// counter's count, contacts that travel.

// did words the edge of a coil or load and what it means for its device.
func (w *teller) did(e trace.Event) string {
	d := &w.c.Devices[e.Device]
	clause := w.loadClause(e.Device, circuit.LoadPart(e.Part), e.Value == 1)
	switch {
	case d.Kind == circuit.Timer && e.Part == trace.ResetCoil:
		return clause + w.resetTiming(e)
	case d.Kind == circuit.Timer:
		return clause + w.timing(e)
	case d.Kind == circuit.Counter:
		return w.counting(e, clause)
	case d.Operate != 0 || d.Release != 0:
		return w.travelling(e, clause)
	}
	return clause
}

// atOnce words the contacts that move together with the coil although they
// need not: timed ones, those of a latching relay and the like.
func (w *teller) atOnce(e trace.Event) string {
	clause := ""
	for id := e.ID + 1; int(id) < w.t.Len(); id++ {
		o := w.t.Event(id)
		if o.At != e.At || o.Step != e.Step {
			break
		}
		if o.Device == e.Device && slices.Contains(o.Because, e.ID) && o.Part != trace.Clock {
			clause = and(clause, w.moved(o))
		}
	}
	if clause == "" {
		return ""
	}
	return "; " + clause + " at once"
}

// whole returns the setting that a timer's clock runs towards at a moment.
func (w *teller) whole(d circuit.DeviceID, m trace.Moment) time.Duration {
	first := true
	switch w.c.Devices[d].Function {
	case circuit.OnOffDelay:
		first = w.t.ValueAt(d, trace.Coil, m) == 1
	case circuit.Flasher, circuit.StarDelta:
		first = w.t.ValueAt(d, trace.TimedOut, m) == 1
	}
	return w.t.Preset(d, m)[b2i(!first)]
}

// timing words what the edge of a timer's coil means for its elapsed time.
func (w *teller) timing(e trace.Event) string {
	ran, running := w.t.Elapsed(e.Device, trace.Before(e))
	switch {
	case e.Timing == trace.Started:
		return w.starts(e)
	case e.Timing == trace.Resumed:
		return ", and its time goes on from " + seconds(ran)
	case e.Timing == trace.Held:
		return ", and its time stands at " + seconds(ran)
	case e.Timing == trace.Cleared && running && ran > 0:
		return w.calledOff(e, ran)
	case e.Timing == trace.Untouched && running:
		return ", and its time runs on"
	}
	return ""
}

// starts words the beginning of a delay.
func (w *teller) starts(e trace.Event) string {
	whole := seconds(w.whole(e.Device, trace.After(e)))
	operated := w.t.ValueAt(e.Device, trace.TimedOut, trace.Before(e)) == 1
	switch f := w.c.Devices[e.Device].Function; {
	case f == circuit.Flasher:
		return " and begins its cycle"
	case operated && (f == circuit.Watchdog || f == circuit.PulseOnRelease):
		return " and begins its " + whole + " anew"
	}
	return " and begins to time its " + whole
}

// calledOff words the end of a delay before its time.
func (w *teller) calledOff(e trace.Event, ran time.Duration) string {
	before := trace.Before(e)
	whole := w.whole(e.Device, before)
	of := "after only " + seconds(ran) + " of its " + seconds(whole)
	if ran >= whole {
		of = "at the very end of its " + seconds(whole)
	}
	switch w.c.Devices[e.Device].Function {
	case circuit.Flasher:
		return " and ends its cycle"
	case circuit.Interval:
		return " " + of
	case circuit.StarDelta:
		if w.t.ValueAt(e.Device, trace.TimedOut, before) == 1 {
			return " " + of + " in star"
		}
		return " in the gap, " + of
	}
	if e.Value == 1 {
		return " again " + of + ": the delay is called off"
	}
	return " " + of + ": the time is lost"
}

// resetTiming words what the reset coil does to the time added up so far.
func (w *teller) resetTiming(e trace.Event) string {
	before := trace.Before(e)
	ran, _ := w.t.Elapsed(e.Device, before)
	switch {
	case e.Timing == trace.Started:
		return ", and " + w.c.Devices[e.Device].Tag + " begins to time its " + seconds(w.t.Preset(e.Device, before)[0])
	case e.Timing == trace.Cleared && ran > 0 && w.t.ValueAt(e.Device, trace.TimedOut, before) == 0:
		return " and clears the " + seconds(ran) + " that had run"
	}
	return ""
}

// counting words what a counter's coils do to its count.
func (w *teller) counting(e trace.Event, clause string) string {
	want := w.c.Devices[e.Device].Count
	before, after := w.count(e.Device, trace.Before(e)), w.count(e.Device, trace.After(e))
	switch {
	case e.Value == 0:
		return clause
	case e.Part == trace.ResetCoil && before > 0:
		return clause + fmt.Sprintf(" and clears the count of %d", before)
	case e.Part == trace.ResetCoil:
		return clause
	case w.t.ValueAt(e.Device, trace.ResetCoil, trace.After(e)) == 1:
		return clause + ", but its reset coil holds it at 0"
	case before == after:
		return clause + fmt.Sprintf(" and stays at %d of %d", after, want)
	}
	return clause + fmt.Sprintf(" and counts %d of %d", after, want)
}

// count returns how far a counter has counted at a moment.
func (w *teller) count(d circuit.DeviceID, m trace.Moment) int {
	n, reset := 0, false
	for _, id := range w.t.EventsOf(d) {
		e := w.t.Event(id)
		switch {
		case e.At > m.At || e.At == m.At && e.Step > m.Step:
			return n
		case e.Part == trace.ResetCoil:
			reset = e.Value == 1
		case e.Part == trace.Coil && e.Value == 1 && n < w.c.Devices[d].Count:
			n++
		}
		if reset {
			n = 0
		}
	}
	return n
}

// travelling words the edge of a coil whose contacts take their time.
func (w *teller) travelling(e trace.Event, clause string) string {
	d := &w.c.Devices[e.Device]
	takes := [2]time.Duration{d.Release, d.Operate}[e.Value]
	stands := w.t.ValueAt(e.Device, trace.Contacts, trace.Before(e))
	switch {
	case e.Part != trace.Coil || len(w.contacts[e.Device]) == 0:
		return clause
	case stands == e.Value:
		return w.name(e.Device) + [2]string{" is de-energised before its contacts have operated",
			" is energised again before its contacts have returned"}[e.Value]
	case takes == 0:
		return clause
	}
	return w.name(e.Device) + [2]string{" is de-energised", " is energised"}[e.Value] + "; its contacts need " + seconds(takes)
}

// timeOut words a move that was due: "KT1 has been energised for its whole
// 4 s, so KT1.notc closes".
func (w *teller) timeOut(e trace.Event) string {
	moved := w.moved(e)
	switch {
	case moved != "":
		return w.reason(e) + ", so " + moved
	case w.c.Devices[e.Device].Function == circuit.MinimumOn && e.Part == trace.Clock && e.Timing == trace.Held:
		return w.reason(e) + ", but its coil is still on"
	}
	return w.reason(e)
}

// reason words why a part moved by itself.
func (w *teller) reason(e trace.Event) string {
	d := &w.c.Devices[e.Device]
	name := w.name(e.Device)
	ran, running := w.t.Elapsed(e.Device, trace.Before(e))
	switch {
	case len(e.Because) > 0 && w.t.Event(e.Because[0]).Part == trace.SupplyPart:
		if e.Part == trace.Clock && running {
			return "without supply, " + name + " loses its time"
		}
		return "without supply, " + name + " returns to rest"
	case d.Kind.Info().Class == circuit.BySensing:
		return name + [2]string{" returns", " operates"}[e.Value] + w.plant(e)
	case d.Kind != circuit.Timer:
		return "the contacts of " + name + " have travelled for " + seconds([2]time.Duration{d.Release, d.Operate}[e.Value])
	case ran > w.whole(e.Device, trace.Before(e)):
		return name + " has run " + seconds(ran) + " already, longer than its " + seconds(w.whole(e.Device, trace.Before(e)))
	}
	return w.timeIsUp(e, name)
}

// timeIsUp words the end of a timer's time, function by function.
func (w *teller) timeIsUp(e trace.Event, name string) string {
	whole := seconds(w.whole(e.Device, trace.Before(e)))
	switch w.c.Devices[e.Device].Function {
	case circuit.OnDelay, circuit.Interval:
		return name + " has been energised for its whole " + whole
	case circuit.OffDelay:
		return name + " has been de-energised for its whole " + whole
	case circuit.OnOffDelay:
		return name + [2]string{" has been de-energised", " has been energised"}[e.Value] + " for its whole " + whole
	case circuit.Accumulating:
		return "the on-time of " + name + " adds up to its whole " + whole
	case circuit.Watchdog:
		return name + " has had no new pick-up for its whole " + whole
	case circuit.Flasher:
		return "the " + [2]string{"on", "off"}[e.Value] + " time of " + name + ", " + whole + ", is over"
	case circuit.MinimumOn:
		return "the minimum time of " + name + ", " + whole + ", is over"
	case circuit.StarDelta:
		if e.Part == trace.SecondOut {
			return "the gap of " + name + ", " + whole + ", is over"
		}
		return name + " has been in star for its whole " + whole
	}
	return "the pulse of " + name + ", " + whole + ", is over"
}

// plant words the rule by which a sensor answered a load.
func (w *teller) plant(e trace.Event) string {
	for _, r := range w.c.Plants {
		if r.Sensor == e.Device && r.Closes == (e.Value == 1) {
			verb := "stopped"
			if r.OnStart {
				verb = "started"
			}
			return " " + seconds(r.After) + " after " + w.c.Devices[r.Load].Tag + " " + verb
		}
	}
	return ""
}
