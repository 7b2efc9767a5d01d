package schematic

import (
	"testing"

	"tarry/circuit"
	"tarry/internal/casetest"
	"tarry/page"
)

// usSymbol is one symbol of the American set: a contact, or a load if load is
// set.
type usSymbol struct {
	name    string
	isLoad  bool
	contact contactFace
	load    loadFace
}

func (s usSymbol) draw(p *pen) {
	if s.isLoad {
		american{}.load(p, s.load)
		return
	}
	american{}.contact(p, s.contact)
}

func (s usSymbol) depths() depths {
	if s.isLoad {
		return american{}.loadDepths(s.load)
	}
	return american{}.contactDepths(s.contact)
}

// drawn returns the symbol's elements, its middle at the origin.
func (s usSymbol) drawn(down bool) []page.Element {
	p := &pen{page: &page.Page{}, down: down, weight: page.Medium}
	s.draw(p)
	return p.page.Elements
}

// usSymbols lists every contact and load that a circuit can have: it makes a
// circuit of all devices and takes the faces as the layout does.
func usSymbols() []usSymbol {
	c := &circuit.Circuit{}
	for _, info := range circuit.Kinds() {
		d := circuit.Device{Kind: info.Kind, Tag: info.Word}
		switch info.Kind {
		case circuit.Selector:
			d.Positions = []string{"off", "auto"}
		case circuit.Timer:
			for _, f := range circuit.Functions() {
				c.Devices = append(c.Devices, circuit.Device{Kind: circuit.Timer, Function: f.Function, Tag: f.Word})
			}
			continue
		}
		c.Devices = append(c.Devices, d)
	}
	for _, colour := range []string{"amber", "white", "red", "green", "blue", "clear", "yellow", "orange"} {
		c.Devices = append(c.Devices, circuit.Device{Kind: circuit.Lamp, Colour: colour, Tag: colour + " lamp"})
	}
	return append(usContacts(c), usLoads(c)...)
}

func usContacts(c *circuit.Circuit) []usSymbol {
	var list []usSymbol
	for id := range c.Devices {
		d := &c.Devices[id]
		var kinds []circuit.ContactKind
		if d.Kind.Info().Plain {
			kinds = append(kinds, circuit.NO, circuit.NC)
		}
		kinds = append(kinds, d.Function.Info().Contacts...)
		for _, k := range kinds {
			f := faceOf(c, circuit.Contact{Device: circuit.DeviceID(id), Kind: k})
			list = append(list, usSymbol{name: d.Tag + " " + k.String(), contact: f})
		}
		for i, position := range d.Positions {
			f := faceOf(c, circuit.Contact{Device: circuit.DeviceID(id), Kind: circuit.AtPosition, Position: i})
			list = append(list, usSymbol{name: d.Tag + " " + position, contact: f})
		}
	}
	return list
}

func usLoads(c *circuit.Circuit) []usSymbol {
	var list []usSymbol
	for id := range c.Devices {
		d := &c.Devices[id]
		for part := circuit.Main; part <= circuit.Delta; part++ {
			if d.TakesLoad(part) {
				f := loadFaceOf(c, circuit.Load{Device: circuit.DeviceID(id), Part: part})
				list = append(list, usSymbol{name: d.Tag + " load " + part.String(), isLoad: true, load: f})
			}
		}
	}
	return list
}

// usDistinct lists the symbols that look different.
func usDistinct() []usSymbol {
	var list []usSymbol
	seen := map[string]bool{}
	for _, s := range usSymbols() {
		look := page.List(&page.Page{Elements: s.drawn(false)})
		if !seen[look] {
			list = append(list, s)
		}
		seen[look] = true
	}
	return list
}

// usSheet draws every symbol in both layouts on one page, its name below.
func usSheet() *page.Page {
	const columns, width, height = 8, 3400, 2000
	symbols := usDistinct()
	rows := page.Unit(len(symbols)+columns-1) / columns
	p := &page.Page{Title: "American symbols", Description: "Each for horizontal rungs and for vertical paths.",
		Width: columns*width + 1000, Height: rows*height + 1000}
	for i, s := range symbols {
		at := page.Point{X: 500 + page.Unit(i%columns)*width, Y: 500 + page.Unit(i/columns)*height}
		shows := page.Shows{ID: s.name, Class: "symbol"}
		s.draw(&pen{page: p, origin: at.Add(900, 800), shows: shows, weight: page.Medium})
		s.draw(&pen{page: p, origin: at.Add(2450, 800), down: true, shows: shows, weight: page.Medium})
		p.Add(page.Element{Shape: page.Text{At: at.Add(1650, 1650), Anchor: page.Middle, Size: 220, Words: s.name},
			Style: page.Style{Ink: page.Faint}})
	}
	return p
}

func TestAmericanSheetGolden(t *testing.T) {
	p := usSheet()
	for _, fault := range page.Faults(p) {
		t.Error(fault)
	}
	casetest.Golden(t, "testdata/american.page", []byte(page.List(p)))
}
