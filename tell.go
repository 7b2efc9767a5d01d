package tarry

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/exercise"
	"tarry/misread"
	"tarry/notation"
	"tarry/trace"
)

// TellRequest asks what a circuit's scripts let pass, and for better presses.
type TellRequest struct {
	Source
	Columns
	// Among are the IDs of the misreadings in question, empty for all of timed contacts
	// and of circuits that can change what the circuit does.
	Among []string
	// Rows are the rows to ask for, empty for timed contacts, lamps, contactors and
	// motors.
	Rows   []string
	Margin string // the shortest stretch that counts, such as 2s; empty lets the presets decide
	Step   string // presses begin and end at whole steps, such as 1s; empty lets the presets decide
	Items  int    // how many items are wanted at most; 0 for as many as it takes
}

// Tell says, script by script, which misreadings answer right all the same; then
// the fewest presses that tell the misreadings apart, and which pairs nothing tells
// apart.
func Tell(r TellRequest) (out Laid, err error) {
	defer guard(r.Source, &err)
	w, err := r.Columns.report()
	if err != nil {
		return out, err
	}
	c, checked := read(r.Source)
	out.Checked = checked
	ids, opt, err := r.choices(c)
	if err != nil {
		return out, err
	}
	w.title(c)
	w.faults(out.Diagnostics)
	asked, err := w.passed(c, r.Rows, ids, opt)
	if err != nil {
		return out, err
	}
	told, err := exercise.Tell(c, asked, ids, opt)
	if err != nil {
		return out, badInput("%s", strings.TrimPrefix(err.Error(), "exercise: "))
	}
	w.WriteString("\n")
	w.heading("Presses that tell more")
	w.told(c, told, r.Items)
	out.Output = []byte(w.String())
	return out, nil
}

func (r *TellRequest) choices(c *circuit.Circuit) ([]string, exercise.TellOptions, error) {
	var opt exercise.TellOptions
	if r.Items < 0 {
		return nil, opt, badInput("--items %d: ask for one item at least", r.Items)
	}
	if r.Margin != "" {
		margin, err := notation.ParseTime(r.Margin)
		if err != nil || margin <= 0 {
			return nil, opt, badInput("--margin %q is no length of time; write one such as 2s", r.Margin)
		}
		opt.Margin = margin
	}
	if r.Step != "" {
		step, err := notation.ParseTime(r.Step)
		if err != nil || step <= 0 {
			return nil, opt, badInput("--step %q is no length of time; write one such as 1s", r.Step)
		}
		opt.Step = step
	}
	opt.Own = true
	ids, err := knownIDs(r.Among)
	if err != nil {
		return nil, opt, err
	}
	if len(ids) == 0 {
		for _, id := range runnable() {
			reading, _ := misread.Find(id)
			if applies, _ := misread.Applies(c, reading); applies && reading.Section != "C" { // those speak of programs
				ids = append(ids, id)
			}
		}
	}
	if len(ids) == 0 {
		return nil, opt, badInput("no misreading says anything else of this circuit: there is nothing in it for them to get wrong")
	}
	return ids, opt, nil
}

// passed writes what each script lets pass, and returns the signals asked about.
func (w *report) passed(c *circuit.Circuit, rows, ids []string, opt exercise.TellOptions) ([]circuit.Signal, error) {
	list, err := scripts(c, "")
	if err != nil {
		return nil, err
	}
	var asked []circuit.Signal
	for i, s := range list {
		t := runOne(c, s)
		signals, err := askedSignals(c, t, rows)
		if err != nil {
			return nil, err
		}
		for _, signal := range signals {
			if !slices.Contains(asked, signal) {
				asked = append(asked, signal)
			}
		}
		if i > 0 {
			w.WriteString("\n")
		}
		w.heading("Script: " + s.Name)
		if len(signals) == 0 || t.End == 0 {
			w.fold("", "Nothing in it can be asked for.")
			continue
		}
		w.passes(c, s, signals, ids, opt)
	}
	if len(asked) == 0 {
		return nil, badInput("no script has a row to ask for: timed contacts, lamps, contactors and motors are asked for; --rows names others")
	}
	return asked, nil
}

// passes writes which readings are right on one script.
func (w *report) passes(c *circuit.Circuit, s *circuit.Script, signals []circuit.Signal, ids []string, opt exercise.TellOptions) {
	n, err := exercise.ShowsNoError(c, s, signals, ids, opt)
	if err != nil {
		w.fold("", sentenceOf(strings.TrimPrefix(err.Error(), "exercise: ")))
		return
	}
	var names []string
	for _, signal := range signals {
		names = append(names, c.SignalName(signal))
	}
	w.fold("Asked     ", strings.Join(names, ", "))
	switch {
	case len(n.Pass) == 0:
		w.fold("Passes    ", "Only the right answer: every misreading in play gives another one.")
	default:
		w.fold("Passes    ", "warning shows-no-error: "+sentenceOf(n.Sentence))
	}
	if len(n.Caught) > 0 {
		w.fold("Caught    ", strings.Join(n.Caught, ", "))
	}
	if n.WayOut != "" {
		w.fold("Way out   ", n.WayOut)
	}
}

// sentenceOf begins with a capital and ends with a full stop.
func sentenceOf(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}

// askedSignals finds the rows to ask for in a run.
func askedSignals(c *circuit.Circuit, t *trace.Trace, rows []string) ([]circuit.Signal, error) {
	var list []circuit.Signal
	if len(rows) == 0 {
		for _, row := range chart.Rows(t) {
			if s, known := c.FindSignal(row); known && follows(c, row) {
				list = append(list, s)
			}
		}
		return list, nil
	}
	for _, row := range rows {
		s, known := c.FindSignal(strings.TrimSpace(row))
		if !known {
			return nil, badInput("the circuit has no signal %q; %s", row, choice(row, chart.Rows(t), "rows"))
		}
		list = append(list, s)
	}
	return list, nil
}

// told writes the items that were found.
func (w *report) told(c *circuit.Circuit, told exercise.Told, most int) {
	items, pairs := chosenItems(&told, most)
	for n, i := range items {
		item := told.Items[i]
		w.fold(fmt.Sprintf("%3d  ", n+1), fmt.Sprintf("Ask %s%s: %s.", item.Name, scriptOf(c, item.Script), exercise.ScriptWords(c, item.Script)))
		for _, g := range item.Groups {
			w.fold("       ", strings.Join(g.IDs, ", ")+": "+lineWords(c, item, g.IDs[0]))
		}
	}
	if len(items) > 0 {
		w.WriteString("\n")
	}
	w.fold("", told.Words)
	if len(items) < len(told.Items) {
		w.fold("", fmt.Sprintf("Asked for were %d: these tell at least %d of the %d pairs apart.", len(items), pairs, len(told.Apart)))
	}
}

// scriptOf names a script if it is one of the circuit's own.
func scriptOf(c *circuit.Circuit, s *circuit.Script) string {
	for i := range c.Scripts {
		if s == &c.Scripts[i] {
			return fmt.Sprintf(" with the script “%s”", s.Name)
		}
	}
	return ""
}

// lineWords says when the signal is on or closed as a reading has it.
func lineWords(c *circuit.Circuit, item exercise.Item, id string) string {
	var edges []trace.Edge
	end := item.Script.End
	if id == misread.Right {
		t := runOne(c, item.Script)
		edges, end = t.Edges(item.Signal), t.End
	} else if p, err := misread.Run(c, item.Script, engine.Options{NoCauses: true}, id); err == nil {
		edges, end = p.Edges(item.Signal), p.End
	}
	return spansWords(item.Signal, edges, end)
}

// spansWords writes when a line is on or closed: "closed 7 s .. 12 s".
func spansWords(s circuit.Signal, edges []trace.Edge, end time.Duration) string {
	var parts []string
	for _, span := range spansOf(edges, end) {
		to := circuit.FormatTime(span[1])
		if span[1] == end {
			to = "end"
		}
		parts = append(parts, circuit.FormatTime(span[0])+" .. "+to)
	}
	word := trace.ValueWord(s, true)
	if len(parts) == 0 {
		return "never " + word
	}
	return word + " " + strings.Join(parts, ", ")
}

// spansOf returns the stretches for which a line is on. What drops out and is back at
// the same instant is one stretch: nobody can draw it.
func spansOf(edges []trace.Edge, end time.Duration) (spans [][2]time.Duration) {
	for i, e := range edges {
		to := end
		if i+1 < len(edges) {
			to = edges[i+1].At
		}
		switch n := len(spans); {
		case !e.On || to <= e.At:
		case n > 0 && spans[n-1][1] == e.At:
			spans[n-1][1] = to
		default:
			spans = append(spans, [2]time.Duration{e.At, to})
		}
	}
	return spans
}

// chosenItems returns the places of the items to show, those that tell most pairs
// apart if not all are wanted, and how many pairs they tell apart.
func chosenItems(told *exercise.Told, most int) (places []int, pairs int) {
	count := make([]int, len(told.Items))
	for _, p := range told.Apart {
		if p.Item >= 0 {
			count[p.Item]++
		}
	}
	for i := range told.Items {
		places = append(places, i)
	}
	if most > 0 && most < len(places) {
		slices.SortStableFunc(places, func(a, b int) int { return cmp.Compare(count[b], count[a]) })
		places = places[:most]
		slices.Sort(places)
	}
	for _, i := range places {
		pairs += count[i]
	}
	return places, pairs
}
