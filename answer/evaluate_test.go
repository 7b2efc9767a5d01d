package answer_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/answer"
	"tarry/circuit"
	"tarry/engine"
	"tarry/library"
	"tarry/misread"
	"tarry/notation"
	"tarry/trace"
)

// The evaluation makes answers of which it is known what lies behind them, and
// looks what the diagnosis says. Learners draw on squares of a second.

var engineOptions = engine.Options{NoCauses: true}

var drawnOn = answer.Tolerance{Time: s / 4, Square: s}

// presses of the single contacts: S1 to S5.
const presses = `
script "S1"
  2 s   close S1 for 10 s
  end 40 s
script "S2"
  2 s   close S1 for 3 s
  end 40 s
script "S3"
  2 s   close S1 for 3 s
  6 s   close S1 for 7 s
  end 40 s
script "S4"
  2 s   close S1 for 4 s
  9 s   close S1 for 2 s
  end 40 s
script "S5"
  1 s   close S1 for 7 s
  15 s  close S1 for 7 s
  end 40 s
`

func circuitOf(t testing.TB, text string) *circuit.Circuit {
	t.Helper()
	file, list := notation.Read("test", []byte(text))
	for _, d := range list {
		if d.Grade.String() == "error" {
			t.Fatal(d)
		}
	}
	return file.Circuit
}

func single(t testing.TB, function, contact string) *circuit.Circuit {
	return circuitOf(t, "S1 switch\nKT1 "+function+" 5 s\nH1 lamp white\n1: S1.no -> KT1\n2: KT1."+contact+" -> H1\n"+presses)
}

func signalsOf(t testing.TB, c *circuit.Circuit, names ...string) []circuit.Signal {
	t.Helper()
	var list []circuit.Signal
	for _, name := range names {
		signal, known := c.FindSignal(name)
		if !known {
			t.Fatal(name)
		}
		list = append(list, signal)
	}
	return list
}

// itemsForAll are four contacts with five scripts, and three library circuits with
// all their scripts.
func itemsForAll(t testing.TB) []*answer.Diagnoser {
	t.Helper()
	var list []*answer.Diagnoser
	add := func(name string, c *circuit.Circuit, names ...string) {
		signals := signalsOf(t, c, names...)
		for i := range c.Scripts {
			it := answer.NewItem(name+", "+c.Scripts[i].Name, c, &c.Scripts[i], signals)
			list = append(list, answer.NewDiagnoser(it, drawnOn))
		}
	}
	add("NOTC", single(t, "on-delay", "notc"), "H1")
	add("NCTO", single(t, "on-delay", "ncto"), "H1")
	add("NOTO", single(t, "off-delay", "noto"), "H1")
	add("NCTC", single(t, "off-delay", "nctc"), "H1")
	for _, x := range []struct {
		number string
		names  []string
	}{{"7", []string{"KT1", "KT2", "H1", "H2"}}, {"9", []string{"KT1", "KT2", "M1", "M2", "M3"}}, {"14", []string{"KT1", "M1", "M2"}}} {
		e, _ := library.Find(x.number)
		add(e.Name, circuitOf(t, string(e.Text)), x.names...)
	}
	return list
}

// maker makes answers to one item.
type maker struct {
	d      *answer.Diagnoser
	random *rand.Rand
	ids    []string                   // readings that give a wrong answer
	lines  map[string][]answer.Line   // of each reading, and of the right run
	group  map[string]map[string]bool // readings that coincide
	runner *misread.Runner
}

func newMaker(d *answer.Diagnoser, random *rand.Rand) *maker {
	m := &maker{d: d, random: random, lines: map[string][]answer.Line{}, group: map[string]map[string]bool{}}
	it := d.Item
	m.runner = misread.NewRunner(it.Circuit, engineOptions)
	var ids []string
	for _, r := range misread.All() {
		if r.Section == "C" {
			continue // those speak of programs
		}
		if _, err := m.runner.Play(it.Script, r.ID); err == nil {
			ids = append(ids, r.ID)
		}
	}
	for _, g := range m.runner.Coincide(it.Script, it.Signals, ids) {
		for _, id := range g.IDs {
			p, _ := m.runner.Play(it.Script, slices.DeleteFunc([]string{id}, func(id string) bool { return id == misread.Right })...)
			m.lines[id] = linesOf(it, p.Edges)
			m.group[id] = map[string]bool{}
			for _, other := range g.IDs {
				m.group[id][other] = true
			}
			if g.IDs[0] != misread.Right {
				m.ids = append(m.ids, id)
			}
		}
	}
	return m
}

// linesOf reads lines as a learner would draw them.
func linesOf(it *answer.Item, edges func(circuit.Signal) []trace.Edge) []answer.Line {
	var list []answer.Line
	for _, signal := range it.Signals {
		l := answer.Line{Signal: it.Circuit.SignalName(signal)}
		all := edges(signal)
		l.Start = all[0].On
		now := l.Start
		for i, e := range all {
			switch {
			case i+1 < len(all) && all[i+1].At == e.At || e.At >= it.End:
			case e.At == 0:
				l.Start, now = e.On, e.On
			case e.On != now:
				l.At, now = append(l.At, e.At), e.On
			}
		}
		list = append(list, l)
	}
	return list
}

func clone(lines []answer.Line) []answer.Line {
	out := slices.Clone(lines)
	for i := range out {
		out[i].At = slices.Clone(out[i].At)
	}
	return out
}

// jitter moves each edge within the tolerance, and keeps their order.
func (m *maker) jitter(lines []answer.Line) []answer.Line {
	out := clone(lines)
	for i := range out {
		for n := range out[i].At {
			at := out[i].At[n] + time.Duration(m.random.IntN(5)-2)*s/8
			if at > 0 && at < m.d.Item.End && (n == 0 || at > out[i].At[n-1]) && (n+1 == len(out[i].At) || at < out[i].At[n+1]) {
				out[i].At[n] = at
			}
		}
	}
	return out
}

// move moves one edge by a square, and reports whether there was one to be moved.
func (m *maker) move(lines []answer.Line) ([]answer.Line, bool) {
	out := clone(lines)
	for range 20 {
		l := &out[m.random.IntN(len(out))]
		if len(l.At) == 0 {
			continue
		}
		n := m.random.IntN(len(l.At))
		at := l.At[n] + s - time.Duration(m.random.IntN(2))*2*s
		if at > s && at < m.d.Item.End-s && (n == 0 || at > l.At[n-1]) && (n+1 == len(l.At) || at < l.At[n+1]) {
			l.At[n] = at
			return out, true
		}
	}
	return nil, false
}

// mix takes some signals from one reading and the others from another, or the
// first half of the only signal from one and the second half from another.
func (m *maker) mix(a, b []answer.Line) []answer.Line {
	out := clone(a)
	if len(out) > 1 {
		for i := range out {
			if m.random.IntN(2) == 0 {
				out[i] = clone(b)[i]
			}
		}
		return out
	}
	all := slices.Concat(a[0].At, b[0].At)
	if len(all) == 0 {
		return out
	}
	slices.Sort(all)
	half := all[len(all)/2]
	l := &out[0]
	l.At = slices.DeleteFunc(l.At, func(at time.Duration) bool { return at >= half })
	now := l.Start != (len(l.At)%2 == 1)
	on := b[0].Start
	for _, at := range b[0].At {
		if at >= half {
			if now != on {
				l.At, now = append(l.At, half), on
			}
			l.At, now = append(l.At, at), !on
		}
		on = !on
	}
	slices.Sort(l.At)
	l.At = slices.Compact(l.At)
	return out
}

// scribble draws up to so many edges in each signal, and one at least.
func (m *maker) scribble(most int) []answer.Line {
	out := clone(m.lines[misread.Right])
	squares := int(m.d.Item.End / s)
	for i := range out {
		at := map[int]bool{}
		for range 1 + m.random.IntN(most) {
			at[1+m.random.IntN(squares-1)] = true
		}
		out[i].Start, out[i].At = m.random.IntN(2) == 0, nil
		for n := range squares {
			if at[n] {
				out[i].At = append(out[i].At, time.Duration(n)*s)
			}
		}
	}
	return out
}

// likely scribbles with edges where the hands move, or a preset later: the harder
// kind, since readings put their edges there too.
func (m *maker) likely() []answer.Line {
	out := clone(m.lines[misread.Right])
	var at []time.Duration
	for _, a := range m.d.Item.Script.Timeline() {
		for _, d := range m.d.Item.Circuit.Devices {
			at = append(at, a.At, a.At+d.Presets[0])
		}
	}
	slices.Sort(at)
	at = slices.Compact(at)
	for i := range out {
		out[i].Start, out[i].At = m.random.IntN(2) == 0, nil
		for _, x := range at {
			if x > 0 && x < m.d.Item.End && m.random.IntN(2) == 0 {
				out[i].At = append(out[i].At, x)
			}
		}
	}
	return out
}

// isPure reports whether lines are those of a reading, or right, but for less
// than a square.
func (m *maker) isPure(lines []answer.Line) bool {
	for _, other := range m.lines {
		same := true
		for i := range lines {
			_, wrong := answer.FirstWrong(other[i].Edges(), lines[i].Edges(), m.d.Item.End, s-1)
			same = same && !wrong
		}
		if same {
			return true
		}
	}
	return false
}

// class counts what was said about a kind of answers.
type class struct {
	all, right int
	found, so  [answer.Unexplained + 1]int // what was said, and how much of it is so
}

// kinds of answers, in the order of the table.
var kinds = []string{"right", "right, jittered", "right, one edge moved", "reading", "reading, jittered", "reading, one edge moved",
	"two readings mixed", "scribble", "scribble at likely times", "one scribbled pulse"}

// wanted says whether a diagnosis of a kind of answers is right.
func (m *maker) wanted(kind, id string, d answer.Diagnosis) bool {
	switch kind {
	case kinds[0], kinds[1]:
		return d.Finding == answer.AllRight
	case kinds[2]:
		return d.Finding == answer.Slip
	case kinds[3], kinds[4], kinds[5]:
		return slices.ContainsFunc(d.IDs(), func(other string) bool { return m.group[id][other] })
	}
	return d.Finding == answer.Unexplained || d.Finding == answer.TwoIdeas
}

// draw makes an answer of a kind; false if the item has none.
func (m *maker) draw(kind string) (lines []answer.Line, id string, ok bool) {
	right := m.lines[misread.Right]
	if len(m.ids) == 0 && strings.HasPrefix(kind, "reading") || len(m.ids) < 2 && strings.HasPrefix(kind, "two") {
		return nil, "", false
	}
	if len(m.ids) > 0 {
		id = m.ids[m.random.IntN(len(m.ids))]
	}
	switch kind {
	case kinds[0]:
		return right, "", true
	case kinds[1]:
		return m.jitter(right), "", true
	case kinds[2]:
		lines, ok = m.move(right)
		return lines, "", ok && !m.isReading(lines)
	case kinds[3]:
		return m.lines[id], id, true
	case kinds[4]:
		return m.jitter(m.lines[id]), id, true
	case kinds[5]:
		lines, ok = m.move(m.lines[id])
		return lines, id, ok && !m.isPure(lines)
	case kinds[6]:
		lines = m.mix(m.lines[id], m.lines[m.ids[m.random.IntN(len(m.ids))]])
		return lines, "", !m.isPure(lines)
	}
	switch kind {
	case kinds[7]:
		lines = m.scribble(6)
	case kinds[8]:
		lines = m.likely()
	default:
		lines = m.scribble(2)
	}
	return lines, "", !m.isPure(lines)
}

// isReading reports whether lines are exactly those of a wrong reading.
func (m *maker) isReading(lines []answer.Line) bool {
	return slices.ContainsFunc(m.ids, func(id string) bool {
		return slices.EqualFunc(m.lines[id], lines, func(a, b answer.Line) bool { return a.Start == b.Start && slices.Equal(a.At, b.At) })
	})
}

// evaluate makes about n answers and counts.
func evaluate(items []*answer.Diagnoser, n int) map[string]*class {
	counts := map[string]*class{}
	for _, kind := range kinds {
		counts[kind] = &class{}
	}
	random := rand.New(rand.NewPCG(7, 50))
	var makers []*maker
	for _, d := range items {
		makers = append(makers, newMaker(d, random))
	}
	each := n / len(makers) / len(kinds)
	for _, m := range makers {
		for _, kind := range kinds {
			for tries, made := 0, 0; made < each && tries < 3*each; tries++ {
				lines, id, ok := m.draw(kind)
				if !ok {
					continue
				}
				made++
				d := m.d.Diagnose(answer.Answer{Lines: lines})
				c := counts[kind]
				c.all++
				c.found[d.Finding]++
				if m.wanted(kind, id, d) {
					c.right++
					c.so[d.Finding]++
				}
			}
		}
	}
	return counts
}

// tableOf prints what was said of each kind, and how much of what was said is so.
func tableOf(counts map[string]*class) string {
	var b strings.Builder
	share := func(n, of int) string {
		if of == 0 {
			return "-"
		}
		return fmt.Sprintf("%d.%d %%", n*1000/of/10, n*1000/of%10)
	}
	columns := []answer.Finding{answer.AllRight, answer.Slip, answer.Explained, answer.TwoIdeas, answer.Unexplained}
	fmt.Fprintf(&b, "%-26s %7s %9s", "answers", "number", "coverage")
	for _, f := range columns {
		fmt.Fprintf(&b, " %12s", f)
	}
	var said, so [answer.Unexplained + 1]int
	for _, kind := range kinds {
		c := counts[kind]
		fmt.Fprintf(&b, "\n%-26s %7d %9s", kind, c.all, share(c.right, c.all))
		for _, f := range columns {
			fmt.Fprintf(&b, " %12s", share(c.found[f], c.all))
			said[f] += c.found[f]
			so[f] += c.so[f]
		}
	}
	fmt.Fprintf(&b, "\n%-44s", "precision")
	for _, f := range columns {
		fmt.Fprintf(&b, " %12s", share(so[f], said[f]))
	}
	return b.String()
}

func TestDiagnosisHolds(t *testing.T) {
	counts := evaluate(itemsForAll(t), 16_000)
	all := 0
	for _, least := range []struct {
		kind     string
		perMille int
	}{{kinds[0], 1000}, {kinds[1], 1000}, {kinds[2], 1000}, {kinds[3], 1000}, {kinds[4], 990}, {kinds[6], 970}, {kinds[7], 970}, {kinds[8], 970}, {kinds[9], 970}} {
		c := counts[least.kind]
		all += c.all
		if c.all < 500 || c.right*1000 < least.perMille*c.all {
			t.Errorf("%s: %d of %d, want %d in a thousand", least.kind, c.right, c.all, least.perMille)
		}
	}
	if moved := counts[kinds[5]]; moved.found[answer.Explained]-moved.so[answer.Explained] > moved.all/100 {
		t.Error("wrong readings are named for readings with one edge moved")
	}
	if all < 10_000 || t.Failed() {
		t.Errorf("%d answers\n%s", all, tableOf(counts))
	}
}

// BenchmarkEvaluation prints the table.
func BenchmarkEvaluation(b *testing.B) {
	items := itemsForAll(b)
	table := ""
	for b.Loop() {
		counts := evaluate(items, 16_000)
		table = tableOf(counts)
	}
	fmt.Println("\n" + table)
}

// BenchmarkClass marks and diagnoses ten thousand answers to single contacts.
func BenchmarkClass(b *testing.B) {
	items := itemsForAll(b)[:20]
	random := rand.New(rand.NewPCG(1, 2))
	type job struct {
		d *answer.Diagnoser
		a answer.Answer
	}
	var jobs []job
	for _, d := range items {
		m := newMaker(d, random)
		for i := range 10_000 / len(items) {
			lines, _, ok := m.draw(kinds[i%len(kinds)])
			if !ok {
				lines = m.scribble(6)
			}
			jobs = append(jobs, job{d, answer.Answer{Lines: lines}})
		}
	}
	for b.Loop() {
		for _, j := range jobs {
			j.d.DiagnoseMarked(j.a, answer.Mark(j.d.Item, j.a, drawnOn))
		}
	}
	b.ReportMetric(float64(len(jobs)), "answers/op")
}
