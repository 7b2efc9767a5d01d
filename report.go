package tarry

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"tarry/chart"
	"tarry/circuit"
	"tarry/trace"
	"tarry/why"
)

// maxRows is how many instants, and maxSignals how many signals the text report
// shows; the files for other programs have them all.
const (
	maxRows    = 60
	maxSignals = 60
)

// report writes a run as text for a terminal.
type report struct {
	strings.Builder
	width int
	ascii bool
}

// fold writes text broken at spaces, the first line behind head and the others
// behind as many spaces.
func (r *report) fold(head, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(head))
	line := head
	room := 0
	for _, word := range strings.Fields(text) {
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
	fmt.Fprintf(r, "%s\n%s\n", text, strings.Repeat(rule, min(utf8.RuneCountInString(text), r.width)))
}

// title writes what the circuit is about.
func (r *report) title(c *circuit.Circuit) {
	if c.Title != "" {
		r.fold("", c.Title)
	}
	if c.Station != "" {
		r.fold("Station   ", c.Station)
	}
	for _, word := range []string{"aim", "trap", "caution"} {
		for _, text := range c.NotesOf(word) {
			r.fold(fmt.Sprintf("%-10s", strings.ToUpper(word[:1])+word[1:]), text)
		}
	}
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
	r.WriteString("\nWhat happens, and why\n")
	for _, row := range table.Rows {
		r.fold(fmt.Sprintf("%4d  %-8s  ", row.Number, circuit.FormatTime(row.At)), strings.Join(row.Why, " "))
	}
	if more > 0 {
		r.fold("      ", fmt.Sprintf("… and %d more instants: --csv has them all.", more))
	}
	r.WriteString("\n")
	r.chart(t)
	r.notices(t)
	return r.expectations(t, s)
}

// chart writes the chart, of the first signals where there are very many.
func (r *report) chart(t *trace.Trace) {
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
	var names []string
	wide := 7
	for _, s := range table.Columns {
		names = append(names, c.SignalName(s))
		wide = max(wide, utf8.RuneCountInString(names[len(names)-1]))
	}
	fit := max((r.width-16)/(wide+1), 1)
	for from := 0; from < len(names); from += fit {
		to := min(from+fit, len(names))
		if from > 0 {
			r.WriteString("\n")
		}
		line := "step  time    "
		for _, name := range names[from:to] {
			line += fmt.Sprintf("  %-*s", wide-1, name)
		}
		r.WriteString(strings.TrimRight(line, " ") + "\n")
		for _, row := range table.Rows {
			r.states(row, table.Columns, from, to, wide)
		}
	}
	r.WriteString("* changed   ! there and back at one instant\n")
}

func (r *report) states(row why.Row, columns []circuit.Signal, from, to, wide int) {
	line := fmt.Sprintf("%4d  %-8s", row.Number, circuit.FormatTime(row.At))
	for i := from; i < to; i++ {
		s := row.States[i]
		mark := ""
		if s.Changed {
			mark = "*"
		}
		if s.Pulsed {
			mark += "!"
		}
		line += fmt.Sprintf("  %-*s", wide-1, trace.ValueWord(columns[i], s.On)+mark)
	}
	r.WriteString(strings.TrimRight(line, " ") + "\n")
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
