package answer

import (
	"cmp"
	"fmt"
	"slices"

	"tarry/misread"
)

// Result is an answer marked and diagnosed.
type Result struct {
	Marked
	Diagnosis
}

// Class is what the answers of a class show together.
type Class struct {
	// Ideas are the readings that may be at work, those behind sure and wrong
	// answers first, then by how many learners they may explain.
	Ideas    []Idea
	Items    []Group // in the order of the answers
	Learners []Group
	// SureWrong are the lines that a learner was certain of and that are wrong, in
	// the order of the answers.
	SureWrong []SureWrong
	// Ask is the item that parts the class best, "" if none does.
	Ask string
}

// Idea is a reading over all answers.
type Idea struct {
	ID string
	// Learners and Answers are how many it may explain; Alone is how many of the
	// answers no other reading explains.
	Learners, Answers, Alone int
	SureWrong                int // answers with a line that is sure and wrong
}

// Group is an item or a learner over all answers.
type Group struct {
	Name       string
	Answers    int
	Points, Of int
	// Right, Slips, Explained and Open are how many answers are right, are slips,
	// are explained by some reading or two, and are not. An unfinished one
	// counts as open.
	Right, Slips, Explained, Open int
	SureWrong                     int // lines
	Ideas                         []Idea
}

// SureWrong is a line that a learner was certain of and that is wrong.
type SureWrong struct {
	Learner, Item, Signal string
	// IDs are the readings that may explain the answer, none if nothing does.
	IDs []string
}

// ClassOf adds up results. Items are the questions that may be asked next; Ask is
// taken from them. With hidden, learners are L01, L02, … in the order of their
// first answers.
func ClassOf(results []Result, items []*Diagnoser, hidden bool) Class {
	k := tally{names: map[string]string{}, hidden: hidden}
	var out Class
	whole, byItem, byLearner := newPile(), map[string]*pile{}, map[string]*pile{}
	var itemOrder, learnerOrder []*pile
	for i := range results {
		r := &results[i]
		learner := k.name(r.Learner)
		of := func(at map[string]*pile, order *[]*pile, name string) *pile {
			if at[name] == nil {
				at[name] = newPile()
				at[name].Name = name
				*order = append(*order, at[name])
			}
			return at[name]
		}
		found := picture(r)
		sure := sureWrong(r, learner, found.ids)
		out.SureWrong = append(out.SureWrong, sure...)
		for _, p := range []*pile{whole, of(byItem, &itemOrder, r.Item), of(byLearner, &learnerOrder, learner)} {
			p.add(r, found, learner, len(sure))
		}
	}
	out.Ideas = whole.ideas()
	for _, p := range itemOrder {
		out.Items = append(out.Items, p.group())
	}
	for _, p := range learnerOrder {
		out.Learners = append(out.Learners, p.group())
	}
	out.Ask = ask(out.Learners, items)
	return out
}

// tally gives learners their names.
type tally struct {
	names  map[string]string
	hidden bool
}

func (k *tally) name(learner string) string {
	if !k.hidden {
		return learner
	}
	if k.names[learner] == "" {
		k.names[learner] = fmt.Sprintf("L%02d", len(k.names)+1)
	}
	return k.names[learner]
}

// pictured is what an answer counts as in the class.
type pictured struct {
	finding Finding
	ids     []string
}

// picture returns what was found of an answer. One whose wrong lines were all
// overruled to full marks is right, or unfinished if lines lack.
func picture(r *Result) pictured {
	overruled, lacking := false, false
	for i := range r.Signals {
		switch s := &r.Signals[i]; {
		case !s.Wrong:
		case r.accepted(s):
			overruled = true
		case s.Given:
			return pictured{r.Finding, r.IDs()}
		default:
			lacking = true
		}
	}
	switch {
	case !overruled:
		return pictured{r.Finding, r.IDs()}
	case lacking:
		return pictured{Unfinished, nil}
	}
	return pictured{AllRight, nil}
}

// accepted reports whether a human gave full marks for a line, or for its answer.
func (m *Marked) accepted(s *SignalMark) bool {
	if m.Overrule != nil {
		return m.Points >= m.Of
	}
	return s.Overrule != nil && s.Points >= s.Of
}

func sureWrong(r *Result, learner string, ids []string) []SureWrong {
	var list []SureWrong
	for i := range r.Signals {
		if s := &r.Signals[i]; s.Wrong && s.Given && s.Sure == Certain && !r.accepted(s) {
			list = append(list, SureWrong{learner, r.Item, s.Name, ids})
		}
	}
	return list
}

// pile collects the results of an item, of a learner or of all.
type pile struct {
	Group
	at       map[string]*Idea
	learners map[[2]string]bool // reading and learner
}

func newPile() *pile { return &pile{at: map[string]*Idea{}, learners: map[[2]string]bool{}} }

func (p *pile) add(r *Result, found pictured, learner string, sure int) {
	p.Answers++
	p.Points += r.Points
	p.Of += r.Of
	p.SureWrong += sure
	switch found.finding {
	case AllRight:
		p.Right++
	case Slip:
		p.Slips++
	case Explained, TwoIdeas:
		p.Explained++
	default:
		p.Open++
	}
	ids := found.ids
	for _, id := range ids {
		idea := p.at[id]
		if idea == nil {
			idea = &Idea{ID: id}
			p.at[id] = idea
		}
		idea.Answers++
		if len(ids) == 1 {
			idea.Alone++
		}
		if sure > 0 {
			idea.SureWrong++
		}
		if key := [2]string{id, learner}; !p.learners[key] {
			p.learners[key] = true
			idea.Learners++
		}
	}
}

// ideas ranks the readings.
func (p *pile) ideas() []Idea {
	var list []Idea
	for _, r := range misread.All() {
		if idea := p.at[r.ID]; idea != nil {
			list = append(list, *idea)
		}
	}
	slices.SortStableFunc(list, func(a, b Idea) int {
		return cmp.Or(cmp.Compare(b.SureWrong, a.SureWrong), cmp.Compare(b.Learners, a.Learners),
			cmp.Compare(b.Alone, a.Alone), cmp.Compare(b.Answers, a.Answers))
	})
	return list
}

func (p *pile) group() Group {
	p.Group.Ideas = p.ideas()
	return p.Group
}

// ask finds the item that parts the learners best, by the reading that each of
// them shows most.
func ask(learners []Group, items []*Diagnoser) string {
	weights := map[string]int{}
	for _, l := range learners {
		id := misread.Right
		if len(l.Ideas) > 0 {
			id = mostShown(l.Ideas)
		}
		weights[id]++
	}
	if i := nextOf(weights, items); i >= 0 {
		return items[i].Item.Name
	}
	return ""
}

// mostShown returns the reading that explains most answers, those where nothing
// else does first.
func mostShown(ideas []Idea) string {
	return slices.MaxFunc(ideas, func(a, b Idea) int {
		return cmp.Or(cmp.Compare(a.Answers, b.Answers), cmp.Compare(a.Alone, b.Alone))
	}).ID
}
