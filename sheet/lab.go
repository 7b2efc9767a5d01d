package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
)

// LabStep is one thing to do in a run.
type LabStep struct {
	Time string
	Do   string // "Press S1 (Start) and hold it for 500 ms"
}

// LabRun is what to do in one run.
type LabRun struct {
	Script string
	Steps  []LabStep
	End    string // when to stop watching
	// Watch names the loads that are to be seen or heard.
	Watch []string
}

// LabRunOf says what to do in a script that ends so long after its start.
func LabRunOf(c *circuit.Circuit, s *circuit.Script, end time.Duration) LabRun {
	run := LabRun{Script: s.Name, End: circuit.FormatTime(end)}
	actions := slices.Clone(s.Actions)
	slices.SortStableFunc(actions, func(a, b circuit.Action) int { return int(max(-1, min(1, a.At-b.At))) })
	for _, a := range actions {
		if a.At <= end {
			run.Steps = append(run.Steps, LabStep{circuit.FormatTime(a.At), actionWords(c, &a)})
		}
	}
	for _, l := range circuit.Wire(c).Loads {
		run.Watch = append(run.Watch, c.LoadName(l.Load))
	}
	return run
}

// actionWords tells somebody what to do.
func actionWords(c *circuit.Circuit, a *circuit.Action) string {
	if a.Device == circuit.NoDevice {
		if a.Verb == circuit.SupplyOff {
			return "Switch the supply off" + forWords(a.For, ", and on again after ")
		}
		return "Switch the supply on"
	}
	d := &c.Devices[a.Device]
	name := d.Tag
	if d.Label != "" {
		name += " (" + d.Label + ")"
	}
	return verbWords(d, a, name)
}

func verbWords(d *circuit.Device, a *circuit.Action, name string) string {
	sensor := d.Kind.Info().Class == circuit.BySensing
	switch {
	case a.Verb == circuit.Press && a.For > 0:
		return "Press " + name + " for " + circuit.FormatTime(a.For)
	case a.Verb == circuit.Press:
		return "Press " + name + " and keep it pressed"
	case a.Verb == circuit.Release:
		return "Let " + name + " go"
	case a.Verb == circuit.Turn:
		return "Turn " + name + " to " + d.Positions[a.Position]
	case a.Verb == circuit.SetPreset:
		return "Set " + name + " to " + presetWords(a.Presets)
	case a.Verb == circuit.Trip:
		return "Trip " + name + forWords(a.For, ", and reset it after ")
	case a.Verb == circuit.Reset:
		return "Reset " + name
	case sensor && a.Verb == circuit.Close:
		return "Operate " + name + forWords(a.For, " for ")
	case sensor:
		return "Let " + name + " return"
	case a.Verb == circuit.Close:
		return "Close " + name + forWords(a.For, ", and open it again after ")
	}
	return "Open " + name
}

func forWords(d time.Duration, before string) string {
	if d == 0 {
		return ""
	}
	return before + circuit.FormatTime(d)
}

func presetWords(p [2]time.Duration) string {
	switch {
	case p[1] == 0:
		return circuit.FormatTime(p[0])
	case p[0] == 0:
		return circuit.FormatTime(p[1]) + " (second setting)"
	}
	return circuit.FormatTime(p[0]) + " and " + circuit.FormatTime(p[1])
}

// TimerSetting is one time that has to be set, and what a reading of it may be.
type TimerSetting struct {
	Tag, Label, Function string
	Which                string // which of two settings: "on", "off", "gap"; empty for the only one
	Set                  string
	Limits               string // "4.75 s to 5.25 s", empty without a tolerance
}

// TimerSettings lists the times to be set, timer by timer.
func TimerSettings(c *circuit.Circuit) []TimerSetting {
	var list []TimerSetting
	for i := range c.Devices {
		d := &c.Devices[i]
		if d.Kind != circuit.Timer {
			continue
		}
		for j, p := range d.Presets {
			if j >= d.Function.Info().Times {
				break
			}
			list = append(list, TimerSetting{d.Tag, d.Label, d.Function.String(), settingWord(d.Function, j), circuit.FormatTime(p), limitWords(p, d.Tolerance)})
		}
	}
	return list
}

// settingWord tells the settings of a timer with two of them apart.
func settingWord(f circuit.Function, i int) string {
	switch f {
	case circuit.OnOffDelay:
		return [2]string{"on", "off"}[i]
	case circuit.Flasher:
		return [2]string{"time on", "time off"}[i]
	case circuit.StarDelta:
		return [2]string{"star", "gap"}[i]
	}
	return ""
}

func limitWords(p time.Duration, tolerance int) string {
	if tolerance == 0 {
		return ""
	}
	off := time.Duration(int64(p) / 10000 * int64(tolerance))
	return circuit.FormatTime(p-off) + " to " + circuit.FormatTime(p+off)
}

// labPages is the sheet for the bench. What has a sheet of its own in the same
// set is only referred to.
func (s *setter) labPages() []*page.Page {
	k := look{name: "Lab sheet", about: s.circuit.Title, audience: forLearner}
	if len(s.opt.Faults) > 0 {
		return s.notBuilt(k)
	}
	if ReadOnly(s.circuit) != "" {
		k.name = "Paper exercise"
	}
	return s.flow(k, func(width page.Unit) []strip {
		list := s.labIntro(width)
		n := 0
		for _, part := range s.labSections(width) {
			if len(part.strips) > 0 {
				n++
				list = append(list, heading(fmt.Sprintf("%d. %s", n, part.title))...)
				list = append(list, part.strips...)
			}
		}
		return list
	})
}

// section is a numbered part of a sheet.
type section struct {
	title  string
	strips []strip
}

// labSections are the parts of the lab sheet in the order of work; those that
// are empty are left out.
func (s *setter) labSections(width page.Unit) []section {
	drawing := ticks(width, "Read the drawing from rail to rail: "+s.drawingWords()+". It shows everything de-energised, nothing operated.")
	if ReadOnly(s.circuit) != "" { // there is no bench for it
		return []section{{"Drawing", drawing}, {"Runs", s.labRuns(width)}, {"Questions", s.labQuestions(width)}}
	}
	parts := ticks(width, "Fetch the parts of the sheet “Contacts and parts” and tick each there.")
	if !s.prints("parts") {
		parts = s.partsStrips(width)
	}
	wiring := ticks(width, "Wire by the sheet “Wiring list” and tick each length there.")
	if !s.prints("wiring") {
		wiring = s.wiringStrips(width)
	}
	dead := ticks(width, "Take the readings of the sheet “Dead test”, without supply.")
	if !s.prints("dead-test") {
		dead = s.deadStrips(width)
	}
	return []section{
		{"Parts", parts},
		{"Drawing", drawing},
		{"Wiring", wiring},
		{"Dead test", dead},
		{"Permission to energise", s.permission(width)},
		{"Set and time the timers", s.labTimers(width)},
		{"Runs", s.labRuns(width)},
		{"Questions", s.labQuestions(width)},
		{"Clear up", ticks(width,
			"Supply off, isolated and locked off; both leads taken off the rails.",
			"Wires taken off, straightened and sorted; no strand left on the bench.",
			"Timers set back, parts counted and returned, damaged ones labelled.",
			"Sheets signed and handed in.")},
	}
}

func (s *setter) labIntro(width page.Unit) []strip {
	var list []strip
	if aim := s.circuit.NotesOf("aim"); len(aim) > 0 {
		list = append(list, labelled("Aim", aim, width)...)
	}
	cautions := append(s.circuit.NotesOf("caution"), circuit.StandingCaution)
	return append(list, noteStrip(note{"Caution", cautions}, width)...)
}

// prints reports whether a part stands in the same set.
func (s *setter) prints(part string) bool {
	return len(s.opt.Parts) == 0 || slices.ContainsFunc(s.opt.Parts, func(p string) bool { return strings.TrimSpace(p) == part })
}

// noteStrip is a boxed note as a strip.
func noteStrip(n note, width page.Unit) []strip {
	height := n.height(width)
	return []strip{{height: height, draw: func(f *frame, at page.Point) {
		f.note(page.Box{Min: at, Max: at.Add(width, height)}, n)
	}}, gap(100)}
}

// ticks are lines to tick off.
func ticks(width page.Unit, lines ...string) []strip {
	var list []strip
	for _, l := range lines {
		list = append(list, tick(l, bodySize, width)...)
	}
	return list
}

// drawingWords say how large the drawing is.
func (s *setter) drawingWords() string {
	symbols := "international"
	if s.opt.Symbols == schematic.American {
		symbols = "American"
	}
	what := "rungs"
	if s.opt.Layout == schematic.Paths {
		what = "current paths"
	}
	if n := len(s.circuit.Rungs); n != 1 {
		return fmt.Sprintf("%d %s, %s symbols", n, what, symbols)
	}
	return "1 " + strings.TrimSuffix(what, "s") + ", " + symbols + " symbols"
}

// permission is the box that the instructor signs before the supply comes on.
func (s *setter) permission(width page.Unit) []strip {
	const height = 2700
	box := strip{height: height, draw: func(f *frame, at page.Point) {
		f.rect(page.Box{Min: at, Max: at.Add(width, height)}, page.Medium)
		in := at.Add(notePad, notePad)
		text := "Wiring seen, dead test complete, covers on, " + strings.TrimSuffix("supply voltage right: "+s.circuit.Supply.String(), ": ") + ", people clear. The supply may be switched on by the instructor, or with the instructor standing by."
		in = f.lines(in, fold(text, bodySize, false, width-2*notePad), bodySize, false, "text")
		y := at.Y + height - 500
		for i, word := range []string{"instructor's signature", "date", "time"} {
			a, b := at.X+notePad+(width-2*notePad)*[...]page.Unit{0, 55, 80}[i]/100, at.X+notePad+(width-2*notePad)*[...]page.Unit{50, 75, 100}[i]/100
			f.line(page.Thin, page.Point{X: a, Y: y}, page.Point{X: b, Y: y})
			f.lines(page.Point{X: a, Y: y + 80}, []string{word}, labelSize, false, "field-label")
		}
	}}
	return []strip{box, gap(100)}
}

func (s *setter) labTimers(width page.Unit) []strip {
	settings := TimerSettings(s.circuit)
	if len(settings) == 0 {
		return nil
	}
	g := &grid{columns: []column{{head: "Timer", bold: true}, {head: "Function", share: 4}, {head: "Set to"}}, least: 850}
	limits := slices.ContainsFunc(settings, func(t TimerSetting) bool { return t.Limits != "" })
	if limits {
		g.columns = append(g.columns, column{head: "May read"})
	}
	for i := range 5 {
		g.columns = append(g.columns, column{head: strconv.Itoa(i + 1), middle: true, ruled: true, least: 1450})
	}
	g.columns = append(g.columns, column{head: "mean", middle: true, ruled: true, least: 1600})
	for _, t := range settings {
		cells := []cell{{words: t.Tag}, {words: strings.TrimSpace(t.Function + " " + t.Which)}, {words: t.Set}}
		if limits {
			cells = append(cells, cell{words: t.Limits})
		}
		g.rows = append(g.rows, row{cells: cells})
	}
	list := followed(paragraph("Set each timer. Time it five times from its coil to its contact, in seconds, and work out the mean of the five bench readings.", noteSize, width))
	return compact(append(list, g.strips(width)...))
}

func (s *setter) labRuns(width page.Unit) []strip {
	rule, last := "Write down what you expect before you switch on: what comes on or goes off, and when. Then run, and write down what you see.", "Measured"
	if ReadOnly(s.circuit) != "" {
		rule, last = "Write down what you expect: what comes on or goes off, and when. Nothing is built; compare with the timing chart.", "As the chart shows"
	}
	list := followed(paragraph(rule, noteSize, width))
	n := 0
	for _, t := range s.traces {
		for i := range s.circuit.Scripts {
			if sc := &s.circuit.Scripts[i]; sc.Name == t.Script {
				n++
				run := LabRunOf(s.circuit, sc, t.End)
				list = append(list, run.strips(n, last, s.plantRule(), width)...)
			}
		}
	}
	if n == 0 {
		return nil
	}
	return list
}

// plantRule tells how the plant answers, which is for hands to do on a bench;
// empty if it does not.
func (s *setter) plantRule() string {
	words := plantAnswers(s.circuit)
	if words == "" || ReadOnly(s.circuit) != "" {
		return words
	}
	return strings.TrimSuffix(words, ".") + " — on the bench do it by hand."
}

// strips is one run: a line for each thing to do, and room to write; what the
// plant does stands below.
func (run *LabRun) strips(n int, last, plant string, width page.Unit) []strip {
	g := &grid{columns: []column{{head: "At"}, {head: "Do", share: 4}, {head: "My prediction", share: 5, ruled: true}, {head: last, share: 5, ruled: true}}, least: 960}
	g.rows = append(g.rows, words("0 s", "Supply on, nothing operated"))
	for _, x := range run.Steps {
		g.rows = append(g.rows, words(x.Time, x.Do))
	}
	g.rows = append(g.rows, words(run.End, "Stop watching"))
	head := fmt.Sprintf("Run %d: %s", n, run.Script)
	watch := "Watch " + strings.Join(run.Watch, ", ") + "."
	list := []strip{gap(400)}
	list = append(list, followed(subheading(head, width))...)
	list = append(list, followed(paragraph(watch, noteSize, width))...)
	list = append(list, g.strips(width)...)
	if plant != "" {
		list = noted(list, paragraph(plant, noteSize, width))
	}
	return compact(list)
}

func subheading(words string, width page.Unit) []strip {
	var list []strip
	for _, line := range fold(words, bodySize, true, width) {
		list = append(list, strip{height: lineOf(bodySize) + 40, draw: func(f *frame, at page.Point) {
			f.lines(at, []string{line}, bodySize, true, "section")
		}})
	}
	return list
}

func (s *setter) labQuestions(width page.Unit) []strip {
	questions := s.circuit.NotesOf("try")
	if len(questions) == 0 {
		return nil
	}
	var list []strip
	for i, q := range questions {
		list = append(list, followed(labelled(strconv.Itoa(i+1), []string{q}, width))...)
		list = append(list, joined(ruled(3, width))...)
		list = append(list, gap(250))
	}
	return list
}
