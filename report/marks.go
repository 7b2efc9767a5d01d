package report

import "tarry/page"

// Marks is a pile of marked answers.
type Marks struct {
	Title string
	Paper Paper
	About []string // in sentences: how many, with which tolerance
	// Answers in the order of the file.
	Answers []Marked
	LeftOut []string // what could not be marked, each with its reason, and remarks
}

// Marked is one answer with its marks, in words.
type Marked struct {
	Learner, Item, Points string
	// Chart has the right lines and the learner's, or is nil.
	Chart *page.Page
	// Lines tell how the points come about, Fits what may be behind the answer;
	// Feedback is for the learner.
	Lines, Fits []string
	Feedback    string
}

// MarkPages puts marked answers on paper: a table of points, then each answer with
// its chart.
func MarkPages(m Marks) []*page.Page {
	d := New(m.Title, m.Paper)
	d.Sheet("Marked answers", m.Title)
	d.Words(m.About...)
	var rows [][]string
	for _, a := range m.Answers {
		rows = append(rows, []string{a.Learner, a.Item, a.Points})
	}
	d.Table([]Column{{Head: "Learner", Share: 5}, {Head: "Item", Share: 8}, {Head: "Points", Share: 3, Right: true}}, rows)
	if len(m.LeftOut) > 0 {
		d.Heading("Not marked, and remarks")
		d.Words(m.LeftOut...)
	}
	for i := range m.Answers {
		a := &m.Answers[i]
		d.answer(a)
	}
	return d.Pages()
}

// answer writes one answer. What belongs to it begins on one sheet.
func (d *Doc) answer(a *Marked) {
	height := page.Unit(2600)
	if a.Chart != nil {
		height += min(a.Chart.Height, 12000)
	}
	d.need(height)
	d.Heading(a.Learner + " · " + a.Item + " · " + a.Points)
	if a.Chart != nil {
		d.Picture(a.Chart, 12000)
	}
	d.Words(a.Lines...)
	d.Words(a.Fits...)
	if a.Feedback != "" {
		d.Words("To the learner: " + a.Feedback)
	}
}
