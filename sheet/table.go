package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/page"
	"tarry/trace"
	"tarry/why"
)

// StateTable is the state table of a run in words.
type StateTable struct {
	Script string
	// Signals names the columns: each coil, timed contact and load.
	Signals []string
	Rows    []StateRow
	// More is how many instants were left out at the end of a very long run.
	More int
	// Ends says when and how the run ends.
	Ends string
}

// StateRow is one step of a run.
type StateRow struct {
	Step int // 0 is the start
	Time string
	Did  string // what a hand or the supply did; empty for nothing
	Why  string // what changed and because of what
	// States are one for each signal.
	States []StateCell
}

// StateCell is the state of one signal after a step.
type StateCell struct {
	Word            string // on, off, closed, open
	On              bool
	Changed, Pulsed bool // pulsed: there and back at this instant
}

// maxSteps is how many steps a table on paper has.
const maxSteps = 120

// StateTableOf makes the state table of a run.
func StateTableOf(t *trace.Trace) StateTable {
	story := why.Story(t)
	more := max(len(story)-maxSteps, 0)
	table := why.Tabulate(t, story[:len(story)-more])
	out := StateTable{Script: t.Script, More: more, Ends: endWords(t)}
	for _, s := range table.Columns {
		out.Signals = append(out.Signals, t.Circuit.SignalName(s))
	}
	for _, r := range table.Rows {
		row := StateRow{Step: r.Number, Time: circuit.FormatTime(r.At), Did: sentences(r.Acts), Why: strings.Join(r.Why, " ")}
		for i, s := range r.States {
			row.States = append(row.States, StateCell{trace.ValueWord(table.Columns[i], s.On), s.On, s.Changed, s.Pulsed})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// sentences makes one line of clauses.
func sentences(clauses []string) string { return strings.Join(clauses, "; ") }

// endWords says when a run ends, and how if it was not the script's end.
func endWords(t *trace.Trace) string {
	words := "The run ends at " + circuit.FormatTime(t.End)
	if t.Ending != trace.Finished && t.Ending != trace.Running {
		words += ": " + t.Ending.String()
	}
	return words + "."
}

func (s *setter) tableBlankPages() []*page.Page { return s.tablePages(false) }

func (s *setter) tableFilledPages() []*page.Page { return s.tablePages(true) }

// tablePages is the state table of each script, filled or to be filled in.
func (s *setter) tablePages(filled bool) []*page.Page {
	k := look{name: "State table", landscape: true, audience: forLearner}
	if filled {
		k.name, k.audience, k.assumptions = "State table, filled", forKey, true
	}
	var pages []*page.Page
	for _, t := range s.traces {
		k.about = "Script: " + t.Script
		pages = append(pages, s.flow(k, func(width page.Unit) []strip { return stateStrips(t, filled, width) })...)
	}
	return pages
}

// Widths of a state table.
const (
	frameRoom   page.Unit = 200  // of a signal's column, beside the longest word
	pulseRoom   page.Unit = 180  // more where pulses of no width are marked
	stepsWidth  page.Unit = 3000 // of step and time
	wordsWidth  page.Unit = 9000 // of what was done and why, at least
	blankHeight page.Unit = 950  // of a row to write in
)

// stateStrips is one table. Signals that do not fit beside the words follow in
// a table of their own.
func stateStrips(t *trace.Trace, filled bool, width page.Unit) []strip {
	table := StateTableOf(t)
	room := page.Width("closed", bodySize, true) + 2*cellPad + frameRoom
	for _, name := range table.Signals {
		tag, _, _ := strings.Cut(name, ".")
		room = max(room, min(page.Width(tag, noteSize, true)+2*cellPad+10, 2500))
	}
	if filled && table.pulsed() {
		room += pulseRoom
	}
	n := len(table.Signals)
	fit := min(n, int((width-stepsWidth-wordsWidth)/room))
	list := table.grid(0, fit, filled, true, room).strips(width)
	for from := fit; from < n; from = fit {
		fit = min(n, from+int((width-stepsWidth)/room))
		list = append(list, heading("The same steps, more signals")...)
		list = append(list, table.grid(from, fit, filled, false, room).strips(stepsWidth+page.Unit(fit-from)*room)...)
	}
	return noted(list, table.legend(filled, width))
}

func (table *StateTable) pulsed() bool {
	for _, r := range table.Rows {
		for _, c := range r.States {
			if c.Pulsed {
				return true
			}
		}
	}
	return false
}

// grid is the table with the signals from one to another, and with or without
// the words.
func (table *StateTable) grid(from, to int, filled, worded bool, room page.Unit) *grid {
	g := &grid{columns: []column{{head: "Step", middle: true}, {head: "Time"}}}
	if worded {
		g.columns = append(g.columns, column{head: "What a hand or the supply did", share: 3}, column{head: "What changed, and why", share: 5, ruled: true})
	}
	for _, name := range table.Signals[from:to] {
		g.columns = append(g.columns, column{head: strings.Replace(name, ".", "\n", 1), least: room, most: room, middle: true, ruled: true})
	}
	if !filled {
		g.least = blankHeight
	}
	for _, r := range table.Rows {
		g.rows = append(g.rows, row{cells: r.cells(from, to, filled, worded)})
	}
	return g
}

func (r *StateRow) cells(from, to int, filled, worded bool) []cell {
	cells := []cell{{words: strconv.Itoa(r.Step)}, {words: r.Time}}
	did := r.Did
	switch {
	case did == "" && r.Step == 0:
		did = "Start: the supply is on, nothing is operated"
	case did == "":
		did = "–"
	}
	if worded {
		cells = append(cells, cell{words: did})
	}
	if !filled {
		return cells
	}
	if worded {
		cells = append(cells, cell{words: r.Why})
	}
	for _, s := range r.States[from:to] {
		cells = append(cells, cell{words: s.Word, bold: s.On, framed: s.Changed, pulsed: s.Pulsed})
	}
	return cells
}

// legend says what the marks mean, and what was left out.
func (table *StateTable) legend(filled bool, width page.Unit) []strip {
	words := table.Ends
	if table.More > 0 {
		words = fmt.Sprintf("%d more instants are left out. ", table.More) + words
	}
	if !filled {
		return paragraph("Write on or off, closed or open, and draw a frame round everything that has changed in a step. "+words, noteSize, width)
	}
	marks := strip{height: lineOf(noteSize) + 220, draw: func(f *frame, at page.Point) {
		at = at.Add(0, 120)
		f.page.Add(page.Element{Shape: page.Rect{Box: page.Box{Min: at.Add(20, -100), Max: at.Add(620, 250)}},
			Style: page.Style{Weight: page.Thin}, Shows: page.Shows{Class: "changed"}})
		f.lines(at.Add(780, 0), []string{"changed in this step"}, noteSize, false, "legend")
		if table.pulsed() {
			f.pulse(at.Add(5000, 80))
			f.lines(at.Add(5200, 0), []string{"there and back at this instant"}, noteSize, false, "legend")
		}
	}}
	return append(followed([]strip{marks}), paragraph(words, noteSize, width)...)
}
