package tarry

import (
	"slices"

	"tarry/answer"
	"tarry/exercise"
	"tarry/page/pdf"
	paper "tarry/report"
)

// ClassRequest asks for the picture that the answers of a class give.
type ClassRequest struct {
	// Source is the circuit, for answers that don't bring their own; without Text
	// each answer must.
	Source
	Answers   []AnswerFile
	Rows      []string // as in MarkRequest
	Tolerance string   // as in MarkRequest
	Overrules []byte   // as in MarkRequest
	NoNames   bool     // learners are L01, L02, …
	Title     string   // empty means the circuit's
	Paper     string   // "a4" or "letter"
}

// ClassReport is a class report as PDF.
type ClassReport struct {
	Checked
	Output  []byte
	Marked  int // answers
	LeftOut []string
	Remark  string
}

// Class marks the answers of a class, looks for what may be behind them, and puts
// that on paper. An error says that nothing could be used.
func Class(r ClassRequest) (out ClassReport, err error) {
	defer guard(r.Source, &err)
	size, ok := pick(r.Paper, papers)
	if !ok {
		return out, badInput("there is no paper %q; %s", r.Paper, choice(r.Paper, papers, "papers"))
	}
	k, err := newMarking(r.Tolerance, r.Rows)
	if err != nil {
		return out, err
	}
	if r.Text != nil {
		k.circuit, out.Checked = read(r.Source)
	}
	for _, f := range r.Answers {
		k.take(f)
	}
	k.markAll(r.Overrules)
	out.LeftOut, out.Marked = k.problems, len(k.results)
	if out.Marked == 0 {
		return out, badInput("no answer could be used")
	}
	c := k.class(r.NoNames)
	c.Paper = paper.Paper(size)
	if c.Title = r.Title; c.Title == "" {
		c.Title = k.title()
	}
	pages := paper.ClassPages(c)
	file, err := pdf.Encode(pages, pdf.Options{Title: "Class report: " + c.Title, Outline: outlineOf(pages)})
	out.Output, out.Remark = file.Bytes, missingWords(file.Missing)
	return out, err
}

// class adds the results up, in the words of a report.
func (k *marking) class(noNames bool) paper.Class {
	var items []*answer.Diagnoser
	for _, it := range k.items {
		if it.Diagnoser != nil {
			items = append(items, it.Diagnoser)
		}
	}
	sum := answer.ClassOf(k.results, items, noNames)
	c := paper.Class{About: []string{k.about()}, Next: sum.Ask}
	if !noNames { // what was left out names learners
		c.LeftOut = k.problems
	} else if n := len(k.problems); n > 0 {
		c.LeftOut = []string{counted(n, "remark") + " on answers that could not be used as they are went to the screen, since they name learners."}
	}
	slips := k.sureSlips()
	for i, s := range sum.SureWrong {
		c.SureWrong = append(c.SureWrong, paper.Sure{Learner: s.Learner, Item: s.Item, Signal: s.Signal, IDs: s.IDs, Slip: slips[i]})
	}
	for _, i := range sum.Ideas {
		c.Ideas = append(c.Ideas, paper.Idea{ID: i.ID, Learners: i.Learners, Answers: i.Answers, Alone: i.Alone, SureWrong: i.SureWrong, Items: itemsOf(&sum, i.ID)})
	}
	c.Items, c.Learners = groupsOf(sum.Items), groupsOf(sum.Learners)
	for _, it := range k.items {
		if it.name == sum.Ask {
			c.Asks = "The presses: " + exercise.ScriptWords(it.circuit, it.script) + "."
		}
	}
	return c
}

// sureSlips says for each line that is sure and wrong, in the order of the answers,
// whether the answer is but a slip.
func (k *marking) sureSlips() []bool {
	var list []bool
	for i := range k.results {
		r := &k.results[i]
		for n := range r.Signals {
			if s := &r.Signals[n]; s.Wrong && s.Given && s.Sure == answer.Certain {
				list = append(list, r.Finding == answer.Slip)
			}
		}
	}
	return list
}

// itemsOf names the items in which a reading shows.
func itemsOf(sum *answer.Class, id string) []string {
	var list []string
	for _, g := range sum.Items {
		if slices.ContainsFunc(g.Ideas, func(i answer.Idea) bool { return i.ID == id }) {
			list = append(list, g.Name)
		}
	}
	return list
}

// mostIDs is how many readings a row of the report names.
const mostIDs = 4

func groupsOf(groups []answer.Group) []paper.Group {
	var list []paper.Group
	for _, g := range groups {
		row := paper.Group{Name: g.Name, Answers: g.Answers, Points: g.Points, Of: g.Of, Right: g.Right,
			Slips: g.Slips, Explained: g.Explained, Open: g.Open, SureWrong: g.SureWrong}
		for n, i := range g.Ideas {
			if n == mostIDs {
				row.IDs = append(row.IDs, "…")
				break
			}
			row.IDs = append(row.IDs, i.ID)
		}
		list = append(list, row)
	}
	return list
}
