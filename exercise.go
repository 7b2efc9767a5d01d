package tarry

import (
	"fmt"
	"slices"
	"strings"

	"tarry/chart"
	"tarry/circuit"
	"tarry/exercise"
	"tarry/page"
	"tarry/page/pdf"
	paper "tarry/report"
	"tarry/sheet"
	"tarry/trace"
)

// ExerciseRequest asks for exercises of one difficulty: of a level, or variants of
// a circuit where no level is named.
type ExerciseRequest struct {
	Source
	Style
	Level   string
	Script  string   // of a circuit: name or number; empty means the first
	Asked   []string // of a circuit: rows to be drawn; empty means what it drives
	Count   int
	Form    string // one of ExerciseForms; empty is pdf
	Paper   string // "a4" or "letter"
	Variant string // the code that makes the same exercises again
	// Header and HeaderFile, as in SheetRequest, stand in the title blocks, but for the
	// variant and the number of the exercise, which are each exercise's own.
	Header     sheet.Header
	HeaderFile []byte
	Desk       []byte // the desk as HTML, for a lesson
	// Faded makes five sheets of each exercise (pdf only): from one with nearly all
	// drawn already to one with nothing but the hands.
	Faded bool
}

// mostExercises is how many a set may have: a file of more is larger than a test
// system takes, and takes minutes to make.
const mostExercises = 500

// ExerciseForms are the forms of ExerciseRequest: sheets with their keys, a lesson
// for the browser, and packages for other people's test systems.
var ExerciseForms = []string{"pdf", "lesson", "qti21", "qti12"}

// NamedFile is a finished file under the name that it is to have.
type NamedFile struct {
	Name string
	Data []byte
}

// Exercises are finished files, and what could not be made.
type Exercises struct {
	Checked
	Files  []NamedFile
	Remark string
}

// ExerciseLevels lists the levels with a line about each.
func ExerciseLevels() [][2]string {
	var list [][2]string
	for _, l := range exercise.Levels() {
		list = append(list, [2]string{l.Name, l.About})
	}
	return list
}

// MakeExercises makes exercises. The same request gives the same bytes.
func MakeExercises(r ExerciseRequest) (out Exercises, err error) {
	defer guard(r.Source, &err)
	form, ok := pick(r.Form, ExerciseForms)
	if !ok {
		return out, badInput("there is no form %q; %s", r.Form, choice(r.Form, ExerciseForms, "forms"))
	}
	size, ok := pick(r.Paper, papers)
	if !ok {
		return out, badInput("there is no paper %q; %s", r.Paper, choice(r.Paper, papers, "papers"))
	}
	style, err := r.Style.options()
	if err != nil {
		return out, err
	}
	header, err := filledHeader(r.Header, r.HeaderFile)
	if err != nil {
		return out, err
	}
	if r.Faded && ExerciseForms[form] != "pdf" {
		return out, badInput("faded exercises are sheets of paper: leave the form out, or take pdf")
	}
	if r.Count > mostExercises {
		return out, badInput("%d exercises are too many for one set; ask for %d at most, and for more with other codes", r.Count, mostExercises)
	}
	list, base, err := r.made(&out)
	if err != nil {
		return out, err
	}
	if r.Faded {
		base += "-faded"
	}
	b := exerciseBook{list: list, base: base + "-" + list[0].Code, faded: r.Faded, out: &out}
	b.opt = sheet.Options{Header: header, Paper: sheet.Paper(size), Symbols: style.Symbols, Layout: style.Layout, NoWords: style.NoWords, Faults: faultLines(out.Checked)}
	switch ExerciseForms[form] {
	case "lesson":
		err = b.lesson(r.Desk)
	case "qti21":
		err = b.exchange("qti21", exercise.QTI21)
	case "qti12":
		err = b.exchange("qti12", exercise.QTI12)
	default:
		err = b.sheets()
	}
	return out, err
}

// made makes the exercises and the beginning of their files' names.
func (r *ExerciseRequest) made(out *Exercises) ([]exercise.Exercise, string, error) {
	code, err := exercise.Code(r.Variant)
	if err != nil {
		return nil, "", badInput("%s", strings.TrimPrefix(err.Error(), "exercise: "))
	}
	var list []exercise.Exercise
	base := strings.ToLower(r.Level)
	if r.Level != "" {
		list, err = exercise.Make(r.Level, code, r.Count)
	} else {
		c, checked := read(r.Source)
		out.Checked = checked
		if words := sheet.ReadOnly(c); words != "" {
			return nil, "", badInput("no exercise is made of this circuit, for its caution says: %s", words)
		}
		opt := exercise.VaryOptions{Asked: r.Asked}
		if r.Script != "" {
			named, err := scripts(c, r.Script)
			if err != nil {
				return nil, "", err
			}
			opt.Script = named[0].Name
		}
		base = baseName(r.Source.Name)
		list, err = exercise.Vary(r.Source.Name, r.Source.Text, code, r.Count, opt)
	}
	if err != nil {
		return nil, "", badInput("%s", strings.TrimPrefix(err.Error(), "exercise: "))
	}
	return list, base, nil
}

// exerciseBook is a list of exercises on its way to files.
type exerciseBook struct {
	list  []exercise.Exercise
	base  string // of the files' names
	opt   sheet.Options
	faded bool
	out   *Exercises
}

func (b *exerciseBook) title() string {
	e := &b.list[0]
	return fmt.Sprintf("%s, variant %s", e.Level, e.Code)
}

func (b *exerciseBook) file(suffix string, data []byte) {
	b.out.Files = append(b.out.Files, NamedFile{b.base + suffix, data})
}

// printed writes pages as PDF.
func (b *exerciseBook) printed(suffix, title string, pages []*page.Page) error {
	r, err := pdf.Encode(pages, pdf.Options{Title: title, Outline: outlineOf(pages)})
	if err != nil {
		return err
	}
	b.out.Remark = strings.Trim(b.out.Remark+"; "+missingWords(r.Missing), "; ")
	b.file(suffix, r.Bytes)
	return nil
}

// outlineOf has a bookmark for each title, at its first page.
func outlineOf(pages []*page.Page) []pdf.Bookmark {
	var list []pdf.Bookmark
	for i, p := range pages {
		if n := len(list); n == 0 || list[n-1].Title != p.Title {
			list = append(list, pdf.Bookmark{Title: p.Title, Page: i})
		}
	}
	return list
}

// sheets makes one PDF.
func (b *exerciseBook) sheets() error {
	set, err := b.sheetParts()
	if err != nil {
		return err
	}
	file, missing, err := printed(set, false, "Exercises: "+b.title(), "")
	if err != nil {
		return err
	}
	b.out.Remark = strings.Trim(b.out.Remark+"; "+missingWords(missing), "; ")
	b.file(".pdf", file.Data)
	return nil
}

// sheetParts are a sheet for each exercise, or for each of its steps, and the keys.
func (b *exerciseBook) sheetParts() ([]sheet.Part, error) {
	var tasks []sheet.Task
	var keys []sheet.TaskKey
	for i := range b.list {
		e := &b.list[i]
		name, played := fmt.Sprintf("Exercise %d", e.Number), e.Trace()
		keys = append(keys, sheet.TaskKey{Name: name + ": " + e.Title, Words: strings.Join(e.Key(), " "), Trace: played, Chart: e.KeyOptions()})
		if !b.faded {
			tasks = append(tasks, b.task(e, played, name, e.Asked, nil, e.ChartOptions()))
			continue
		}
		for _, f := range e.Faded() {
			tasks = append(tasks, b.task(e, played, fmt.Sprintf("%s, step %d of 5", name, f.Step), f.Blank, f.Told, f.ChartOptions()))
		}
	}
	return sheet.Tasks("Exercises: "+b.title(), tasks, keys, b.opt)
}

// task is what an exercise, or one of its steps, asks on paper: told are edges that
// it gives in words.
func (b *exerciseBook) task(e *exercise.Exercise, played *trace.Trace, name string, asked, told []string, opt chart.Options) sheet.Task {
	words := []string{"Draw " + joined(asked) + " on the chart. The presses: " + exercise.ScriptWords(e.Circuit, e.Script) + "."}
	if len(told) > 0 {
		words = append(words, "You are told: "+strings.TrimSuffix(strings.Join(told, " "), ".")+".")
	}
	return sheet.Task{Name: name, About: e.Title, Number: fmt.Sprint(e.Number), Variant: e.Code, Words: words, Trace: played, Chart: opt}
}

// joined lists words: "H1, H2 and H3".
func joined(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// lesson makes one HTML file in which the asked rows are predicted.
func (b *exerciseBook) lesson(desk []byte) error {
	r := LessonRequest{Page: desk, Title: b.title(), Script: "1"}
	for i := range b.list {
		e := &b.list[i]
		r.Squares = append(r.Squares, e.Square)
		r.Circuits = append(r.Circuits, Source{Name: fmt.Sprintf("%s-%d", b.base, e.Number), Text: e.Text})
		for _, row := range e.Asked {
			if !slices.Contains(r.Predict, row) {
				r.Predict = append(r.Predict, row)
			}
		}
	}
	out, err := Pack(r)
	if err != nil {
		return err
	}
	b.file("-lesson.html", out.HTML)
	return nil
}

// exchange makes a package of questions and the page that says what should be seen
// after it was taken in.
func (b *exerciseBook) exchange(form string, pack func(*exercise.Set) ([]byte, error)) error {
	set := exercise.Set{Title: "Exercises: " + b.title(), Code: b.list[0].Code}
	var without []string
	for i := range b.list {
		q, err := exercise.Choices(&b.list[i], exercise.ChoiceOptions{})
		if err != nil {
			without = append(without, fmt.Sprint(b.list[i].Number))
			continue
		}
		set.Questions = append(set.Questions, q)
	}
	if len(set.Questions) == 0 {
		return badInput("no misreading gives a wrong chart for these exercises, so there is nothing to choose from; make sheets instead, with --format pdf")
	}
	if len(without) > 0 {
		b.out.Remark = "no wrong chart was found for exercise " + joined(without) + ": left out"
	}
	data, err := pack(&set)
	if err != nil {
		return err
	}
	b.file("-"+form+".zip", data)
	return b.afterImport(form, &set)
}

// afterImport is the page to hold beside the test system.
func (b *exerciseBook) afterImport(form string, set *exercise.Set) error {
	pages, err := b.importPages(form, set)
	if err != nil {
		return err
	}
	return b.printed("-"+form+"-after-import.pdf", "After import: "+set.Title, pages)
}

func (b *exerciseBook) importPages(form string, set *exercise.Set) ([]*page.Page, error) {
	d := paper.New("After import: "+set.Title, paper.Paper(b.opt.Paper))
	d.Sheet("What should be seen after import", b.base+"-"+form+".zip")
	d.Words(fmt.Sprintf("Take the file in as it is, without unpacking it. There should be one test, “%s”, with %s.",
		set.Title, counted(len(set.Questions), "question")),
		"Each question shows the circuit, the rows that are given, and a choice of charts, of which one is right. "+
			"Choose a wrong chart once: its own feedback should appear, and no points. If pictures are missing, or a question has other charts than here, do not use the test.",
		"The first question stands here with its pictures, as it should look.")
	for i, q := range set.Questions {
		e := q.Exercise
		d.Heading(fmt.Sprintf("Question %d: %s (%s %d)", i+1, e.Title, e.Code, e.Number))
		d.Words(q.Prompt)
		if i == 0 {
			d.Gap(250)
			d.Picture(q.Drawing(), 15000)
			charts, err := chartsOf(q)
			if err != nil {
				return nil, err
			}
			d.Picture(charts, 0)
		}
		var rows [][]string
		for k := range q.Options {
			o := &q.Options[k]
			right := ""
			if o.Right {
				right = "right"
			}
			rows = append(rows, []string{o.Letter, o.Words(e.Script.End), right, o.FeedbackAlone()})
		}
		d.Table([]paper.Column{{Head: "", Share: 1}, {Head: "Chart", Share: 9}, {Head: "", Share: 2}, {Head: "Feedback", Share: 10}}, rows)
	}
	return d.Pages(), nil
}

// chartsOf puts the chart that is given and those to choose from below each other
// on one page, so that a press can be carried straight down through all of them.
func chartsOf(q *exercise.Question) (*page.Page, error) {
	all, err := q.Stem()
	if err != nil {
		return nil, err
	}
	for i := range q.Options {
		p, err := q.Picture(&q.Options[i])
		if err != nil {
			return nil, err
		}
		at := page.Point{Y: all.Height + 300}
		for _, e := range p.Elements {
			e.Shape = page.Moved(e.Shape, at, 100, 0)
			all.Add(e)
		}
		all.Height = at.Y + p.Height
		all.Description += " " + p.Title + ": " + p.Description
	}
	return all, nil
}

// counted writes a number with its word: 1 item, 2 items.
func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// handsOnly reports whether hands alone move a signal's device.
func handsOnly(c *circuit.Circuit, s circuit.Signal) bool {
	return len(c.Devices[s.Device].Kind.Info().Loads) == 0
}
