package exercise

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
	"tarry/page"
	"tarry/schematic"
	"tarry/trace"
)

// ChoiceOptions are the choices for Choices. The zero value is right.
type ChoiceOptions struct {
	// Wrong is how many wrong options there are at most, 0 for 3, 9 at most.
	Wrong int
	// Margin is the shortest stretch by which two options differ on at least one
	// row; 0 is two squares, or a fifth of the longest preset if that is more.
	Margin time.Duration
	// IDs are the readings that may give wrong options; none are all of timed contacts
	// and of circuits.
	IDs []string
}

// Question is an exercise with charts to choose from.
type Question struct {
	Exercise *Exercise
	Prompt   string
	Options  []Option // one of them right
}

// Option is one chart: a line for each asked row.
type Option struct {
	Letter string // A, B, …
	Right  bool
	IDs    []string // the readings that give this answer, none if it is right
	Lines  []Line   // in the order of Exercise.Asked
	// Feedback is for the learner who chose it.
	Feedback string
}

// Line is a row as an option has it: the value at the start, then every change.
type Line struct {
	Name   string
	Signal circuit.Signal
	Levels []trace.Edge
}

// Words says the option's lines, a sentence a row. It stands in place of the
// picture where there is none.
func (o *Option) Words(end time.Duration) string {
	var words []string
	for _, l := range o.Lines {
		words = append(words, lineOf(l.Levels, end).words(l.Name, l.Signal, end))
	}
	return strings.Join(words, " ")
}

// Choices makes a question of an exercise: the right chart, and wrong ones that
// misreadings give. Each differs from each other on some row for at least a margin.
// Which are taken and in what order hangs on the exercise's code and number. An
// error says that no misreading gives a wrong answer, or that an ID is unknown.
func Choices(e *Exercise, opt ChoiceOptions) (*Question, error) {
	if opt.Wrong <= 0 {
		opt.Wrong = 3
	}
	opt.Wrong = min(opt.Wrong, 9)
	if opt.Margin <= 0 {
		opt.Margin = max(2*e.Square, longestPreset(e.Circuit)/5, 1)
	}
	ids := opt.IDs
	if len(ids) == 0 {
		for _, r := range misread.All() {
			if r.Section != "C" { // those speak of programs
				ids = append(ids, r.ID)
			}
		}
	}
	all, end, err := e.answers(ids)
	if err != nil {
		return nil, err
	}
	l := newLot("tarry choices 1", e.Level, e.Code, strconv.Itoa(e.Number))
	wrong := all[1:]
	l.shuffle(len(wrong), func(i, j int) { wrong[i], wrong[j] = wrong[j], wrong[i] })
	taken := all[:1:1]
	for _, a := range wrong {
		if len(taken) <= opt.Wrong && !slices.ContainsFunc(taken, func(b answered) bool { return apart(a.lines, b.lines, end) < opt.Margin }) {
			taken = append(taken, a)
		}
	}
	if len(taken) < 2 {
		return nil, fmt.Errorf("exercise: no misreading gives a wrong answer to %q that differs by %s: ask for other rows or other presses",
			e.Title, circuit.FormatTime(opt.Margin))
	}
	l.shuffle(len(taken), func(i, j int) { taken[i], taken[j] = taken[j], taken[i] })
	q := &Question{Exercise: e, Prompt: e.prompt()}
	for i, a := range taken {
		q.Options = append(q.Options, e.option(string(rune('A'+i)), a))
	}
	return q, nil
}

// prompt is what a learner is asked.
func (e *Exercise) prompt() string {
	return fmt.Sprintf("Which chart shows %s? The presses: %s.", list(e.Asked, "and"), ScriptWords(e.Circuit, e.Script))
}

// answered is an answer to all rows, and whose it is: nobody's if it is right.
type answered struct {
	ids   []string
	lines []line
}

// apart is the longest stretch for which two answers differ on any row.
func apart(a, b []line, end time.Duration) time.Duration {
	most := time.Duration(0)
	for i := range a {
		most = max(most, differ(a[i], b[i], end))
	}
	return most
}

// answers returns the right answer and then the different wrong ones.
func (e *Exercise) answers(ids []string) ([]answered, time.Duration, error) {
	r := misread.NewRunner(e.Circuit, engine.Options{NoCauses: true})
	signals := e.signals()
	right := r.Right(e.Script)
	end := right.End
	all := []answered{{nil, linesOf(right, signals)}}
	neat := e.onSquares(all[0].lines)
	for _, id := range ids {
		reading, known := misread.Find(id)
		if !known {
			return nil, 0, fmt.Errorf("exercise: there is no misreading %q: the list has M01 to M20, C01 to C14 and P01 to P17", id)
		}
		p, err := r.Play(e.Script, reading.ID)
		if err != nil || p.End < end {
			continue // it doesn't show in this circuit
		}
		lines := linesOf(p, signals)
		if neat && !e.onSquares(lines) {
			continue // an edge between two ticks would give it away
		}
		same := slices.IndexFunc(all, func(a answered) bool { return apart(a.lines, lines, end) == 0 })
		switch {
		case same < 0:
			all = append(all, answered{[]string{reading.ID}, lines})
		case same > 0 && !slices.Contains(all[same].ids, reading.ID):
			all[same].ids = append(all[same].ids, reading.ID)
		}
	}
	return all, end, nil
}

// onSquares reports whether lines have their edges on ticks.
func (e *Exercise) onSquares(lines []line) bool {
	for _, l := range lines {
		for _, at := range l.at {
			if e.Square > 0 && at%e.Square != 0 {
				return false
			}
		}
	}
	return true
}

func (e *Exercise) option(letter string, a answered) Option {
	o := Option{Letter: letter, Right: len(a.ids) == 0, IDs: a.ids}
	for i, s := range e.signals() {
		o.Lines = append(o.Lines, Line{e.Asked[i], s, a.lines[i].edges()})
	}
	if o.Right {
		o.Feedback = "That is right."
		return o
	}
	r, _ := misread.Find(a.ids[0])
	o.Feedback = r.Feedback
	return o
}

// FeedbackAlone is Feedback for where nothing stands beside it: it names the other
// ideas that draw the same chart.
func (o *Option) FeedbackAlone() string {
	if len(o.IDs) < 2 {
		return o.Feedback
	}
	var names []string
	for _, id := range o.IDs[1:] {
		r, _ := misread.Find(id)
		names = append(names, "“"+r.Name+"”")
	}
	return o.Feedback + " This chart may also come from " + list(names, "or") + "."
}

// pictureWidth is the width of the charts of a question.
const pictureWidth = 180 * page.MM

// Drawing draws the circuit; of one on several pages, the first.
func (q *Question) Drawing() *page.Page {
	return schematic.Draw(q.Exercise.Circuit, schematic.Options{})[0]
}

// Stem draws what is given: the rows of hands and coils. Its time runs as on the
// pictures of the options, so that a press can be carried straight down.
func (q *Question) Stem() (*page.Page, error) {
	return chart.Draw(q.Exercise.Trace(), chart.Options{Rows: q.Exercise.Given, Beside: q.Exercise.Asked, Width: pictureWidth,
		Square: q.Exercise.Square, Uncut: true, NoLegend: true, Compact: true, Bare: true})
}

// Picture draws an option. All options of a question are drawn the same way, the
// right one too.
func (q *Question) Picture(o *Option) (*page.Page, error) {
	e := q.Exercise
	opt := chart.Options{Rows: e.Asked, Beside: e.Given, Blank: e.Asked, Width: pictureWidth, Square: e.Square,
		Uncut: true, NoStart: true, NoLegend: true, Compact: true, Bare: true}
	for _, l := range o.Lines {
		opt.Given = append(opt.Given, chart.Given{Row: l.Name, Levels: l.Levels, Word: o.Letter})
	}
	p, err := chart.Draw(e.Trace(), opt)
	if err != nil {
		return nil, err
	}
	p.Title = "Chart " + o.Letter
	p.Description = o.Words(e.Script.End)
	return p, nil
}
