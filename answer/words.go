package answer

import "tarry/circuit"

// Sentence says the difference in words: what the right line does, and what the
// learner's does.
func (w Wrong) Sentence(c *circuit.Circuit, s circuit.Signal) string {
	name := c.SignalName(s)
	moves, stays := "goes off", "on"
	if w.On {
		moves, stays = "comes on", "off"
	}
	if s.Contact != circuit.NoContact {
		moves, stays = "opens", "closed"
		if w.On {
			moves, stays = "closes", "open"
		}
	}
	right, given := circuit.FormatTime(w.Right), circuit.FormatTime(w.Given)
	switch w.Kind {
	case NotDrawn:
		return name + " has no line yet."
	case WrongStart:
		return name + " is " + other(stays) + " at the start, not " + stays + "."
	case Early, Late:
		return name + " " + moves + " at " + right + ", not at " + given + "."
	case Missing:
		return name + " " + moves + " at " + right + "; your line stays " + stays + " there."
	case Extra:
		return name + " stays " + stays + " at " + given + "; your line " + moves + " there."
	}
	return name + " is right."
}

func other(word string) string {
	return map[string]string{"on": "off", "off": "on", "open": "closed", "closed": "open"}[word]
}
