package tarry

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/answer"
	"tarry/circuit"
	"tarry/exercise"
	"tarry/misread"
	"tarry/notation"
)

// What a desk says of a learner's answer: its marks, what may be behind it, and
// the presses that show whether it is.

// DeskReading is an idea that a learner may have. Out says why it is not in play
// for the circuit, "" if it is.
type DeskReading struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Belief string `json:"belief"`
	Out    string `json:"out"`
}

// DeskEdgeMark is a wrong edge in words. Follows says that it is only the
// consequence of another one.
type DeskEdgeMark struct {
	Follows bool   `json:"follows"`
	Words   string `json:"words"`
	// At is where the lines part: the earlier of the right edge and the learner's.
	At time.Duration `json:"at"`
}

// DeskRowMark is a row with its marks.
type DeskRowMark struct {
	Row    string         `json:"row"`
	Points int            `json:"points"`
	Of     int            `json:"of"`
	Wrong  bool           `json:"wrong"`
	Sure   string         `json:"sure"` // guess, fairly, certain or empty
	Words  string         `json:"words"`
	Edges  []DeskEdgeMark `json:"edges"` // the wrong ones, in order of time
	// Overruled says that Points are a human's, Note what the human wrote.
	Overruled bool   `json:"overruled"`
	Note      string `json:"note"`
}

// DeskFit is a set of ideas that give the same lines here, and how much they
// explain. Explains is false for one that comes near but doesn't.
type DeskFit struct {
	Readings []DeskReading `json:"readings"`
	Explains bool          `json:"explains"`
	Words    string        `json:"words"`
}

// DeskMarked is an answer with its marks and what may be behind it.
type DeskMarked struct {
	Rows    []DeskRowMark `json:"rows"`
	Points  int           `json:"points"`
	Of      int           `json:"of"`
	Finding string        `json:"finding"` // in a word or two
	Fits    []DeskFit     `json:"fits"`    // the best first
	Text    string        `json:"text"`    // for the learner, up to three sentences
}

// Mark marks a learner's lines of a script's run, all that Given has, and looks
// for what may be behind them. Tolerance is how far an edge may lie off. Nothing of
// it is kept.
func (d *Desk) Mark(r DeskChartRequest) (out DeskMarked, err error) {
	defer guard(d.source, &err)
	if _, err := d.traceFor(max(r.Script, 0)); err != nil { // a run too long says so
		return out, err
	}
	s, err := d.script(max(r.Script, 0))
	if err != nil {
		return out, err
	}
	var a answer.Answer
	var signals []circuit.Signal
	for _, g := range r.Given {
		signal, ok := d.file.Circuit.FindSignal(g.Row)
		if !ok {
			return out, badInput("%q is no signal of this circuit", g.Row)
		}
		if signals = append(signals, signal); g.Undrawn {
			continue
		}
		a.Lines = append(a.Lines, answer.Line{Signal: g.Row, Start: g.Start, At: g.Edges})
	}
	if len(signals) == 0 {
		return out, badInput("no row was asked for; choose one at least")
	}
	tolerance := answer.Tolerance{Time: max(r.Tolerance, 0)}
	item := answer.NewItem(s.Name, d.file.Circuit, s, signals)
	m := answer.Mark(item, a, tolerance)
	result := answer.Result{Marked: m, Diagnosis: answer.NewDiagnoser(item, tolerance).DiagnoseMarked(a, m)}
	out = deskMarked(d.file.Circuit, &result)
	out.Text = withoutIdeas(out.Text)
	return out, nil
}

// withoutIdeas leaves the ideas' names out of a text for the learner that lists
// them: on a desk they stand below it, each with what it believes.
func withoutIdeas(text string) string {
	for _, says := range []string{"Your answer fits more than one idea", "Your answer fits two ideas held together"} {
		if _, rest, found := strings.Cut(text, ". "); found && strings.HasPrefix(text, says+": ") {
			return says + ". " + rest
		}
	}
	return text
}

// deskMarked puts a result into words.
func deskMarked(c *circuit.Circuit, r *answer.Result) DeskMarked {
	out := DeskMarked{Rows: []DeskRowMark{}, Points: r.Points, Of: r.Of, Finding: r.Finding.String(), Fits: []DeskFit{}, Text: r.Text}
	for i := range r.Signals {
		out.Rows = append(out.Rows, deskRowMark(c, &r.Signals[i]))
	}
	for i, f := range r.Fits {
		out.Fits = append(out.Fits, DeskFit{readingsOf(f.IDs), i < r.Explaining, wouldExplain(f)})
	}
	return out
}

func deskRowMark(c *circuit.Circuit, s *answer.SignalMark) DeskRowMark {
	row := DeskRowMark{Row: s.Name, Points: s.Points, Of: s.Of, Wrong: s.Wrong, Words: s.Sentence(), Edges: []DeskEdgeMark{}}
	if s.Sure != answer.Unsaid {
		row.Sure = s.Sure.String()
	}
	if s.Overrule != nil {
		row.Overruled, row.Note = true, s.Overrule.Note
	}
	if s.WrongStart || !s.Given {
		row.Edges = append(row.Edges, DeskEdgeMark{Words: s.FirstWrong.Sentence(c, s.Signal)})
	}
	for _, e := range s.Edges {
		if e.Kind != 0 && s.Given {
			row.Edges = append(row.Edges, DeskEdgeMark{e.FollowOn, edgeWords(c, s, &e), wrongEdge(&e).At})
		}
	}
	return row
}

// edgeWords says what is wrong with an edge. Beyond the first one a line may stand
// at either level, so that only the changes themselves can be told.
func edgeWords(c *circuit.Circuit, s *answer.SignalMark, e *answer.EdgeMark) string {
	w := wrongEdge(e)
	if s.FirstWrong == w || e.Kind == answer.Early || e.Kind == answer.Late {
		return w.Sentence(c, s.Signal)
	}
	verb := map[bool]string{true: "comes on", false: "goes off"}[e.On]
	if s.Signal.Contact != circuit.NoContact {
		verb = map[bool]string{true: "closes", false: "opens"}[e.On]
	}
	if e.Kind == answer.Missing {
		return fmt.Sprintf("%s %s at %s; your line has no such change.", s.Name, verb, circuit.FormatTime(e.Right))
	}
	return fmt.Sprintf("Your line %s at %s; %s has no such change.", verb, circuit.FormatTime(e.Given), s.Name)
}

// wrongEdge is an edge as a difference of its line.
func wrongEdge(e *answer.EdgeMark) answer.Wrong {
	w := answer.Wrong{Kind: e.Kind, On: e.On, Right: e.Right, Given: e.Given}
	switch e.Kind {
	case answer.Missing:
		w.At, w.Given = e.Right, 0
	case answer.Extra:
		w.At, w.Right = e.Given, 0
	default:
		w.At = min(e.Right, e.Given)
	}
	return w
}

// readingsOf finds readings by their IDs.
func readingsOf(ids []string) []DeskReading {
	list := []DeskReading{}
	for _, id := range ids {
		if r, known := misread.Find(id); known {
			list = append(list, DeskReading{ID: r.ID, Name: r.Name, Belief: r.Belief})
		}
	}
	return list
}

// ideaNames lists readings by name: “A” or “B”.
func ideaNames(ids []string, word string) string {
	var names []string
	for _, r := range readingsOf(ids) {
		names = append(names, "“"+r.Name+"”")
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " " + word + " " + names[last]
}

// wouldExplain says how well readings explain an answer. Their names stand beside
// it.
func wouldExplain(f answer.Fit) string {
	several := len(f.IDs) > 1 && !f.Together
	text := "It"
	switch {
	case f.Together:
		text = "Held together they"
	case len(f.IDs) == 2:
		text = "Either"
	case several:
		text = "Each of them"
	}
	text += " would explain "
	switch {
	case f.Explained == f.Of && f.Of == 1:
		text += "the one edge"
	case f.Explained == f.Of && f.Of == 2:
		text += "both edges"
	case f.Explained == f.Of:
		text += fmt.Sprintf("all %d edges", f.Of)
	default:
		text += fmt.Sprintf("%d of %s", f.Explained, counted(f.Of, "edge"))
	}
	if f.Slipped {
		text += ", and one more but for a slip"
	}
	text += "."
	if several {
		text += " They give the same lines here, so this answer can't tell one from the other."
	}
	return text
}

// DeskPressRequest asks for presses that show whether an idea is at work. Rows are
// those that may be asked for.
type DeskPressRequest struct {
	Rows []string `json:"rows"`
	IDs  []string `json:"ids"`
}

// DeskPress is a script that can be taken into the text. Lines stand below its
// head. None says why there is none; then the other fields are empty.
type DeskPress struct {
	Name  string     `json:"name"`
	Lines []string   `json:"lines"`
	Row   string     `json:"row"` // to be asked for
	Words string     `json:"words"`
	Says  []DeskSays `json:"says"`
	Case  string     `json:"case"` // what shows the idea false
	None  string     `json:"none"`
}

// DeskSays is who gives an answer, and what it is.
type DeskSays struct {
	Who      string        `json:"who"` // in words
	Right    bool          `json:"right"`
	Readings []DeskReading `json:"readings"`
	Line     string        `json:"line"` // closed 7 s .. 12 s
}

// quickSearch is how many scripts a desk tries: its answer is waited for.
const quickSearch = 1500

// Press finds presses with which the ideas fail, one script. Its name gives
// nothing away.
func (d *Desk) Press(r DeskPressRequest) (out DeskPress, err error) {
	defer guard(d.source, &err)
	out = DeskPress{Lines: []string{}, Says: []DeskSays{}}
	c := d.file.Circuit
	var signals []circuit.Signal
	for _, row := range r.Rows {
		if s, ok := c.FindSignal(row); ok {
			signals = append(signals, s)
		}
	}
	ids, err := knownIDs(r.IDs)
	if err != nil {
		return out, err
	}
	if len(ids) > 0 {
		reading, _ := misread.Find(ids[0])
		out.Case = reading.Rebuttal
	}
	told, err := exercise.Tell(c, signals, ids, exercise.TellOptions{Most: quickSearch, OnlyRight: len(ids) == 1})
	if err != nil {
		out.None = sentenceOf(strings.TrimPrefix(err.Error(), "exercise: "))
		return out, nil
	}
	places, _ := chosenItems(&told, 1)
	if len(places) == 0 {
		out.None = "None of the presses that were tried shows it on these rows. Draw this script again, or ask for another contact."
		return out, nil
	}
	p := d.press(&told.Items[places[0]])
	p.Case = out.Case
	return p, nil
}

// press is an item as a script of the circuit on the desk.
func (d *Desk) press(item *exercise.Item) DeskPress {
	c := d.file.Circuit
	s := *item.Script
	s.Name = d.freeName("Telling presses, " + item.Name)
	out := DeskPress{Name: s.Name, Row: item.Name, Lines: []string{}, Says: []DeskSays{},
		Words: fmt.Sprintf("Ask %s: %s.", item.Name, exercise.ScriptWords(c, item.Script))}
	for _, line := range strings.Split(strings.TrimRight(notation.ScriptText(c, &s), "\n"), "\n")[1:] {
		out.Lines = append(out.Lines, strings.TrimSpace(line))
	}
	for _, g := range item.Groups {
		says := DeskSays{Right: slices.Contains(g.IDs, misread.Right), Readings: readingsOf(g.IDs), Line: lineWords(c, *item, g.IDs[0])}
		says.Who = ideaNames(g.IDs, "and")
		if says.Right {
			says.Who = "Right"
			if len(says.Readings) > 0 {
				says.Who += ", and " + ideaNames(g.IDs, "and")
			}
		}
		out.Says = append(out.Says, says)
	}
	return out
}

// freeName is a name that no script of the text has.
func (d *Desk) freeName(name string) string {
	free := name
	for n := 2; slices.ContainsFunc(d.file.Circuit.Scripts, func(s circuit.Script) bool { return strings.EqualFold(s.Name, free) }); n++ {
		free = fmt.Sprintf("%s (%d)", name, n)
	}
	return free
}

// DeskTellRequest asks what the scripts let pass. Empty IDs are all that are in
// play; Margin 0 lets the presets decide which stretch counts.
type DeskTellRequest struct {
	IDs    []string      `json:"ids"`
	Margin time.Duration `json:"margin"`
}

// DeskPassed is what one script lets pass, in words.
type DeskPassed struct {
	Name   string        `json:"name"`
	Asked  []string      `json:"asked"`
	Words  string        `json:"words"`
	Blind  bool          `json:"blind"` // it lets something pass
	Pass   []DeskReading `json:"pass"`
	Caught []DeskReading `json:"caught"`
}

// DeskTelling is what the scripts of the text let pass, and better presses.
type DeskTelling struct {
	Readings []DeskReading `json:"readings"` // all that can be run; see Out
	Scripts  []DeskPassed  `json:"scripts"`
	Presses  []DeskPress   `json:"presses"`
	Words    string        `json:"words"`
}

// Telling says of each script what it can't reveal, and finds presses that do.
func (d *Desk) Telling(r DeskTellRequest) (out DeskTelling, err error) {
	defer guard(d.source, &err)
	out = DeskTelling{Readings: []DeskReading{}, Scripts: []DeskPassed{}, Presses: []DeskPress{}}
	c := d.file.Circuit
	ids, err := knownIDs(r.IDs)
	if err != nil {
		return out, err
	}
	chosen := len(ids) > 0
	for _, id := range runnable() {
		reading, _ := misread.Find(id)
		if reading.Section == "C" { // those speak of programs
			continue
		}
		applies, reason := misread.Applies(c, reading)
		out.Readings = append(out.Readings, DeskReading{ID: id, Name: reading.Name, Belief: reading.Belief, Out: sentenceOf(reason)})
		if applies && !chosen {
			ids = append(ids, id)
		}
	}
	if len(ids) == 0 {
		out.Words = "No idea in the list says anything else of this circuit: there is nothing in it for them to get wrong."
		return out, nil
	}
	opt := exercise.TellOptions{Margin: max(r.Margin, 0), Most: quickSearch}
	asked := d.passed(&out, ids, opt)
	if len(c.Scripts) == 0 { // nothing moves, but what there is can be asked for
		asked, _ = askedSignals(c, runOne(c, &circuit.Script{End: time.Second}), nil)
	}
	if len(asked) == 0 {
		out.Words = "There is no row to ask for: timed contacts, lamps, contactors and motors are asked for."
		return out, nil
	}
	told, err := exercise.Tell(c, asked, ids, opt)
	if err != nil {
		out.Words = sentenceOf(strings.TrimPrefix(err.Error(), "exercise: "))
		return out, nil
	}
	for i := range told.Items {
		out.Presses = append(out.Presses, d.press(&told.Items[i]))
		for n := range i { // names of scripts to come must differ too
			if p := &out.Presses[i]; p.Name == out.Presses[n].Name {
				p.Name = fmt.Sprintf("%s, %d", p.Name, i+1)
			}
		}
	}
	out.Words = toldWords(&told, len(ids))
	return out, nil
}

// passed says what each script lets pass, and returns the signals asked about.
func (d *Desk) passed(out *DeskTelling, ids []string, opt exercise.TellOptions) (asked []circuit.Signal) {
	c := d.file.Circuit
	opt.Most = 1 // better presses are looked for once, for all scripts
	for i := range c.Scripts {
		s := &c.Scripts[i]
		one := DeskPassed{Name: s.Name, Asked: []string{}, Pass: []DeskReading{}, Caught: []DeskReading{}}
		signals, _ := askedSignals(c, runOne(c, s), nil)
		for _, signal := range signals {
			one.Asked = append(one.Asked, c.SignalName(signal))
			if !slices.Contains(asked, signal) {
				asked = append(asked, signal)
			}
		}
		n, err := exercise.ShowsNoError(c, s, signals, ids, opt)
		one.Pass, one.Caught, one.Blind = readingsOf(n.Pass), readingsOf(n.Caught), len(n.Pass) > 0
		switch {
		case len(signals) == 0:
			one.Words = "Nothing in it can be asked for."
		case err != nil:
			one.Words = sentenceOf(strings.TrimPrefix(err.Error(), "exercise: "))
		case one.Blind:
			one.Words = "This script can't reveal " + ideaNames(n.Pass, "or") + ": who thinks so is right here all the same."
		default:
			one.Words = "Every idea in play gives a wrong answer here."
		}
		out.Scripts = append(out.Scripts, one)
	}
	return asked
}

// toldWords says what the presses do, by the ideas' names.
func toldWords(told *exercise.Told, readings int) string {
	var text string
	switch n := len(told.Items); {
	case n == 0:
		return "None of the presses that were tried tells any of these ideas apart."
	case n == 1:
		text = "This one question tells"
	default:
		text = fmt.Sprintf("These %d questions together tell", n)
	}
	text += fmt.Sprintf(" %s of %s apart, each by at least %s.", counted(len(told.Apart), "pair"),
		counted(readings+1, "answer"), circuit.FormatTime(told.Least))
	if n := len(told.Own); n > 0 {
		text += fmt.Sprintf(" The scripts of this file tell %s more apart.", counted(n, "pair"))
	}
	if n := len(told.Never); n > 0 {
		text += fmt.Sprintf(" Nothing that was tried tells %s apart.", counted(n, "pair"))
		var same []string
		for _, p := range told.Never {
			if p.A == misread.Right {
				same = append(same, p.B)
			}
		}
		if len(same) > 0 {
			text += " None of them shows " + ideaNames(same, "or") + " on these rows: another row may, or other times."
		}
	}
	return text
}
