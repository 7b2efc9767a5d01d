package exercise

// An item asks for one signal under one script of presses. Each reading in play
// answers it with a line, and two readings are told apart if their lines differ
// for long enough. How long is measured by the longest stretch for which they
// differ, not by the sum: a hand-drawn line that is a little off at every edge
// differs much in sum and little at any place.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
	"tarry/trace"
)

// TellOptions are the choices for Tell. The zero value is right for presets of a
// few seconds.
type TellOptions struct {
	// Margin is the shortest stretch by which two answers must differ to be told
	// apart; 0 is two fifths of the shortest preset, 2 s of 5 s, but half a second at
	// least where a longer one allows it.
	Margin time.Duration
	// Step is the grid: presses begin, last and follow each other by whole steps.
	// 0 is half the longest preset.
	Step time.Duration
	// Presses is the most presses in a script, 0 for 3; Longest the most steps that
	// one lasts or that lie between two, 0 for 4; Starts at how many steps the first
	// may begin, from step 1, 0 for 2.
	Presses, Longest, Starts int
	// Most is how many scripts of a grid are tried, 0 for 2,500.
	Most int
	// OnlyRight asks for presses that tell each reading from the right answer, not
	// from each other.
	OnlyRight bool
	// Own lets the circuit's own scripts be chosen too.
	Own bool
	// Budget is how many looks at an item the search for the fewest may take, 0 for
	// 10 million, which is about a second.
	Budget int
}

func (o TellOptions) filled(c *circuit.Circuit) TellOptions {
	t := longestPreset(c)
	set := func(n *int, usual int) {
		if *n <= 0 {
			*n = usual
		}
	}
	set(&o.Presses, 3)
	set(&o.Longest, 4)
	set(&o.Starts, 2)
	set(&o.Most, 2500)
	set(&o.Budget, 10_000_000)
	o.Presses, o.Longest, o.Starts = min(o.Presses, 8), min(o.Longest, 100), min(o.Starts, 100)
	if o.Margin <= 0 {
		o.Margin = max(shortestPreset(c)*2/5, min(time.Second/2, t*2/5), 1)
	}
	if o.Step <= 0 {
		o.Step = max(t/2, 1)
	}
	return o
}

// Item is one question: a signal to be drawn under a script.
type Item struct {
	Signal circuit.Signal
	Name   string // of the signal, as in the notation
	Script *circuit.Script
	// Groups are the readings that give the same line, the right answer's first. A
	// reading whose run breaks off gives none, and tells nothing.
	Groups []misread.Group
}

// Pair is two readings, "right" among them.
type Pair struct {
	A, B string
	// Item is the place in Told.Items of the item that tells them apart best, -1 for
	// none, and Stretch the longest stretch for which their answers to it differ.
	// Without an item, Stretch is the most that any item gives.
	Item    int
	Stretch time.Duration
}

// Left is a reading that is not in play, and why.
type Left struct{ ID, Reason string }

// Told is a list of items and what is known of it.
type Told struct {
	Items []Item
	// Apart are the pairs that the items tell apart, Own those that only the circuit's
	// own scripts do, Never those that none of the scripts used tells apart, whichever
	// signal is asked.
	Apart, Own, Never []Pair
	Left              []Left
	// Margin is the one asked for, Least the smallest stretch among Apart.
	Margin, Least time.Duration
	// Exact says that no fewer items of the scripts used do it, Bound how few are not
	// ruled out. Shortest says that no other so many take less time.
	Exact    bool
	Bound    int
	Shortest bool
	// Scripts is how many scripts were used, Whole whether they are all of the grids.
	// Scripts whose right run has a tie, a race or a fault are not used.
	Scripts int
	Whole   bool
	// Words says all this in a few sentences.
	Words string
}

// Single returns a circuit with the four single timed contacts of a preset, and
// these as signals: one switch, an on-delay and an off-delay timer, and a lamp
// behind each contact.
func Single(preset time.Duration) (*circuit.Circuit, []circuit.Signal) {
	const s1, kt1, kt2 = 0, 1, 2
	c := &circuit.Circuit{Title: "The four timed contacts", Station: "Training Bay 7",
		Supply: circuit.Supply{Millivolts: 24_000, Rails: [2]string{"L+", "L-"}},
		Devices: []circuit.Device{
			{Tag: "S1", Kind: circuit.Switch, Label: "Switch"},
			{Tag: "KT1", Kind: circuit.Timer, Function: circuit.OnDelay, Presets: [2]time.Duration{preset}},
			{Tag: "KT2", Kind: circuit.Timer, Function: circuit.OffDelay, Presets: [2]time.Duration{preset}}}}
	c.Rungs = append(c.Rungs, circuit.Rung{Number: 1, Loads: []circuit.Load{{Device: kt1}, {Device: kt2}},
		Path: circuit.Path{{Contact: circuit.Contact{Device: s1, Kind: circuit.NO}}}})
	var signals []circuit.Signal
	for i, k := range []circuit.Contact{{Device: kt1, Kind: circuit.NOTC}, {Device: kt1, Kind: circuit.NCTO},
		{Device: kt2, Kind: circuit.NOTO}, {Device: kt2, Kind: circuit.NCTC}} {
		lamp := circuit.DeviceID(len(c.Devices))
		c.Devices = append(c.Devices, circuit.Device{Tag: fmt.Sprintf("H%d", i+1), Kind: circuit.Lamp, Colour: "white",
			Label: "Behind the " + strings.ToUpper(k.Kind.String())})
		c.Rungs = append(c.Rungs, circuit.Rung{Number: i + 2, Path: circuit.Path{{Contact: k}}, Loads: []circuit.Load{{Device: lamp}}})
		signals = append(signals, trace.ContactSignal(k))
	}
	return c, signals
}

// Tell finds presses that tell readings apart: the fewest items, and of these the
// shortest in all, among the signals and the scripts of a grid. The right answer is
// always one of the readings. Errors: an ID that there is not, no signal, nothing
// that hands move, a preset or a grid of more than a year.
func Tell(c *circuit.Circuit, signals []circuit.Signal, ids []string, opt TellOptions) (Told, error) {
	opt = opt.filled(c)
	grids := gridsOf(c, opt)
	const year = 365 * 24 * time.Hour
	switch {
	case len(signals) == 0:
		return Told{}, fmt.Errorf("exercise: no signal is asked about: name one, such as H1 or KT1.notc")
	case len(grids[0].hands) == 0:
		return Told{}, fmt.Errorf("exercise: the circuit has no switch, button, selector or sensor to move, so there are no telling presses: add one")
	case grids[0].step > year || grids[0].tail > 2*year:
		return Told{}, fmt.Errorf("exercise: times of more than a year can't be pressed: take a shorter preset")
	}
	told := Told{Margin: opt.Margin}
	names, err := told.inPlay(c, ids)
	if err != nil {
		return Told{}, err
	}
	b := newBook(c, signals, names, opt)
	if opt.Own {
		b.own(true)
	}
	own := len(b.scripts)
	told.Whole = true
	for i := range grids {
		if i == 0 || b.left() {
			whole := grids[i].scripts(b.try)
			told.Whole = told.Whole && whole
		}
	}
	told.Scripts = len(b.scripts) - own
	if !opt.Own {
		b.own(false)
	}
	b.choose(&told, opt.Budget)
	told.Words = told.words(len(names))
	return told, nil
}

// inPlay sorts out which readings can be played.
func (t *Told) inPlay(c *circuit.Circuit, ids []string) ([]string, error) {
	names := []string{misread.Right}
	for _, id := range ids {
		if strings.EqualFold(id, misread.Right) {
			continue
		}
		r, known := misread.Find(id)
		if !known {
			return nil, fmt.Errorf("exercise: there is no misreading %q: the list has M01 to M20, C01 to C14 and P01 to P17", id)
		}
		if slices.Contains(names, r.ID) {
			continue
		}
		if ok, reason := misread.Applies(c, r); !ok {
			t.Left = append(t.Left, Left{r.ID, reason})
			continue
		}
		names = append(names, r.ID)
	}
	return names, nil
}

// book is what was found out about every item so far.
type book struct {
	runner  *misread.Runner
	circuit *circuit.Circuit
	signals []circuit.Signal
	names   []string
	margin  time.Duration
	pairs   [][2]int
	pairAt  [][]int // of two names, the pair's number, -1 for none

	scripts []*circuit.Script
	choices []choice // id is script*len(signals) + signal
	seen    map[string]int
	most    []time.Duration // of each pair, the longest stretch on any item
	lines   [][]line        // of the present script, by signal and name
	broken  []bool          // by name: its run of the present script breaks off, so it has no line
}

func newBook(c *circuit.Circuit, signals []circuit.Signal, names []string, opt TellOptions) *book {
	b := &book{runner: misread.NewRunner(c, engine.Options{NoCauses: true}), circuit: c,
		signals: signals, names: names, margin: opt.Margin, seen: map[string]int{}}
	for i := range names {
		b.pairAt = append(b.pairAt, make([]int, len(names)))
		for j := range names {
			b.pairAt[i][j] = -1
			if j < i && (j == 0 || !opt.OnlyRight) {
				b.pairAt[i][j] = len(b.pairs)
				b.pairs = append(b.pairs, [2]int{j, i})
			}
		}
	}
	b.most = make([]time.Duration, len(b.pairs))
	b.broken = make([]bool, len(names))
	b.lines = make([][]line, len(signals))
	for i := range b.lines {
		b.lines[i] = make([]line, len(names))
	}
	return b
}

// play fills in the lines of a script. It returns false if it is of no use.
func (b *book) play(s *circuit.Script) bool {
	right := b.runner.Right(s)
	if !sound(right.Trace) {
		return false
	}
	b.note(0, right)
	for i, name := range b.names[1:] {
		p, err := b.runner.Play(s, name)
		b.broken[i+1] = err != nil || p.Trace.Ending != trace.Finished
		if !b.broken[i+1] {
			b.note(i+1, p)
		}
	}
	return true
}

func (b *book) note(name int, p *misread.Prediction) {
	for i, s := range b.signals {
		b.lines[i][name] = lineOf(p.Edges(s), p.End)
	}
}

// sound reports whether a run ends well and gives nothing to think about but
// actions without effect.
func sound(t *trace.Trace) bool {
	if t.Ending != trace.Finished {
		return false
	}
	return !slices.ContainsFunc(t.Notices, func(n trace.Notice) bool { return n.Kind != trace.NoEffect })
}

// try adds the items of a script, unless a shorter one does the same.
func (b *book) try(s *circuit.Script) {
	if !b.play(s) {
		return
	}
	b.scripts = append(b.scripts, s)
	for i := range b.signals {
		covers := b.covers(b.lines[i], s.End)
		x := choice{covers, int64(s.End), (len(b.scripts)-1)*len(b.signals) + i}
		var key strings.Builder
		for _, w := range covers {
			fmt.Fprintf(&key, "%x ", w)
		}
		at, known := b.seen[key.String()]
		switch {
		case !known:
			b.seen[key.String()] = len(b.choices)
			b.choices = append(b.choices, x)
		case x.cost < b.choices[at].cost:
			b.choices[at] = x
		}
	}
}

// covers returns the pairs that lines tell apart.
func (b *book) covers(lines []line, end time.Duration) set {
	covers := newSet(len(b.pairs))
	kinds, of := distinct(lines)
	apart := make([]time.Duration, len(kinds)*len(kinds))
	for i := range kinds {
		for j := range i {
			d := differ(lines[kinds[i]], lines[kinds[j]], end)
			apart[i*len(kinds)+j], apart[j*len(kinds)+i] = d, d
		}
	}
	for p, pair := range b.pairs {
		d := apart[of[pair[0]]*len(kinds)+of[pair[1]]]
		if b.broken[pair[0]] || b.broken[pair[1]] {
			d = 0
		}
		b.most[p] = max(b.most[p], d)
		if d >= b.margin {
			covers.add(p)
		}
	}
	return covers
}

// mostOwn is how many of a circuit's own scripts are looked at.
const mostOwn = 50

// own looks at the circuit's own scripts: to choose from, or to know what they tell.
func (b *book) own(choose bool) {
	for i := range b.circuit.Scripts[:min(len(b.circuit.Scripts), mostOwn)] {
		switch s := &b.circuit.Scripts[i]; {
		case choose:
			b.try(s)
		case b.play(s):
			for k := range b.signals {
				b.covers(b.lines[k], s.End)
			}
		}
	}
}

// left reports whether there are pairs that no item tells apart so far.
func (b *book) left() bool {
	return slices.ContainsFunc(b.most, func(d time.Duration) bool { return d < b.margin })
}

// distinct returns the places of the different lines, and which of them each is.
func distinct(lines []line) (kinds, of []int) {
	at := map[string]int{}
	for i, l := range lines {
		k, known := at[l.key()]
		if !known {
			k = len(kinds)
			at[l.key()] = k
			kinds = append(kinds, i)
		}
		of = append(of, k)
	}
	return kinds, of
}

// choose finds the fewest items and fills in what is known of them.
func (b *book) choose(told *Told, budget int) {
	f := fewest(slices.Clone(b.choices), len(b.pairs), budget)
	told.Exact, told.Bound, told.Shortest = f.exact, f.bound, f.cheapest
	stretch := make([]Pair, len(b.pairs))
	for p, pair := range b.pairs {
		stretch[p] = Pair{b.names[pair[0]], b.names[pair[1]], -1, 0}
	}
	for n, id := range f.ids {
		s, i := b.scripts[id/len(b.signals)], id%len(b.signals)
		b.play(s)
		told.Items = append(told.Items, Item{Signal: b.signals[i], Name: b.circuit.SignalName(b.signals[i]), Script: s,
			Groups: b.groups(b.lines[i])})
		for p, pair := range b.pairs {
			if b.broken[pair[0]] || b.broken[pair[1]] {
				continue
			}
			if d := differ(b.lines[i][pair[0]], b.lines[i][pair[1]], s.End); d > stretch[p].Stretch {
				stretch[p].Stretch, stretch[p].Item = d, n
			}
		}
	}
	for p, pair := range stretch {
		switch {
		case b.most[p] < told.Margin:
			pair.Item, pair.Stretch = -1, b.most[p]
			told.Never = append(told.Never, pair)
			continue
		case pair.Stretch < told.Margin:
			pair.Item, pair.Stretch = -1, b.most[p]
			told.Own = append(told.Own, pair)
			continue
		}
		told.Apart = append(told.Apart, pair)
		if told.Least == 0 || pair.Stretch < told.Least {
			told.Least = pair.Stretch
		}
	}
}

// groups sorts the readings by their line.
func (b *book) groups(lines []line) []misread.Group {
	_, of := distinct(lines)
	var groups []misread.Group
	at := map[int]int{}
	for i, k := range of {
		if b.broken[i] {
			continue
		}
		if _, known := at[k]; !known {
			at[k] = len(groups)
			groups = append(groups, misread.Group{})
		}
		groups[at[k]].IDs = append(groups[at[k]].IDs, b.names[i])
	}
	for i := range groups {
		groups[i].Sentence = strings.Join(groups[i].IDs, ", ") + " answer alike."
		if len(groups[i].IDs) == 1 {
			groups[i].Sentence = groups[i].IDs[0] + " alone gives this answer."
		}
	}
	return groups
}
