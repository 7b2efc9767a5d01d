package sheet

import (
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/page"
	"tarry/trace"
	"tarry/why"
)

// RunKey is the answer to one script: when everything is on, computed from the
// run and not from the expectations, which are held against it.
type RunKey struct {
	Script  string
	Ends    string
	Lines   []KeyLine
	Notices []KeyNotice
}

// KeyLine is when one coil, load or timed contact is on or closed.
type KeyLine struct {
	Signal, Label string
	Closed        bool // a contact: closed and not on
	Spans         []string
	// Checked says that the script has an expectation of the signal, and Differs
	// what came out differently, empty if it is met.
	Checked bool
	Differs string
}

// KeyNotice is something that the run gave notice of.
type KeyNotice struct {
	Time, Words string
}

// KeyOf makes the key to a run.
func KeyOf(t *trace.Trace) RunKey {
	key := RunKey{Script: t.Script, Ends: endWords(t)}
	verdicts := verdictsOf(t)
	for _, s := range t.Signals() {
		v, checked := verdicts[s]
		plain := s.Contact != circuit.NoContact && s.Contact.Group() == circuit.Instant
		if plain && !checked {
			continue
		}
		line := KeyLine{Signal: t.Circuit.SignalName(s), Label: t.Circuit.Devices[s.Device].Label, Closed: s.Contact != circuit.NoContact, Checked: checked}
		for _, span := range t.Spans(s) {
			line.Spans = append(line.Spans, spanWords(span))
		}
		if checked && !v.OK {
			line.Differs = why.Verdict(t, v)
		}
		key.Lines = append(key.Lines, line)
	}
	for _, n := range t.Notices {
		key.Notices = append(key.Notices, KeyNotice{circuit.FormatTime(n.At), why.Notice(t, n)})
	}
	return key
}

// verdictsOf holds a run against the expectations of its own script; of several
// for one signal, one that is not met counts.
func verdictsOf(t *trace.Trace) map[circuit.Signal]trace.Verdict {
	verdicts := map[circuit.Signal]trace.Verdict{}
	for i := range t.Circuit.Scripts {
		if t.Circuit.Scripts[i].Name != t.Script {
			continue
		}
		for _, v := range t.CheckAll(&t.Circuit.Scripts[i]) {
			if old, ok := verdicts[v.Expect.Signal]; !ok || old.OK {
				verdicts[v.Expect.Signal] = v
			}
		}
	}
	return verdicts
}

// spanWords writes a stretch of time.
func spanWords(s circuit.Span) string {
	from := circuit.FormatTime(s.From)
	switch {
	case s.ToEnd && s.From == 0:
		return "all the time"
	case s.ToEnd:
		return from + " to the end"
	case s.From == s.To:
		return "at " + from + " for no time"
	}
	return from + " to " + circuit.FormatTime(s.To)
}

// When says in one line when the signal is on or closed.
func (k *KeyLine) When() string {
	if len(k.Spans) == 0 {
		return "never"
	}
	return strings.Join(k.Spans, "; ")
}

// keyPages is the answer key on paper.
func (s *setter) keyPages() []*page.Page {
	k := look{name: "Answer key", about: "When everything is on or closed", audience: forKey, assumptions: true, cautions: true}
	return s.flow(k, func(width page.Unit) []strip {
		list := s.trapStrips(width)
		for _, t := range s.traces {
			key := KeyOf(t)
			list = append(list, key.strips(width)...)
		}
		return append(list, s.teachingStrips(width)...)
	})
}

// trapStrips is what learners get wrong.
func (s *setter) trapStrips(width page.Unit) []strip {
	var list []strip
	for _, n := range []struct{ word, head string }{{"aim", "Aim"}, {"trap", "The trap"}} {
		if texts := s.circuit.NotesOf(n.word); len(texts) > 0 {
			list = append(list, labelled(n.head, texts, width)...)
		}
	}
	return list
}

// teachingStrips are what there is to say about the circuit, and the questions
// of the lab sheet.
func (s *setter) teachingStrips(width page.Unit) []strip {
	var list []strip
	if notes := s.circuit.NotesOf("say"); len(notes) > 0 {
		list = append(list, heading("To say")...)
		for _, words := range notes {
			list = append(list, paragraph(words, bodySize, width)...)
		}
	}
	if questions := s.circuit.NotesOf("try"); len(questions) > 0 {
		list = append(list, heading("Questions")...)
		for i, q := range questions {
			list = append(list, labelled(strconv.Itoa(i+1), []string{q}, width)...)
		}
	}
	return list
}

// labelled is a heading at the left of short paragraphs.
func labelled(head string, texts []string, width page.Unit) []strip {
	room := max(page.Width(head, bodySize, true)+400, 800)
	var list []strip
	for i, text := range texts {
		for j, line := range fold(text, bodySize, false, width-room) {
			first := i == 0 && j == 0
			list = append(list, strip{height: lineOf(bodySize), draw: func(f *frame, at page.Point) {
				if first {
					f.lines(at, []string{head}, bodySize, true, "label")
				}
				f.lines(at.Add(room, 0), []string{line}, bodySize, false, "text")
			}})
		}
	}
	return append(joined(list), gap(150))
}

func (key *RunKey) strips(width page.Unit) []strip {
	g := &grid{columns: []column{{head: "Signal", bold: true}, {head: "Label", share: 3}, {}, {head: "When", share: 5},
		{head: "as\nexpected", middle: true}}}
	for _, l := range key.Lines {
		word, checked := "on", "–"
		if l.Closed {
			word = "closed"
		}
		if l.Checked {
			checked = "yes"
		}
		when := l.When()
		if l.Differs != "" {
			checked, when = "NO", when+"\n"+l.Differs
		}
		g.rows = append(g.rows, row{cells: []cell{{words: l.Signal}, {words: l.Label}, {words: word}, {words: when}, {words: checked, bold: checked == "NO"}}})
	}
	list := append(heading("Script: "+key.Script), g.strips(width)...)
	var notes []strip
	for _, n := range key.Notices {
		notes = append(notes, labelled("Notice at "+n.Time, []string{n.Words}, width)...)
	}
	return compact(noted(list, append(notes, paragraph(key.Ends, noteSize, width)...)))
}
