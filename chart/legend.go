package chart

import (
	"strings"
	"time"

	"tarry/circuit"
	"tarry/page"
)

// footer paints the legend of the marks that are used, the scale and the
// caution, and ends the page below them.
func (d *drawing) footer() {
	if !d.opt.NoLegend {
		d.y += 350
		d.legend()
		d.paragraph(d.scaleWords(), page.Black, "scale")
	}
	if !d.opt.Bare {
		d.paragraph(circuit.StandingCaution, page.Black, "caution")
	}
	d.page.Height = d.y + max(d.margin()-450, -200)
}

func (d *drawing) paragraph(words string, ink page.Ink, class string) {
	for _, words := range page.Fold(words, smallSize, false, d.right-d.left, 0) {
		d.say(page.Text{At: page.Point{X: d.left, Y: d.y}, Size: smallSize, Words: words}, ink, page.Shows{Class: class})
		d.y += smallSize + 110
	}
}

// scaleWords says how long a tick is and what is left out.
func (d *drawing) scaleWords() string {
	words := "To scale: " + span(d.scale.step) + " = " + millimetres(page.Unit(d.scale.per)) + "."
	if d.opt.forLearner() {
		words = "One square is " + span(d.scale.step) + ". Draw closed and on along the upper edge, heavy; open and off along the lower one."
	}
	if d.scale.cutOut > 0 {
		words += " Left out at the break marks: " + d.cutWords() + "."
	}
	if d.used.unworded {
		words += " Where there is no room, words are left off."
	}
	return words
}

func millimetres(u page.Unit) string { return decimal(int64(u), 2) + " mm" }

func (d *drawing) cutWords() string {
	var parts []string
	for i := 1; i < len(d.scale.spans); i++ {
		a, b := d.scale.spans[i-1].to, d.scale.spans[i].from
		parts = append(parts, span(a)+" to "+span(b))
	}
	return strings.Join(parts, ", ")
}

// entry is one mark of the legend.
type entry struct {
	shown bool
	words string
	paint func(d *drawing, x, y page.Unit)
}

const sampleWidth = 850

func (d *drawing) entries() []entry {
	return []entry{
		{d.used.high, "closed", sampleStroke(page.Heavy, page.Black)},
		{d.used.live, "on, energised", sampleStroke(page.Heavy, page.Live)},
		{d.used.low, "open, off", sampleStroke(page.Thin, page.Black)},
		{d.used.timing, "timing", sampleHatch},
		{d.used.ramp, "elapsed time, up to the preset", sampleRamp},
		{d.used.cutShort, "cut short", sampleCutShort},
		{d.used.pulse, "there and back at one instant", samplePulse},
		{d.used.cut, "time left out", sampleBreak},
		{d.used.given, "a learner's line: on, off", sampleGiven},
		{d.used.notice, "notice", sampleFlag("notice")},
		{d.used.setting, "setting changed", sampleFlag("setting")},
	}
}

// legend paints the samples side by side, in as many lines as they need.
func (d *drawing) legend() {
	x, any := d.left, false
	for _, e := range d.entries() {
		if !e.shown {
			continue
		}
		any = true
		width := sampleWidth + 150 + page.Width(e.words, smallSize, false)
		if x > d.left && x+width > d.right {
			x, d.y = d.left, d.y+450
		}
		e.paint(d, x, d.y-page.Above(smallSize)/2)
		d.say(page.Text{At: page.Point{X: x + sampleWidth + 150, Y: d.y}, Size: smallSize, Words: e.words}, page.Black, legendShows)
		x += width + 600
	}
	if any {
		d.y += 520
	}
}

var legendShows = page.Shows{Class: "legend"}

func sampleStroke(w page.Weight, ink page.Ink) func(*drawing, page.Unit, page.Unit) {
	return func(d *drawing, x, y page.Unit) {
		d.stroke(w, ink, legendShows, page.Point{X: x, Y: y}, page.Point{X: x + sampleWidth, Y: y})
	}
}

func sampleHatch(d *drawing, x, y page.Unit) {
	box := page.Box{Min: page.Point{X: x, Y: y - 140}, Max: page.Point{X: x + sampleWidth, Y: y + 140}}
	d.page.Add(page.Element{Shape: page.Hatch{Box: box, Pitch: 150}, Style: page.Style{Weight: page.Hair, Ink: page.Timing}, Shows: legendShows})
}

func sampleRamp(d *drawing, x, y page.Unit) {
	d.stroke(page.Medium, page.Timing, legendShows, page.Point{X: x, Y: y + 130}, page.Point{X: x + 550, Y: y - 130}, page.Point{X: x + sampleWidth, Y: y - 130})
}

func sampleCutShort(d *drawing, x, y page.Unit) {
	m := dim{run: run{target: time.Second}, from: x, to: x + sampleWidth - 100}
	d.stroke(page.Hair, page.Black, legendShows, page.Point{X: m.from, Y: y}, page.Point{X: m.to, Y: y})
	d.arrow(m.from, y, 130, legendShows)
	d.dimEnd(&m, y, legendShows)
}

func samplePulse(d *drawing, x, y page.Unit) {
	x += sampleWidth - 200
	d.stroke(page.Thin, page.Black, legendShows, page.Point{X: x, Y: y - 170}, page.Point{X: x, Y: y + 170})
	d.diamond(x, y, legendShows)
}

func sampleGiven(d *drawing, x, y page.Unit) {
	for i, w := range []page.Weight{page.Medium, page.Thin} {
		at := page.Point{X: x, Y: y - 120 + page.Unit(i)*240}
		d.page.Add(page.Element{Shape: page.Line(at, at.Add(sampleWidth, 0)), Style: page.Style{Weight: w, Dash: page.Dashed}, Shows: legendShows})
	}
}

func sampleBreak(d *drawing, x, y page.Unit) {
	x += sampleWidth - 350
	for _, dx := range []page.Unit{0, 260} {
		d.stroke(page.Hair, page.Black, legendShows, page.Point{X: x + dx + 45, Y: y - 170}, page.Point{X: x + dx - 45, Y: y - 57},
			page.Point{X: x + dx + 45, Y: y + 57}, page.Point{X: x + dx - 45, Y: y + 170})
	}
}

func sampleFlag(class string) func(*drawing, page.Unit, page.Unit) {
	return func(d *drawing, x, y page.Unit) { d.flag(x+sampleWidth-250, y+90, class, legendShows) }
}
