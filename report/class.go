package report

import (
	"fmt"
	"strconv"
	"strings"

	"tarry/misread"
	"tarry/page"
)

// Class is what a class's answers show, worked out.
type Class struct {
	Title string
	Paper Paper
	// About says how many answers of whom were looked at, in sentences.
	About []string
	// SureWrong are lines of which a learner was certain, and wrong.
	SureWrong []Sure
	Ideas     []Idea // ranked
	Items     []Group
	Learners  []Group
	// Next is the question to begin the next lesson with, and Asks what the presses
	// of it are; empty if none parts the class.
	Next, Asks string
	// LeftOut are answers that could not be used, each with its reason.
	LeftOut []string
}

// Sure is a line of which a learner was certain, and wrong.
type Sure struct {
	Learner, Item, Signal string
	IDs                   []string // of the readings that may explain it
	Slip                  bool     // all else is right, and one edge a little off
}

// Idea is a reading over all answers.
type Idea struct {
	ID                       string
	Learners, Answers, Alone int
	SureWrong                int
	Items                    []string // where it shows
}

// Group is an item or a learner.
type Group struct {
	Name                          string
	Answers, Points, Of           int
	Right, Slips, Explained, Open int
	SureWrong                     int
	IDs                           []string // readings, those that explain most first
}

// ClassPages puts a class's picture on paper: what was sure and wrong first, then
// the readings by how many learners they may explain, the items, the learners, and
// the next lesson's first question.
func ClassPages(c Class) []*page.Page {
	d := New(c.Title, c.Paper)
	d.Sheet("What the class thinks", c.Title)
	d.Words(c.About...)
	d.Words("What stands here fits the answers best. It is a hint and no verdict: ask the learner.")
	d.sureWrong(c.SureWrong)
	d.ideas(c.Ideas)
	d.Heading("The next lesson's first question")
	if c.Next == "" {
		d.Words("None of these items would tell apart what is left open. tarry tell finds presses that do.")
	} else {
		d.Strong(c.Next)
		if c.Asks != "" {
			d.Words(c.Asks)
		}
		d.Words("Ask for the lines first, then show the run: of these items it parts the class best.")
	}
	d.groups("Item by item", "Item", c.Items)
	d.groups("Learner by learner", "Learner", c.Learners)
	d.cards(c.Ideas)
	if len(c.LeftOut) > 0 {
		d.Heading("Not used, and remarks")
		d.Words(c.LeftOut...)
	}
	return d.Pages()
}

func (d *Doc) sureWrong(list []Sure) {
	d.Heading("Sure, and wrong")
	if len(list) == 0 {
		d.Words("No learner was certain of a line that is wrong.")
		return
	}
	d.Words("Begin here: who is certain does not look again.")
	var rows [][]string
	for _, s := range list {
		may := named(s.IDs)
		if s.Slip {
			may = "a slip of the pencil: one edge a little off"
		}
		rows = append(rows, []string{s.Learner, s.Item, s.Signal, may})
	}
	d.Table([]Column{{Head: "Learner", Share: 4}, {Head: "Item", Share: 5}, {Head: "Row", Share: 2}, {Head: "May think", Share: 8}}, rows)
}

func (d *Doc) ideas(list []Idea) {
	d.Heading("What may be behind the wrong answers")
	if len(list) == 0 {
		d.Words("No single wrong idea explains an answer of this class.")
		return
	}
	var rows [][]string
	for _, i := range list {
		r, _ := misread.Find(i.ID)
		rows = append(rows, []string{i.ID, r.Name, strconv.Itoa(i.Learners), strconv.Itoa(i.Answers), strconv.Itoa(i.Alone), strconv.Itoa(i.SureWrong)})
	}
	d.Table([]Column{{Head: "", Share: 2}, {Head: "Misreading", Share: 8}, {Head: "Learners", Share: 7, Bar: true},
		{Head: "Answers", Share: 3, Right: true}, {Head: "No other fits", Share: 3, Right: true}, {Head: "Sure, wrong", Share: 3, Right: true}}, rows)
	d.Words("Several misreadings may give the same answer, so the numbers overlap.")
}

func (d *Doc) groups(heading, what string, list []Group) {
	d.Heading(heading)
	var rows [][]string
	for _, g := range list {
		rows = append(rows, []string{g.Name, strconv.Itoa(g.Answers), fmt.Sprintf("%d of %d", g.Points, g.Of), strconv.Itoa(g.Right),
			strconv.Itoa(g.Slips), strconv.Itoa(g.Explained), strconv.Itoa(g.Open), strings.Join(g.IDs, ", ")})
	}
	d.Table([]Column{{Head: what, Share: 8}, {Head: "Answers", Share: 3, Right: true}, {Head: "Points", Share: 4, Right: true},
		{Head: "Right", Share: 3, Right: true}, {Head: "Slips", Share: 3, Right: true}, {Head: "Fitted", Share: 3, Right: true},
		{Head: "Open", Share: 3, Right: true}, {Head: "May think", Share: 6}}, rows)
}

// mostCards is how many readings are explained at the end.
const mostCards = 12

// cards explain the readings that the tables name.
func (d *Doc) cards(list []Idea) {
	if len(list) == 0 {
		return
	}
	d.Heading("The misreadings, and what shows them false")
	for _, i := range list[:min(len(list), mostCards)] {
		r, known := misread.Find(i.ID)
		if !known {
			continue
		}
		d.Strong(r.ID + "  " + r.Name)
		d.Words(r.Belief, "Shown false by: "+r.Rebuttal)
		if len(i.Items) > 0 {
			d.Words("Here in: " + strings.Join(i.Items, "; ") + ".")
		}
		d.Gap(100)
	}
	if more := len(list) - mostCards; more > 0 {
		d.Words(fmt.Sprintf("And %d more: tarry misread show explains each.", more))
	}
}

// named lists readings with their names.
func named(ids []string) string {
	var words []string
	for _, id := range ids {
		r, _ := misread.Find(id)
		words = append(words, strings.TrimSpace(id+" "+r.Name))
	}
	if len(words) == 0 {
		return "no single idea explains it"
	}
	return strings.Join(words, "; or ")
}
