package answer

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// Overrule is what a human says instead of a mark. It is kept apart from the
// marks and laid over them anew whenever they are worked out, so it is never lost.
type Overrule struct {
	Learner string `json:"learner"`
	Item    string `json:"item"`
	Signal  string `json:"signal"` // as in SignalMark.Name; "" for the whole answer
	Mark    int    `json:"mark"`   // points, 0 or more; above Of for a human who gives more
	Note    string `json:"note"`
}

// The file of overrules.
const (
	overrulesFormat  = "tarry overrules"
	overrulesVersion = 1
	maxOverrules     = 16 << 20 // bytes
)

type overrulesFile struct {
	Format    string      `json:"format"`
	Version   json.Number `json:"version"`
	Overrules []Overrule  `json:"overrules"`
}

// WriteOverrules writes a file of overrules, in the order given.
func WriteOverrules(w io.Writer, list []Overrule) error {
	if list == nil {
		list = []Overrule{}
	}
	text, err := json.MarshalIndent(overrulesFile{overrulesFormat, "1", list}, "", "\t")
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// ReadOverrules reads a file that WriteOverrules wrote. Those that can't be are
// listed, and the others are kept.
func ReadOverrules(r io.Reader) ([]Overrule, []Problem) {
	text, err := io.ReadAll(io.LimitReader(r, maxOverrules+1))
	var file struct {
		Format    string
		Version   json.Number
		Overrules []json.RawMessage
	}
	switch {
	case err != nil:
		return nil, []Problem{{Reason: fmt.Sprintf("The file could not be read further: %v.", err)}}
	case len(text) > maxOverrules:
		return nil, []Problem{{Reason: fmt.Sprintf("The file is larger than %d MiB: that is no file of overrules.", maxOverrules>>20)}}
	case json.Unmarshal(text, &file) != nil || file.Format != overrulesFormat:
		return nil, []Problem{{Reason: "This is no file of overrules. They are kept in one of their own."}}
	case file.Version != "1":
		return nil, []Problem{{Reason: fmt.Sprintf("The file has version %s of its format; up to %d can be read here. A newer tarry reads it.",
			quote(file.Version.String()), overrulesVersion)}}
	}
	var list []Overrule
	k := newCollector()
	for i, text := range file.Overrules {
		if name, unknown := unknownField(text); unknown {
			k.problem(0, 0, "Overrule %d has a field %s, which is not known, and was left out. Its fields are learner, item, signal, mark and note.", i+1, quote(name))
			continue
		}
		var o Overrule
		if err := json.Unmarshal(text, &o); err != nil || o.Mark < 0 {
			k.problem(0, 0, "Overrule %d is damaged and was left out: a mark is a whole number, 0 or more.", i+1)
			continue
		}
		list = append(list, o)
	}
	_, problems := k.result()
	return list, problems
}

// unknownField finds a field that an overrule hasn't got, the first by name: one
// for a row that isn't read as such would overrule the whole answer.
func unknownField(text []byte) (string, bool) {
	var fields map[string]json.RawMessage
	if json.Unmarshal(text, &fields) != nil {
		return "", false // said by who reads it
	}
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		if !slices.ContainsFunc(overruleFields, func(known string) bool { return strings.EqualFold(name, known) }) {
			return name, true
		}
	}
	return "", false
}

var overruleFields = []string{"learner", "item", "signal", "mark", "note"}

// ApplyOverrules lays overrules over marks, which it changes. Of two for the same
// mark the later one counts; one for a whole answer counts more than those for its
// signals. It returns those that found nothing to overrule: keep them, their answer
// may come back.
func ApplyOverrules(marked []Marked, list []Overrule) (unused []Overrule) {
	for _, o := range list {
		used := false
		for i := range marked {
			m := &marked[i]
			if m.Learner == o.Learner && m.Item == o.Item {
				used = m.overrule(o) || used
			}
		}
		if !used {
			unused = append(unused, o)
		}
	}
	for i := range marked {
		marked[i].addUp()
	}
	return unused
}

// overrule lays one over the marks of its answer.
func (m *Marked) overrule(o Overrule) bool {
	if o.Signal == "" {
		m.Overrule = &o
		return true
	}
	i := slices.IndexFunc(m.Signals, func(s SignalMark) bool { return s.Name == o.Signal })
	if i < 0 {
		i = slices.IndexFunc(m.Signals, func(s SignalMark) bool { return strings.EqualFold(s.Name, o.Signal) })
	}
	if i < 0 {
		return false
	}
	m.Signals[i].Overrule, m.Signals[i].Points = &o, o.Mark
	return true
}

func (m *Marked) addUp() {
	m.Points = 0
	for i := range m.Signals {
		m.Points += m.Signals[i].Points
	}
	if m.Overrule != nil {
		m.Points = m.Overrule.Mark
	}
}
