package exercise

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
	"tarry/notation"
)

const s = time.Second

func sectionA() []string {
	var ids []string
	for _, r := range misread.All() {
		if r.Section == "A" {
			ids = append(ids, r.ID)
		}
	}
	return ids
}

// sampled is the longest stretch for which two lines differ, looked at every
// quarter of a second.
func sampled(a, b line, end time.Duration) time.Duration {
	on := func(l line, at time.Duration) bool {
		now := l.start
		for _, x := range l.at {
			if x <= at {
				now = !now
			}
		}
		return now
	}
	var longest, now time.Duration
	for at := time.Duration(0); at < end; at += s / 4 {
		if now += s / 4; on(a, at) == on(b, at) {
			now = 0
		}
		longest = max(longest, now)
	}
	return longest
}

func TestDiffer(t *testing.T) {
	l := newLot("differ")
	for range 2000 {
		var two [2]line
		for i := range two {
			two[i].start = l.below(2) == 1
			for at := range 40 {
				if at > 0 && l.below(6) == 0 {
					two[i].at = append(two[i].at, time.Duration(at)*s/4)
				}
			}
		}
		if got, want := differ(two[0], two[1], 10*s), sampled(two[0], two[1], 10*s); got != want {
			t.Fatalf("%v: %v, want %v", two, got, want)
		}
	}
}

// TestFourContacts holds the answer against package misread itself: every pair of
// readings answers at least one item differently, for two seconds.
func TestFourContacts(t *testing.T) {
	c, signals := Single(5 * s)
	ids := sectionA()
	told, err := Tell(c, signals, ids, TellOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !told.Exact || !told.Shortest || !told.Whole || told.Bound != 2 || len(told.Items) != 2 || len(told.Apart) != 210 ||
		len(told.Never)+len(told.Left) > 0 || told.Least < 2*s {
		t.Errorf("%s\n%d items, %d apart", told.Words, len(told.Items), len(told.Apart))
	}
	ids = append([]string{misread.Right}, ids...)
	for i, a := range ids {
		for _, b := range ids[:i] {
			best := time.Duration(0)
			for _, x := range told.Items {
				best = max(best, sampled(played(t, c, x, a), played(t, c, x, b), x.Script.End))
			}
			if best < 2*s {
				t.Errorf("%s and %s differ for %v at most", a, b, best)
			}
		}
	}
	again, _ := Tell(c, signals, sectionA(), TellOptions{})
	if !reflect.DeepEqual(told, again) {
		t.Error("a second call gives something else")
	}
}

func played(t *testing.T, c *circuit.Circuit, x Item, id string) line {
	t.Helper()
	var ids []string
	if id != misread.Right {
		ids = append(ids, id)
	}
	p, err := misread.Run(c, x.Script, engine.Options{}, ids...)
	if err != nil {
		t.Fatal(err)
	}
	return lineOf(p.Edges(x.Signal), p.End)
}

// TestAgainstBruteForce tries every set of items of small grids.
func TestAgainstBruteForce(t *testing.T) {
	c, signals := Single(5 * s)
	all := append([]string{}, sectionA()...)
	l := newLot("brute force")
	for range 12 {
		l.shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		ids := slices.Clone(all[:8])
		few := []circuit.Signal{signals[l.below(2)], signals[2+l.below(2)]}
		opt := TellOptions{Presses: 2, Longest: 4, Starts: 2}
		told, err := Tell(c, few, ids, opt)
		if err != nil {
			t.Fatal(err)
		}
		names := append([]string{misread.Right}, ids...)
		b := newBook(c, few, names, opt.filled(c))
		var items []set
		var ends []time.Duration
		can := newSet(len(b.pairs))
		for _, g := range gridsOf(c, opt.filled(c)) {
			if can.count() == len(b.pairs) {
				break
			}
			g.scripts(func(s *circuit.Script) {
				if !b.play(s) {
					return
				}
				for i := range few {
					x := sampledCovers(b, b.lines[i], s.End)
					for k, w := range x {
						can[k] |= w
					}
					// Of those that do the same, the shortest is enough.
					if at := slices.IndexFunc(items, func(y set) bool { return slices.Equal(x, y) }); at >= 0 {
						ends[at] = min(ends[at], s.End)
					} else {
						items, ends = append(items, x), append(ends, s.End)
					}
				}
			})
		}
		if n := can.count(); n != len(told.Apart) || len(b.pairs)-n != len(told.Never) {
			t.Errorf("%v: %d pairs can be told apart, not %d", ids, n, len(told.Apart))
		}
		took := time.Duration(0)
		for _, x := range told.Items {
			took += x.Script.End
		}
		if want, least := smallest(items, ends, can); !told.Exact || len(told.Items) != want || told.Bound != want || took != least {
			t.Errorf("%v: %d items of %v, bound %d, exact %v; want %d of %v", ids, len(told.Items), took, told.Bound, told.Exact, want, least)
		}
	}
}

func sampledCovers(b *book, lines []line, end time.Duration) set {
	covers := newSet(len(b.pairs))
	for p, pair := range b.pairs {
		if sampled(lines[pair[0]], lines[pair[1]], end) >= b.margin {
			covers.add(p)
		}
	}
	return covers
}

// smallest finds how many sets it takes, and how long they are together at least,
// by trying all of them.
func smallest(items []set, ends []time.Duration, all set) (int, time.Duration) {
	const never = time.Duration(1 << 62)
	var try func(left set, from, n int) time.Duration
	try = func(left set, from, n int) time.Duration {
		if left.count() == 0 {
			return 0
		}
		best := never
		for i := from; i < len(items) && n > 0; i++ {
			if took := try(left.without(items[i], newSet(64*len(left))), i+1, n-1); took < never {
				best = min(best, ends[i]+took)
			}
		}
		return best
	}
	n := 0
	for try(all, 0, n) == never {
		n++
	}
	return n, try(all, 0, n)
}

// TestCover holds the search against all subsets, for number and cost.
func TestCover(t *testing.T) {
	l := newLot("cover")
	for range 300 {
		pairs, n := l.from(1, 12), l.from(1, 9)
		var list []choice
		all := newSet(pairs)
		for i := range n {
			x := choice{newSet(pairs), int64(l.from(1, 20)), i}
			for p := range pairs {
				if l.below(3) == 0 {
					x.covers.add(p)
					all.add(p)
				}
			}
			list = append(list, x)
		}
		fewest0, cost0 := 0, int64(0)
		if all.count() > 0 {
			fewest0 = 1 << 30
		}
		for mask := range 1 << n {
			have, count, cost := newSet(pairs), 0, int64(0)
			for i, x := range list {
				if mask>>i&1 == 1 {
					for k, w := range x.covers {
						have[k] |= w
					}
					count, cost = count+1, cost+x.cost
				}
			}
			if all.in(have) && (count < fewest0 || count == fewest0 && cost < cost0) {
				fewest0, cost0 = count, cost
			}
		}
		f := fewest(slices.Clone(list), pairs, 100_000)
		got := int64(0)
		for _, id := range f.ids {
			got += list[id].cost
		}
		if len(f.ids) != fewest0 || got != cost0 || !f.exact || !f.cheapest {
			t.Fatalf("%d for %d, want %d for %d: %+v", len(f.ids), got, fewest0, cost0, f)
		}
	}
}

// TestCoverGivesUp: without room to look, a cover comes all the same, and it says
// that it isn't proved.
func TestCoverGivesUp(t *testing.T) {
	l := newLot("gives up")
	var list []choice
	for i := range 60 {
		x := choice{newSet(200), 1, i}
		for p := range 200 {
			if l.below(8) == 0 || p == i {
				x.covers.add(p)
			}
		}
		list = append(list, x)
	}
	f := fewest(list, 200, 5000)
	if f.exact || f.bound < 2 || f.bound > len(f.ids) || len(f.ids) == 0 {
		t.Errorf("%+v", f)
	}
}

func TestNever(t *testing.T) {
	c, signals := Single(5 * s)
	told, err := Tell(c, signals[:1], []string{"m16", "M07", "M12", "P07"}, TellOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var never []string
	for _, p := range told.Never {
		never = append(never, p.A+" "+p.B)
	}
	if strings.Join(never, ", ") != "M16 M07, right M12" || len(told.Left) != 1 || told.Left[0].ID != "P07" {
		t.Errorf("never %v, left %v", never, told.Left)
	}
	if !strings.Contains(told.Words, "Nothing among all 1920 scripts of the grid tells apart by 2 s: M16 and M07; right and M12.") {
		t.Error(told.Words)
	}
	nothing, err := Tell(c, signals, nil, TellOptions{})
	if err != nil || len(nothing.Items) > 0 || !nothing.Exact || nothing.Words == "" {
		t.Errorf("%+v %v", nothing, err)
	}
}

// timedSeal starts with a dab and holds itself; stop wins.
const timedSeal = `circuit "Timed seal"
S0 button nc
S1 button
KT1 on-delay 5 s
H1 lamp
1: S0.nc (S1.no | KT1.no) -> KT1
2: KT1.notc -> H1
`

// TestWiderGrids: what presses one by one can't show, cuts of the supply and one
// hand inside another's press do.
func TestWiderGrids(t *testing.T) {
	for _, x := range []struct {
		text, row, id string
		words         string // in what is pressed
	}{
		{misread.Example{File: "supply-dip"}.Text(), "H1", "C10", "supply off"},
		{timedSeal, "KT1.notc", "M05", "press S0"},
	} {
		file, _ := notation.Read("wider", []byte(x.text))
		c := file.Circuit
		row, known := c.FindSignal(x.row)
		if !known {
			t.Fatalf("no %s in %s", x.row, x.text)
		}
		told, err := Tell(c, []circuit.Signal{row}, []string{x.id}, TellOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if len(told.Items) != 1 || len(told.Never) > 0 || !strings.Contains(ScriptWords(c, told.Items[0].Script), x.words) {
			t.Errorf("%s: %s", x.id, told.Words)
		}
	}
}

// TestNobodyHasThreeHands: in no script that is tried two things happen at once.
func TestNobodyHasThreeHands(t *testing.T) {
	file, _ := notation.Read("seal", []byte(timedSeal))
	n := 0
	for _, g := range gridsOf(file.Circuit, TellOptions{}.filled(file.Circuit)) {
		g.scripts(func(s *circuit.Script) {
			n++
			seen := map[time.Duration]bool{}
			for _, a := range s.Timeline() {
				if seen[a.At] {
					t.Fatal(ScriptWords(file.Circuit, s))
				}
				seen[a.At] = true
			}
		})
	}
	if n < 1000 {
		t.Errorf("only %d scripts", n)
	}
}

// TestOwnScripts: what only a script of the circuit shows is said, or chosen.
func TestOwnScripts(t *testing.T) {
	long := timedSeal + "script \"Four dabs\"\n1 s press S1 for 100 ms\n3 s press S0 for 100 ms\n5 s press S1 for 100 ms\n7 s press S0 for 100 ms\n9 s press S1 for 100 ms\nend 40 s\n"
	file, _ := notation.Read("seal", []byte(long))
	c := file.Circuit
	row, _ := c.FindSignal("KT1.notc")
	one := TellOptions{Presses: 1, Longest: 1, Starts: 1, Most: 1}
	told, err := Tell(c, []circuit.Signal{row}, []string{"M05"}, one)
	if err != nil || len(told.Items) != 0 || len(told.Own) != 1 || len(told.Never) != 0 || !strings.Contains(told.Words, "own scripts tell 1 pair more") {
		t.Errorf("%s %v", told.Words, err)
	}
	one.Own = true
	told, err = Tell(c, []circuit.Signal{row}, []string{"M05"}, one)
	if err != nil || len(told.Items) != 1 || told.Items[0].Script != &c.Scripts[0] || len(told.Own)+len(told.Never) != 0 {
		t.Errorf("%s %v", told.Words, err)
	}
}

func TestManyPairsInWords(t *testing.T) {
	var pairs []Pair
	for range 20 {
		pairs = append(pairs, Pair{A: "M01", B: "M02"})
	}
	if got := pairsWords(pairs); strings.Count(got, ";") != fewPairs || !strings.HasSuffix(got, "and 8 more pairs") {
		t.Error(got)
	}
	pairs[3], pairs[7] = Pair{A: misread.Right, B: "M05"}, Pair{A: misread.Right, B: "M09"}
	if got := pairsWords(pairs); got != "right and M05 or M09; and 18 pairs of misreadings" {
		t.Error(got)
	}
}

func TestTellErrors(t *testing.T) {
	c, signals := Single(5 * s)
	long, _ := Single(40_000 * time.Hour)
	bare := &circuit.Circuit{}
	for _, x := range []struct {
		c       *circuit.Circuit
		signals []circuit.Signal
		ids     []string
		words   string
	}{
		{c, nil, nil, "no signal"}, {c, signals, []string{"M99"}, "M01 to M20"},
		{bare, signals, nil, "no switch"}, {long, signals, nil, "more than a year"},
	} {
		if _, err := Tell(x.c, x.signals, x.ids, TellOptions{}); err == nil || !strings.Contains(err.Error(), x.words) {
			t.Errorf("%v, want %s", err, x.words)
		}
	}
}

func TestTellCircuit(t *testing.T) {
	file, _ := notation.Read("seal", []byte(misread.Example{File: "instant-seal"}.Text()))
	c := file.Circuit
	h1, _ := c.FindSignal("H1")
	told, err := Tell(c, []circuit.Signal{h1}, []string{"C02", "C04", "M01", "M07"}, TellOptions{Presses: 2, Most: 50})
	if err != nil {
		t.Fatal(err)
	}
	if told.Whole || told.Scripts == 0 || len(told.Items) == 0 || len(told.Apart)+len(told.Never) != 10 {
		t.Errorf("%s", told.Words)
	}
}

func TestShowsNoError(t *testing.T) {
	c, signals := Single(5 * s)
	script := &circuit.Script{Name: "One long press", End: 30 * s,
		Actions: []circuit.Action{{At: 2 * s, Verb: circuit.Close, Device: 0, For: 10 * s}}}
	n, err := ShowsNoError(c, script, signals[:1], []string{"M01", "M05", "M06", "M11", "M20"}, TellOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(n.Pass, " ") + " / " + strings.Join(n.Caught, " "); got != "M05 M06 M20 / M01 M11" {
		t.Error(got)
	}
	want := "one long press cannot tell a right answer from M05 (On-delay adds up its time), M06 (A press is a trigger) or M20 (It works once)."
	if n.Sentence != want {
		t.Error(n.Sentence)
	}
	if len(n.Better.Items) != 1 || !strings.HasPrefix(n.WayOut, "Ask also: KT1.notc with at 2.5 s close S1 for ") {
		t.Errorf("%d %s", len(n.Better.Items), n.WayOut)
	}
	better, err := ShowsNoError(c, n.Better.Items[0].Script, signals[:1], n.Pass, TellOptions{})
	if err != nil || len(better.Pass) > 0 || better.Sentence != "" {
		t.Errorf("the better presses let %v pass, %v", better.Pass, err)
	}
	other, err := ShowsNoError(c, script, signals[:1], []string{"M12"}, TellOptions{})
	if err != nil || !strings.Contains(other.WayOut, "another row may") {
		t.Errorf("%s %v", other.WayOut, err)
	}
}

// TestBreaksOff: a script that breaks off is no script to compare with.
func TestBreaksOff(t *testing.T) {
	file, _ := notation.Read("x", []byte("S1 switch\nK1 relay\nH1 lamp\n1: S1.no K1.nc -> K1\n2: K1.no -> H1\nscript \"x\"\n1 s close S1\nend 3 s\n"))
	c := file.Circuit
	h1, _ := c.FindSignal("H1")
	_, err := ShowsNoError(c, &c.Scripts[0], []circuit.Signal{h1}, []string{"M04"}, TellOptions{})
	if err == nil || !strings.Contains(err.Error(), "breaks off") {
		t.Error(err)
	}
	told, err := Tell(c, []circuit.Signal{h1}, nil, TellOptions{})
	if err != nil || told.Scripts != 0 || !strings.HasPrefix(told.Words, "There is nothing to tell apart") {
		t.Errorf("%d %s %v", told.Scripts, told.Words, err)
	}
}

// TestShorter: of two scripts that tell the same, the shorter is kept, whichever
// comes first.
func TestShorter(t *testing.T) {
	c, signals := Single(5 * s)
	press := func(at time.Duration) *circuit.Script {
		return &circuit.Script{End: at + 20*s, Actions: []circuit.Action{{At: at, Verb: circuit.Close, For: 3 * s}}}
	}
	for _, order := range [][]time.Duration{{2 * s, 6 * s}, {6 * s, 2 * s}} {
		b := newBook(c, signals[:1], []string{misread.Right, "M06"}, TellOptions{Margin: 2 * s})
		for _, at := range order {
			b.try(press(at))
		}
		if len(b.choices) != 1 || b.choices[0].cost != int64(22*s) {
			t.Errorf("%v: %+v", order, b.choices)
		}
	}
}

// TestReadingBreaksOff: a learner's run that would never settle tells nothing.
func TestReadingBreaksOff(t *testing.T) {
	file, _ := notation.Read("own", []byte(misread.Example{File: "own-contact"}.Text()))
	h1, _ := file.Circuit.FindSignal("KT1")
	told, err := Tell(file.Circuit, []circuit.Signal{h1}, []string{"M04", "C06"}, TellOptions{Presses: 1})
	if err != nil || told.Scripts == 0 || len(told.Items) != 1 || len(told.Apart) != 1 || len(told.Never) != 2 {
		t.Fatalf("%+v %v", told, err)
	}
	for _, g := range told.Items[0].Groups {
		if slices.Contains(g.IDs, "M04") {
			t.Errorf("M04 has an answer: %v", g.IDs)
		}
	}
}

// TestHands: selectors are turned and turned back, sensors close, but those of
// the plant move by themselves.
func TestHands(t *testing.T) {
	file, _ := notation.Read("x", []byte("S1 selector off auto\nB1 float\nB2 limit\nS2 button\nF1 overload\nKT1 on-delay 4 s\nH1 lamp\n"+
		"1: S1.auto (B1.no | B2.no | S2.no) F1.nc -> KT1\n2: KT1.notc -> H1\nplant B2 closes 1 s after H1 starts\n"))
	g := grid{hands: handsOf(file.Circuit), step: 2 * s, tail: 8 * s, presses: 1, longest: 1, starts: 2, most: 100}
	var got []string
	g.scripts(func(x *circuit.Script) { got = append(got, ScriptWords(file.Circuit, x)) })
	want := []string{
		"at 2 s turn S1 to auto; at 4 s turn S1 to off; end at 12 s", "at 2 s close B1 for 2 s; end at 12 s", "at 2 s press S2 for 2 s; end at 12 s",
		"at 4 s turn S1 to auto; at 6 s turn S1 to off; end at 14 s", "at 4 s close B1 for 2 s; end at 14 s", "at 4 s press S2 for 2 s; end at 14 s"}
	if !slices.Equal(got, want) {
		t.Errorf("%s", strings.Join(got, "\n"))
	}
}

// BenchmarkTell prints what is found for the four contacts and all of section A,
// with its proof.
func BenchmarkTell(b *testing.B) {
	c, signals := Single(5 * s)
	var told Told
	for b.Loop() {
		told, _ = Tell(c, signals, sectionA(), TellOptions{})
	}
	b.Log(told.Words)
	for _, x := range told.Items {
		b.Logf("%s: %s, %d different answers", x.Name, ScriptWords(c, x.Script), len(x.Groups))
	}
}
