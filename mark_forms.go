package tarry

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tarry/answer"
	"tarry/chart"
	"tarry/circuit"
	"tarry/page"
)

// lines says for each row of an answer how its points come about, and the first
// difference.
func (k *marking) lines(i int) []string {
	r := &k.results[i]
	var list []string
	for n := range r.Signals {
		s := &r.Signals[n]
		text := s.Sentence()
		if s.Wrong && s.Given {
			text += " " + s.FirstWrong.Sentence(k.of[i].circuit, s.Signal)
		}
		if s.Sure != answer.Unsaid {
			text += " The learner said: " + s.Sure.String() + "."
		}
		list = append(list, text)
	}
	if o := r.Overrule; o != nil {
		list = append(list, strings.TrimSuffix(strings.TrimSpace(fmt.Sprintf("The whole answer is overruled: %d of %d. %s", o.Mark, r.Of, o.Note)), ".")+".")
	}
	return list
}

// fitWords says what may be behind an answer.
func fitWords(d *answer.Diagnosis) []string {
	var list []string
	for i, f := range d.Fits {
		words := f.Words() + "."
		if i >= d.Explaining {
			words = "Not enough: " + words
		}
		list = append(list, words)
	}
	return list
}

// fits says what may be behind an answer, and what to ask next if that is more
// than one idea.
func (k *marking) fits(i int) []string {
	r, it := &k.results[i], k.of[i]
	list := fitWords(&r.Diagnosis)
	if ids := r.IDs(); len(ids) > 1 {
		others := k.others(it)
		if n := answer.Next(ids, others); n >= 0 {
			return append(list, fmt.Sprintf("Ask next: script %q parts them best.", others[n].Item.Name))
		}
		wider := k.withMore(it)
		if n, row := answer.NextRow(ids, wider, len(it.Item.Signals)); n >= 0 {
			other := wider[n].Item
			script := fmt.Sprintf("script %q", other.Name)
			if other.Script == it.script {
				script = "the same script"
			}
			list = append(list, fmt.Sprintf("Ask next: %s, with the row %s as well, parts them best.", script, other.Circuit.SignalName(other.Signals[row])))
		}
	}
	return list
}

// withMore are the circuit's scripts, the answer's own first, as items with the
// same rows and behind them all others that learners may be asked for, what is seen
// to come on first.
func (k *marking) withMore(it *markItem) []*answer.Diagnoser {
	list, known := k.wider[it]
	if known {
		return list
	}
	scripts := []*circuit.Script{it.script}
	for n := range it.circuit.Scripts {
		if s := &it.circuit.Scripts[n]; s != it.script {
			scripts = append(scripts, s)
		}
	}
	for _, s := range scripts {
		var loads, contacts []circuit.Signal
		for _, row := range chart.Rows(runOne(it.circuit, s)) {
			signal, known := it.circuit.FindSignal(row)
			switch {
			case !known || !worthAsking(it.circuit, signal) || slices.Contains(it.Item.Signals, signal):
			case signal.Contact == circuit.NoContact:
				loads = append(loads, signal)
			default:
				contacts = append(contacts, signal)
			}
		}
		rows := slices.Concat(it.Item.Signals, loads, contacts)
		list = append(list, answer.NewDiagnoser(answer.NewItem(s.Name, it.circuit, s, rows), k.toleranceFor(it, nil)))
	}
	if k.wider == nil {
		k.wider = map[*markItem][]*answer.Diagnoser{}
	}
	k.wider[it] = list
	return list
}

// worthAsking reports whether a learner may be asked for a row: what a timer's
// contacts do, and what is seen to come on.
func worthAsking(c *circuit.Circuit, s circuit.Signal) bool {
	switch c.Devices[s.Device].Kind {
	case circuit.Timer:
		return s.Contact != circuit.NoContact
	case circuit.Relay, circuit.LatchingRelay, circuit.SteppingRelay, circuit.Counter:
		return false
	}
	return !handsOnly(c, s) && s.Contact == circuit.NoContact
}

// others are the circuit's other scripts as items with the same rows.
func (k *marking) others(it *markItem) []*answer.Diagnoser {
	list, known := k.asked[it]
	if known {
		return list
	}
	for n := range it.circuit.Scripts {
		if s := &it.circuit.Scripts[n]; s != it.script {
			list = append(list, answer.NewDiagnoser(answer.NewItem(s.Name, it.circuit, s, it.Item.Signals), k.toleranceFor(it, nil)))
		}
	}
	if k.asked == nil {
		k.asked = map[*markItem][]*answer.Diagnoser{}
	}
	k.asked[it] = list
	return list
}

// chartOf draws the right lines with the learner's below, nil where it can't be
// drawn.
func (k *marking) chartOf(i int) *page.Page {
	it, r := k.of[i], &k.results[i]
	t := runOne(it.circuit, it.script)
	if printable(t) != nil || t.End == 0 {
		return nil
	}
	opt := chart.Options{Width: 18200, Bare: true, NoLegend: true}
	for _, row := range chart.Rows(t) {
		s, known := it.circuit.FindSignal(row)
		if !known || !handsOnly(it.circuit, s) {
			continue
		}
		opt.Rows = append(opt.Rows, row)
	}
	for n := range r.Signals {
		s := &r.Signals[n]
		if row := s.Name; !slices.Contains(opt.Rows, row) {
			opt.Rows = append(opt.Rows, row)
		}
		if l := lineFor(&k.given[i], it, s); l != nil {
			g := chart.Given{Row: s.Name, Levels: l.Edges(), Word: "drawn"}
			if s.Wrong {
				at := s.FirstWrong.At
				g.Wrong = &at
			}
			opt.Given = append(opt.Given, g)
		}
	}
	p, err := chart.Draw(t, opt)
	if err != nil {
		return nil
	}
	return p
}

// lineFor finds the line that was marked for a signal, the first one of it.
func lineFor(a *answer.Answer, it *markItem, s *answer.SignalMark) *answer.Line {
	for i := range a.Lines {
		if signal, known := answer.FindSignal(it.circuit, a.Lines[i].Signal); known && signal == s.Signal && !a.Lines[i].Undrawn {
			return &a.Lines[i]
		}
	}
	return nil
}

// marks lays the marks out for a terminal.
func (w *report) marks(k *marking) {
	w.heading("Marked: " + k.title())
	w.fold("", k.about())
	for i := range k.results {
		r := &k.results[i]
		w.WriteString("\n")
		w.fold("", fmt.Sprintf("%s · %s · %d of %d", r.Learner, r.Item, r.Points, r.Of))
		for _, text := range k.lines(i) {
			w.fold("  ", text)
		}
		for _, text := range k.fits(i) {
			w.fold("  ", text)
		}
		if r.Text != "" {
			w.fold("  To the learner: ", r.Text)
		}
	}
	w.WriteString("\n")
	w.fold("Mind      ", "What may be behind an answer is a hint and no verdict. A file of overrules (--overrules) puts your marks in place of these.")
}

// csv writes a row for each line of each answer.
func (k *marking) csv() []byte {
	var b strings.Builder
	b.WriteString("learner,item,signal,points,of,right,follow_on,moved,missing,extra,sure,overruled,finding,may_think\n")
	for i := range k.results {
		r := &k.results[i]
		for n := range r.Signals {
			s := &r.Signals[n]
			row := []string{guarded(r.Learner), guarded(r.Item), s.Name}
			for _, n := range []int{s.Points, s.Of, s.Right, s.FollowOn, s.Moved, s.Missing, s.Extra} {
				row = append(row, strconv.Itoa(n))
			}
			overruled := ""
			if s.Overrule != nil {
				overruled = "yes"
			}
			row = append(row, s.Sure.String(), overruled, r.Finding.String(), strings.Join(r.IDs(), " "))
			writeRow(&b, row)
		}
		if o := r.Overrule; o != nil {
			writeRow(&b, []string{guarded(r.Learner), guarded(r.Item), "", strconv.Itoa(o.Mark), strconv.Itoa(r.Of), "", "", "", "", "", "", "yes",
				r.Finding.String(), strings.Join(r.IDs(), " ")})
		}
	}
	return []byte(b.String())
}

// guarded keeps a spreadsheet from taking a name for a formula; answers are read
// with the same mark.
func guarded(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}

func writeRow(b *strings.Builder, cells []string) {
	for i, cell := range cells {
		if i > 0 {
			b.WriteByte(',')
		}
		if strings.ContainsAny(cell, "\",\r\n") {
			cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
		}
		b.WriteString(cell)
	}
	b.WriteByte('\n')
}

// The marks in JSON, for other programs. Times are seconds as decimals.
type (
	marksJSON struct {
		Format  string       `json:"format"`
		Version int          `json:"version"`
		Title   string       `json:"title"`
		Answers []answerJSON `json:"answers"`
		LeftOut []string     `json:"leftOut"`
	}
	answerJSON struct {
		Learner   string     `json:"learner"`
		Item      string     `json:"item"`
		Points    int        `json:"points"`
		Of        int        `json:"of"`
		Overruled bool       `json:"overruled"`
		Finding   string     `json:"finding"`
		MayThink  []string   `json:"mayThink"`
		Fits      []string   `json:"fits"`
		Feedback  string     `json:"feedback"`
		Rows      []rowMarks `json:"rows"`
	}
	rowMarks struct {
		Row       string `json:"row"`
		Points    int    `json:"points"`
		Of        int    `json:"of"`
		Right     int    `json:"right"`
		FollowOn  int    `json:"followOn"`
		Moved     int    `json:"moved"`
		Missing   int    `json:"missing"`
		Extra     int    `json:"extra"`
		Sure      string `json:"sure"`
		Overruled bool   `json:"overruled"`
		Words     string `json:"words"`
	}
)

func (k *marking) json() []byte {
	out := marksJSON{Format: "tarry marks", Version: 1, Title: k.title(), Answers: []answerJSON{}, LeftOut: append([]string{}, k.problems...)}
	for i := range k.results {
		r := &k.results[i]
		a := answerJSON{Learner: r.Learner, Item: r.Item, Points: r.Points, Of: r.Of, Overruled: r.Overrule != nil,
			Finding: r.Finding.String(), MayThink: append([]string{}, r.IDs()...), Fits: append([]string{}, k.fits(i)...), Feedback: r.Text}
		words := k.lines(i)
		for n := range r.Signals {
			s := &r.Signals[n]
			a.Rows = append(a.Rows, rowMarks{s.Name, s.Points, s.Of, s.Right, s.FollowOn, s.Moved, s.Missing, s.Extra, s.Sure.String(), s.Overrule != nil, words[n]})
		}
		out.Answers = append(out.Answers, a)
	}
	text, err := json.MarshalIndent(out, "", "\t")
	if err != nil {
		panic(err) // plain data always encodes
	}
	return append(text, '\n')
}
