package tarry

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/answer"
	"tarry/chart"
	"tarry/circuit"
	"tarry/diag"
	"tarry/notation"
	"tarry/page/pdf"
	paper "tarry/report"
)

// AnswerFile is a file of answers: predictions as the desk saves them, a CSV table,
// or typed lines if its name ends in .txt. It is read once, a piece at a time.
type AnswerFile struct {
	Name    string
	Content io.Reader
}

// MarkRequest asks for answers to be marked against a circuit's scripts.
type MarkRequest struct {
	Source
	Columns
	Answers   AnswerFile
	Rows      []string // that are asked; empty means those that half the answers draw
	Tolerance string   // how far an edge may lie off, a time or squares; empty is half a second, less for short presets
	Overrules []byte   // a file of overrules, nil for none
	Form      string   // one of MarkForms; empty is text for a terminal
	Paper     string   // "a4" or "letter"
}

// MarkForms are the forms of a marking report beside the text.
var MarkForms = []string{"pdf", "csv", "json"}

// Marks is a marking report.
type Marks struct {
	Checked
	Output []byte
	Marked int // answers
	// LeftOut lists what could not be marked, a line each with place and reason.
	LeftOut []string
	Remark  string
}

// noName stands for a learner who didn't write a name.
const noName = "(no name)"

// Mark marks answers. An error says that nothing could be marked.
func Mark(r MarkRequest) (out Marks, err error) {
	defer guard(r.Source, &err)
	if r.Form != "" && !slices.Contains(MarkForms, r.Form) {
		return out, badInput("there is no form %q; %s", r.Form, choice(r.Form, MarkForms, "forms"))
	}
	size, ok := pick(r.Paper, papers)
	if !ok {
		return out, badInput("there is no paper %q; %s", r.Paper, choice(r.Paper, papers, "papers"))
	}
	w, err := r.Columns.report()
	if err != nil {
		return out, err
	}
	k, err := newMarking(r.Tolerance, r.Rows)
	if err != nil {
		return out, err
	}
	k.circuit, out.Checked = read(r.Source)
	k.take(r.Answers)
	k.markAll(r.Overrules)
	out.LeftOut, out.Marked = k.problems, len(k.results)
	if out.Marked == 0 {
		return out, badInput("nothing could be marked in %s", r.Answers.Name)
	}
	switch r.Form {
	case "csv":
		out.Output = k.csv()
	case "json":
		out.Output = k.json()
	case "pdf":
		out.Output, out.Remark, err = k.pdf(paper.Paper(size))
	default:
		w.marks(k)
		out.Output = []byte(w.String())
	}
	return out, err
}

// marking is a pile of answers on its way to marks.
type marking struct {
	circuit   *circuit.Circuit // against which answers are marked; nil asks for their own
	rows      []string
	tolerance answer.Tolerance
	usual     bool                              // nothing was said of a tolerance
	squares   int                               // the tolerance in thousandths of a square, 0 for a time
	asked     map[*markItem][]*answer.Diagnoser // what could be asked next
	wider     map[*markItem][]*answer.Diagnoser // and with more rows
	items     []*markItem
	texts     map[string]*circuit.Circuit // the answers' own circuits
	results   []answer.Result
	given     []answer.Answer // of each result
	of        []*markItem     // of each result
	problems  []string
	seen      map[[2]string]bool // learner and item
}

// markItem is a script that is asked about, with its answers.
type markItem struct {
	name    string
	circuit *circuit.Circuit
	script  *circuit.Script
	answers []answer.Answer
	from    []string             // each answer's file
	own     map[string]*markItem // with the rows of single answers
	square  time.Duration        // of the chart, 0 before it is asked for
	*answer.Diagnoser
}

func newMarking(tolerance string, rows []string) (*marking, error) {
	k := &marking{rows: rows, texts: map[string]*circuit.Circuit{}, seen: map[[2]string]bool{}}
	k.tolerance.Time, k.usual = usualTolerance, tolerance == ""
	if tolerance == "" {
		return k, nil
	}
	if n, said := squaresOf(tolerance); said {
		k.squares = n
		return k, nil
	}
	t, err := notation.ParseTime(tolerance)
	if err != nil || t < 0 {
		return nil, badInput("--tolerance %q is neither a time nor a number of squares; write one such as 0.5s, \"half a square\" or \"2 squares\"", tolerance)
	}
	k.tolerance.Time = t
	return k, nil
}

// at is a place in a file of answers.
func at(file string, line int) string {
	if line == 0 {
		return file
	}
	return fmt.Sprintf("%s, line %d", file, line)
}

func (k *marking) problem(format string, args ...any) {
	k.problems = append(k.problems, fmt.Sprintf(format, args...))
}

// take reads a file and gives its answers to their items.
func (k *marking) take(f AnswerFile) {
	list, problems := readAnswers(f)
	for _, p := range problems {
		mark := ": "
		if p.Line > 0 {
			mark = ", "
		}
		k.problem("%s%s%s", f.Name, mark, p.String())
	}
	for _, a := range list {
		if a.Learner == "" && a.Text != "" {
			a.Learner = "(" + baseName(f.Name) + ")" // a file for each learner: its name tells them apart
		}
		if a.Learner == "" {
			a.Learner = noName
			k.problem("%s: an answer to %q has no learner's name; it is marked as %q. Write the name under learner.", at(f.Name, a.Number()), a.Item, noName)
		}
		item, reason := k.itemFor(&a)
		switch {
		case reason != "":
			k.problem("%s: the answer of %s was not marked: %s", at(f.Name, a.Number()), a.Learner, reason)
		case k.seen[[2]string{a.Learner, item.name}]:
			k.problem("%s: a second answer of %s to %q was not marked; the first stays. Take one of them out.", at(f.Name, a.Number()), a.Learner, item.name)
		default:
			k.seen[[2]string{a.Learner, item.name}] = true
			item.answers, item.from = append(item.answers, a), append(item.from, f.Name)
		}
	}
}

// readAnswers reads a file by what it is.
func readAnswers(f AnswerFile) ([]answer.Answer, []answer.Problem) {
	whole := bufio.NewReader(f.Content)
	head, _ := whole.Peek(64) // what can't be read is said by whoever reads on
	switch {
	case bytes.HasPrefix(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\ufeff")), " \t\r\n"), []byte("{")):
		return answer.ReadPredictions(whole)
	case strings.HasSuffix(strings.ToLower(f.Name), ".txt"):
		return answer.ReadText(whole, answer.Form{})
	}
	return answer.ReadCSV(whole)
}

// itemFor finds the script that an answer is about, or says why there is none.
func (k *marking) itemFor(a *answer.Answer) (*markItem, string) {
	c, name := k.circuit, a.Item
	if c == nil {
		if a.Text == "" {
			return nil, "it brings no circuit; name the circuit's file with --circuit."
		}
		c = k.ownCircuit(a)
	}
	if a.Script != "" || a.Text != "" {
		name = a.Script
	}
	s, reason := scriptFor(c, name)
	if s == nil {
		return nil, reason
	}
	for _, it := range k.items {
		if it.script == s {
			return it, ""
		}
	}
	it := &markItem{name: s.Name, circuit: c, script: s}
	if k.circuit == nil && c.Title != "" {
		it.name = c.Title + ", " + s.Name
	}
	for n, base := 2, it.name; slices.ContainsFunc(k.items, func(o *markItem) bool { return o.name == it.name }); n++ {
		it.name = fmt.Sprintf("%s (%d)", base, n) // another text under the same names
	}
	k.items = append(k.items, it)
	return it, ""
}

// ownCircuit reads the circuit that an answer brings.
func (k *marking) ownCircuit(a *answer.Answer) *circuit.Circuit {
	key := a.Text
	if text, faults := notation.Format(a.Circuit, []byte(a.Text)); !diag.HasErrors(faults) {
		key = string(text) // blanks make no other circuit
	}
	c := k.texts[key]
	if c == nil {
		c, _ = read(Source{Name: a.Circuit, Text: []byte(a.Text)})
		if c.Title == "" {
			c.Title = a.Circuit
		}
		k.texts[key] = c
	}
	return c
}

// scriptFor finds a script by the words under item: its name, its number, or the
// circuit's title and its name. Without words it is the only one.
func scriptFor(c *circuit.Circuit, words string) (*circuit.Script, string) {
	words = strings.TrimSpace(words)
	if words == "" && len(c.Scripts) == 1 {
		return &c.Scripts[0], ""
	}
	var names []string
	for i := range c.Scripts {
		s := &c.Scripts[i]
		if strings.EqualFold(words, s.Name) || strings.EqualFold(words, c.Title+", "+s.Name) {
			return s, ""
		}
		names = append(names, s.Name)
	}
	if n, err := strconv.Atoi(words); err == nil && n >= 1 && n <= len(c.Scripts) {
		return &c.Scripts[n-1], ""
	}
	if words == "" {
		return nil, "it doesn't say which script it is about; " + choice(words, names, "scripts") + "."
	}
	return nil, fmt.Sprintf("the circuit has no script %q; %s.", words, choice(words, names, "scripts"))
}

// markAll marks and diagnoses all answers, item by item.
func (k *marking) markAll(overrules []byte) {
	for _, it := range k.items {
		signals, reason := k.signalsOf(it)
		if reason != "" {
			k.problem("Nothing was marked for %q: %s", it.name, reason)
			continue
		}
		if len(signals) == 0 {
			k.noneKnown(it)
			continue
		}
		it.ask(signals, k.toleranceFor(it, nil))
		for i := range it.answers {
			k.markOne(it, i)
		}
	}
	k.overrule(overrules)
}

// ask sets which rows of an item are asked.
func (it *markItem) ask(signals []circuit.Signal, t answer.Tolerance) {
	it.Diagnoser = answer.NewDiagnoser(answer.NewItem(it.name, it.circuit, it.script, signals), t)
}

// noneKnown lists the answers to an item of which not one draws a signal that there
// is.
func (k *marking) noneKnown(it *markItem) {
	for i := range it.answers {
		a := &it.answers[i]
		for _, l := range a.Lines {
			k.problem("%s: %s, %q: “%s” is no signal of this circuit.", at(it.from[i], l.Number), a.Learner, it.name, l.Signal)
		}
	}
	k.problem("Nothing was marked for %q: no answer draws a signal of the circuit.", it.name)
}

// markOne marks and diagnoses an answer. One without a line that could be marked is
// no answer, and doesn't count.
func (k *marking) markOne(it *markItem, i int) {
	from, whole := it.from[i], it.answers[i]
	tolerance := k.toleranceFor(it, &whole)
	a, problems := it.Item.Beyond(whole, tolerance)
	m := answer.Mark(it.Item, a, tolerance)
	if own := k.onOwnRows(it, &a, m.Drawn()); own != nil {
		it, m = own, answer.Mark(own.Item, a, tolerance)
		k.problem("%s: %s, %q: no row of this answer is drawn by half of all, so it was marked on its own rows.", at(from, whole.Number()), a.Learner, it.name)
	}
	for _, p := range append(problems, m.Problems...) {
		k.problem("%s: %s, %q: %s", at(from, p.Line), a.Learner, it.name, p.Reason)
	}
	left := slices.ContainsFunc(whole.Lines, func(l answer.Line) bool { return l.Undrawn }) // asked, and nothing drawn
	if len(whole.Lines) > 0 && !m.Drawn() && !left {
		k.problem("%s: %s, %q: nothing of this answer could be marked, so it does not count.", at(from, whole.Number()), a.Learner, it.name)
		return
	}
	k.results = append(k.results, answer.Result{Marked: m, Diagnosis: it.DiagnoseMarked(a, m)})
	k.given, k.of = append(k.given, a), append(k.of, it)
}

// onOwnRows is an item with the rows that one answer draws, nil if it draws none,
// draws one that is asked, or the rows were named.
func (k *marking) onOwnRows(it *markItem, a *answer.Answer, drawn bool) *markItem {
	if drawn || len(k.rows) > 0 {
		return nil
	}
	var signals []circuit.Signal
	for _, l := range a.Lines {
		if s, known := answer.FindSignal(it.circuit, l.Signal); known && !l.Undrawn && !slices.Contains(signals, s) {
			signals = append(signals, s)
		}
	}
	if len(signals) == 0 {
		return nil
	}
	key := fmt.Sprint(signals)
	own := it.own[key]
	if own == nil {
		own = &markItem{name: it.name, circuit: it.circuit, script: it.script, square: it.square}
		own.ask(signals, k.toleranceFor(own, nil))
		if it.own == nil {
			it.own = map[string]*markItem{}
		}
		it.own[key] = own
	}
	return own
}

// overrule lays what a human says over the marks.
func (k *marking) overrule(text []byte) {
	if text == nil {
		return
	}
	var marked []answer.Marked
	for i := range k.results {
		marked = append(marked, k.results[i].Marked)
	}
	list, problems := answer.ReadOverrules(bytes.NewReader(text))
	for _, p := range problems {
		k.problem("the overrules: %s", p.String())
	}
	for i := range list {
		for _, it := range k.items {
			if s, _ := scriptFor(it.circuit, list[i].Item); s == it.script {
				list[i].Item = it.name
			}
		}
	}
	for _, o := range answer.ApplyOverrules(marked, list) {
		k.problem("the overrules: the one for %s, %q found no answer to overrule; it is kept in its file.", o.Learner, strings.Trim(o.Item+" "+o.Signal, " "))
	}
	for i := range marked {
		k.results[i].Marked = marked[i]
	}
}

// signalsOf finds the rows that are asked: those named, or those that at least half
// the answers draw, none if they draw no signal that there is.
func (k *marking) signalsOf(it *markItem) ([]circuit.Signal, string) {
	var list []circuit.Signal
	for _, row := range k.rows {
		s, known := answer.FindSignal(it.circuit, row)
		if !known {
			return nil, fmt.Sprintf("the circuit has no signal %q; %s.", row, choice(row, chart.Rows(runOne(it.circuit, it.script)), "rows"))
		}
		list = append(list, s)
	}
	if len(list) > 0 {
		return list, ""
	}
	drawn := map[circuit.Signal]int{}
	for _, a := range it.answers {
		here := map[circuit.Signal]bool{}
		for _, l := range a.Lines {
			if s, known := answer.FindSignal(it.circuit, l.Signal); known && !here[s] {
				here[s] = true
				drawn[s]++
				if !slices.Contains(list, s) {
					list = append(list, s)
				}
			}
		}
	}
	most := 0
	for _, s := range list {
		most = max(most, drawn[s])
	}
	least := min(most, (len(it.answers)+1)/2)
	list = slices.DeleteFunc(list, func(s circuit.Signal) bool { return drawn[s] < least })
	return list, ""
}

// pdf prints the marks.
func (k *marking) pdf(size paper.Paper) ([]byte, string, error) {
	m := paper.Marks{Title: k.title(), Paper: size, About: []string{k.about()}, LeftOut: k.problems}
	for i := range k.results {
		r := &k.results[i]
		a := paper.Marked{Learner: r.Learner, Item: r.Item, Points: fmt.Sprintf("%d of %d", r.Points, r.Of)}
		a.Chart = k.chartOf(i)
		a.Lines, a.Fits, a.Feedback = k.lines(i), k.fits(i), r.Text
		m.Answers = append(m.Answers, a)
	}
	pages := paper.MarkPages(m)
	out, err := pdf.Encode(pages, pdf.Options{Title: m.Title, Outline: outlineOf(pages)})
	return out.Bytes, missingWords(out.Missing), err
}

func (k *marking) title() string {
	if k.circuit != nil && k.circuit.Title != "" {
		return k.circuit.Title
	}
	return "Answers"
}

// hideNames puts numbers in place of the learners, in the order in which they come,
// and leaves out the remarks, which name them.
func (k *marking) hideNames() {
	number := map[string]string{}
	for i := range k.results {
		name := k.results[i].Learner
		if number[name] == "" {
			number[name] = fmt.Sprintf("L%02d", len(number)+1)
		}
		k.results[i].Learner, k.given[i].Learner = number[name], number[name]
	}
	k.problems = nil
}

// about says in a sentence what was marked.
func (k *marking) about() string {
	learners := map[string]bool{}
	items := map[string]bool{}
	for i := range k.results {
		learners[k.results[i].Learner] = true
		items[k.results[i].Item] = true
	}
	return fmt.Sprintf("%s by %s to %s. An edge may lie %s off.", counted(len(k.results), "answer"),
		counted(len(learners), "learner"), counted(len(items), "item"), k.toleranceWords())
}
