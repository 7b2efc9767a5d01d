package tarry

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"tarry/chart"
	"tarry/circuit"
	"tarry/diag"
	"tarry/trace"
	"tarry/why"
)

// maxRows is how many instants, and maxSignals how many signals the text report
// shows; the files for other programs have them all.
const (
	maxRows    = 60
	maxSignals = 60
)

// A report of 0 columns asked for has defaultWidth; minWidth is what the charts
// need.
const (
	defaultWidth = 80
	minWidth     = 50
)

// report writes a run as text for a terminal.
type report struct {
	strings.Builder
	width int
	ascii bool
}

func newReport(width int, ascii bool) *report {
	if width == 0 {
		width = defaultWidth
	}
	return &report{width: width, ascii: ascii}
}

// units are not torn from the numbers before them.
var units = map[string]bool{"ms": true, "s": true, "min": true, "h": true, "V": true}

// words splits a text at its spaces, but leaves a number with its unit whole.
func words(text string) []string {
	var list []string
	for _, word := range strings.Fields(text) {
		last := len(list) - 1
		unit := units[strings.TrimRight(word, ".,;:)")]
		if unit && last >= 0 && strings.Trim(list[last], "0123456789.(") == "" {
			list[last] += " " + word
			continue
		}
		list = append(list, word)
	}
	return list
}

// fold writes text broken at spaces, the first line behind head and the others
// behind as many spaces.
func (r *report) fold(head, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(head))
	line := head
	room := 0
	for _, word := range words(text) {
		n := utf8.RuneCountInString(word)
		if room > 0 && utf8.RuneCountInString(line)+1+n > r.width {
			r.WriteString(strings.TrimRight(line, " ") + "\n")
			line, room = indent, 0
		}
		if room > 0 {
			line += " "
		}
		line += word
		room++
	}
	r.WriteString(strings.TrimRight(line, " ") + "\n")
}

func (r *report) heading(text string) {
	rule := "─"
	if r.ascii {
		rule = "-"
	}
	r.fold("", text)
	r.WriteString(strings.Repeat(rule, min(utf8.RuneCountInString(text), r.width)) + "\n")
}

// title writes what the circuit is about.
func (r *report) title(c *circuit.Circuit) {
	if c.Title != "" {
		r.fold("", c.Title)
	}
	if c.Station != "" {
		r.fold("Station   ", c.Station)
	}
	if voltage := c.Supply.String(); voltage != "" {
		r.fold("Supply    ", voltage)
	}
	for _, word := range []string{"aim", "trap", "caution"} {
		for _, text := range c.NotesOf(word) {
			r.fold(fmt.Sprintf("%-10s", strings.ToUpper(word[:1])+word[1:]), text)
		}
	}
	if r.Len() > 0 {
		r.WriteString("\n")
	}
}

// faults says that a text was not understood as a whole.
func (r *report) faults(list []diag.Diagnostic) {
	n := 0
	for i := range list {
		if list[i].Grade == diag.Error {
			n++
		}
	}
	if n == 0 {
		return
	}
	count := "1 fault"
	if n > 1 {
		count = fmt.Sprintf("%d faults", n)
	}
	r.fold("Faults    ", "The text has "+count+"; tarry check shows them. Only what was understood is run: this is not yet the circuit that you mean.")
	r.WriteString("\n")
}

// script writes one run and returns how many expectations failed.
func (r *report) script(t *trace.Trace, s *circuit.Script) int {
	r.heading("Script: " + s.Name)
	story := why.Story(t)
	more := max(len(story)-maxRows, 0)
	story = story[:len(story)-more]
	table := why.Tabulate(t, story)
	table.Columns = table.Columns[:min(len(table.Columns), maxSignals)]
	r.table(t.Circuit, table)
	if more > 0 {
		r.moreInstants(more)
	}
	r.WriteString("\nWhat happens, and why\n")
	for _, row := range table.Rows {
		r.fold(fmt.Sprintf("%4d  %-*s  ", row.Number, timeWidth(table), circuit.FormatTime(row.At)), strings.Join(row.Why, " "))
	}
	if more > 0 {
		r.moreInstants(more)
	}
	r.WriteString("\n")
	r.chart(t)
	r.notices(t)
	return r.expectations(t, s)
}

func (r *report) moreInstants(more int) {
	r.fold("      ", fmt.Sprintf("… and %d more instants: --csv has them all.", more))
}

// chart writes the chart, of the first signals where there are very many.
func (r *report) chart(t *trace.Trace) {
	if t.End == 0 {
		r.fold("", "The run ended at 0 s: there is nothing to chart.")
		return
	}
	opt := chart.TextOptions{Width: r.width, Ascii: r.ascii}
	signals := t.Signals()
	more := len(signals) - maxSignals
	if more > 0 {
		for _, s := range signals[:maxSignals] {
			opt.Rows = append(opt.Rows, t.Circuit.SignalName(s))
		}
	}
	text, err := chart.Text(t, opt)
	if err != nil {
		panic(err) // the rows are the trace's own
	}
	r.WriteString(text)
	if more > 0 {
		r.fold("", fmt.Sprintf("%d more signals are not shown: tarry chart --rows draws those you name, --csv has them all.", more))
	}
}

// table writes the states in blocks of as many columns as fit.
func (r *report) table(c *circuit.Circuit, table why.Table) {
	if len(table.Columns) == 0 {
		r.WriteString("No coil, load or timed contact is wired.\n")
		return
	}
	wide := 7
	for i, s := range table.Columns {
		wide = max(wide, utf8.RuneCountInString(c.SignalName(s))+1)
		for _, row := range table.Rows {
			wide = max(wide, len(stateWord(s, row.States[i])))
		}
	}
	lead := timeWidth(table)
	fit := max((r.width-8-lead)/(wide+1), 1)
	for from := 0; from < len(table.Columns); from += fit {
		if from > 0 {
			r.WriteString("\n")
		}
		to := min(from+fit, len(table.Columns))
		r.block(c, table, from, to, fmt.Sprintf("  %%-%ds", lead), fmt.Sprintf(" %%-%ds", wide))
	}
	r.WriteString("* changed   ! there and back at one instant\n")
}

// timeWidth is how wide the column of times is.
func timeWidth(table why.Table) int {
	wide := 8
	for _, row := range table.Rows {
		wide = max(wide, len(circuit.FormatTime(row.At)))
	}
	return wide
}

// block writes the columns between two places; time and cell are the formats of
// a row's time and of each state.
func (r *report) block(c *circuit.Circuit, table why.Table, from, to int, time, cell string) {
	line := "step" + fmt.Sprintf(time, "time") + " "
	for _, s := range table.Columns[from:to] {
		line += fmt.Sprintf(cell, c.SignalName(s))
	}
	r.WriteString(strings.TrimRight(line, " ") + "\n")
	for _, row := range table.Rows {
		line := fmt.Sprintf("%4d"+time+" ", row.Number, circuit.FormatTime(row.At))
		for i := from; i < to; i++ {
			line += fmt.Sprintf(cell, stateWord(table.Columns[i], row.States[i]))
		}
		r.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// stateWord is a state with its marks.
func stateWord(s circuit.Signal, state why.State) string {
	word := trace.ValueWord(s, state.On)
	if state.Changed {
		word += "*"
	}
	if state.Pulsed {
		word += "!"
	}
	return word
}

// notices lists what the learner should look at.
func (r *report) notices(t *trace.Trace) {
	for i, n := range t.Notices {
		if i == 0 {
			r.WriteString("\nNotices\n")
		}
		if i == maxRows {
			r.fold("  ", fmt.Sprintf("… and %d more notices.", len(t.Notices)-maxRows))
			return
		}
		r.fold(fmt.Sprintf("  %-8s  ", circuit.FormatTime(n.At)), why.Notice(t, n))
	}
}

// expectations lists what should have come out and whether it did.
func (r *report) expectations(t *trace.Trace, s *circuit.Script) int {
	failed := 0
	for i, v := range t.CheckAll(s) {
		if i == 0 {
			r.WriteString("\nExpectations\n")
		}
		if !v.OK {
			failed++
		}
		r.fold("  "+mark(v.OK, r.ascii)+" ", why.Verdict(t, v))
	}
	return failed
}

func mark(ok, ascii bool) string {
	switch {
	case ascii && ok:
		return "ok   "
	case ascii:
		return "WRONG"
	case ok:
		return "✓"
	}
	return "✗"
}

// assumptions writes what the times rest on, and the standing caution.
func (r *report) assumptions(c *circuit.Circuit) {
	r.WriteString("\n")
	r.fold("Assumed   ", strings.Join(why.Assumptions(c), " "))
	r.fold("Caution   ", circuit.StandingCaution)
}
