package answer

// Every reading that can touch the circuit is played once, and readings that give
// the same lines are put together. An answer is then held against each set of
// lines: how many edges stand where the reading has them. That is counted in edges
// and not in time, because an edge is what a learner decides on; a long quiet
// stretch would make any two answers look alike.
//
// A set explains an answer if it has all of its edges and no others; or all but one
// of at least two, which is moved by a slip of the pencil, if no other set comes as
// near. Less than that is shown, but nothing is said to explain it: with half its
// edges in place, scribbling fits some reading almost always. Two readings at once
// have so many sets of lines that they are looked for only if no single one explains
// the answer, and they must have all of its edges.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/misread"
)

// Finding is the kind of a Diagnosis. The zero value is none.
type Finding uint8

// The findings.
const (
	Unfinished  Finding = iota + 1 // lines lack, and nothing is wrong with those drawn
	AllRight                       // within the tolerance
	Slip                           // what is drawn is right but for one edge, off by a square at most
	Explained                      // one set of lines, or several that are close, fits
	TwoIdeas                       // no reading alone fits, but two together do
	Unexplained                    // no single idea explains this
)

var findingWords = [...]string{"", "unfinished", "right", "slip", "explained", "two ideas", "unexplained"}

// String returns the finding in a word or two.
func (f Finding) String() string { return findingWords[f] }

// Fit is how well some readings explain an answer. They give the same lines here,
// so nothing can be said between them.
type Fit struct {
	// IDs are the readings, in the catalogue's order.
	IDs []string
	// Together says that the two are held at once, rather than one or the other.
	Together bool
	// Explained of Of edges of the answer are where the readings have them. A line
	// without edges, in both, counts as one.
	Explained, Of int
	// Slipped says that one more edge would be, but for a slip of the pencil.
	Slipped bool
}

// Words says it for the screen: "M02 fits: it explains 5 of 6 edges".
func (f Fit) Words() string {
	text := strings.Join(f.IDs, " or ")
	if f.Together {
		text = strings.Join(f.IDs, " together with ")
	}
	verb := "explains"
	if f.Explained == f.Of { // a count would contradict the marks: a line without edges counts as one
		return fmt.Sprintf("%s fits: it %s the whole answer", text, verb)
	}
	text = fmt.Sprintf("%s %s %d of %s", text, verb, f.Explained, edges(f.Of))
	if f.Slipped {
		text += ", and one more but for a slip"
	}
	return text
}

func edges(n int) string { return counted(n, "edge") }

// Diagnosis is what may lie behind an answer. It is a hint and never a verdict.
type Diagnosis struct {
	Finding Finding
	// Fits are the sets of readings that fit best, the best first: all that explain
	// the answer, Explaining says how many, and behind them others, up to five.
	Fits       []Fit
	Explaining int
	// Text is for the learner: up to three short sentences.
	Text string
}

// IDs returns the readings that may explain the answer, none if nothing does.
func (d *Diagnosis) IDs() []string {
	var ids []string
	for _, f := range d.Fits[:d.Explaining] {
		if !f.Together {
			ids = append(ids, f.IDs...)
		}
	}
	return ids
}

// mostFits is how many fits a diagnosis lists, if no more explain the answer.
const mostFits = 5

// Diagnoser finds what explains the answers to an item. Its predictions are worked
// out once. It is not safe for use by several goroutines at once.
type Diagnoser struct {
	Item *Item

	compare  comparison
	now      comparison // for the answer at hand
	right    predicted
	readings []predicted
	pairs    []predicted
	paired   bool
}

// predicted is a set of lines and the readings that give it.
type predicted struct {
	ids   []string
	lines []level
}

// NewDiagnoser plays all readings that apply to the item's circuit. Those that a
// given answer can't tell from the right one on this item never explain anything.
func NewDiagnoser(it *Item, t Tolerance) *Diagnoser {
	d := &Diagnoser{Item: it, compare: it.comparison(t), right: predicted{lines: it.right}}
	sets := map[string]int{linesKey(it.right): -1}
	for _, r := range misread.All() {
		if r.Section == "C" {
			continue // ideas about controllers; on relays each has its own counterpart
		}
		lines, ok := d.play(r.ID)
		if !ok {
			continue
		}
		key := linesKey(lines)
		i, known := sets[key]
		switch {
		case !known:
			sets[key] = len(d.readings)
			d.readings = append(d.readings, predicted{[]string{r.ID}, lines})
		case i < 0:
			d.right.ids = append(d.right.ids, r.ID)
		default:
			d.readings[i].ids = append(d.readings[i].ids, r.ID)
		}
	}
	return d
}

// play plays the script as a learner thinks, and reports whether that can be done.
func (d *Diagnoser) play(ids ...string) ([]level, bool) {
	p, err := d.Item.runner.Play(d.Item.Script, ids...)
	if err != nil {
		return nil, false
	}
	lines := make([]level, len(d.Item.Signals))
	exact := d.Item.comparison(Tolerance{})
	for i, s := range d.Item.Signals {
		lines[i] = exact.read(p.Edges(s))
	}
	return lines, true
}

func linesKey(lines []level) string {
	var b strings.Builder
	for _, l := range lines {
		fmt.Fprint(&b, l.start, l.at, "\n")
	}
	return b.String()
}

// pairsOf plays any two readings of section A together, once. What a single
// reading gives as well, and the right lines, are left out.
func (d *Diagnoser) pairsOf() []predicted {
	if d.paired {
		return d.pairs
	}
	d.paired = true
	seen := map[string]bool{linesKey(d.right.lines): true}
	for _, p := range d.readings {
		seen[linesKey(p.lines)] = true
	}
	all := misread.All()
	for i, a := range all {
		for _, b := range all[i+1:] {
			if a.Section != "A" || b.Section != "A" {
				continue
			}
			lines, ok := d.play(a.ID, b.ID)
			if key := linesKey(lines); ok && !seen[key] {
				seen[key] = true
				d.pairs = append(d.pairs, predicted{[]string{a.ID, b.ID}, lines})
			}
		}
	}
	return d.pairs
}

// Same returns the readings that give the right answer on the item: nothing can be
// said of them there.
func (d *Diagnoser) Same() []string { return slices.Clone(d.right.ids) }

// Diagnose finds what may explain an answer.
func (d *Diagnoser) Diagnose(a Answer) Diagnosis {
	return d.DiagnoseMarked(a, Mark(d.Item, a, d.compare.tolerance))
}

// DiagnoseMarked is Diagnose for an answer that has been marked already, with its
// tolerance.
func (d *Diagnoser) DiagnoseMarked(a Answer, m Marked) Diagnosis {
	var out Diagnosis
	d.now = d.Item.comparisonFor(a, m.tolerance)
	drawn := d.drawn(a, m)
	switch {
	case m.Right():
		out.Finding = AllRight
	case !m.wrongLine():
		out.Finding = Unfinished
	default:
		d.find(&out, drawn, m)
	}
	out.Text = d.feedback(&out, &m)
	return out
}

// drawing is what a learner drew: the lines, and the places of their signals.
type drawing struct {
	places []int
	lines  []level
}

func (d *Diagnoser) drawn(a Answer, m Marked) drawing {
	var out drawing
	var none Marked
	for i, l := range d.Item.linesOf(a, &none) {
		if l != nil && m.Signals[i].Given {
			out.places = append(out.places, i)
			out.lines = append(out.lines, d.now.read(l.Edges()))
		}
	}
	return out
}

// of returns those lines of a set that the learner drew.
func (w drawing) of(lines []level) []level {
	if len(w.places) == len(lines) {
		return lines
	}
	out := make([]level, len(w.places))
	for i, p := range w.places {
		out[i] = lines[p]
	}
	return out
}

// find ranks the sets.
func (d *Diagnoser) find(out *Diagnosis, drawn drawing, m Marked) {
	type candidate struct {
		set *predicted
		match
	}
	right := d.hold(drawn.of(d.right.lines), drawn.lines)
	rank := func(sets []predicted, enough func(match) bool) []candidate {
		var list []candidate
		for i := range sets {
			c := candidate{&sets[i], d.hold(drawn.of(sets[i].lines), drawn.lines)}
			if c.better(right) > 0 && enough(c.match) {
				list = append(list, c)
			}
		}
		slices.SortStableFunc(list, func(a, b candidate) int { return b.better(a.match) })
		return list
	}
	list := rank(d.readings, func(m match) bool { return 2*m.explained >= m.of })
	whole := len(list) > 0 && list[0].explained == list[0].of
	far, one := m.farthest()
	slip := one && far <= d.now.slip() && !whole
	out.Finding = Unexplained
	if slip {
		out.Finding = Slip
	}
	for i, c := range list {
		alone := i == 0 && (len(list) == 1 || c.share(list[1].match) > 0)
		if !slip && (c.explained == c.of || !whole && alone && c.almost()) {
			out.Finding = Explained
			out.Explaining++
		}
	}
	together := map[*predicted]bool{}
	if out.Finding == Unexplained && right.of-right.explained > 1 { // one wrong edge takes no two ideas
		pairs := rank(d.pairsOf(), func(m match) bool { return m.explained == m.of })
		for _, c := range pairs {
			together[c.set] = true
			out.Finding = TwoIdeas
		}
		out.Explaining = min(len(pairs), mostFits)
		list = append(pairs, list...)
	}
	for _, c := range list[:min(len(list), max(mostFits, out.Explaining))] {
		out.Fits = append(out.Fits, Fit{c.set.ids, together[c.set], c.explained, c.of, c.slipped > 0})
	}
}

// NextRow looks for one row more to ask: among the items' signals behind the first
// few, which are asked in any case, it finds the one that parts readings best
// together with those. It returns the places of its item and of the signal, the
// first of equals, or -1 if none parts them.
func NextRow(ids []string, items []*Diagnoser, asked int) (item, signal int) {
	item, signal, least := -1, -1, len(ids)*len(ids)
	for i, d := range items {
		for n := asked; n < len(d.Item.Signals); n++ {
			sets := map[string]int{}
			for _, set := range slices.Concat(d.readings, []predicted{d.right}) {
				key := linesKey(append(slices.Clone(set.lines[:asked]), set.lines[n]))
				for _, id := range set.ids {
					if slices.Contains(ids, id) {
						sets[key]++
					}
				}
			}
			left := 0
			for _, n := range sets {
				left += n * n
			}
			if left < least {
				item, signal, least = i, n, left
			}
		}
	}
	return item, signal
}

// Next returns the place of the item to ask next, when several readings fit: the
// one whose predictions part them best, the first of equals. It returns -1 if none
// parts them.
func Next(ids []string, items []*Diagnoser) int {
	weights := map[string]int{}
	for _, id := range ids {
		weights[id] = 1
	}
	return nextOf(weights, items)
}

// nextOf does so for readings with weights. The best item leaves the fewest pairs
// of learners, or readings, undecided.
func nextOf(weights map[string]int, items []*Diagnoser) int {
	total := 0
	for _, n := range weights {
		total += n
	}
	best, least := -1, total*total
	for i, d := range items {
		left, rest := 0, total
		for _, set := range d.readings {
			n := 0
			for _, id := range set.ids {
				n += weights[id]
			}
			left += n * n
			rest -= n
		}
		if left += rest * rest; left < least {
			best, least = i, left
		}
	}
	return best
}

// pressBefore returns the last action at or before an instant, and false if there
// is none.
func (it *Item) pressBefore(at time.Duration) (circuit.Action, bool) {
	var last circuit.Action
	found := false
	for _, a := range it.Script.Timeline() {
		if a.At <= at && a.Device != circuit.NoDevice {
			last, found = a, true
		}
	}
	return last, found
}
