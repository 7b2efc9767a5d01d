package outside

// The timer blocks TON, TOF and TP of IEC 61131-3 (edition 2, Table 38;
// edition 3, Table 46; from memory) against the timed contacts. The blocks are
// written straight from the table as guarded transitions on an ideal clock and
// share nothing with the engine:
//
//	TON  Idle → Timing on a rise, x := 0; Timing → Done at x = PT, Q := 1;
//	     any fall → Idle, Q := 0
//	TOF  Idle → On on a rise, Q := 1; On → Timing on a fall, x := 0;
//	     Timing → Idle at x = PT, Q := 0; a rise in Timing → On
//	TP   Idle → Pulse on a rise, x := 0, Q := 1; at x = PT, Q := 0:
//	     → Hold if IN, else → Idle; Hold → Idle on a fall
//
// A contact on the wall and the output of a block correspond so:
//
//	on-delay   notc = TON.Q   ncto = NOT TON.Q
//	off-delay  noto = TOF.Q   nctc = NOT TOF.Q
//	pulse      tno  = TP.Q    tnc  = NOT TP.Q
//
// IN changing at exactly x = PT leaves two transitions open at one instant.
// Read point by point ("Q is TRUE while IN is TRUE and x >= PT"), the table
// takes IN's new value: IN first, as the engine takes a hand before a clock.
// The other order differs so, and the engine must say so with a tie notice:
//
//	TON, IN falls at PT after its rise   Q has a pulse of no length
//	TOF, IN rises at PT after its fall   Q has a drop-out of no length
//	TP, IN rises at the pulse's end      Q has a drop-out of no length and
//	                                     then a second whole pulse
//
// A pulse of IN that has no length is seen by both here; a program that scans
// its inputs would miss it. A change of PT while timing is left to the maker
// by the standard, so it is not compared. ET is compared where the relay has
// it too; TP's ET returns to 0 when IN is FALSE after the pulse, which no
// contact shows.

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/notation"
	"tarry/trace"
)

const (
	grid  = 100 * time.Millisecond
	never = time.Duration(1<<63 - 1)
)

// output collects the value of Q at the start and its changes.
type output struct{ edges []edge }

func newOutput() *output { return &output{[]edge{{}}} }

func (o *output) set(at time.Duration, on bool) {
	if o.edges[len(o.edges)-1].on != on {
		o.edges = append(o.edges, edge{at, on})
	}
}

// due reports whether x has reached PT before IN's next change at next. At the
// very instant IN is first, unless clockFirst asks for the other order.
func due(at, next time.Duration, clockFirst bool) bool {
	return at < next || clockFirst && at == next
}

// A rule is a block: IN's changes, from FALSE on, to Q's.
type rule func(in []edge, pt, end time.Duration, clockFirst bool) []edge

func ton(in []edge, pt, end time.Duration, clockFirst bool) []edge {
	q, x := newOutput(), never
	for _, e := range append(slices.Clone(in), edge{at: end, on: true}) {
		if x != never && due(x, e.at, clockFirst) {
			q.set(x, true)
			x = never
		}
		if e.on {
			x = e.at + pt
		} else {
			q.set(e.at, false)
			x = never
		}
	}
	return q.edges
}

func tof(in []edge, pt, end time.Duration, clockFirst bool) []edge {
	q, x := newOutput(), never
	for _, e := range append(slices.Clone(in), edge{at: end}) {
		if x != never && due(x, e.at, clockFirst) {
			q.set(x, false)
			x = never
		}
		if e.on {
			q.set(e.at, true)
			x = never
		} else {
			x = e.at + pt
		}
	}
	return q.edges
}

func tp(in []edge, pt, end time.Duration, clockFirst bool) []edge {
	const idle, pulse, hold = 0, 1, 2
	q, x, state, level := newOutput(), never, idle, false
	for _, e := range append(slices.Clone(in), edge{at: end}) {
		if state == pulse && due(x, e.at, clockFirst) {
			q.set(x, false)
			state = idle
			if level {
				state = hold
			}
		}
		level = e.on
		switch {
		case e.on && state == idle:
			q.set(e.at, true)
			x, state = e.at+pt, pulse
		case !e.on && state == hold:
			state = idle
		}
	}
	return q.edges
}

// pair is a block and the timer that it corresponds to.
type pair struct {
	name     string
	rule     rule
	function string
	straight circuit.ContactKind // shows Q
	inverted circuit.ContactKind // shows NOT Q
	counts   int                 // ET counts while IN is 1 or 0; -1: not compared
}

var pairs = []pair{
	{"TON", ton, "on-delay", circuit.NOTC, circuit.NCTO, 1},
	{"TOF", tof, "off-delay", circuit.NOTO, circuit.NCTC, 0},
	{"TP", tp, "pulse", circuit.TNO, circuit.TNC, -1},
}

// write puts IN's changes into a circuit of one timer. If IN begins TRUE, its
// first change is left out and the switch's other contact used.
func (p *pair) write(in []edge, pt, end time.Duration, beginsTrue bool) string {
	var b strings.Builder
	contact, verbs := "no", [2]string{"open", "close"}
	if beginsTrue {
		in, contact, verbs = in[1:], "nc", [2]string{"close", "open"}
	}
	fmt.Fprintf(&b, "S1 switch\nKT1 %s %v ms\nH1 lamp\nH2 lamp\n", p.function, pt.Milliseconds())
	fmt.Fprintf(&b, "1: S1.%s -> KT1\n2: KT1.%v -> H1\n3: KT1.%v -> H2\n", contact, p.straight, p.inverted)
	b.WriteString("script \"IN\"\n")
	for _, e := range in {
		verb := verbs[0]
		if e.on {
			verb = verbs[1]
		}
		fmt.Fprintf(&b, "%d ms %s S1\n", e.at.Milliseconds(), verb)
	}
	fmt.Fprintf(&b, "end %d ms\n", end.Milliseconds())
	return b.String()
}

// run plays IN on the circuit.
func (p *pair) run(t *testing.T, in []edge, pt, end time.Duration, beginsTrue bool) *trace.Trace {
	t.Helper()
	c := read(t, p.name, p.write(in, pt, end, beginsTrue))
	return play(t, c, &c.Scripts[0])
}

// check holds the circuit's contacts, and the lamps on them, against Q.
func (p *pair) check(t *testing.T, tr *trace.Trace, q []edge) {
	t.Helper()
	kt1 := load(t, tr.Circuit, "KT1")
	signals := [4]circuit.Signal{kt1, kt1, load(t, tr.Circuit, "H1"), load(t, tr.Circuit, "H2")}
	signals[0].Contact, signals[1].Contact = p.straight, p.inverted
	for i, s := range signals {
		got := edges(tr, s)
		if i%2 == 1 {
			got = inverse(got)
		}
		if !slices.Equal(fromStart(got), fromStart(q)) {
			t.Errorf("%s %s\n got %v\nwant %v", p.name, tr.Circuit.SignalName(s), got, q)
		}
	}
}

func inverse(list []edge) []edge {
	var out []edge
	for _, e := range list {
		out = append(out, edge{e.at, !e.on})
	}
	return out
}

// fromStart leaves out what comes before the last value at time zero.
func fromStart(list []edge) []edge {
	for len(list) > 1 && list[1].at == 0 {
		list = list[1:]
	}
	return list
}

// row is a case for a row of the table: times in seconds, "1-4 5-5" for TRUE
// from 1 s to 4 s and for no length at 5 s; PT is 3 s and the run 20 s long.
type row struct {
	what  string
	in    string
	q     string
	other string // Q if the clock were first, "same" if it is the same
}

// The rows of the table, block by block.
var rows = map[string][]row{
	"TON": {
		{"longer than PT", "1-6", "4-6", "same"},
		{"shorter than PT", "1-3.9", "", "same"},
		{"a fall cancels, the next rise starts from 0", "1-3 4-9", "7-9", "same"},
		{"Q holds while IN is TRUE", "1-", "4-", "same"},
		{"a fall at exactly PT", "1-4", "", "4-4"},
		{"a drop-out of no length while Q is TRUE", "1-6 6-12", "4-6 9-12", "same"},
		{"a drop-out of no length while timing", "1-3 3-12", "6-12", "same"},
		{"a drop-out of no length at exactly PT", "1-4 4-12", "7-12", "4-4 7-12"},
		{"a pulse of no length", "1-1", "", "same"},
		{"first call with IN FALSE", "", "", "same"},
		{"first call with IN TRUE", "0-5", "3-5", "same"},
	},
	"TOF": {
		{"longer than PT", "1-6", "1-9", "same"},
		{"shorter than PT", "1-2", "1-5", "same"},
		{"a rise cancels, the next fall starts from 0", "1-2 4-6", "1-9", "same"},
		{"Q holds while IN is TRUE", "1-", "1-", "same"},
		{"a rise at exactly PT", "1-2 5-6", "1-9", "1-5 5-9"},
		{"a drop-out of no length", "1-6 6-8", "1-11", "same"},
		{"a pulse of no length", "1-1", "1-4", "same"},
		{"a pulse of no length at exactly PT", "1-2 5-5", "1-8", "1-5 5-8"},
		{"first call with IN FALSE must not time", "", "", "same"},
		{"first call with IN TRUE", "0-5", "0-8", "same"},
	},
	"TP": {
		{"longer than PT gives no second pulse", "1-9", "1-4", "same"},
		{"shorter than PT gives the whole pulse", "1-2", "1-4", "same"},
		{"further rises during the pulse are ignored", "1-1.5 2-2.5 3-3.5", "1-4", "same"},
		{"a rise during the pulse, still TRUE at its end", "1-2 3-6", "1-4", "same"},
		{"a fresh rise after that gives a pulse", "1-2 3-6 7-8", "1-4 7-10", "same"},
		{"a rise after the end", "1-2 5-6", "1-4 5-8", "same"},
		{"a rise at exactly the end", "1-2 4-6", "1-4", "1-4 4-7"},
		{"a fall at exactly the end", "1-4 5-6", "1-4 5-8", "same"},
		{"a pulse of no length", "1-1", "1-4", "same"},
		{"a pulse of no length at exactly the end", "1-2 4-4", "1-4", "1-4 4-7"},
		{"first call with IN FALSE", "", "", "same"},
		{"first call with IN TRUE", "0-5", "0-3", "same"},
	},
}

// parseSpans reads the short form of a row, as IN's changes from FALSE on.
func parseSpans(t *testing.T, s string) []edge {
	t.Helper()
	var list []edge
	for _, span := range strings.Fields(s) {
		from, to, _ := strings.Cut(span, "-")
		for i, word := range []string{from, to} {
			if word == "" {
				continue
			}
			at, err := time.ParseDuration(word + "s")
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, edge{at, i == 0})
		}
	}
	return list
}

func TestRowsOfTheStandard(t *testing.T) {
	const pt, end = 3 * time.Second, 20 * time.Second
	for _, p := range pairs {
		for _, r := range rows[p.name] {
			t.Run(p.name+" "+r.what, func(t *testing.T) {
				in, q := parseSpans(t, r.in), append([]edge{{}}, parseSpans(t, r.q)...)
				other := q
				if r.other != "same" {
					other = append([]edge{{}}, parseSpans(t, r.other)...)
				}
				if got := p.rule(in, pt, end, false); !slices.Equal(got, q) {
					t.Errorf("the block gives %v, not %v", got, q)
				}
				if got := p.rule(in, pt, end, true); !slices.Equal(got, other) {
					t.Errorf("with the clock first the block gives %v, not %v", got, other)
				}
				tr := p.run(t, in, pt, end, strings.HasPrefix(r.in, "0-"))
				p.check(t, tr, q)
				checkTies(t, tr, r.other != "same")
			})
		}
	}
}

// checkTies fails unless a run whose two orders differ has a tie notice, and
// another one has no notice at all.
func checkTies(t *testing.T, tr *trace.Trace, differs bool) {
	t.Helper()
	for _, n := range tr.Notices {
		if n.Kind != trace.Tie {
			t.Errorf("notice %s", describe(tr.Circuit, n))
		}
	}
	if (len(tr.Notices) > 0) != differs {
		t.Errorf("%d tie notices; the orders differ: %v", len(tr.Notices), differs)
	}
}

// TestRandomInputsOfTheStandard plays random changes of IN in whole tenths of
// a second, many of them at exactly PT and some of no length.
func TestRandomInputsOfTheStandard(t *testing.T) {
	for _, p := range pairs {
		t.Run(p.name, func(t *testing.T) {
			ties := 0
			for seed := range uint64(2000) {
				r := rand.New(rand.NewPCG(seed, 1))
				pt := time.Duration(1+r.IntN(20)) * grid
				in := randomInput(r, pt)
				end := in[len(in)-1].at + 3*pt
				q := p.rule(in, pt, end, false)
				differs := !slices.Equal(q, p.rule(in, pt, end, true))
				tr := p.run(t, in, pt, end, false)
				p.check(t, tr, q)
				checkTies(t, tr, differs)
				p.checkElapsed(t, tr, in, pt)
				if differs {
					ties++
				}
				if t.Failed() {
					t.Fatalf("seed %d\n%s", seed, p.write(in, pt, end, false))
				}
			}
			if ties < 200 {
				t.Errorf("only %d inputs whose order matters", ties)
			}
		})
	}
}

func randomInput(r *rand.Rand, pt time.Duration) []edge {
	var in []edge
	at := grid
	for i := range 2 + r.IntN(12) {
		in = append(in, edge{at, i%2 == 0})
		switch r.IntN(6) {
		case 0:
			at += pt
		case 1:
			at += max(pt-grid, 0)
		case 2: // no length
		default:
			at += time.Duration(r.IntN(25)) * grid
		}
	}
	return in
}

// checkElapsed compares ET between the tenths, where no order matters.
func (p *pair) checkElapsed(t *testing.T, tr *trace.Trace, in []edge, pt time.Duration) {
	t.Helper()
	if p.counts < 0 {
		return
	}
	kt1 := tr.Circuit.Find("KT1")
	for at := grid / 2; at < tr.End; at += 3 * grid {
		got, _ := tr.Elapsed(kt1, trace.Settled(at))
		if want := et(in, pt, at, p.counts == 1); got != want {
			t.Errorf("%s: at %v ET is %v, not %v", p.name, at, got, want)
			return
		}
	}
}

// et is the table's ET of TON (counts while IN is TRUE) and TOF (while IN is
// FALSE again): from IN's last change up to PT, else 0.
func et(in []edge, pt, at time.Duration, whileTrue bool) time.Duration {
	for _, e := range slices.Backward(in) {
		if e.at <= at {
			if e.on == whileTrue {
				return min(at-e.at, pt)
			}
			return 0
		}
	}
	return 0
}

// TestZeroPreset: the table's row PT = 0 (Q = IN, and TP's Q stays FALSE) has
// no counterpart, for the notation refuses a timer without time.
func TestZeroPreset(t *testing.T) {
	for _, p := range pairs {
		_, ds := notation.Read(p.name, []byte(p.write(nil, 0, time.Second, false)))
		if len(ds) != 1 || ds[0].Code != "zero-time" {
			t.Errorf("%s: diagnostics %v, not zero-time", p.function, ds)
		}
	}
}
