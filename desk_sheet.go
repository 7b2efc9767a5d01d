package tarry

import (
	"strings"

	"tarry/chart"
	"tarry/circuit"
	"tarry/notation"
	"tarry/page"
	"tarry/sheet"
	"tarry/why"
)

// sheet tells all that is known of the text.
func (d *Desk) sheet() DeskSheet {
	c := d.file.Circuit
	out := DeskSheet{Title: c.Title, Station: c.Station, Supply: c.Supply.String(), Notes: []DeskNote{}, ReadOnly: sheet.ReadOnly(c),
		Cautions:    append([]string{circuit.StandingCaution}, c.NotesOf("caution")...),
		Assumptions: why.Assumptions(c), Drawing: d.drawn(), Rows: chart.Rows(d.session.Trace()),
		Diagnostics: d.diagnostics(), Devices: d.outline(), Rungs: d.rungs(), Scripts: d.scripts()}
	for _, n := range c.Notes {
		out.Notes = append(out.Notes, DeskNote{n.Word, n.Text})
	}
	return out
}

func (d *Desk) diagnostics() []DeskDiagnostic {
	list := []DeskDiagnostic{}
	for _, x := range d.checked.Diagnostics {
		one := DeskDiagnostic{Code: x.Code, Grade: x.Grade.String(), Summary: x.Summary, Detail: x.Detail,
			From: d.places.out(x.At.Start), To: d.places.out(x.At.End)}
		if x.Fix != nil {
			one.Fix = &DeskFix{d.places.out(x.Fix.Range.Start), d.places.out(x.Fix.Range.End), x.Fix.Text, x.Fix.Label}
		}
		list = append(list, one)
	}
	return list
}

// outline lists all devices, also those that stand in for what was not
// understood: other lists count by them.
func (d *Desk) outline() []DeskDevice {
	parts := map[string]notation.Part{}
	for _, p := range notation.Outline(d.file, d.source.Text) {
		parts[p.Tag] = p
	}
	list := []DeskDevice{}
	for i := range d.file.Circuit.Devices {
		dev := &d.file.Circuit.Devices[i]
		p := parts[dev.Tag]
		list = append(list, DeskDevice{Tag: dev.Tag, Kind: dev.Kind.String(), Words: p.Words, Label: dev.Label, Function: p.Function,
			Presets: dev.Presets, Hand: hand(p.Hand), Positions: some(dev.Positions), Contacts: some(p.Contacts), Loads: some(p.Loads),
			From: d.places.out(p.At.Start), To: d.places.out(p.At.End)})
	}
	return list
}

// hand is the first of the verbs that a hand has for a device.
func hand(verbs []string) string {
	if len(verbs) == 0 {
		return ""
	}
	return verbs[0]
}

// some is the list, empty instead of null in JSON.
func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

func (d *Desk) rungs() []DeskRung {
	c, list := d.file.Circuit, []DeskRung{}
	for i := range c.Rungs {
		r := &c.Rungs[i]
		one := DeskRung{Number: r.Number, Contacts: []string{}, Loads: []string{},
			From: d.places.out(d.file.Rungs[i].At.Start), To: d.places.out(d.file.Rungs[i].At.End)}
		add := func(k circuit.Contact) { one.Contacts = append(one.Contacts, c.ContactName(k)) }
		r.Path.Contacts(add)
		r.Return.Contacts(add)
		for _, l := range r.Loads {
			one.Loads = append(one.Loads, c.LoadName(l))
		}
		list = append(list, one)
	}
	return list
}

func (d *Desk) scripts() []DeskScript {
	list := []DeskScript{}
	for i := range d.file.Circuit.Scripts {
		s, at := &d.file.Circuit.Scripts[i], d.file.Scripts[i]
		one := DeskScript{Name: s.Name, End: s.End, Actions: []string{}, From: d.places.out(at.At.Start), To: d.places.out(at.At.End)}
		for _, a := range at.Actions {
			one.Actions = append(one.Actions, strings.Join(strings.Fields(string(d.source.Text[a.Start:a.End])), " "))
			one.To = d.places.out(a.End)
		}
		for _, x := range at.Expects {
			one.To = max(one.To, d.places.out(x.End))
		}
		list = append(list, one)
	}
	return list
}

// faults are the lines that a drawing of a faulty text carries.
func (d *Desk) faults() []string { return faultLines(d.checked) }

// DeskKind is a kind of device for a picker.
type DeskKind struct {
	Word     string   `json:"word"`
	About    string   `json:"about"`
	Usual    string   `json:"usual"` // a declaration to begin with: "on-delay 5 s"
	Group    string   `json:"group"` // hand, sensor, protection, relay, timer or load
	Contacts []string `json:"contacts"`
	Loads    []string `json:"loads"`
}

func deskKinds() (list []DeskKind) {
	groups := map[string]string{}
	for _, k := range circuit.Kinds() {
		groups[k.Word] = groupOf(k.Class)
	}
	for _, k := range notation.Kinds() {
		group := groups[k.Word]
		if group == "" {
			group = "timer"
		}
		list = append(list, DeskKind{k.Word, k.About, k.Example, group, some(k.Contacts), some(k.Loads)})
	}
	return list
}

func groupOf(c circuit.Class) string {
	switch c {
	case circuit.ByHand, circuit.WhileHeld:
		return "hand"
	case circuit.BySensing:
		return "sensor"
	case circuit.ByTripping:
		return "protection"
	case circuit.ByCoil:
		return "relay"
	case circuit.ByTime:
		return "timer"
	}
	return "load"
}

// oneLine makes a name fit to stand in quotes.
func oneLine(name string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(page.Clean(name), `"`, "'")), " ")
}

// Recording writes what hands did so far as a script of the notation.
func (d *Desk) Recording(name string) (out DeskScripted, err error) {
	defer guard(d.source, &err)
	s := d.session.Script(oneLine(name))
	out.Script = notation.ScriptText(d.file.Circuit, s)
	lines := strings.Split(strings.TrimRight(out.Script, "\n"), "\n")
	for _, line := range lines[1:] {
		out.Lines = append(out.Lines, strings.TrimSpace(line))
	}
	out.Lines = some(out.Lines)
	return out, nil
}
