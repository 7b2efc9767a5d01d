package why

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Supply answers why the supply is on or off at a time: nothing but a hand, or the
// line, moves it. A trace that begins later than at zero answers for its From at the
// earliest.
func Supply(t *trace.Trace, at time.Duration) (on bool, answer string) {
	at = max(at, t.From)
	on = t.Live(trace.Settled(at))
	last := trace.None
	for id := trace.ID(0); int(id) < t.Len() && t.Event(id).At <= at; id++ {
		if t.Event(id).Part == trace.SupplyPart {
			last = id
		}
	}
	switch {
	case last == trace.None:
		answer = "Nothing has moved the supply since the record began at " + circuit.FormatTime(t.From) + "."
	case t.Event(last).At == 0:
		answer = "The supply has been " + [2]string{"off", "on"}[b2i(on)] + " since the run began."
	default:
		answer = [2]string{"The supply failed, or was switched off, at ", "The supply came back at "}[b2i(on)] + circuit.FormatTime(t.Event(last).At) + "."
	}
	return on, answer + " No contact of the circuit moves it: a hand or the line does."
}
