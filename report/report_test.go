package report

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"tarry/page"
)

// words collects what stands on pages, in order.
func words(pages []*page.Page) string {
	var b strings.Builder
	for _, p := range pages {
		for _, e := range p.Elements {
			if t, ok := e.Shape.(page.Text); ok {
				b.WriteString(t.Words + "\n")
			}
		}
	}
	return b.String()
}

// sound holds pages to the paper and looks for words that collide.
func sound(t *testing.T, pages []*page.Page) {
	t.Helper()
	for i, p := range pages {
		for _, fault := range page.Faults(p) {
			t.Errorf("page %d: %s", i+1, fault)
		}
		paper := page.Box{Max: page.Point{X: p.Width, Y: p.Height}}
		for _, e := range p.Elements {
			if !paper.Holds(e.Shape.Bounds()) {
				t.Errorf("page %d: %v is beyond the paper", i+1, e.Shape)
			}
		}
	}
}

// bigClass has so much of everything that each list goes on over sheets.
func bigClass() Class {
	c := Class{Title: "Start with a dab", About: []string{"120 answers by 40 learners to 3 items."}, Next: "Stop wins", Asks: "The presses: at 1 s press S1."}
	for i := range 40 {
		name := fmt.Sprintf("Learner %d of the Training Bay 7 evening group with a long name", i+1)
		c.SureWrong = append(c.SureWrong, Sure{Learner: name, Item: "Stopped before the time is up", Signal: "KT1.notc", IDs: []string{"M05", "M06"}, Slip: i == 3})
		c.Learners = append(c.Learners, Group{Name: name, Answers: 3, Points: i, Of: 40, Right: 1, Explained: 2, IDs: []string{"M05", "M06", "C02", "C04", "…"}})
	}
	for i, id := range []string{"M05", "M06", "M01", "M02", "C01", "C02", "M07", "M08", "M09", "M10", "M11", "M17", "M20"} {
		c.Ideas = append(c.Ideas, Idea{ID: id, Learners: 40 - 3*i, Answers: 50 - 3*i, Alone: i % 3, SureWrong: i % 2, Items: []string{"Stop wins"}})
	}
	c.Items = []Group{{Name: "Stop wins", Answers: 40, Points: 100, Of: 160, Right: 10, Slips: 1, Explained: 20, Open: 9, IDs: []string{"M05"}}}
	return c
}

func TestClassPages(t *testing.T) {
	for _, paper := range []Paper{A4, Letter} {
		c := bigClass()
		c.Paper = paper
		pages := ClassPages(c)
		sound(t, pages)
		if len(pages) < 4 {
			t.Errorf("40 learners and 13 readings stand on %d sheets", len(pages))
		}
		text := words(pages)
		order := []string{"Sure, and wrong", "What may be behind the wrong answers", "The next lesson's first question", "Item by item", "Learner by learner", "what shows them false"}
		at := 0
		for _, heading := range order {
			i := strings.Index(text[at:], heading)
			if i < 0 {
				t.Fatalf("%q is not there, or not in its place", heading)
			}
			at += i
		}
		for _, part := range []string{"Learner 40 of", "On-delay adds up its time", "a slip of the pencil", "And 1 more: tarry misread show", fmt.Sprintf("page %d of %[1]d", len(pages))} {
			if !strings.Contains(text, part) {
				t.Errorf("%q is not in the report", part)
			}
		}
		if n := strings.Count(text, "May think"); n < 4 {
			t.Errorf("the heads of the tables stand %d times: not again on each sheet", n)
		}
	}
}

func TestSamePages(t *testing.T) {
	if !reflect.DeepEqual(ClassPages(bigClass()), ClassPages(bigClass())) {
		t.Error("the same class gives other pages")
	}
}

func TestEmptyClass(t *testing.T) {
	pages := ClassPages(Class{Title: "Nobody"})
	sound(t, pages)
	for _, part := range []string{"No learner was certain", "No single wrong idea", "None of these items"} {
		if !strings.Contains(words(pages), part) {
			t.Errorf("an empty class doesn't say %q", part)
		}
	}
}

// TestBars holds the bars to their numbers: half as many learners, half as long.
func TestBars(t *testing.T) {
	pages := ClassPages(Class{Ideas: []Idea{{ID: "M05", Learners: 8}, {ID: "M06", Learners: 4}, {ID: "M01"}}})
	var bars []page.Unit
	for _, e := range pages[0].Elements {
		if r, ok := e.Shape.(page.Rect); ok {
			if e.Style.Fill != page.Solid || e.Style.Ink != page.Black {
				t.Errorf("a bar is painted %v: it must survive a copier", e.Style)
			}
			bars = append(bars, r.Width())
		}
	}
	if len(bars) != 2 || bars[0] != 2*bars[1] {
		t.Errorf("8, 4 and 0 learners give bars of %v", bars)
	}
}

func TestMarkPages(t *testing.T) {
	picture := &page.Page{Width: 40000, Height: 30000, Description: "A chart."}
	picture.Add(page.Element{Shape: page.Rect{Box: page.Box{Max: page.Point{X: 40000, Y: 30000}}}, Style: page.Style{Weight: page.Thin}})
	m := Marks{Title: "Start with a dab", About: []string{"5 answers."}, LeftOut: []string{"line 3: no time."}}
	for i := range 5 {
		m.Answers = append(m.Answers, Marked{Learner: fmt.Sprintf("Learner %d", i), Item: "Stop wins", Points: "1 of 2", Chart: picture,
			Lines: []string{"H1: 1 of 2 points."}, Fits: []string{"M05 fits."}, Feedback: strings.Repeat("Look again at the press. ", 12)})
	}
	pages := MarkPages(m)
	sound(t, pages)
	boxes := 0
	for _, p := range pages {
		for _, e := range p.Elements {
			if r, ok := e.Shape.(page.Rect); ok {
				boxes++
				if r.Max.Y > p.Height-footRoom {
					t.Errorf("a chart runs into the foot: %v", r.Box)
				}
			}
		}
	}
	if boxes != 5 {
		t.Errorf("5 answers have %d charts", boxes)
	}
	for _, part := range []string{"Not marked", "line 3: no time.", "M05 fits.", "To the learner: Look again"} {
		if !strings.Contains(words(pages), part) {
			t.Errorf("%q is not there", part)
		}
	}
}

// TestHugeCell has a row that no sheet could hold.
func TestHugeCell(t *testing.T) {
	d := New("Huge", A4)
	d.Table([]Column{{Head: "One", Share: 1}, {Head: "Two", Share: 1}}, [][]string{{strings.Repeat("word ", 5000), "x"}, {"last"}})
	pages := d.Pages()
	sound(t, pages)
	if !strings.Contains(words(pages), "last") {
		t.Error("what stands behind a huge row is lost")
	}
}
