package chart_test

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"tarry/chart"
	"tarry/internal/casetest"
	"tarry/trace"
)

func text(t *testing.T, tr *trace.Trace, opt chart.TextOptions) string {
	t.Helper()
	s, err := chart.Text(tr, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestTextGolden(t *testing.T) {
	for _, name := range []string{"dabbed-then-held", "long-quiet", "no-width", "crowded", "chatter-at-zero", "preset-and-supply"} {
		casetest.Golden(t, "testdata/"+name+".text", []byte(text(t, cases()[name], chart.TextOptions{})))
	}
	plain := text(t, cases()["no-width"], chart.TextOptions{Ascii: true, Width: 70})
	casetest.Golden(t, "testdata/ascii.text", []byte(plain))
}

func TestTextKeepsItsWidth(t *testing.T) {
	all := cases()
	for i := range uint64(300) {
		all[string(rune('A'+i))] = random(rand.New(rand.NewPCG(2, i)))
	}
	for name, tr := range all {
		for _, width := range []int{50, 80, 132} {
			s := text(t, tr, chart.TextOptions{Width: width})
			for _, line := range strings.Split(s, "\n") {
				if utf8.RuneCountInString(line) > width || strings.HasSuffix(line, " ") {
					t.Errorf("%s at %d: %q", name, width, line)
				}
			}
		}
	}
}

func TestTextAscii(t *testing.T) {
	for name, tr := range cases() {
		for _, r := range text(t, tr, chart.TextOptions{Ascii: true}) {
			if r > 126 || r < 32 && r != '\n' {
				t.Errorf("%s: %q", name, r)
			}
		}
	}
}

// A state that lasts, however shortly, must have a cell of its own.
func TestTextShowsShortStates(t *testing.T) {
	tr := play(delays(), "A dab of 50 ms", 20*s, joined(pressed(5*s), released(5050*ms))...)
	for _, line := range strings.Split(text(t, tr, chart.TextOptions{}), "\n") {
		if strings.HasPrefix(line, "S1") && strings.Count(line, "▄") != 1 {
			t.Errorf("the dab is not there: %s", line)
		}
	}
}

func TestTextRows(t *testing.T) {
	s := text(t, cases()["dabbed-then-held"], chart.TextOptions{Rows: []string{"KT2.noto"}})
	if !strings.Contains(s, "▓") {
		t.Errorf("without a row of elapsed time the contact's row is to show the time:\n%s", s)
	}
	if _, err := chart.Text(cases()["tie"], chart.TextOptions{Rows: []string{"K9"}}); err == nil {
		t.Error("no error for an unknown row")
	}
}

// TestTextTickLabels: the times above the ruler stand at one distance, though those
// from 10:00 on are wider.
func TestTextTickLabels(t *testing.T) {
	for minutes := range 24 {
		tr := play(delays(), "Long", time.Duration(6+minutes)*time.Minute, joined(pressed(1*s), released(133*s))...)
		for width := 50; width < 140; width++ {
			var got []time.Duration
			for line := range strings.Lines(text(t, tr, chart.TextOptions{Width: width, Uncut: true, Rows: []string{"S1.no"}})) {
				if fields := strings.Fields(line); len(fields) > 1 && strings.HasPrefix(fields[0], "0") {
					for _, f := range fields {
						whole, rest, _ := strings.Cut(f, ":")
						m, _ := strconv.Atoi(whole)
						seconds, _ := strconv.Atoi(rest)
						got = append(got, time.Duration(m)*time.Minute+time.Duration(seconds)*s)
					}
				}
			}
			if len(got) < 3 {
				t.Fatalf("%d columns: %v", width, got)
			}
			for i := 2; i < len(got); i++ {
				if got[i]-got[i-1] != got[1] {
					t.Errorf("%d columns: %v", width, got)
				}
			}
		}
	}
}
