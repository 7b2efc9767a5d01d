package tarry

import (
	"slices"
	"time"

	"tarry/circuit"
	"tarry/notation"
	"tarry/page"
	"tarry/page/svg"
	"tarry/schematic"
	"tarry/session"
	"tarry/sheet"
	"tarry/trace"
)

// Desk is a circuit on a browser's desk: the text that was opened last, its
// drawing, and the session in which hands run it. It is not safe for use by
// several goroutines at once. Every method is guarded: a fault of ours comes
// back as a Fault, with the text.
type Desk struct {
	source  Source
	file    *notation.File
	checked Checked
	style   schematic.Options
	drawing *schematic.Drawing
	session *session.Session
	places  places
	sent    sent
}

// sent is what the last frame said, so that the next one need not repeat it.
type sent struct {
	trace   *trace.Trace
	events  int           // how many lie at or before now
	now     time.Duration // the instant that was shown
	words   string
	marked  bool
	logSent bool
	bodies  map[string]string // what the groups of drawings and marks look like, by id
}

// NewDesk returns an empty desk.
func NewDesk() *Desk {
	d := &Desk{}
	d.read(Source{Name: "untitled"})
	d.draw()
	d.session = session.New(d.file.Circuit, nil, session.Options{})
	return d
}

// Open reads a text and lays the board out for it. The session starts anew, or
// with keep the same actions are done again up to the same instant. The errors
// are those of the view.
func (d *Desk) Open(s Source, v DeskView, keep bool) (out DeskOpened, err error) {
	defer guard(s, &err)
	style, err := v.options()
	if err != nil {
		return out, err
	}
	d.style = style
	before := d.session
	d.read(s)
	d.draw()
	d.sent = sent{bodies: d.sent.bodies}
	if keep {
		d.session, out.Left = before.Rebuild(d.file.Circuit)
	} else {
		d.session = session.New(d.file.Circuit, nil, session.Options{})
	}
	out.Sheet = d.sheet()
	out.Frame = d.frame()
	return out, nil
}

func (d *Desk) read(s Source) {
	d.source = s
	file, diagnostics := notation.Read(s.Name, s.Text)
	d.file = file
	d.checked = Checked{Diagnostics: diagnostics}
	d.places = newPlaces(s.Text)
}

// options turns the words of a view into choices.
func (v DeskView) options() (schematic.Options, error) {
	opt, err := Style{v.Symbols, v.Layout}.options()
	if v.Width < 0 {
		return opt, badInput("a drawing can't be %v mm wide", v.Width)
	}
	opt.Width, opt.NoWords, opt.Bare = v.Width, v.NoWords, true
	if opt.Layout == schematic.Paths {
		opt.Width = 0 // a width would break the paths over pages, and a screen has none
	}
	return opt, err
}

// View draws the same circuit in another view; the session goes on.
func (d *Desk) View(v DeskView) (drawing DeskDrawing, frame DeskFrame, err error) {
	defer guard(d.source, &err)
	if d.style, err = v.options(); err != nil {
		return drawing, frame, err
	}
	d.draw()
	d.sent.marked = false
	return d.drawn(), d.frame(), nil
}

func (d *Desk) draw() { d.drawing = schematic.Prepare(d.file.Circuit, d.style) }

// How drawings are written for a place in a page of HTML.
var (
	embedded = svg.Options{Embed: true, NoPaper: true, Prefix: "d-"}
	atRest   = svg.Options{Embed: true, NoPaper: true, Prefix: "r-"} // beside the marks
)

// drawn is the drawing at rest, and what can be touched on it. A screen has no
// page breaks: with no height given there is one page.
func (d *Desk) drawn() DeskDrawing {
	p := d.drawing.Pages()[0]
	sheet.WarnReadOnly(d.file.Circuit, []*page.Page{p})
	out := DeskDrawing{Groups: d.unsent(svg.Runs(p, atRest)), Width: p.Width, Height: p.Height, Words: p.Description, Parts: []DeskPart{}}
	for _, q := range d.drawing.Parts() {
		out.Parts = append(out.Parts, d.part(q))
	}
	return out
}

// inner is what stands inside the svg element of a drawing.
func inner(p *page.Page) string { return svg.Shapes(p, embedded) }

func (d *Desk) part(q schematic.Part) DeskPart {
	out := DeskPart{ID: q.ID, Kind: q.Kind.String(), Box: box(q.Box), Device: int(q.Device), Rung: q.Rung, Place: q.Place}
	c, w := d.file.Circuit, d.drawing.Wiring()
	switch q.Kind {
	case schematic.ContactPart:
		out.Signal = c.ContactName(w.Contacts[q.Contact].Contact)
	case schematic.LoadPart:
		out.Signal = c.LoadName(w.Loads[q.Load].Load)
	default:
		whole := box(q.Whole)
		out.Whole = &whole
	}
	if q.Ring.Radius > 0 {
		out.Ring = &DeskRing{q.Ring.Centre.X, q.Ring.Centre.Y, q.Ring.Radius}
	}
	if q.Preset != (page.Box{}) {
		preset := box(q.Preset)
		out.Preset = &preset
	}
	out.Words = partWords(c, w, q)
	return out
}

func box(b page.Box) DeskBox { return DeskBox{b.Min.X, b.Min.Y, b.Width(), b.Height()} }

// Start begins the session anew with a script ahead, by its place, or with
// none (-1).
func (d *Desk) Start(script int) (f DeskFrame, err error) {
	defer guard(d.source, &err)
	var actions []circuit.Action
	if script >= 0 {
		s, err := d.script(script)
		if err != nil {
			return f, err
		}
		actions = s.Timeline()
	}
	d.session = session.New(d.file.Circuit, actions, session.Options{})
	d.sent = sent{bodies: d.sent.bodies}
	return d.frame(), nil
}

// script returns the script at a place.
func (d *Desk) script(place int) (*circuit.Script, error) {
	list, err := scripts(d.file.Circuit, "")
	if err != nil {
		return nil, err
	}
	if place < 0 || place >= len(list) {
		return nil, badInput("there is no script %d; the circuit has %d", place+1, len(d.file.Circuit.Scripts))
	}
	return list[place], nil
}

// Move takes the cursor to an instant; forward beyond what is known it runs
// the circuit.
func (d *Desk) Move(to time.Duration) (f DeskFrame, err error) {
	defer guard(d.source, &err)
	d.session.Move(max(to, 0))
	return d.frame(), nil
}

// Act lets hands act at an instant, which becomes the cursor; what was
// recorded after it is forgotten.
func (d *Desk) Act(at time.Duration, actions []DeskAction) (f DeskFrame, err error) {
	defer guard(d.source, &err)
	list, err := d.actions(actions)
	if err != nil {
		return f, err
	}
	d.session.Move(max(at, 0))
	d.session.Do(list...)
	d.sent.logSent = false
	return d.frame(), nil
}

// longest is how long a preset may be: what the notation takes.
const longest = 8760 * time.Hour

// actions checks what came from outside.
func (d *Desk) actions(list []DeskAction) (out []circuit.Action, err error) {
	for _, a := range list {
		one, err := d.action(a)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

func (d *Desk) action(a DeskAction) (circuit.Action, error) {
	c := d.file.Circuit
	one := circuit.Action{At: a.At, Verb: circuit.VerbOf(a.Verb), Device: circuit.NoDevice, Position: a.Position, Presets: a.Presets}
	if one.Verb == circuit.NoVerb || a.At < 0 {
		return one, badInput("there is no action %q", a.Verb)
	}
	if slices.ContainsFunc(a.Presets[:], func(p time.Duration) bool { return p < 0 || p > longest }) {
		return one, badInput("a timer is set to no more than %s", circuit.FormatTime(longest))
	}
	if one.Verb == circuit.SupplyOff || one.Verb == circuit.SupplyOn {
		return one, nil
	}
	if one.Device = circuit.DeviceID(a.Device); a.Tag != "" {
		one.Device = c.Find(a.Tag)
	}
	if one.Device < 0 || int(one.Device) >= len(c.Devices) {
		return one, badInput("there is no device %s to %s", a.Tag, a.Verb)
	}
	dev := &c.Devices[one.Device]
	if one.Verb == circuit.Turn && a.To != "" {
		one.Position = slices.Index(dev.Positions, a.To)
	}
	if !slices.Contains(dev.Kind.Info().Verbs, one.Verb) || one.Verb == circuit.Turn && (one.Position < 0 || one.Position >= len(dev.Positions)) {
		return one, badInput("hands can't %s %s", a.Verb, dev.Tag)
	}
	return one, nil
}

// Restore puts a session back: its actions, and the instant to show. What no
// longer fits the circuit is left out and counted.
func (d *Desk) Restore(log []DeskAction, to time.Duration) (f DeskFrame, left int, err error) {
	defer guard(d.source, &err)
	var actions []circuit.Action
	for _, a := range log {
		one, err := d.actions([]DeskAction{a})
		if err != nil {
			left++
			continue
		}
		actions = append(actions, one...)
	}
	slices.SortStableFunc(actions, func(a, b circuit.Action) int { return int(a.At - b.At) })
	d.session = session.New(d.file.Circuit, actions, session.Options{})
	d.session.Move(max(to, 0))
	d.sent = sent{bodies: d.sent.bodies}
	return d.frame(), left, nil
}
