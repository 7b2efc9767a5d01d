// Package misread runs wrong mental models. A Reading is something that learners
// believe about timers, circuits or controllers; Run plays a script as such a
// learner thinks that the circuit works, on the same engine, and returns the
// signals that the learner would predict.
//
//	r := misread.NewRunner(c, engine.Options{})
//	p, err := r.Play(&c.Scripts[0], "M05")
//	p.Edges(lamp)
package misread

// Each reading is a small change: of a timer's function (the hidden ones of
// package circuit among them), of contacts, of rungs, of how the script meets the
// circuit. The changed circuit is an ordinary circuit, so contacts in coils' rungs,
// seals and chains follow from the belief by themselves. Devices keep their places;
// where a learner reads a contact as another one, or a new device stands for it,
// change.as says where the signal is to be read. A hand's rows never change.
//
// The readings are hypotheses from teaching experience. Real answers mix ideas,
// so what fits an answer is a hint and never a verdict.

import (
	"fmt"
	"slices"
	"strings"

	"tarry/circuit"
	"tarry/engine"
)

// Reading is one wrong mental model.
type Reading struct {
	ID   string // "M05", "C01", "P03"; a letter behind it is another form of the same
	Name string // in plain words, short
	// Section is "A" for what a single timed contact does, "B" for circuits, "C" for
	// controllers.
	Section string
	// Belief says in one sentence what the learner seems to think.
	Belief string
	// Rebuttal names the press or the case that shows it false.
	Rebuttal string
	// Feedback is for the learner: two or three short sentences.
	Feedback string
	// Example is a circuit and a script in which it gives a wrong answer.
	Example Example
	// NotRun says why it cannot be run, "" if it can.
	NotRun string
}

// entry is a reading with the change that it makes. Readings of a lower stage are
// applied first: families, then behaviours, then contacts.
type entry struct {
	Reading
	stage int
	apply func(*change) string // returns why it can't, or ""
}

// entries is every reading, in the order of the catalogue.
var entries = slices.Concat(sectionA(), sectionB(), sectionC())

// All returns every reading, in order.
func All() []Reading {
	list := make([]Reading, len(entries))
	for i := range entries {
		list[i] = entries[i].Reading
	}
	return list
}

// Find returns the reading with an ID, case not counting, and false if there is
// none.
func Find(id string) (Reading, bool) {
	if e := find(id); e != nil {
		return e.Reading, true
	}
	return Reading{}, false
}

func find(id string) *entry {
	for i := range entries {
		if strings.EqualFold(entries[i].ID, id) {
			return &entries[i]
		}
	}
	return nil
}

// Applies reports whether a reading can change what c does, and if not, why.
func Applies(c *circuit.Circuit, r Reading) (bool, string) {
	_, reason := changed(c, []string{r.ID})
	return reason == "", reason
}

// Run plays a script of c as a learner thinks who has the reading, or several of
// section A. An error says why that can't be run.
func Run(c *circuit.Circuit, s *circuit.Script, opt engine.Options, ids ...string) (*Prediction, error) {
	return NewRunner(c, opt).Play(s, ids...)
}

// changed returns c as the readings take it, or why that can't be.
func changed(c *circuit.Circuit, ids []string) (*change, string) {
	list := make([]*entry, len(ids))
	for i, id := range ids {
		e := find(id)
		switch {
		case e == nil:
			return nil, fmt.Sprintf("there is no misreading %q", id)
		case e.apply == nil:
			return nil, e.NotRun
		case len(ids) > 1 && e.Section != "A":
			return nil, e.ID + " can't be mixed with others"
		}
		list[i] = e
	}
	slices.SortStableFunc(list, func(a, b *entry) int { return a.stage - b.stage })
	k := newChange(c)
	for _, e := range list {
		k.id = e.ID
		if reason := e.apply(k); reason != "" {
			return nil, reason
		}
	}
	return k, k.clash
}
