package tarry

import (
	"tarry/circuit"
	"tarry/notation"
	"tarry/page"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
)

// DrawRequest asks for the schematic of a circuit: at rest, or with the marks
// of a script's instant if At is set.
type DrawRequest struct {
	Source
	Style
	Picture
	Script string // name or number; empty means the first
	At     string // a time such as "3.2 s"
}

// Drawn is one or more finished drawings.
type Drawn struct {
	Checked
	Files []File
	// Failed counts the expectations of printed runs that did not come true.
	Failed int
	// Remark says what could not be drawn as it was written; it may be empty.
	Remark string
}

// Draw draws the schematic of a circuit.
func Draw(r DrawRequest) (out Drawn, err error) {
	defer guard(r.Source, &err)
	c, checked := read(r.Source)
	out.Checked = checked
	opt, err := r.Style.options()
	if err != nil {
		return out, err
	}
	if r.At != "" || r.Script != "" {
		if err := r.mark(c, &opt); err != nil {
			return out, err
		}
	}
	opt.Faults = faultLines(checked)
	pages := schematic.Draw(c, opt)
	sheet.WarnReadOnly(c, pages)
	files, missing, err := r.Picture.encoded(pages, c.Title, "", nil)
	out.Files, out.Remark = files, missingWords(missing)
	return out, err
}

// mark works out the state of the instant that was asked for.
func (r *DrawRequest) mark(c *circuit.Circuit, opt *schematic.Options) error {
	list, err := scripts(c, r.Script)
	if err != nil {
		return err
	}
	at, err := notation.ParseTime(r.At)
	if err != nil {
		return badInput("--at %q: %v", r.At, err)
	}
	t := runOne(c, list[0])
	if at > t.End {
		return badInput("the run ends at %s, before %s", circuit.FormatTime(t.End), circuit.FormatTime(at))
	}
	opt.State = sheet.StateAt(t, trace.Settled(at))
	opt.Moment = list[0].Name + ", at " + circuit.FormatTime(at)
	return nil
}

// maxFaults is how many faults of the text a drawing lists.
const maxFaults = 6

// stamp writes lines below pages that have no place of their own for them.
func stamp(pages []*page.Page, lines []string) {
	const size, step, edge page.Unit = 260, 380, 600
	if len(lines) == 0 {
		return
	}
	for _, p := range pages {
		for _, line := range lines {
			for _, words := range page.Fold(line, size, true, p.Width-2*edge, 0) {
				p.Height += step
				p.Add(page.Element{Shape: page.Text{At: page.Point{X: edge, Y: p.Height - step/2}, Size: size, Bold: true, Words: words},
					Style: page.Style{Ink: page.Black}, Shows: page.Shows{Class: "faults"}})
			}
		}
		p.Height += step
	}
}

// faultLines words the errors of a text for the drawing of what was
// understood.
func faultLines(c Checked) []string {
	if !c.Errors {
		return nil
	}
	lines := []string{"The text has faults; this is only what was understood of it:"}
	for _, d := range c.Diagnostics {
		if d.Grade != 0 {
			continue
		}
		if len(lines) > maxFaults {
			return append(lines, "… and more; tarry check lists them all.")
		}
		lines = append(lines, "– "+d.Summary)
	}
	return lines
}
