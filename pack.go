package tarry

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"tarry/chart"
	"tarry/circuit"
)

// LessonRequest asks for a lesson: the browser desk with chosen circuits in it.
type LessonRequest struct {
	// Page is the desk as HTML.
	Page     []byte
	Title    string // empty means the first circuit's
	Circuits []Source
	// Editor lets the learner change the circuits.
	Editor bool
	// Script is the run to begin with, by name or number, the same for all
	// circuits; empty leaves the hands free.
	Script string
	// Predict names the rows to be drawn before the run is seen, for each
	// circuit that has them; "all" means timed contacts, lamps, contactors and
	// motors.
	Predict []string
	// Squares are how wide a learner's squares are, by circuit; those that are missing
	// or 0 are chosen by the desk.
	Squares []time.Duration
	// Plain makes no lesson of it: the whole desk, with the first circuit on it.
	Plain bool
}

// Lesson is a lesson as one HTML file.
type Lesson struct {
	HTML []byte
	// Listing tells the faults of the circuits as text for a terminal.
	Listing string
	Errors  bool
}

// lessonVersion is the form of the lesson's data; a desk that is older than the
// form says so instead of showing a part of it.
const lessonVersion = 1

type lessonData struct {
	Format   string          `json:"format"`
	Version  int             `json:"version"`
	Title    string          `json:"title"`
	Editor   bool            `json:"editor"`
	Plain    bool            `json:"plain"`
	Circuits []lessonCircuit `json:"circuits"`
}

type lessonCircuit struct {
	Name    string   `json:"name"`
	Text    string   `json:"text"`
	Predict []string `json:"predict"`
	Script  int      `json:"script"` // -1 for none
	// Square is the width of a learner's squares, 0 for one of the desk's choice.
	Square time.Duration `json:"square,omitzero"`
}

// lessonPlace is the element of the desk that a lesson takes the place of.
var lessonPlace = []byte(`<script type="application/json" id="lesson">null</script>`)

// Pack makes a lesson. The circuits go into the page as data: no text of theirs
// can end its element or be run.
func Pack(r LessonRequest) (out Lesson, err error) {
	if len(r.Circuits) == 0 {
		return out, badInput("a lesson needs at least one circuit")
	}
	defer guard(r.Circuits[0], &err)
	at := bytes.Index(r.Page, lessonPlace)
	if at < 0 {
		return out, badInput("the page is not the desk, or is a lesson already: there is no place in it for one")
	}
	data := lessonData{Format: "tarry lesson", Version: lessonVersion, Title: r.Title, Editor: r.Editor || r.Plain, Plain: r.Plain}
	found := map[string]bool{}
	for i, s := range r.Circuits {
		c, checked := read(s)
		out.Listing, out.Errors = out.Listing+checked.Listing, out.Errors || checked.Errors
		one, err := r.circuit(c, s, found)
		if err != nil {
			return out, err
		}
		if data.Title == "" {
			data.Title = c.Title
		}
		if i < len(r.Squares) {
			one.Square = r.Squares[i]
		}
		data.Circuits = append(data.Circuits, one)
	}
	for _, row := range r.Predict {
		if row != allRows && !found[row] {
			return out, badInput("no circuit of the lesson has a row %q to predict", row)
		}
	}
	text, err := json.Marshal(data) // writes <, > and & as \u003c and so on
	if err != nil {
		panic(err) // plain data always encodes
	}
	block := slices.Concat([]byte(`<script type="application/json" id="lesson">`), text, []byte(`</script>`))
	out.HTML = slices.Concat(r.Page[:at], block, r.Page[at+len(lessonPlace):])
	return out, nil
}

// allRows stands for every row that can be asked for.
const allRows = "all"

// circuit makes one circuit of a lesson and notes which rows it has.
func (r *LessonRequest) circuit(c *circuit.Circuit, s Source, found map[string]bool) (lessonCircuit, error) {
	out := lessonCircuit{Name: baseName(s.Name), Text: string(s.Text), Predict: []string{}, Script: -1}
	if r.Script != "" {
		list, err := scripts(c, r.Script)
		if err != nil {
			return out, err
		}
		out.Script = scriptNumber(c, list[0]) - 1
	}
	if len(r.Predict) == 0 {
		return out, nil
	}
	list, err := scripts(c, r.Script)
	if err != nil {
		return out, err
	}
	for _, row := range chart.Rows(runOne(c, list[0])) {
		if strings.HasSuffix(row, ".elapsed") || row == "supply" {
			continue
		}
		if slices.Contains(r.Predict, row) || slices.Contains(r.Predict, allRows) && follows(c, row) {
			out.Predict = append(out.Predict, row)
			found[row] = true
		}
	}
	if len(out.Predict) > 0 {
		out.Script = max(out.Script, 0)
	}
	return out, nil
}

// baseName is a file's name without folder and ending.
func baseName(name string) string {
	if i := strings.LastIndexAny(name, `/\`); i >= 0 {
		name = name[i+1:]
	}
	return strings.TrimSuffix(name, ".tarry")
}
