package why

import (
	"fmt"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Verdict words what came of an expectation: "H1 is on 1 s .. 5 s", or what was
// expected, what came out, and where they part.
func Verdict(t *trace.Trace, v trace.Verdict) string {
	x := v.Expect
	word := trace.ValueWord(x.Signal, !x.Off)
	name := t.Circuit.SignalName(x.Signal)
	if v.OK {
		return name + " is " + spans("", word, v.Got)
	}
	return name + " should " + spans("be ", word, v.Want) + tolerance(x) + ", but is " + spans("", word, v.Got) +
		"; the first difference is at " + circuit.FormatTime(v.Differs) + early(t, v)
}

// early adds that the run ended before the expectation could come true.
func early(t *trace.Trace, v trace.Verdict) string {
	if t.Ending == trace.Finished || v.Differs < t.End {
		return ""
	}
	return " (the run ended there)"
}

// tolerance words how far an edge may lie off.
func tolerance(x circuit.Expect) string {
	switch {
	case x.Percent > 0:
		share := strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%d.%02d", x.Percent/100, x.Percent%100), "0"), ".")
		return " (+-" + share + "%)"
	case x.Within > 0:
		return " (+-" + circuit.FormatTime(x.Within) + ")"
	}
	return ""
}

// spans words when something is on: "on 1 s .. 5 s, 7 s .. end". With be, the
// word stands where grammar wants it: "should never be on".
func spans(be, word string, list []circuit.Span) string {
	if len(list) == 0 {
		return "never " + be + word
	}
	if len(list) == 1 && list[0].From == 0 && list[0].ToEnd {
		return "always " + be + word
	}
	var parts []string
	for i, s := range list {
		if i == 12 {
			parts = append(parts, "…")
			break
		}
		parts = append(parts, spanText(s))
	}
	return be + word + " " + strings.Join(parts, ", ")
}

func spanText(s circuit.Span) string {
	from := circuit.FormatTime(s.From)
	switch {
	case s.ToEnd:
		return from + " .. end"
	case s.To == s.From:
		return from + " .. " + from + " (no width)"
	}
	return from + " .. " + circuit.FormatTime(s.To)
}

// Assumptions says in sentences what the computed times rest on: ideal
// contacts or declared travel, what timers do without supply, the tie rule.
func Assumptions(c *circuit.Circuit) []string {
	var travel, air, electronic []string
	for i := range c.Devices {
		d := &c.Devices[i]
		if d.Operate != 0 || d.Release != 0 {
			travel = append(travel, d.Tag+" ("+travelText(d.Operate)+" to operate, "+travelText(d.Release)+" to release)")
		}
		if d.Function != circuit.OffDelay && d.Storage == circuit.ByFunction {
			continue
		}
		switch {
		case d.Kind != circuit.Timer:
		case d.Stored() == circuit.Air:
			air = append(air, d.Tag)
		default:
			electronic = append(electronic, d.Tag)
		}
	}
	lines := []string{"Contacts and coils take no time and do not bounce."}
	if len(travel) > 0 {
		lines[0] = "Contacts take no time but those of " + list(travel) + "."
	}
	if len(air) > 0 {
		lines = append(lines, "Without supply, "+verbed(air, "finishes", "finish")+" timing (air).")
	}
	if len(electronic) > 0 {
		lines = append(lines, "Without supply, "+verbed(electronic, "returns", "return")+" to rest at once (electronic).")
	}
	return append(lines, "A hand and a time-out at one instant: the hand first.")
}

func travelText(d time.Duration) string {
	if d == 0 {
		return "no time"
	}
	return circuit.FormatTime(d)
}
