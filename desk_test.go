package tarry_test

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"pgregory.net/rapid"

	"tarry"
	"tarry/notation"
)

const s = time.Second

// hostile has words in it that would be markup or script if they were let.
const hostile = `circuit "</script><script>boo()</script><img src=x onerror=boo()>"
S1 button "<svg onload=boo()>&\"'"
KT1 on-delay 2 s "]]><!--"
H1 lamp "${boo()}</title><style>*{}</style>"
1: S1.no -> KT1
2: KT1.notc -> H1
script "<b onclick='boo()'>"
  1 s press S1 for 4 s
  end 8 s
`

func onDesk(t *testing.T, text string) (*tarry.Desk, tarry.DeskOpened) {
	t.Helper()
	d := tarry.NewDesk()
	out, err := d.Open(tarry.Source{Name: "x", Text: []byte(text)}, tarry.DeskView{}, false)
	if err != nil {
		t.Fatal(err)
	}
	return d, out
}

// wellFormed holds the inside of an svg element to XML, and to shapes and words.
func wellFormed(t *testing.T, what, inner string) {
	t.Helper()
	r := xml.NewDecoder(strings.NewReader("<svg>" + inner + "</svg>"))
	for {
		token, err := r.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("%s: %v\n%s", what, err, inner)
		}
		if e, ok := token.(xml.StartElement); ok {
			if !strings.Contains(" svg g path polyline polygon rect circle text title desc ", " "+e.Name.Local+" ") {
				t.Errorf("%s has an element %s", what, e.Name.Local)
			}
			for _, a := range e.Attr {
				if strings.HasPrefix(a.Name.Local, "on") || strings.HasPrefix(a.Name.Local, "href") {
					t.Errorf("%s has an attribute %s", what, a.Name.Local)
				}
			}
		}
	}
}

func TestHostileWordsStayWords(t *testing.T) {
	d, out := onDesk(t, hostile)
	for _, g := range out.Sheet.Drawing.Groups {
		wellFormed(t, "drawing", g.SVG)
	}
	f, err := d.Start(0)
	if err == nil {
		f, err = d.Move(4 * s)
	}
	if err != nil || len(f.Marks) == 0 {
		t.Fatal(err, f)
	}
	for _, m := range f.Marks {
		wellFormed(t, "mark "+m.ID, m.SVG)
		if strings.ContainsAny(m.ID+m.Class, `<>"'& `) {
			t.Errorf("mark %q of class %q is no name", m.ID, m.Class)
		}
	}
	c, err := d.Chart(tarry.DeskChartRequest{Script: -1})
	if err != nil {
		t.Fatal(err)
	}
	wellFormed(t, "chart", c.SVG)
	printed, err := d.Sheets(tarry.DeskSheets{Script: -1})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range printed.Pages {
		wellFormed(t, "page", p)
	}
}

func TestPlacesInUTF16(t *testing.T) {
	text := "circuit \"Ofentür 𝄞\"\nS1 button \"Öffnen\"\nH1 lamp\n1: S7.no -> H1\n"
	_, out := onDesk(t, text)
	if len(out.Sheet.Diagnostics) == 0 {
		t.Fatal("S7 is unknown, and nothing was said")
	}
	units := utf16.Encode([]rune(text))
	x := out.Sheet.Diagnostics[0]
	if got := string(utf16.Decode(units[x.From:x.To])); got != "S7" {
		t.Errorf("the fault stands at %q", got)
	}
	dev := out.Sheet.Devices[0]
	if got := string(utf16.Decode(units[dev.From:dev.To])); got != `S1 button "Öffnen"` {
		t.Errorf("S1's line is %q", got)
	}
	d := tarry.NewDesk()
	e, err := d.Edit([]byte(text), notation.Change{Do: "label", Tag: "H1", Text: "Grün"})
	if err != nil || len(e.Edits) != 1 {
		t.Fatal(err, e)
	}
	edited := string(utf16.Decode(units[:e.Edits[0].From])) + e.Edits[0].Text + string(utf16.Decode(units[e.Edits[0].To:]))
	if !strings.Contains(edited, "\nH1 lamp   \"Grün\"\n1: S7") {
		t.Errorf("the edit makes\n%s", edited)
	}
}

func TestAHandTakesOver(t *testing.T) {
	d, out := onDesk(t, hostile)
	f, err := d.Start(0)
	if err != nil || len(f.Log) != 2 {
		t.Fatalf("a press and its release lie ahead, not %v (%v)", f.Log, err)
	}
	if f, err = d.Act(2*s, []tarry.DeskAction{{Verb: "release", Device: 0}}); err != nil {
		t.Fatal(err)
	}
	if len(f.Log) != 2 || f.Log[1].At != 2*s || f.Log[1].Verb != "release" {
		t.Errorf("after the hand: %v", f.Log)
	}
	log := append(f.Log, tarry.DeskAction{At: 3 * s, Verb: "press", Device: 9}, tarry.DeskAction{Verb: "dance"})
	f, left, err := d.Restore(log, 5*s)
	if err != nil || left != 2 || len(f.Log) != 2 || f.Now != 5*s {
		t.Errorf("restored: left %d, log %v, now %v, %v", left, f.Log, f.Now, err)
	}
	if _, err := d.Act(5*s, []tarry.DeskAction{{Verb: "turn", Device: 0}}); !errors.Is(err, tarry.ErrInput) {
		t.Errorf("a button can't be turned, but: %v", err)
	}
	if out.Sheet.Scripts[0].Name != "<b onclick='boo()'>" {
		t.Errorf("script name %q", out.Sheet.Scripts[0].Name)
	}
}

// TestRevealedLines draws the right line and two wrong ones.
func TestRevealedLines(t *testing.T) {
	d, _ := onDesk(t, hostile)
	for _, c := range []struct {
		edges []time.Duration
		right bool
		at    time.Duration
	}{
		{[]time.Duration{3 * s, 5 * s}, true, -1},
		{[]time.Duration{3 * s, 7 * s}, false, 5 * s},
		{nil, false, 3 * s},
	} {
		out, err := d.Reveal(tarry.DeskChartRequest{Given: []tarry.DeskLine{{Row: "H1", Edges: c.edges, Wrong: -1}}, Blank: []string{"H1"}, Tolerance: s / 10})
		if err != nil {
			t.Fatal(err)
		}
		if r := out.Rows[0]; r.Right != c.right || r.At != c.at || r.Words == "" {
			t.Errorf("edges %v: %+v", c.edges, r)
		}
		wellFormed(t, "revealed chart", out.Chart.SVG)
	}
}

// TestBlankChartGivesNothingAway: what the page gets before the reveal is the
// same whatever the hidden row does.
func TestBlankChartGivesNothingAway(t *testing.T) {
	blank := func(preset string) tarry.DeskChart {
		d, _ := onDesk(t, strings.Replace(hostile, "on-delay 2 s", "on-delay "+preset, 1))
		c, err := d.Chart(tarry.DeskChartRequest{Rows: []string{"S1.no", "KT1.notc", "H1"}, Blank: []string{"KT1.notc", "H1"}, Square: s})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	a, b := blank("2 s"), blank("3 s")
	strip := func(c tarry.DeskChart) string {
		return strings.NewReplacer("3 s", "2 s", "3&#160;s", "2&#160;s").Replace(c.SVG + c.Words)
	}
	if strip(a) != strip(b) {
		t.Errorf("two presets give two blank charts:\n%s\n%s", strip(a), strip(b))
	}
}

func TestRecordIsBounded(t *testing.T) {
	d, _ := onDesk(t, "KT1 flasher 10 ms, 10 ms\nH1 lamp\n1: KT1.nc -> H1\nS1 switch\n2: S1.nc -> KT1\n")
	var f tarry.DeskFrame
	var err error
	for at := 10 * s; at <= 2000*s; at += 10 * s {
		if f, err = d.Move(at); err != nil {
			t.Fatal(err)
		}
		if f.Events > 250_000 {
			t.Fatalf("%d events on record at %v", f.Events, at)
		}
	}
	if f.From == 0 || f.Dropped == "" || f.Now != 2000*s {
		t.Errorf("from %v, %q, now %v", f.From, f.Dropped, f.Now)
	}
}

// TestPlacesThereAndBack turns places of random texts into UTF-16 and compares
// with the standard library.
func TestPlacesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		label := rapid.StringMatching(`[a-zä€𝄞 ]{0,12}`).Draw(t, "label")
		text := "circuit \"" + label + "\"\nS1 button\nH1 lamp\n1: S1.no -> H1\n"
		d := tarry.NewDesk()
		out, err := d.Open(tarry.Source{Text: []byte(text)}, tarry.DeskView{}, false)
		if err != nil {
			t.Fatal(err)
		}
		units := utf16.Encode([]rune(text))
		for _, dev := range out.Sheet.Devices {
			if got := string(utf16.Decode(units[dev.From:dev.To])); !strings.HasPrefix(got, dev.Tag+" ") {
				t.Fatalf("%s stands at %q", dev.Tag, got)
			}
		}
	})
}

// TestALogOutlivesItsText: what hands did is put back by the devices' tags, also
// when another device has taken their place.
func TestALogOutlivesItsText(t *testing.T) {
	d, _ := onDesk(t, hostile)
	f, err := d.Act(s, []tarry.DeskAction{{Verb: "press", Device: 0}})
	if err != nil || f.Log[0].Tag != "S1" {
		t.Fatal(err, f.Log)
	}
	moved := strings.Replace(hostile, "S1 button", "S9 button\nS1 button", 1)
	if _, err := d.Open(tarry.Source{Text: []byte(moved)}, tarry.DeskView{}, false); err != nil {
		t.Fatal(err)
	}
	f, left, err := d.Restore(f.Log, 2*s)
	if err != nil || left != 0 || f.Hands[0] != 0 || f.Hands[1] != 1 {
		t.Errorf("S9 %d, S1 %d, left out %d, %v", f.Hands[0], f.Hands[1], left, err)
	}
	moved = strings.ReplaceAll(hostile, "S1", "S2")
	if _, err := d.Open(tarry.Source{Text: []byte(moved)}, tarry.DeskView{}, false); err != nil {
		t.Fatal(err)
	}
	if _, left, err = d.Restore(f.Log, 2*s); err != nil || left != 1 {
		t.Errorf("S1 is gone, but %d actions were left out (%v)", left, err)
	}
}

// TestSetOneOfTwo: a hand that changes one of two settings leaves the other as it
// is now, also in the script that is kept.
func TestSetOneOfTwo(t *testing.T) {
	text := "S1 switch\nKT1 flasher 6 s, 6 s\nH1 lamp\n1: S1.no -> KT1\n2: KT1.tno -> H1\n"
	d, _ := onDesk(t, text)
	set := func(at, a, b time.Duration) {
		t.Helper()
		if _, err := d.Act(at, []tarry.DeskAction{{Verb: "set", Device: 1, Presets: [2]time.Duration{a, b}}}); err != nil {
			t.Fatal(err)
		}
	}
	set(1*s, 1*s, 0)
	set(2*s, 0, 2*s)
	if _, err := d.Act(3*s, []tarry.DeskAction{{Verb: "close", Device: 0}}); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Move(12 * s); err != nil {
		t.Fatal(err)
	}
	record, err := d.Record("csv")
	if err != nil {
		t.Fatal(err)
	}
	kept, err := d.Recording("kept")
	if err != nil {
		t.Fatal(err)
	}
	d, out := onDesk(t, text+kept.Script)
	if len(out.Sheet.Diagnostics) > 0 {
		t.Fatalf("%+v\n%s", out.Sheet.Diagnostics, kept.Script)
	}
	run, err := d.Run(0)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.ReplaceAll(run.CSV, "\nkept,", "\n,"); got != string(record.Data) {
		t.Errorf("the kept script does\n%s\nand hands did\n%s", got, record.Data)
	}
}
