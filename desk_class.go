package tarry

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/answer"
	"tarry/exercise"
)

// DeskAnswerFile is a file of answers as it was opened.
type DeskAnswerFile struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// DeskClassRequest asks for answers to be marked. Predictions bring their
// circuit; tables and typed lines are marked against the one on the desk.
type DeskClassRequest struct {
	Files     []DeskAnswerFile  `json:"files"`
	Tolerance time.Duration     `json:"tolerance"`
	Overrules []answer.Overrule `json:"overrules"`
	Form      string            `json:"form"`   // of ClassFile
	Hidden    bool              `json:"hidden"` // learners are L01, L02 and so on in ClassFile
}

// DeskAnswer is an answer of a class.
type DeskAnswer struct {
	Learner string `json:"learner"`
	Item    string `json:"item"`
	DeskMarked
	// Overruled says that the whole answer's mark is a human's, Note what was written.
	Overruled bool   `json:"overruled"`
	Note      string `json:"note"`
}

// DeskIdea is a reading over a class.
type DeskIdea struct {
	DeskReading
	Words string `json:"words"`
}

// DeskSure is a line that a learner was certain of and that is wrong.
type DeskSure struct {
	Learner  string        `json:"learner"`
	Item     string        `json:"item"`
	Row      string        `json:"row"`
	Readings []DeskReading `json:"readings"`
}

// DeskGroup is an item over a class.
type DeskGroup struct {
	Name  string `json:"name"`
	Words string `json:"words"`
}

// DeskClass is what the answers of a class show. Problems name learners.
type DeskClass struct {
	About    string       `json:"about"`
	Problems []string     `json:"problems"`
	Answers  []DeskAnswer `json:"answers"`
	Ideas    []DeskIdea   `json:"ideas"`
	Sure     []DeskSure   `json:"sure"`
	Items    []DeskGroup  `json:"items"`
	Ask      string       `json:"ask"` // the item to ask next, "" if none parts the class
	Presses  string       `json:"presses"`
}

// Class marks the answers of a class and adds them up.
func (d *Desk) Class(r DeskClassRequest) (out DeskClass, err error) {
	defer guard(d.source, &err)
	k := d.marking(&r)
	out = DeskClass{About: k.about(), Problems: some(k.problems), Answers: []DeskAnswer{}, Ideas: []DeskIdea{}, Sure: []DeskSure{}, Items: []DeskGroup{}}
	for i := range k.results {
		res := &k.results[i]
		a := DeskAnswer{Learner: res.Learner, Item: res.Item, DeskMarked: deskMarked(k.of[i].circuit, res)}
		if o := res.Overrule; o != nil {
			a.Overruled, a.Note = true, o.Note
		}
		out.Answers = append(out.Answers, a)
	}
	var items []*answer.Diagnoser
	for _, it := range k.items {
		if it.Diagnoser != nil {
			items = append(items, it.Diagnoser)
		}
	}
	sum := answer.ClassOf(k.results, items, false)
	for _, i := range sum.Ideas {
		out.Ideas = append(out.Ideas, DeskIdea{readingsOf([]string{i.ID})[0], ideaWords(&i)})
	}
	for _, s := range sum.SureWrong {
		out.Sure = append(out.Sure, DeskSure{s.Learner, s.Item, s.Signal, readingsOf(s.IDs)})
	}
	for _, g := range sum.Items {
		out.Items = append(out.Items, DeskGroup{g.Name, groupWords(&g)})
	}
	out.Ask, out.Presses = k.next(&sum)
	return out, nil
}

// mostTold is how many ideas the next question has to tell apart.
const mostTold = 6

// next returns the question to ask next and its presses: one of those that were
// asked if it parts the class, else a new one about the first circuit. Both are
// empty if there is none.
func (k *marking) next(sum *answer.Class) (ask, presses string) {
	for _, it := range k.items {
		if it.name == sum.Ask {
			return it.name, sentenceOf(exercise.ScriptWords(it.circuit, it.script))
		}
	}
	var ids []string
	for _, i := range sum.Ideas[:min(len(sum.Ideas), mostTold)] {
		ids = append(ids, i.ID)
	}
	for _, it := range k.items {
		if it.Diagnoser == nil || len(ids) == 0 {
			continue
		}
		told, err := exercise.Tell(it.circuit, it.Item.Signals, ids, exercise.TellOptions{Most: quickSearch})
		places, _ := chosenItems(&told, 1)
		if err == nil && len(places) > 0 {
			item := &told.Items[places[0]]
			return it.circuit.Title, fmt.Sprintf("Ask %s: %s.", item.Name, exercise.ScriptWords(it.circuit, item.Script))
		}
	}
	return "", ""
}

// marking reads and marks all files of a request.
func (d *Desk) marking(r *DeskClassRequest) *marking {
	k, _ := newMarking("", nil) // which refuses times that are none, and there is none
	k.tolerance.Time = max(r.Tolerance, 0)
	k.texts[string(d.source.Text)] = d.file.Circuit // so that tables and predictions of it meet
	for _, f := range r.Files {
		k.circuit = nil
		if !strings.HasPrefix(strings.TrimLeft(f.Text, "\ufeff \t\r\n"), "{") {
			k.circuit = d.file.Circuit
		}
		k.take(AnswerFile{Name: f.Name, Content: strings.NewReader(f.Text)})
	}
	k.circuit = nil
	var overrules []byte
	if len(r.Overrules) > 0 {
		var b bytes.Buffer
		if err := answer.WriteOverrules(&b, r.Overrules); err == nil {
			overrules = b.Bytes()
		}
	}
	k.markAll(overrules)
	return k
}

func ideaWords(i *answer.Idea) string {
	text := fmt.Sprintf("May be behind %s by %s", counted(i.Answers, "answer"), counted(i.Learners, "learner"))
	if i.Alone > 0 {
		text += fmt.Sprintf("; of %d it is the only explanation", i.Alone)
	}
	if i.SureWrong > 0 {
		text += fmt.Sprintf("; sure and wrong in %d", i.SureWrong)
	}
	return text + "."
}

func groupWords(g *answer.Group) string {
	parts := []string{}
	for _, p := range []struct {
		n    int
		word string
	}{{g.Right, "right"}, {g.Slips, "with a slip"}, {g.Explained, "explained by an idea"}, {g.Open, "open"}} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", p.n, p.word))
		}
	}
	return fmt.Sprintf("%s, %d of %d points: %s.", counted(g.Answers, "answer"), g.Points, g.Of, strings.Join(parts, ", "))
}

// ClassFile writes the marks of a class as csv or json, or the overrules alone.
func (d *Desk) ClassFile(r DeskClassRequest) (out DeskFile, err error) {
	defer guard(d.source, &err)
	switch r.Form {
	case "csv":
		return DeskFile{"marks.csv", "text/csv", d.saved(&r).csv()}, nil
	case "json":
		return DeskFile{"marks.json", "application/json", d.saved(&r).json()}, nil
	case "overrules":
		var b bytes.Buffer
		err = answer.WriteOverrules(&b, r.Overrules)
		return DeskFile{"overrules.json", "application/json", b.Bytes()}, err
	}
	forms := []string{"csv", "json", "overrules"}
	return out, badInput("there is no form %q; %s", r.Form, choice(r.Form, forms, "forms"))
}

// saved marks for a file: without the learners' names if they are hidden.
func (d *Desk) saved(r *DeskClassRequest) *marking {
	k := d.marking(r)
	if r.Hidden {
		k.hideNames()
	}
	return k
}

// DeskOverrules are what a file of overrules holds.
type DeskOverrules struct {
	List     []answer.Overrule `json:"list"`
	Problems []string          `json:"problems"`
}

// Overrules reads a file of overrules.
func (d *Desk) Overrules(text string) (out DeskOverrules, err error) {
	defer guard(d.source, &err)
	list, problems := answer.ReadOverrules(strings.NewReader(text))
	out = DeskOverrules{List: slices.Clip(list), Problems: []string{}}
	if list == nil {
		out.List = []answer.Overrule{}
	}
	for _, p := range problems {
		out.Problems = append(out.Problems, p.String())
	}
	return out, nil
}
