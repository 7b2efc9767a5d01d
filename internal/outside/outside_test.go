package outside

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/notation"
	"tarry/trace"
)

// folder holds the worked examples. Each file says in remarks at its top where
// it comes from, what the source states and what is derived from it. A remark
// within a script, "# notice 1 s: race M1, M2", declares a notice that its run
// must give; no run may give any other.
const folder = "../../testdata/outside/"

// allowed names the diagnostics that a file is meant to cause, by "file code",
// and why.
var allowed = map[string]string{}

func files(t *testing.T) []string {
	t.Helper()
	list, err := filepath.Glob(folder + "*.tarry")
	if err != nil || len(list) == 0 {
		t.Fatalf("no worked examples in %s (error %v)", folder, err)
	}
	for i := range list {
		list[i] = filepath.Base(list[i])
	}
	return list
}

// text returns a worked example as it stands.
func text(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(folder + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// read reads a text that must have no faults but those allowed.
func read(t *testing.T, name, text string) *circuit.Circuit {
	t.Helper()
	file, ds := notation.Read(name, []byte(text))
	for _, d := range ds {
		if allowed[name+" "+d.Code] == "" {
			line := 1 + strings.Count(text[:d.At.Start], "\n")
			t.Errorf("%s:%d: %s %s: %s", name, line, d.Grade, d.Code, d.Summary)
		}
	}
	return file.Circuit
}

// play runs the script and fails unless it reaches its end.
func play(t *testing.T, c *circuit.Circuit, s *circuit.Script) *trace.Trace {
	t.Helper()
	tr := engine.Run(c, s, engine.Options{})
	if tr.Ending != trace.Finished || tr.End != s.End {
		t.Errorf("%q ended at %v in state %d, not at its end %v", s.Name, tr.End, tr.Ending, s.End)
	}
	return tr
}

func TestWorkedExamples(t *testing.T) {
	for _, name := range files(t) {
		t.Run(strings.TrimSuffix(name, ".tarry"), func(t *testing.T) {
			source := text(t, name)
			declared := declaredNotices(source)
			c := read(t, name, source)
			if len(c.Scripts) == 0 {
				t.Error("no script")
			}
			for i := range c.Scripts {
				s := &c.Scripts[i]
				t.Run(s.Name, func(t *testing.T) { checkScript(t, c, s, declared[s.Name]) })
			}
		})
	}
}

func checkScript(t *testing.T, c *circuit.Circuit, s *circuit.Script, declared []string) {
	tr := play(t, c, s)
	for _, v := range tr.CheckAll(s) {
		if !v.OK {
			t.Errorf("%s: not as expected from %v on\n got %v\nwant %v",
				c.SignalName(v.Expect.Signal), v.Differs, v.Got, v.Want)
		}
	}
	for _, l := range tr.Wiring.Loads {
		if !expects(s, l.Load) {
			t.Errorf("no expectation for %s", c.LoadName(l.Load))
		}
	}
	var got []string
	for _, n := range tr.Notices {
		got = append(got, describe(c, n))
	}
	if !slices.Equal(got, declared) {
		t.Errorf("notices\n got %q\nwant %q", got, declared)
	}
}

func expects(s *circuit.Script, l circuit.Load) bool {
	return slices.ContainsFunc(s.Expects, func(x circuit.Expect) bool {
		return x.Signal == trace.LoadSignal(l)
	})
}

// declaredNotices lists the notices that the remarks of each script declare.
func declaredNotices(text string) map[string][]string {
	list := map[string][]string{}
	script := ""
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if name, ok := strings.CutPrefix(line, "script "); ok {
			script = strings.Trim(name, `"`)
		}
		if words, ok := strings.CutPrefix(line, "# notice "); ok {
			list[script] = append(list[script], words)
		}
	}
	return list
}

var noticeWords = map[trace.NoticeKind]string{
	trace.Tie: "tie", trace.Race: "race", trace.RaceSkip: "race not looked into", trace.Chatter: "chatter",
	trace.Short: "short circuit", trace.NoEffect: "no effect", trace.BothCoils: "both coils", trace.Limit: "limit",
}

// describe writes a notice as the remarks do.
func describe(c *circuit.Circuit, n trace.Notice) string {
	return fmt.Sprintf("%s: %s %s", circuit.FormatTime(n.At), noticeWords[n.Kind], strings.Join(tags(c, n), ", "))
}

func tags(c *circuit.Circuit, n trace.Notice) []string {
	var list []string
	for _, d := range n.Devices {
		list = append(list, c.Devices[d].Tag)
	}
	return list
}

// TestSourcesAreNamed holds the remarks at the top of each file to what they
// promise.
func TestSourcesAreNamed(t *testing.T) {
	for _, name := range files(t) {
		head, _, _ := strings.Cut(text(t, name), "\ncircuit ")
		if !strings.HasPrefix(head, "# Source: ") {
			t.Errorf("%s does not begin with its source", name)
		}
		for _, part := range []string{"\n# Stated by the source: ", "\n# Derived with ideal contacts"} {
			if !strings.Contains(head, part) {
				t.Errorf("%s: the top has no line %q", name, strings.TrimSpace(part))
			}
		}
	}
}

// TestAllowancesAreNeeded fails for an allowance that nothing asks for.
func TestAllowancesAreNeeded(t *testing.T) {
	needed := map[string]bool{}
	for _, name := range files(t) {
		_, ds := notation.Read(name, []byte(text(t, name)))
		for _, d := range ds {
			needed[name+" "+d.Code] = true
		}
	}
	for key := range allowed {
		if !needed[key] {
			t.Errorf("%s is allowed but does not occur", key)
		}
	}
}

// load returns the signal of a device's coil or load.
func load(t *testing.T, c *circuit.Circuit, tag string) circuit.Signal {
	t.Helper()
	d := c.Find(tag)
	if d == circuit.NoDevice {
		t.Fatalf("nothing is called %s", tag)
	}
	return circuit.Signal{Device: d}
}

// edge is a change of a signal, without its place in a trace.
type edge struct {
	at time.Duration
	on bool
}

// edges returns a signal's value at time zero and its changes, those of no
// width too.
func edges(tr *trace.Trace, s circuit.Signal) []edge {
	var list []edge
	for _, e := range tr.Edges(s) {
		list = append(list, edge{e.At, e.On})
	}
	return list
}

// The reversing starter and its simplification (T. R. Kuphaldt, Lessons in
// Electric Circuits, vol. IV, figures 04063 and 04064): the source says that
// the second works the same with fewer contacts.

const (
	coastDown  = "reversing_coast_down.tarry"
	simplified = "reversing_simplified.tarry"
)

func TestReversingStartersAgree(t *testing.T) {
	a, b := read(t, coastDown, text(t, coastDown)), read(t, simplified, text(t, simplified))
	if len(a.Scripts) != len(b.Scripts) {
		t.Fatalf("%d scripts and %d", len(a.Scripts), len(b.Scripts))
	}
	for i := range a.Scripts {
		sa, sb := &a.Scripts[i], &b.Scripts[i]
		if sa.Name != sb.Name || !slices.EqualFunc(sa.Timeline(), sb.Timeline(), sameAction(a, b)) {
			t.Fatalf("%q and %q do not do the same", sa.Name, sb.Name)
		}
		ta, tb := play(t, a, sa), play(t, b, sb)
		for _, tag := range []string{"M1", "M2", "TD1", "TD2"} {
			ea, eb := edges(ta, load(t, a, tag)), edges(tb, load(t, b, tag))
			if !slices.Equal(ea, eb) {
				t.Errorf("%s: %s differs\n%v\n%v", sa.Name, tag, ea, eb)
			}
		}
	}
}

func sameAction(a, b *circuit.Circuit) func(x, y circuit.Action) bool {
	return func(x, y circuit.Action) bool {
		return x.At == y.At && x.Verb == y.Verb && a.Devices[x.Device].Tag == b.Devices[y.Device].Tag
	}
}

// TestBothButtonsRace: the run must say that it ends otherwise if one of the
// contactors is faster, and that both are locked out as it stands.
func TestBothButtonsRace(t *testing.T) {
	for _, name := range []string{coastDown, simplified} {
		t.Run(name, func(t *testing.T) {
			c := read(t, name, text(t, name))
			s := &c.Scripts[1]
			tr := play(t, c, s)
			if len(tr.Notices) == 0 {
				t.Error("no race")
			}
			for _, n := range tr.Notices {
				checkRace(t, c, n)
			}
			for _, tag := range []string{"M1", "M2"} {
				if tr.SignalAt(load(t, c, tag), trace.Settled(time.Second)) {
					t.Errorf("%s stays on", tag)
				}
			}
			checkLocked(t, c, tr)
		})
	}
}

// checkRace fails unless the notice names both contactors, both off as the run
// goes and one of them on as it could go.
func checkRace(t *testing.T, c *circuit.Circuit, n trace.Notice) {
	t.Helper()
	named := tags(c, n)
	if n.Kind != trace.Race || n.At != time.Second || !slices.Contains(named, "M1") || !slices.Contains(named, "M2") {
		t.Errorf("not a race of M1 and M2 at 1 s: %s", describe(c, n))
	}
	if sum := outcome(c, n.Outcomes[0], "M1") + outcome(c, n.Outcomes[0], "M2"); sum != 0 {
		t.Errorf("the outcome that the run follows leaves a contactor on: %v", n.Outcomes[0])
	}
	if sum := outcome(c, n.Outcomes[1], "M1") + outcome(c, n.Outcomes[1], "M2"); sum != 1 {
		t.Errorf("the other outcome does not leave one contactor on: %v", n.Outcomes[1])
	}
}

// checkLocked fails unless both timed contacts are open from 1 s to 6 s.
func checkLocked(t *testing.T, c *circuit.Circuit, tr *trace.Trace) {
	t.Helper()
	for _, tag := range []string{"TD1", "TD2"} {
		s := load(t, c, tag)
		s.Contact = circuit.NCTC
		for _, at := range []time.Duration{1000, 3500, 5999} {
			if tr.SignalAt(s, trace.Settled(at*time.Millisecond)) {
				t.Errorf("%s.nctc is closed at %d ms", tag, at)
			}
		}
	}
}

// outcome returns the value with which a device's coil ends, 0 if the list
// does not say.
func outcome(c *circuit.Circuit, list []trace.Outcome, tag string) int {
	for _, o := range list {
		if o.Device == c.Find(tag) && o.Part == trace.Coil {
			return o.Value
		}
	}
	return 0
}

// TestOilChangeAfterThreeHours plays the bearing lubrication's ninety-four
// runs (Programmable Logic Controllers, 5th edition, figure 7-30): 93 runs of
// 115 s make 10 695 s, so the 94th reaches 3 h at 105 s after its start. Then
// the motor is barred until the reset.
func TestOilChangeAfterThreeHours(t *testing.T) {
	const name, round = "bearing_lubrication.tarry", 200
	var b strings.Builder
	b.WriteString(text(t, name) + "\nscript \"Ninety-six runs\"\n")
	for run := range 96 {
		fmt.Fprintf(&b, "%d s close SW\n%d s open SW\n", run*round, run*round+100)
		if run == 94 {
			fmt.Fprintf(&b, "%d s press S2 for 1 s\n", run*round+150)
		}
	}
	fmt.Fprintf(&b, "end %d s\n", 96*round)
	c := read(t, name, b.String())
	tr := play(t, c, &c.Scripts[len(c.Scripts)-1])
	want := map[string][]circuit.Span{"LAMP": {seconds(93*round+105, 94*round+150)}}
	for run := range 96 {
		want["PUMP"] = append(want["PUMP"], seconds(run*round, run*round+115))
		if run != 94 {
			want["MOTOR"] = append(want["MOTOR"], seconds(run*round+10, run*round+100))
		}
	}
	for tag, spans := range want {
		if got := tr.Spans(load(t, c, tag)); !slices.Equal(got, spans) {
			t.Errorf("%s\n got %v\nwant %v", tag, got, spans)
		}
	}
	if len(tr.Notices) > 0 {
		t.Errorf("notices %v", tr.Notices)
	}
}

func seconds(from, to int) circuit.Span {
	return circuit.Span{From: time.Duration(from) * time.Second, To: time.Duration(to) * time.Second}
}
