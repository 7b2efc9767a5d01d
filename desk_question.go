package tarry

import (
	"slices"
	"strings"
	"time"

	"tarry/answer"
	"tarry/chart"
	"tarry/circuit"
	"tarry/exercise"
	"tarry/page"
	"tarry/schematic"
	"tarry/trace"
)

// DeskExercise names an exercise to choose a chart for. With a level it is a
// variant of it, else the circuit on the desk with its script and rows.
type DeskExercise struct {
	Level  string   `json:"level"`
	Code   string   `json:"code"`
	Number int      `json:"number"` // from 1
	Script int      `json:"script"`
	Rows   []string `json:"rows"`   // empty for the usual ones
	Letter string   `json:"letter"` // of Choose: the option
	// Width is the room for a chart, 0 for the usual one.
	Width page.Unit `json:"width"`
}

// DeskShown is a chart to choose. Words tell it.
type DeskShown struct {
	Letter  string      `json:"letter"`
	Picture DeskPicture `json:"picture"`
	Words   string      `json:"words"`
}

// DeskQuestion is an exercise with charts to choose from; which is right it
// doesn't say.
type DeskQuestion struct {
	Title   string       `json:"title"`
	Code    string       `json:"code"`
	Prompt  string       `json:"prompt"`
	Drawing DeskPicture  `json:"drawing"`
	Told    string       `json:"told"` // the drawing in words
	Stem    *DeskPicture `json:"stem"` // the given rows, if there are any
	Given   string       `json:"given"`
	Options []DeskShown  `json:"options"`
}

// DeskChosen is what comes of a choice: feedback, and the chosen lines as a
// prediction that can be kept and marked.
type DeskChosen struct {
	Right    bool          `json:"right"`
	Letter   string        `json:"letter"` // of the right one
	Feedback string        `json:"feedback"`
	Readings []DeskReading `json:"readings"`
	Title    string        `json:"title"`
	Script   string        `json:"script"`
	Text     string        `json:"text"` // the circuit, without what must come out
	Lines    []DeskLine    `json:"lines"`
}

// Levels lists the levels of exercises.
func (d *Desk) Levels() (out []DeskChoice, err error) {
	defer guard(d.source, &err)
	for _, l := range ExerciseLevels() {
		out = append(out, DeskChoice{l[0], l[1]})
	}
	return out, nil
}

// mostNumber is how far a desk counts the variants of a code.
const mostNumber = 99

// Question makes an exercise and the charts to choose from. The same request gives
// the same ones.
func (d *Desk) Question(r DeskExercise) (out DeskQuestion, err error) {
	defer guard(d.source, &err)
	q, err := d.question(&r)
	if err != nil {
		return out, err
	}
	e := q.Exercise
	width := min(max(r.Width, 0), widestChart)
	style := d.style
	style.Width = thumbnailWidth
	if width > 0 {
		style.Width = min(width, thumbnailWidth)
	}
	p := schematic.Draw(e.Circuit, style)[0]
	out = DeskQuestion{Title: e.Title, Code: e.Code, Prompt: q.Prompt, Drawing: DeskPicture{inner(p), p.Width, p.Height}, Told: p.Description}
	opt := chart.Options{Rows: e.Given, Width: width, Square: e.Square, Uncut: true, NoLegend: true, Compact: true, Bare: true}
	if len(e.Given) > 0 {
		stem, told, err := chartPicture(e, opt)
		if err != nil {
			return out, err
		}
		out.Stem, out.Given = &stem, told
	}
	opt.Rows, opt.Blank, opt.NoStart = e.Asked, e.Asked, true
	for i := range q.Options {
		o := &q.Options[i]
		opt.Given = nil
		for _, l := range o.Lines { // the right one too: all are drawn alike
			opt.Given = append(opt.Given, chart.Given{Row: l.Name, Levels: l.Levels, Word: o.Letter})
		}
		p, _, err := chartPicture(e, opt)
		if err != nil {
			return out, err
		}
		out.Options = append(out.Options, DeskShown{o.Letter, p, o.Words(e.Script.End)})
	}
	return out, nil
}

// chartPicture draws an exercise's chart, and tells it.
func chartPicture(e *exercise.Exercise, opt chart.Options) (DeskPicture, string, error) {
	p, err := chart.Draw(e.Trace(), opt)
	if err != nil {
		return DeskPicture{}, "", badInput("%s", strings.TrimPrefix(err.Error(), "chart: "))
	}
	return DeskPicture{inner(p), p.Width, p.Height}, brief(p.Description), nil
}

// Choose says what comes of choosing an option.
func (d *Desk) Choose(r DeskExercise) (out DeskChosen, err error) {
	defer guard(d.source, &err)
	q, err := d.question(&r)
	if err != nil {
		return out, err
	}
	e := q.Exercise
	i := slices.IndexFunc(q.Options, func(o exercise.Option) bool { return o.Letter == r.Letter })
	right := slices.IndexFunc(q.Options, func(o exercise.Option) bool { return o.Right })
	if i < 0 || right < 0 {
		return out, badInput("there is no chart %q", r.Letter)
	}
	o := &q.Options[i]
	out = DeskChosen{Right: o.Right, Letter: q.Options[right].Letter, Feedback: o.Feedback, Readings: readingsOf(o.IDs),
		Title: e.Title, Script: e.Script.Name, Text: withoutExpects(e.Text), Lines: []DeskLine{}}
	for n, l := range o.Lines {
		line := deskLine(l.Name, l.Levels)
		if w, wrong := answer.FirstWrong(q.Options[right].Lines[n].Levels, l.Levels, e.Script.End, 0); wrong {
			line.Wrong = w.At
		}
		out.Lines = append(out.Lines, line)
	}
	return out, nil
}

// deskLine is a signal's levels as a learner's line.
func deskLine(row string, levels []trace.Edge) DeskLine {
	line := DeskLine{Row: row, Edges: []time.Duration{}, Wrong: -1}
	for i, e := range levels {
		if i == 0 {
			line.Start = e.On
		} else if e.On != levels[i-1].On {
			line.Edges = append(line.Edges, e.At)
		}
	}
	return line
}

// withoutExpects leaves out the lines that say what must come out.
func withoutExpects(text []byte) string {
	var b strings.Builder
	for _, line := range strings.SplitAfter(string(text), "\n") {
		if word, _, _ := strings.Cut(strings.TrimSpace(line), " "); word != "expect" {
			b.WriteString(line)
		}
	}
	return b.String()
}

// question makes the exercise that is asked for, and its options.
func (d *Desk) question(r *DeskExercise) (*exercise.Question, error) {
	if r.Level == "" {
		e, err := d.asGiven(r)
		if err != nil {
			return nil, err
		}
		return choices(e)
	}
	if r.Number < 1 || r.Number > mostNumber {
		return nil, badInput("a desk counts exercises from 1 to %d, and %d is not among them", mostNumber, r.Number)
	}
	list, err := exercise.Make(r.Level, r.Code, r.Number)
	if err != nil {
		return nil, badInput("%s", strings.TrimPrefix(err.Error(), "exercise: "))
	}
	return choices(&list[r.Number-1])
}

func choices(e *exercise.Exercise) (*exercise.Question, error) {
	q, err := exercise.Choices(e, exercise.ChoiceOptions{})
	if err != nil {
		return nil, badInput("%s", strings.TrimPrefix(err.Error(), "exercise: "))
	}
	return q, nil
}

// asGiven makes an exercise of the circuit on the desk as it stands.
func (d *Desk) asGiven(r *DeskExercise) (*exercise.Exercise, error) {
	place := max(r.Script, 0)
	t, err := d.traceFor(place)
	if err != nil {
		return nil, err
	}
	c := d.file.Circuit
	asked, err := askedSignals(c, t, r.Rows)
	if err != nil {
		return nil, err
	}
	if len(asked) == 0 {
		return nil, badInput("this script has no row to ask for; choose another script")
	}
	e := &exercise.Exercise{Code: "AS-GIVEN", Number: place + 1, Level: c.Title, Title: c.Title, Station: c.Station,
		Text: d.source.Text, Circuit: c, Script: &c.Scripts[place], Square: squareOf(&c.Scripts[place])}
	for _, s := range asked {
		e.Asked = append(e.Asked, c.SignalName(s))
	}
	for _, s := range t.Signals() {
		if len(c.Devices[s.Device].Kind.Info().Loads) == 0 { // hands alone move it
			e.Given = append(e.Given, c.SignalName(s))
		}
	}
	return e, nil
}

// squareOf is the widest of a few lengths of which all times of a script are whole
// numbers.
func squareOf(s *circuit.Script) time.Duration {
	for _, square := range []time.Duration{time.Second, time.Second / 2, time.Second / 10} {
		if s.End/square <= 200 && s.End%square == 0 &&
			!slices.ContainsFunc(s.Actions, func(a circuit.Action) bool { return a.At%square != 0 }) {
			return square
		}
	}
	return 0
}
