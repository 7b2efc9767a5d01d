package sheet_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"tarry/sheet"
)

const handsOn = `circuit "Everything that a hand does"
aim "Do it all"
caution "Mind the lamp."
supply 24 V dc
S1   button                "Start"
S2   selector off on       "Mode"
S3   switch
B1   float                 "Level"
F1   overload              "Motor"
KT1  on-delay 4 s +-5%     "Wait"
KT2  flasher 1 s 2 s
H1   lamp green
try  "Set KT1 to 6 s."

1:  S1.no S2.on S3.no B1.no F1.nc -> KT1, KT2
2:  KT1.notc KT2.tno              -> H1

script "All hands"
  0 s    turn S2 to on
  1 s    close S3
  2 s    close B1 for 9 s
  3 s    press S1 for 500 ms
  4 s    press S1
  5 s    trip F1
  6 s    reset F1
  7 s    supply off for 1 s
  8.5 s  set KT1 to 6 s
  10 s   release S1
  12 s   open S3
  end 14 s
`

func TestLabRun(t *testing.T) {
	c, traces := readText(t, "hands", []byte(handsOn))
	run := sheet.LabRunOf(c, &c.Scripts[0], traces[0].End)
	want := []string{
		"0 s Turn S2 (Mode) to on",
		"1 s Close S3",
		"2 s Operate B1 (Level) for 9 s",
		"3 s Press S1 (Start) for 500 ms",
		"4 s Press S1 (Start) and keep it pressed",
		"5 s Trip F1 (Motor)",
		"6 s Reset F1 (Motor)",
		"7 s Switch the supply off, and on again after 1 s",
		"8.5 s Set KT1 (Wait) to 6 s",
		"10 s Let S1 (Start) go",
		"12 s Open S3",
	}
	for i, step := range run.Steps {
		if got := step.Time + " " + step.Do; i >= len(want) || got != want[i] {
			t.Errorf("step %d: %s", i, got)
		}
	}
	if len(run.Steps) != len(want) || run.End != "14 s" || strings.Join(run.Watch, " ") != "KT1 KT2 H1" {
		t.Errorf("%d steps, ends %s, watch %v", len(run.Steps), run.End, run.Watch)
	}
	if cut := sheet.LabRunOf(c, &c.Scripts[0], 3*time.Second); len(cut.Steps) != 4 {
		t.Errorf("a run that ends at 3 s has %d steps", len(cut.Steps))
	}
}

func TestTimerSettings(t *testing.T) {
	c, _ := readText(t, "hands", []byte(handsOn))
	got := ""
	for _, s := range sheet.TimerSettings(c) {
		got += fmt.Sprintf("%s %s %s: %s, %s\n", s.Tag, s.Function, s.Which, s.Set, s.Limits)
	}
	want := "KT1 on-delay : 4 s, 3.8 s to 4.2 s\nKT2 flasher time on: 1 s, \nKT2 flasher time off: 2 s, \n"
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// The sections stand in the order of work, and a sheet that is printed beside
// the lab sheet is not repeated in it.
func TestLabSections(t *testing.T) {
	c, traces := readText(t, "hands", []byte(handsOn))
	sections := []string{"Aim\n", "Caution\n", "1. Parts\n", "2. Drawing\n", "3. Wiring\n", "4. Dead test\n", "5. Permission to energise\n",
		"instructor's signature\n", "6. Set and time the timers\n", "mean\n", "7. Runs\n", "My prediction\n", "Measured\n", "8. Questions\n", "9. Clear up\n"}
	for _, names := range [][]string{{"lab"}, {"lab", "parts", "wiring", "dead-test"}} {
		text := ""
		for _, p := range makeSet(t, c, traces, sheet.Options{Parts: names})[0].Pages {
			text += wordsOf(p)
		}
		at := 0
		for _, s := range sections {
			i := strings.Index(text[at:], s)
			if i < 0 {
				t.Fatalf("%v: %q does not follow in its place", names, s)
			}
			at += i
		}
		if own, want := strings.Contains(text, "S1:13\n"), len(names) == 1; own != want {
			t.Errorf("%v: wiring list in the lab sheet %v", names, own)
		}
	}
}

// A circuit that is for reading only is never fetched, wired, tested or
// energised.
func TestReadOnlyIsNotBuilt(t *testing.T) {
	c, traces := libraryCircuit(t, "39")
	for _, part := range makeSet(t, c, traces, sheet.Options{}) {
		if n := len(part.Pages); (part.Name == "wiring" || part.Name == "dead-test") && n > 0 {
			t.Errorf("%s has %d pages", part.Name, n)
		}
	}
	for _, part := range makeSet(t, c, traces, sheet.Options{Parts: []string{"parts", "wiring", "dead-test", "lab"}}) {
		text := ""
		for _, p := range part.Pages {
			text += wordsOf(p)
		}
		if !strings.Contains(text, "Read only: do not build this") {
			t.Errorf("%s does not say that it is for reading only", part.Name)
		}
		for _, words := range []string{"found\n", "wired\n", "right\n", "Permission to energise", "Set and time"} {
			if strings.Contains(text, words) {
				t.Errorf("%s has %q", part.Name, words)
			}
		}
	}
}

// Nothing may be wired from a text with faults.
func TestFaultyIsNotBuilt(t *testing.T) {
	c, traces := readText(t, "hands", []byte(handsOn))
	opt := sheet.Options{Faults: []string{"3: no such device"}}
	for _, part := range makeSet(t, c, traces, opt) {
		if n := len(part.Pages); (part.Name == "wiring" || part.Name == "dead-test" || part.Name == "lab") != (n == 0) {
			t.Errorf("%s has %d pages", part.Name, n)
		}
	}
	opt.Parts = []string{"wiring", "dead-test", "lab"}
	for _, part := range makeSet(t, c, traces, opt) {
		text := wordsOf(part.Pages[0])
		if len(part.Pages) != 1 || !strings.Contains(text, "nothing may be wired from this.") || strings.Contains(text, "S1:13\n") {
			t.Errorf("%s:\n%s", part.Name, text)
		}
		checkSheet(t, part.Name, part.Pages[0])
	}
}

func TestLabPlant(t *testing.T) {
	c, traces := libraryCircuit(t, "15")
	text := ""
	for _, p := range makeSet(t, c, traces, sheet.Options{Parts: []string{"lab"}})[0].Pages {
		text += wordsOf(p)
	}
	if n := strings.Count(strings.Join(strings.Fields(text), " "), "on the bench do it by hand."); n != len(traces) {
		t.Errorf("%d of %d runs tell how the plant answers", n, len(traces))
	}
}
