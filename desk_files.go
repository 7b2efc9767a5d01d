package tarry

import (
	"fmt"
	"strings"
	"time"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"tarry/chart"
	"tarry/circuit"
	"tarry/page"
	"tarry/page/png"
	"tarry/page/svg"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
)

// DeskFont is a font that drawings are measured with, as TrueType.
type DeskFont struct {
	Family string `json:"family"`
	Weight string `json:"weight"` // normal or bold
	Data   []byte `json:"data"`
}

// DeskChoice is a name and its words.
type DeskChoice struct {
	Name  string `json:"name"`
	Words string `json:"words"`
}

// DeskAbout is what a desk needs to know once.
type DeskAbout struct {
	Kinds   []DeskKind        `json:"kinds"`
	Parts   []DeskChoice      `json:"parts"` // of a printed set
	Caution string            `json:"caution"`
	Fonts   []DeskFont        `json:"fonts"`
	Colours map[string]string `json:"colours"` // of the inks, on light paper
}

// About tells what does not depend on a circuit.
func (d *Desk) About() (out DeskAbout, err error) {
	defer guard(d.source, &err)
	out.Kinds = deskKinds()
	for _, name := range sheet.PartNames() {
		out.Parts = append(out.Parts, DeskChoice{name, sheet.PartTitle(name)})
	}
	out.Caution = circuit.StandingCaution
	out.Fonts = []DeskFont{{"Go", "normal", goregular.TTF}, {"Go", "bold", gobold.TTF}}
	out.Colours = map[string]string{}
	for _, k := range []page.Ink{page.Black, page.Faint, page.Live, page.Timing, page.Paper} {
		out.Colours[k.String()] = svg.Colour(k)
	}
	return out, nil
}

// DeskEntry is a circuit of the library.
type DeskEntry struct {
	Number  int    `json:"number"`
	Name    string `json:"name"`
	Title   string `json:"title"`
	Station string `json:"station"`
	Aim     string `json:"aim"`
	Text    string `json:"text"`
}

// Library lists the built-in circuits.
func (d *Desk) Library() (out []DeskEntry, err error) {
	list, err := Library()
	if err != nil {
		return nil, err
	}
	for _, e := range list {
		out = append(out, deskEntry(e))
	}
	return out, nil
}

func deskEntry(e LibraryEntry) DeskEntry {
	return DeskEntry{e.Number, e.Name, e.Title, e.Station, e.Aim, string(e.Text)}
}

// Entry returns one built-in circuit by number or name, without reading all.
func (d *Desk) Entry(query string) (out DeskEntry, err error) {
	e, err := LibraryFind(query)
	return deskEntry(e), err
}

// DeskPicture is the inside of an svg element, and its size.
type DeskPicture struct {
	SVG    string    `json:"svg"`
	Width  page.Unit `json:"width"`
	Height page.Unit `json:"height"`
}

// Thumbnail draws a text for a small picture.
func (d *Desk) Thumbnail(text []byte) (out DeskPicture, err error) {
	defer guard(Source{"thumbnail", text}, &err)
	c, _ := read(Source{"thumbnail", text})
	p := schematic.Draw(c, schematic.Options{Bare: true, NoWords: true, Width: thumbnailWidth})[0]
	return DeskPicture{inner(p), p.Width, p.Height}, nil
}

// DeskSheets asks for a printed set. Script is its place, -1 for all.
type DeskSheets struct {
	Parts   []string `json:"parts"`
	Paper   string   `json:"paper"`
	Script  int      `json:"script"`
	College string   `json:"college"`
	Author  string   `json:"author"`
	Date    string   `json:"date"`
}

func (d *Desk) sheetRequest(r DeskSheets) (SheetRequest, error) {
	out := SheetRequest{Source: d.source, Parts: r.Parts, Paper: r.Paper, Style: d.words(),
		Header: sheet.Header{College: r.College, Author: r.Author, Date: r.Date}}
	if r.Script < 0 {
		out.Script = allScripts
		return out, nil
	}
	s, err := d.script(r.Script)
	if err == nil && len(d.file.Circuit.Scripts) > 0 {
		out.Script = s.Name
	}
	return out, err
}

// words are those of the desk's view.
func (d *Desk) words() Style {
	return Style{traditions[d.style.Symbols], layouts[d.style.Layout]}
}

// DeskPrinted is a printed set as pages of SVG, sizes in mm.
type DeskPrinted struct {
	Pages  []string  `json:"pages"`
	Width  page.Unit `json:"width"`
	Height page.Unit `json:"height"`
	Remark string    `json:"remark"`
}

// Sheets draws the pages that `tarry sheet` prints.
func (d *Desk) Sheets(r DeskSheets) (out DeskPrinted, err error) {
	defer guard(d.source, &err)
	request, err := d.sheetRequest(r)
	if err != nil {
		return out, err
	}
	set, _, err := request.set(&Drawn{})
	if err != nil {
		return out, err
	}
	out.Pages = []string{}
	for _, part := range set {
		for _, p := range part.Pages {
			out.Pages = append(out.Pages, string(svg.Encode(p, svg.Options{White: true, Prefix: fmt.Sprintf("s%d-", len(out.Pages))})))
			out.Width, out.Height = p.Width, p.Height
		}
	}
	return out, nil
}

// PDF makes the same pages as one file.
func (d *Desk) PDF(r DeskSheets) (out DeskFile, err error) {
	request, err := d.sheetRequest(r)
	if err != nil {
		return out, err
	}
	made, err := Sheets(request)
	if err != nil {
		return out, err
	}
	return DeskFile{fileName(d.file.Circuit.Title) + ".pdf", "application/pdf", made.Files[0].Data}, nil
}

// DeskExport asks for a picture of the drawing, the chart or a frame of the
// storyboard at an instant on record.
type DeskExport struct {
	What  string        `json:"what"` // drawing, chart or frame
	Form  string        `json:"form"` // svg or png
	At    time.Duration `json:"at"`
	View  DeskView      `json:"view"`
	Rows  []string      `json:"rows"`
	Width int           `json:"width"` // of a PNG in pixels; 0 leaves it to 150 dpi
}

// Export makes a picture for keeping.
func (d *Desk) Export(r DeskExport) (out DeskFile, err error) {
	defer guard(d.source, &err)
	p, err := d.exported(r)
	if err != nil {
		return out, err
	}
	name := fileName(d.file.Circuit.Title) + "-" + r.What
	switch r.Form {
	case "svg":
		return DeskFile{name + ".svg", "image/svg+xml", svg.Encode(p, svg.Options{})}, nil
	case "png":
		made, err := png.Encode(p, png.Options{Width: r.Width})
		if err != nil {
			return out, badInput("%s", strings.TrimPrefix(err.Error(), "png: "))
		}
		return DeskFile{name + ".png", "image/png", made.Bytes}, nil
	}
	return out, badInput("pictures are written as svg or png, not %q", r.Form)
}

// exported draws what an export asks for.
func (d *Desk) exported(r DeskExport) (*page.Page, error) {
	t := d.session.Trace()
	at := min(max(r.At, t.From), d.session.Known())
	opt, err := r.View.options()
	if err != nil {
		return nil, err
	}
	opt.Bare, opt.Faults = false, d.faults()
	switch r.What {
	case "drawing":
		opt.State, opt.Moment = sheet.StateAt(t, trace.Settled(at)), "At "+circuit.FormatTime(at)
		pages := schematic.Draw(d.file.Circuit, opt)
		sheet.WarnReadOnly(d.file.Circuit, pages)
		return pages[0], nil
	case "chart":
		if n := t.Len(); n > maxWindow {
			return nil, badInput("the record has %d events, too many for one picture", n)
		}
		p, err := chart.Draw(t, chart.Options{Rows: r.Rows, From: t.From, Cursor: &at})
		if err != nil {
			return nil, badInput("%s", strings.TrimPrefix(err.Error(), "chart: "))
		}
		return p, nil
	case "frame":
		if n := t.Len(); n > maxWindow {
			return nil, badInput("the record has %d events, too many for a storyboard", n)
		}
		return sheet.FrameAt(t, at, sheet.Options{Symbols: opt.Symbols, Layout: opt.Layout}), nil
	}
	return nil, badInput("there is no picture %q: it is drawing, chart or frame", r.What)
}

// Record writes what the board has on record for other programs.
func (d *Desk) Record(form string) (out DeskFile, err error) {
	defer guard(d.source, &err)
	t, name := d.session.Trace(), fileName(d.file.Circuit.Title)
	switch form {
	case "csv":
		return DeskFile{name + ".csv", "text/csv", append([]byte(trace.CSVHeader), t.CSV()...)}, nil
	case "vcd":
		return DeskFile{name + ".vcd", "text/plain", t.VCD()}, nil
	}
	return out, badInput("a record is written as csv or vcd, not %q", form)
}

// DeskRun is a script's whole run.
type DeskRun struct {
	CSV    string `json:"csv"`
	Failed int    `json:"failed"` // expectations
}

// Run runs a script as the command line does.
func (d *Desk) Run(script int) (out DeskRun, err error) {
	defer guard(d.source, &err)
	s, err := d.script(script)
	if err != nil {
		return out, err
	}
	t := runOne(d.file.Circuit, s)
	return DeskRun{trace.CSVHeader + string(t.CSV()), failures(t, s)}, nil
}

// fileName makes a title fit to be a file's name.
func fileName(title string) string {
	name := strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '-'
	}, title), "-")
	for strings.Contains(name, "--") {
		name = strings.ReplaceAll(name, "--", "-")
	}
	if name == "" {
		return "circuit"
	}
	return name
}
