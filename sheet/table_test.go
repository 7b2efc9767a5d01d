package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"tarry/page"
	"tarry/schematic"
	"tarry/sheet"
)

const flicker = `circuit "A timer that cuts itself"
supply 24 V dc
S1   switch "Feed"
KT1  on-delay 2 s
H1   lamp green

1:  S1.no KT1.ncto  -> KT1
2:  KT1.notc        -> H1

script "Fed"
  1 s  close S1
  end 4 s
  expect H1 on 3 s .. 3 s
`

func TestStateTable(t *testing.T) {
	_, traces := readText(t, "flicker", []byte(flicker))
	table := sheet.StateTableOf(traces[0])
	if got, want := strings.Join(table.Signals, " "), "KT1 KT1.ncto KT1.notc H1"; got != want {
		t.Errorf("signals %s, want %s", got, want)
	}
	want := []string{
		"0 0 s [] off closed open off",
		"1 1 s [S1 (Feed) is closed] *on closed open off",
		"2 3 s [] on^ closed^ open^ off^", // drops out, and picks up again at once
	}
	for i, r := range table.Rows {
		got := fmt.Sprintf("%d %s [%s]", r.Step, r.Time, r.Did)
		for _, c := range r.States {
			got += " " + map[bool]string{true: "*"}[c.Changed] + c.Word + map[bool]string{true: "^"}[c.Pulsed]
		}
		if i >= len(want) || got != want[i] {
			t.Errorf("row %d: %s", i, got)
		}
		if r.Why == "" {
			t.Errorf("row %d says nothing", i)
		}
	}
	if table.Ends != "The run ends at 4 s." {
		t.Errorf("ends with %q", table.Ends)
	}
}

// The blank table gives away steps, times and hands, and nothing else; the
// filled one marks what has changed and what moved to and fro.
func TestStateTablePages(t *testing.T) {
	c, traces := readText(t, "flicker", []byte(flicker))
	set := makeSet(t, c, traces, sheet.Options{Parts: []string{"table-blank", "table-filled"}})
	blank, filled := set[0].Pages[0], set[1].Pages[0]
	for _, words := range []string{"3 s", "S1 (Feed) is closed", "ncto"} {
		if !strings.Contains(wordsOf(blank), words+"\n") {
			t.Errorf("the blank table lacks %q", words)
		}
	}
	for _, words := range []string{"closed\n", "on\n", "open\n", "KT1 has been energised"} {
		if strings.Contains(wordsOf(blank), "\n"+words) {
			t.Errorf("the blank table says %q", words)
		}
		if !strings.Contains(wordsOf(filled), words) {
			t.Errorf("the filled table lacks %q", words)
		}
	}
	count := map[string]int{}
	for _, e := range filled.Elements {
		count[e.Shows.Class]++
	}
	// One frame for KT1 and one in the legend; the ticks of four signals and one
	// in the legend, each with its diamond.
	if count["changed"] != 2 || count["pulse"] != 10 {
		t.Errorf("%d frames and %d ticks", count["changed"], count["pulse"])
	}
}

// Room to write is at least 7 mm high.
func TestBlankRowsAreHigh(t *testing.T) {
	c, traces := libraryCircuit(t, "9")
	for _, p := range makeSet(t, c, traces, sheet.Options{Parts: []string{"table-blank"}})[0].Pages {
		var last page.Unit
		for _, e := range p.Elements {
			line, ok := e.Shape.(page.Poly)
			if !ok || e.Shows.Class != "frame" || line.Points[0].Y != line.Points[1].Y || line.Points[0].Y > p.Height-4000 {
				continue
			}
			if last > 3000 && line.Points[0].Y > last && line.Points[0].Y-last < 700 {
				t.Errorf("a row is %v mm high", line.Points[0].Y-last)
			}
			last = line.Points[0].Y
		}
	}
}

// manyRungs is a circuit whose lists run over several sheets and whose table
// has more signals than fit side by side.
func manyRungs(n int) string {
	var b strings.Builder
	b.WriteString("circuit \"Many rungs\"\nsupply 24 V dc\n")
	for i := range n {
		fmt.Fprintf(&b, "S%d button \"Station %d\"\nKT%d on-delay %d s\nH%d lamp green\n", i, i, i, i+1, i)
	}
	for i := range n {
		fmt.Fprintf(&b, "%d: S%d.no -> KT%d\n%d: KT%d.notc -> H%d\n", 2*i+1, i, i, 2*i+2, i, i)
	}
	b.WriteString("script \"All\"\n")
	for i := range n {
		fmt.Fprintf(&b, "  %d s press S%d for 500 ms\n", i+1, i)
	}
	return b.String()
}

// Every sheet of a long list says the head of its table again, and nothing is
// lost between two sheets.
func TestListsBreakOverSheets(t *testing.T) {
	c, traces := readText(t, "many", []byte(manyRungs(40)))
	heads := map[string]string{"table-blank": "Step", "table-filled": "Step", "parts": "Tag", "wiring": "Wire", "dead-test": "Expected"}
	names := []string{"table-blank", "table-filled", "parts", "wiring", "dead-test", "lab", "key"}
	for paper := range sheet.Letter + 1 {
		for _, part := range makeSet(t, c, traces, sheet.Options{Paper: paper, Symbols: schematic.American, Parts: names}) {
			all := ""
			for i, p := range part.Pages {
				checkSheet(t, fmt.Sprintf("%s %d", part.Name, i+1), p)
				if !strings.Contains(wordsOf(p), heads[part.Name]) {
					t.Errorf("%s %d has no head", part.Name, i+1)
				}
				all += wordsOf(p)
			}
			if heads[part.Name] == "" {
				continue
			}
			if len(part.Pages) < 2 {
				t.Errorf("%s has %d pages", part.Name, len(part.Pages))
			}
			for i := range 40 {
				if tag := fmt.Sprintf("KT%d", i); !strings.Contains(all, tag+"\n") && !strings.Contains(all, tag+":A1\n") {
					t.Errorf("%s: %s is lost", part.Name, tag)
				}
			}
		}
	}
}

// Tags and labels of any length stay within their columns.
func TestLongTagsStayInside(t *testing.T) {
	long := strings.NewReplacer("KT1", "KT1"+strings.Repeat("LONG", 12), "H1", "H1"+strings.Repeat("WIDE", 12), `"Feed"`,
		`"`+strings.TrimSpace(strings.Repeat("very long words for a label ", 6))+`"`).Replace(flicker)
	c, traces := readText(t, "long", []byte(long))
	names := []string{"table-blank", "table-filled", "parts", "wiring", "dead-test", "lab", "key"}
	for _, part := range makeSet(t, c, traces, sheet.Options{Parts: names}) {
		for i, p := range part.Pages {
			checkSheet(t, fmt.Sprintf("%s %d", part.Name, i+1), p)
		}
	}
}
