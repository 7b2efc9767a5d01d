package tarry

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"tarry/answer"
	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
	"tarry/trace"
)

// Laid is text laid out for a terminal.
type Laid struct {
	Checked
	Output []byte
}

// Columns is how a text is laid out. The zero value is 80 columns.
type Columns struct {
	Width int  // 50 or more; 0 is 80
	Ascii bool // no box characters
}

// report begins a text, or says that it would be too narrow.
func (k Columns) report() (*report, error) {
	if k.Width != 0 && k.Width < minWidth {
		return nil, badInput("a report needs %d columns, not %d", minWidth, k.Width)
	}
	return newReport(k.Width, k.Ascii), nil
}

// MisreadList lists the misreadings, a line each. Those that cannot be run say so.
func MisreadList() (out Laid, err error) {
	defer guard(Source{Name: "misreadings"}, &err)
	var b strings.Builder
	section := ""
	for _, r := range misread.All() {
		if r.Section != section {
			if section != "" {
				b.WriteString("\n")
			}
			section = r.Section
			b.WriteString(sectionWords[section] + "\n")
		}
		note := ""
		if r.NotRun != "" {
			note = "  (cannot be run)"
		}
		fmt.Fprintf(&b, "  %-5s %s%s\n", r.ID, r.Name, note)
	}
	out.Output = []byte(b.String())
	return out, nil
}

var sectionWords = map[string]string{"A": "A single timed contact", "B": "Circuits", "C": "Controllers"}

// MisreadIDs lists the IDs of the misreadings with their names.
func MisreadIDs() [][2]string {
	var list [][2]string
	for _, r := range misread.All() {
		list = append(list, [2]string{r.ID, r.Name})
	}
	return list
}

// findReading finds a misreading or says which there are.
func findReading(id string) (misread.Reading, error) {
	r, known := misread.Find(strings.TrimSpace(id))
	if !known {
		return r, badInput("there is no misreading %q: they run from M01 to M20, C01 to C14 and P01 to P17; tarry misread list names them all", id)
	}
	return r, nil
}

// MisreadShow lays out what is known of a misreading: what the learner believes,
// what shows it false, what to say, and a circuit in which it gives a wrong answer,
// with the misreadings that give the same one there.
func MisreadShow(id string, k Columns) (out Laid, err error) {
	defer guard(Source{Name: id}, &err)
	w, err := k.report()
	if err != nil {
		return out, err
	}
	r, err := findReading(id)
	if err != nil {
		return out, err
	}
	w.heading(r.ID + " · " + r.Name)
	w.fold("Belief       ", r.Belief)
	w.fold("Shown false  ", r.Rebuttal)
	w.fold("To say       ", r.Feedback)
	if r.NotRun != "" {
		w.fold("Not run      ", r.NotRun)
	}
	if r.Example.File == "" {
		out.Output = []byte(w.String())
		return out, nil
	}
	c, s, signals := r.Example.Item()
	w.fold("Example      ", fmt.Sprintf("%s, script %q, asked: %s", c.Title, s.Name, strings.Join(r.Example.Signals, ", ")))
	if r.NotRun == "" {
		for _, g := range misread.Coincide(c, s, signals, runnable()) {
			if slices.Contains(g.IDs, r.ID) {
				w.fold("There        ", g.Sentence)
			}
		}
	}
	w.WriteString("\n" + strings.TrimRight(r.Example.Text(), "\n") + "\n")
	if r.NotRun == "" {
		w.WriteString("\n")
		if _, err := w.misreading(misread.NewRunner(c, engine.Options{}), c, s, []string{r.ID}); err != nil {
			return out, err
		}
	}
	out.Output = []byte(w.String())
	return out, nil
}

// runnable lists the IDs of the misreadings that can be run.
func runnable() []string {
	var ids []string
	for _, r := range misread.All() {
		if r.NotRun == "" {
			ids = append(ids, r.ID)
		}
	}
	return ids
}

// MisreadRequest asks for a run as a learner thinks it.
type MisreadRequest struct {
	Source
	Columns
	// As are the IDs: one, or several of a single timed contact held at once.
	As     []string
	Script string // name or number; empty means all
}

// MisreadRun runs scripts as a learner thinks who has a misreading, beside the
// right run, and says what differs.
func MisreadRun(r MisreadRequest) (out Laid, err error) {
	defer guard(r.Source, &err)
	w, err := r.Columns.report()
	if err != nil {
		return out, err
	}
	c, checked := read(r.Source)
	out.Checked = checked
	ids, err := knownIDs(r.As)
	if err != nil {
		return out, err
	}
	if len(ids) == 0 {
		return out, badInput("no misreading is named; --as M05 names one, and tarry misread list lists them")
	}
	list, err := scripts(c, r.Script)
	if err != nil {
		return out, err
	}
	w.title(c)
	w.faults(out.Diagnostics)
	for _, id := range ids {
		reading, _ := misread.Find(id)
		w.fold(fmt.Sprintf("%-10s", id), reading.Name+". "+reading.Belief)
	}
	runner := misread.NewRunner(c, engine.Options{})
	for _, s := range list {
		w.WriteString("\n")
		if _, err := w.misreading(runner, c, s, ids); err != nil {
			return out, err
		}
	}
	w.WriteString("\n")
	w.fold("Mind      ", "This is what a learner may think, run on the same engine. Only the lines marked “right” are what happens.")
	w.fold("Caution   ", circuit.StandingCaution)
	out.Output = []byte(w.String())
	return out, nil
}

// knownIDs finds misreadings and writes their IDs as the catalogue does.
func knownIDs(list []string) ([]string, error) {
	var ids []string
	for _, id := range list {
		r, err := findReading(id)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(ids, r.ID) {
			ids = append(ids, r.ID)
		}
	}
	return ids, nil
}

// pairOfLines is a row as it is and as the learner draws it.
type pairOfLines struct {
	name         string
	signal       circuit.Signal
	right, given []trace.Edge
	wrong        answer.Wrong
	differs      bool
}

// misreading writes a script's run both ways and returns how many rows differ.
func (r *report) misreading(runner *misread.Runner, c *circuit.Circuit, s *circuit.Script, ids []string) (int, error) {
	p, err := runner.Play(s, ids...)
	if err != nil {
		return 0, badInput("%s", strings.TrimPrefix(err.Error(), "misread: "))
	}
	ending, from := p.Trace.Ending, p.End
	given := map[string][]trace.Edge{}
	right := runOne(c, s)
	var rows []pairOfLines
	for _, name := range chart.Rows(right) {
		if signal, known := c.FindSignal(name); known {
			given[name] = slices.Clone(p.Edges(signal))
			row := pairOfLines{name: name, signal: signal, right: right.Edges(signal), given: given[name]}
			row.wrong, row.differs = answer.FirstWrong(row.right, row.given, right.End, 0)
			rows = append(rows, row)
		}
	}
	r.heading("Script: " + s.Name)
	if right.End == 0 {
		r.fold("", "The run ended at 0 s: there is nothing to compare.")
		return 0, nil
	}
	more := max(len(rows)-maxSignals, 0)
	r.pairs(rows[:len(rows)-more], right.End, strings.Join(ids, "+"))
	if more > 0 {
		r.fold("", fmt.Sprintf("%d more rows are not shown.", more))
	}
	if ending != trace.Finished {
		r.fold("", fmt.Sprintf("As %s the run breaks off at %s: %s.", strings.Join(ids, " and "), circuit.FormatTime(from), ending))
	}
	return r.differences(c, rows, strings.Join(ids, " and ")), nil
}

// differences says what differs, row by row.
func (r *report) differences(c *circuit.Circuit, rows []pairOfLines, who string) int {
	n := 0
	for _, row := range rows {
		if !row.differs {
			continue
		}
		if n == 0 {
			r.WriteString("\nWhat differs\n")
		}
		n++
		r.fold("  ", row.wrong.Sentence(c, row.signal))
	}
	if n == 0 {
		r.WriteString("\n")
		r.fold("", fmt.Sprintf("Nothing differs: who thinks like %s is right here all the same. This script shows nothing of it; tarry tell looks for presses that do.", who))
	}
	return n
}

// pairs draws rows in characters, both ways where they differ.
func (r *report) pairs(rows []pairOfLines, end time.Duration, id string) {
	wide := 4
	for _, row := range rows {
		wide = max(wide, utf8.RuneCountInString(row.name))
	}
	second := max(len("right"), len(id))
	lead := wide + 2 + second + 2
	columns := max(r.width-lead-1, 20)
	r.axis(lead, columns, end)
	for _, row := range rows {
		if !row.differs {
			fmt.Fprintf(r, "%-*s  %*s  %s\n", wide, row.name, second, "", r.level(row.right, columns, end))
			continue
		}
		fmt.Fprintf(r, "%-*s  %-*s  %s\n", wide, row.name, second, "right", r.level(row.right, columns, end))
		fmt.Fprintf(r, "%-*s  %-*s  %s\n", wide, "", second, id, r.level(row.given, columns, end))
	}
	marks := "▄ closed or on   _ open or off"
	if r.ascii {
		marks = "# closed or on   _ open or off"
	}
	r.WriteString(marks + "\n")
}

// axis writes a scale with about one number in ten columns; one that would run over
// the edge is left out.
func (r *report) axis(lead, columns int, end time.Duration) {
	step := niceStep(end, columns/10)
	numbers := []rune(strings.Repeat(" ", lead+columns+1))
	ticks := []rune(strings.Repeat(" ", lead+columns+1))
	place := func(at time.Duration) int { return lead + columnOf(at, columns, end) }
	free := 0
	for at := time.Duration(0); at <= end; at += step {
		x := place(at)
		if word := []rune(circuit.FormatTime(at)); x >= free && x+len(word) <= len(numbers) {
			copy(numbers[x:], word)
			free = x + len(word) + 1
		}
		ticks[x] = '|'
	}
	r.WriteString(strings.TrimRight(string(numbers), " ") + "\n" + strings.TrimRight(string(ticks), " ") + "\n")
}

// columnOf is the column in which an instant lies, without overflow for long runs.
func columnOf(at time.Duration, columns int, end time.Duration) int {
	const most = 1 << 50
	for end > most {
		at, end = at/2, end/2
	}
	return int(at * time.Duration(columns) / max(end, 1))
}

// niceStep returns a round time of which there are at most so many in a run.
func niceStep(end time.Duration, most int) time.Duration {
	most = max(most, 1)
	for unit := time.Nanosecond; unit < end; unit *= 10 {
		for _, n := range []time.Duration{1, 2, 5} {
			if step := n * unit; end/step <= time.Duration(most) {
				return step
			}
		}
		if unit > time.Duration(1<<62)/10 {
			break
		}
	}
	return max(end, 1)
}

// level draws one line; a stretch shorter than a column takes one.
func (r *report) level(edges []trace.Edge, columns int, end time.Duration) string {
	on, off := '▄', '_'
	if r.ascii {
		on = '#'
	}
	line := []rune(strings.Repeat(string(off), columns))
	now := false
	for i, e := range edges {
		now = e.On
		to := end
		if i+1 < len(edges) {
			to = edges[i+1].At
		}
		if !now || to <= e.At {
			continue
		}
		first := columnOf(e.At, columns, end)
		last := max(columnOf(to, columns, end), first+1)
		for x := first; x < min(last, columns); x++ {
			line[x] = on
		}
	}
	return string(line)
}
