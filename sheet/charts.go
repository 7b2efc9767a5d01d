package sheet

import (
	"fmt"
	"slices"
	"strings"

	"tarry/chart"
	"tarry/circuit"
	"tarry/page"
	"tarry/trace"
	"tarry/why"
)

// A chart sheet holds one script's chart. What is too high for the paper is
// drawn wider and printed smaller, down to two thirds; what is still too high
// goes on over several sheets, so many rows on each.

func (s *setter) chartBlankPages() []*page.Page {
	return s.chartPages("Timing chart", forLearner, chart.Options{Fill: chart.Blank, NoStart: s.opt.NoStart})
}

func (s *setter) chartPartPages() []*page.Page {
	return s.chartPages("Timing chart, part filled", forLearner, chart.Options{Fill: chart.PartFilled, NoStart: s.opt.NoStart})
}

func (s *setter) chartFilledPages() []*page.Page {
	return s.chartPages("Timing chart", forKey, chart.Options{})
}

func (s *setter) chartPages(name string, who audience, opt chart.Options) []*page.Page {
	opt.Bare = true
	var pages []*page.Page
	for _, t := range s.traces {
		pages = append(pages, s.chartsOf(t, look{name: name, about: t.Script, audience: who}, note{"Script", scriptWords(t)}, opt)...)
	}
	return pages
}

// chartsOf puts the chart of one trace on paper that lies on its side, or stands
// where that is better, with a note at its foot.
func (s *setter) chartsOf(t *trace.Trace, k look, n note, opt chart.Options) []*page.Page {
	about := k.about
	k.landscape = true
	charts := s.fitChart(t, k, n, opt)
	if charts.percent < 80 || len(charts.pages) > 1 {
		upright := k
		upright.landscape = false
		if c := s.fitChart(t, upright, n, opt); !charts.better(c) {
			charts, k = c, upright
		}
	}
	var pages []*page.Page
	for i, p := range charts.pages {
		if len(charts.pages) > 1 {
			k.about = fmt.Sprintf("%s (%d of %d)", about, i+1, len(charts.pages))
		}
		pages = append(pages, s.chartPage(k, n, p))
	}
	return pages
}

// fitChart draws a chart for the room on sheets of a look: all rows on one if
// that can be read, else as few sheets as it takes.
func (s *setter) fitChart(t *trace.Trace, k look, n note, opt chart.Options) plan {
	f := s.newSheet(k)
	f.noteAtFoot(n)
	rows := opt.Rows
	if len(rows) == 0 {
		rows = chart.Rows(t)
	}
	best := plan{landscape: k.landscape}
	for sheets := 1; sheets <= len(rows); sheets++ {
		for percent := 100; percent >= leastPercent; percent -= 7 {
			opt.Width = f.room.Width() * 100 / page.Unit(percent)
			best.pages, best.percent = drawCharts(t, opt, rows, sheets), percent
			if highest(best.pages)*page.Unit(percent)/100 <= f.room.Height() {
				return best
			}
		}
	}
	return best
}

// drawCharts draws the rows on so many charts, in even parts.
func drawCharts(t *trace.Trace, opt chart.Options, rows []string, sheets int) []*page.Page {
	var drawn []*page.Page
	blank := opt.Blank
	for i := range sheets {
		opt.Rows = rows[len(rows)*i/sheets : len(rows)*(i+1)/sheets]
		opt.Blank = slices.DeleteFunc(slices.Clone(blank), func(name string) bool { return !slices.Contains(opt.Rows, name) })
		p, err := chart.Draw(t, opt)
		if err != nil {
			panic(err) // the rows are the chart's own
		}
		drawn = append(drawn, p)
	}
	return drawn
}

func highest(drawn []*page.Page) page.Unit {
	h := page.Unit(0)
	for _, p := range drawn {
		h = max(h, p.Height)
	}
	return h
}

func (s *setter) chartPage(k look, n note, p *page.Page) *page.Page {
	f := s.newSheet(k)
	f.noteAtFoot(n)
	f.place(p, f.room.Min, int(f.room.Width()*100/p.Width))
	f.page.Description += " " + p.Description
	return f.page
}

// noteAtFoot puts a note into a box at the foot of the room, and takes that off.
func (f *frame) noteAtFoot(n note) {
	box := f.room
	box.Min.Y = box.Max.Y - n.height(box.Width())
	f.note(box, n)
	f.room.Max.Y = box.Min.Y - air
}

// scriptWords tells what hands and the supply do in a script, and how the plant
// answers.
func scriptWords(t *trace.Trace) []string {
	var acts []string
	for _, in := range why.Story(t) {
		if len(in.Acts) > 0 {
			acts = append(acts, circuit.FormatTime(in.At)+": "+strings.Join(in.Acts, ", "))
		}
	}
	words := []string{strings.Join(append(acts, "end at "+circuit.FormatTime(t.End)+"."), ";  ")}
	if answers := plantAnswers(t.Circuit); answers != "" {
		words = append(words, answers)
	}
	return words
}

// plantAnswers words the rules of a circuit's plant; empty if it has none.
func plantAnswers(c *circuit.Circuit) string {
	var answers []string
	for _, p := range c.Plants {
		answers = append(answers, plantWords(c, p))
	}
	if len(answers) == 0 {
		return ""
	}
	return "The plant: " + strings.Join(answers, ";  ") + "."
}

// plantWords words a plant rule.
func plantWords(c *circuit.Circuit, p circuit.Plant) string {
	does, when := " opens ", " stops"
	if p.Closes {
		does = " closes "
	}
	if p.OnStart {
		when = " starts"
	}
	return c.Devices[p.Sensor].Tag + does + circuit.FormatTime(p.After) + " after " + c.Devices[p.Load].Tag + when
}
