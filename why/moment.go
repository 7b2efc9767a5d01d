package why

import (
	"strings"

	"tarry/circuit"
	"tarry/trace"
)

// StoryOf tells the events from first up to, not including, end, instant by
// instant; of more than limit instants only the latest.
func StoryOf(t *trace.Trace, first, end trace.ID, limit int) []Instant {
	var bounds [][2]trace.ID
	for last := end - 1; last >= first && len(bounds) < limit; {
		from, at := last, t.Event(last).At
		for from > first && t.Event(from-1).At == at {
			from--
		}
		if at >= t.From {
			bounds = append(bounds, [2]trace.ID{from, last})
		}
		last = from - 1
	}
	w := newTeller(t)
	var story []Instant
	for i := len(bounds) - 1; i >= 0; i-- {
		story = append(story, w.instant(bounds[i][0], bounds[i][1]))
	}
	return story
}

// Moment tells the state of everything at a moment in one short text, device by
// device in the order of the circuit: "S1 is pressed. KT1 is energised, 2 s of
// 5 s. H1 is off."
func Moment(t *trace.Trace, m trace.Moment) string {
	var parts []string
	if !t.Live(m) {
		parts = append(parts, "The supply is off.")
	}
	for i := range t.Circuit.Devices {
		parts = append(parts, momentOf(t, circuit.DeviceID(i), m))
	}
	return strings.Join(parts, " ")
}

func momentOf(t *trace.Trace, id circuit.DeviceID, m trace.Moment) string {
	d := &t.Circuit.Devices[id]
	info := d.Kind.Info()
	value := t.ValueAt(id, trace.Contacts, m)
	operated := value == 1
	switch info.Class {
	case circuit.ByHand:
		if d.Kind == circuit.Selector {
			if value < 0 || value >= len(d.Positions) {
				return d.Tag + " is between positions."
			}
			return d.Tag + " is at " + d.Positions[value] + "."
		}
		return d.Tag + pickWord(operated, " is closed.", " is open.")
	case circuit.WhileHeld:
		return d.Tag + pickWord(operated, " is pressed.", " is not pressed.")
	case circuit.BySensing:
		return d.Tag + pickWord(operated, " is operated.", " is at rest.")
	case circuit.ByTripping:
		return d.Tag + pickWord(operated, " is tripped.", " is reset.")
	case circuit.LoadOnly:
		return d.Tag + pickWord(anyOn(t, id, info.Loads, m), " is on.", " is off.")
	}
	words := d.Tag + pickWord(anyOn(t, id, info.Loads, m), " is energised", " is de-energised")
	if elapsed, running := t.Elapsed(id, m); d.Kind == circuit.Timer && running {
		words += ", timing: " + circuit.FormatTime(elapsed) + " run"
	}
	if d.Kind == circuit.Timer && t.ValueAt(id, trace.TimedOut, m) == 1 {
		words += ", timed contacts operated"
	}
	return words + "."
}

func pickWord(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

func anyOn(t *trace.Trace, id circuit.DeviceID, parts []circuit.LoadPart, m trace.Moment) bool {
	for _, p := range parts {
		if t.ValueAt(id, trace.Part(p), m) == 1 {
			return true
		}
	}
	return false
}
