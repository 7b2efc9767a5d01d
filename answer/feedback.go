package answer

import (
	"slices"
	"strings"

	"tarry/circuit"
	"tarry/misread"
)

// feedback writes two or three short sentences for the learner.
func (d *Diagnoser) feedback(out *Diagnosis, m *Marked) string {
	switch out.Finding {
	case Unfinished:
		if slices.ContainsFunc(m.Signals, func(s SignalMark) bool { return s.Given }) {
			return "What is drawn is as it should be. " + d.firstWrong(m)
		}
		if len(m.NotAsked) > 0 {
			return "You drew " + joined(m.NotAsked) + ", but " + d.asked() + " asked."
		}
		return "Nothing is drawn yet. Begin at time zero: what is on before anybody touches it?"
	case AllRight:
		return "All as it should be."
	case Slip:
		rest := "all else is right. "
		if lacking := m.lacking(); len(lacking) > 0 {
			rest = "all else that is drawn is right; " + joined(lacking) + wasWere(lacking, " is", " are") + " not drawn. "
		}
		return "One edge is a little off, " + rest + d.firstWrong(m)
	case Explained:
		if ids := out.IDs(); len(ids) > 1 {
			return "Your answer fits more than one idea: " + names(ids) + ". " + d.where(out.Fits[0].IDs[0])
		}
		reading, _ := misread.Find(out.Fits[0].IDs[0])
		return sentences(reading.Feedback, 2) + " " + d.where(reading.ID)
	case TwoIdeas:
		return "Your answer fits two ideas held together: " + names(out.Fits[0].IDs) + ". " + d.firstWrong(m)
	}
	return "No single idea explains this answer. " + d.firstWrong(m)
}

// asked says what is asked: H1 was.
func (d *Diagnoser) asked() string {
	var list []string
	for _, s := range d.Item.Signals {
		list = append(list, d.Item.Circuit.SignalName(s))
	}
	return joined(list) + wasWere(list, " was", " were")
}

// wasWere picks the word for one or for several.
func wasWere(list []string, one, several string) string {
	if len(list) == 1 {
		return one
	}
	return several
}

// lacking returns the names of the signals without a line.
func (m *Marked) lacking() []string {
	var list []string
	for i := range m.Signals {
		if !m.Signals[i].Given {
			list = append(list, m.Signals[i].Name)
		}
	}
	return list
}

// firstWrong says the earliest difference of an answer, a lacking line last.
func (d *Diagnoser) firstWrong(m *Marked) string {
	first := -1
	for i := range m.Signals {
		s := &m.Signals[i]
		if s.Wrong && (first < 0 || s.Given && (!m.Signals[first].Given || s.FirstWrong.At < m.Signals[first].FirstWrong.At)) {
			first = i
		}
	}
	if first < 0 {
		return ""
	}
	s := &m.Signals[first]
	return s.FirstWrong.Sentence(d.Item.Circuit, s.Signal)
}

// where says where a reading first goes wrong on the item, and what was done
// before.
func (d *Diagnoser) where(id string) string {
	exact := d.Item.comparison(Tolerance{})
	var first Wrong
	place := -1
	for _, set := range d.readings {
		for _, other := range set.ids {
			if other != id {
				continue
			}
			for i := range d.Item.Signals {
				w, wrong := exact.first(d.Item.right[i], set.lines[i])
				if wrong && (place < 0 || w.At < first.At) {
					first, place = w, i
				}
			}
		}
	}
	if place < 0 {
		return ""
	}
	says := first.right(d.Item.Circuit, d.Item.Signals[place])
	if a, found := d.Item.pressBefore(first.At); found && first.Kind != WrongStart {
		return "Look at " + circuit.FormatTime(a.At) + " again, where " + deed(d.Item.Circuit, a) + ": " + says + "."
	}
	return "Look at the start again: " + says + "."
}

// right says what the right line does: H1 comes on at 7 s.
func (w Wrong) right(c *circuit.Circuit, s circuit.Signal) string {
	text, _, _ := strings.Cut(w.Sentence(c, s), ";")
	text, _, _ = strings.Cut(text, ", not ")
	return strings.TrimSuffix(text, ".")
}

var done = map[circuit.Verb]string{circuit.Close: "closed", circuit.Open: "opened", circuit.Press: "pressed", circuit.Release: "let go",
	circuit.Turn: "turned", circuit.Trip: "tripped", circuit.Reset: "reset", circuit.SetPreset: "set anew"}

// deed says what is done: S1 is pressed.
func deed(c *circuit.Circuit, a circuit.Action) string {
	text := c.Devices[a.Device].Tag + " is " + done[a.Verb]
	if a.Verb == circuit.Turn {
		text += " to " + c.Devices[a.Device].Positions[a.Position]
	}
	return text
}

// names lists readings by their names.
func names(ids []string) string {
	list := make([]string, 0, len(ids))
	for _, id := range ids {
		r, _ := misread.Find(id)
		list = append(list, "“"+r.Name+"”")
	}
	return joined(list)
}

// joined writes a list in words: H1, H2 and H3. A long one is cut short.
func joined(list []string) string {
	if len(list) > 4 {
		list = append(slices.Clone(list[:3]), "others")
	}
	if len(list) == 1 {
		return list[0]
	}
	last := len(list) - 1
	return strings.Join(list[:last], ", ") + " and " + list[last]
}

// sentences returns the first few sentences of a text.
func sentences(text string, n int) string {
	for i := range len(text) {
		if strings.IndexByte(".?!", text[i]) >= 0 && (i+1 == len(text) || text[i+1] == ' ') {
			if n--; n == 0 {
				return text[:i+1]
			}
		}
	}
	return text
}
