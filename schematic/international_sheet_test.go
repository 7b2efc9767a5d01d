package schematic

import (
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/internal/casetest"
	"tarry/page"
	"tarry/page/svg"
)

// intlCase is one symbol: a contact's face or a load's, and its name.
type intlCase struct {
	name    string
	contact *contactFace
	load    *loadFace
}

func (c intlCase) draw(p *pen) {
	if c.contact != nil {
		international{}.contact(p, *c.contact)
		return
	}
	international{}.load(p, *c.load)
}

func (c intlCase) depths() depths {
	if c.contact != nil {
		return international{}.contactDepths(*c.contact)
	}
	return international{}.loadDepths(*c.load)
}

// intlContacts lists every contact that a circuit may have.
func intlContacts() []intlCase {
	var list []intlCase
	add := func(d circuit.Device, name string, k circuit.Contact) {
		f := faceOf(&circuit.Circuit{Devices: []circuit.Device{d}}, k)
		list = append(list, intlCase{name: name, contact: &f})
	}
	for _, k := range circuit.Kinds() {
		if k.Kind == circuit.Timer {
			continue
		}
		d := circuit.Device{Kind: k.Kind, Positions: []string{"off", "on"}}
		if k.Plain {
			add(d, k.Word+" no", circuit.Contact{Kind: circuit.NO})
			add(d, k.Word+" nc", circuit.Contact{Kind: circuit.NC})
		}
		if k.Kind == circuit.Selector {
			add(d, "selector on", circuit.Contact{Kind: circuit.AtPosition, Position: 1})
			add(d, "selector off", circuit.Contact{Kind: circuit.AtPosition})
		}
	}
	for _, f := range circuit.Functions() {
		d := circuit.Device{Kind: circuit.Timer, Function: f.Function}
		for _, k := range append([]circuit.ContactKind{circuit.NO, circuit.NC}, f.Contacts...) {
			add(d, f.Word+" "+k.String(), circuit.Contact{Kind: k})
		}
	}
	return list
}

// intlLoads lists every coil and load.
func intlLoads() []intlCase {
	var list []intlCase
	add := func(k circuit.Kind, f circuit.Function, part circuit.LoadPart, words ...string) {
		if part != circuit.Main {
			words = append(words, part.String())
		}
		face := loadFace{kind: k, function: f, part: part}
		list = append(list, intlCase{name: strings.Join(words, " "), load: &face})
	}
	for _, k := range circuit.Kinds() {
		for _, part := range k.Loads {
			if k.Kind != circuit.Timer {
				add(k.Kind, circuit.NoFunction, part, k.Word)
			}
		}
	}
	for _, f := range circuit.Functions() {
		add(circuit.Timer, f.Function, circuit.Main, f.Word, "coil")
		if f.Reset {
			add(circuit.Timer, f.Function, circuit.ResetCoil, f.Word, "coil")
		}
	}
	return list
}

func intlCases() []intlCase { return append(intlContacts(), intlLoads()...) }

// intlDrawn is what a symbol consists of, drawn in one layout about (0, 0).
func intlDrawn(c intlCase, down bool) []page.Element {
	p := &page.Page{}
	c.draw(&pen{page: p, down: down, weight: page.Medium})
	return p.Elements
}

// intlSheet draws the symbols one beside the other, each in both layouts, with
// their names below.
func intlSheet(title string, cases []intlCase) *page.Page {
	const across, wide, high = 6, 4600, 2800
	rows := page.Unit((len(cases) + across - 1) / across)
	sheet := &page.Page{Title: title, Width: across*wide + 1000, Height: rows*high + 1000}
	for i, c := range cases {
		at := page.Point{X: 500 + page.Unit(i%across)*wide, Y: 500 + page.Unit(i/across)*high}
		p := &pen{page: sheet, shows: page.Shows{ID: c.name}, weight: page.Medium}
		p.origin = at.Add(1100, 950)
		c.draw(p)
		p.origin, p.down = at.Add(3200, 950), true
		c.draw(p)
		sheet.Add(page.Element{
			Shape: page.Text{At: at.Add(wide/2, high-450), Anchor: page.Middle, Size: 300, Words: c.name},
			Shows: page.Shows{Class: "name"},
		})
	}
	return sheet
}

func TestGoldenInternational(t *testing.T) {
	sheet := intlSheet("International symbols", intlCases())
	for _, fault := range page.Faults(sheet) {
		t.Error(fault)
	}
	casetest.Golden(t, "testdata/international.page", []byte(page.List(sheet)))
	if out := svg.Encode(sheet, svg.Options{}); len(out) == 0 {
		t.Error("the sheet gives no file")
	}
}
