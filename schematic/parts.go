package schematic

import (
	"cmp"
	"slices"

	"tarry/circuit"
	"tarry/page"
)

// PartKind says what a Part is.
type PartKind uint8

// The kinds.
const (
	RungPart PartKind = iota
	ContactPart
	LoadPart
)

// String returns the kind's name.
func (k PartKind) String() string { return [...]string{"rung", "contact", "load"}[k] }

// Part is what a pointer can hit on a drawing, or a keyboard can reach.
// Lengths are in 1/100 mm on the page.
type Part struct {
	ID   string // of the elements that show it
	Kind PartKind
	Page int // place in Pages
	// Box holds a symbol with its words and marks, or the number of a rung. A
	// rung that goes on on another page has a part there too, whose Box is
	// its Whole.
	Box page.Box
	// Whole is all the rung on this page, from rail to rail; empty for others.
	Whole  page.Box
	Device circuit.DeviceID // NoDevice for a rung
	// Contact and Load are places in Wiring.Contacts and Wiring.Loads, -1 for
	// none.
	Contact, Load int
	Rung          int // place in Circuit.Rungs
	// Place counts the rung's contacts, or its loads, as the text writes them
	// (notation.RungSource); 0 for a rung.
	Place int
	// Ring is where the ring of a timer's coil stands, a whole circle; Elapsed
	// where the words beside it begin, in the size of Preset's. Preset is the
	// box of the lines that tell its function and settings. All are zero for
	// anything else.
	Ring    page.Arc
	Elapsed page.Text
	Preset  page.Box
}

// Parts returns what a pointer can hit in reading order: page by page, the
// rungs in order, in each first itself, then its contacts and loads as the text
// has them.
func (d *Drawing) Parts() []Part { return d.parts }

func partsOf(pages []*canvas) []Part {
	var list []Part
	for _, c := range pages {
		list = append(list, c.rungParts()...)
		for i := range c.painted {
			list = append(list, c.seatPart(&c.painted[i]))
		}
	}
	if len(pages) > 0 {
		pages[0].countPlaces(list)
	}
	slices.SortStableFunc(list, func(a, b Part) int {
		return cmp.Or(cmp.Compare(a.Page, b.Page), cmp.Compare(a.Rung, b.Rung), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Place, b.Place))
	})
	return list
}

// countPlaces gives the parts their places in their rungs: the wiring has the
// contacts, and the loads, in the order of the rungs.
func (l *layout) countPlaces(list []Part) {
	firstContact, firstLoad := make([]int, len(l.circuit.Rungs)), make([]int, len(l.circuit.Rungs))
	for i := len(l.wiring.Contacts) - 1; i >= 0; i-- {
		firstContact[l.wiring.Contacts[i].Rung] = i
	}
	for i := len(l.wiring.Loads) - 1; i >= 0; i-- {
		firstLoad[l.wiring.Loads[i].Rung] = i
	}
	for i := range list {
		switch p := &list[i]; p.Kind {
		case ContactPart:
			p.Place = p.Contact - firstContact[p.Rung]
		case LoadPart:
			p.Place = p.Load - firstLoad[p.Rung]
		}
	}
}

// rungParts returns the rungs of a page.
func (c *canvas) rungParts() (list []Part) {
	s := c.g.pages[c.number]
	for i := s.first; i < s.end; i++ {
		rung := c.bands[i].rung
		if rung < 0 {
			continue
		}
		band := c.bandBox(i)
		if n := len(list); n == 0 || list[n-1].Rung != rung {
			p := Part{ID: "rung " + c.rungNumber(i), Kind: RungPart, Page: c.number, Device: circuit.NoDevice, Contact: -1, Load: -1,
				Rung: rung, Whole: band}
			if c.bands[i].first {
				p.Box = c.numberAt(i).Bounds()
				p.Whole = around(p.Whole, p.Box)
			}
			list = append(list, p)
			continue
		}
		list[len(list)-1].Whole = around(list[len(list)-1].Whole, band)
	}
	for i := range list {
		if list[i].Box == (page.Box{}) {
			list[i].Box = list[i].Whole
		}
	}
	return list
}

// bandBox is the room of a band from rail to rail.
func (c *canvas) bandBox(band int) page.Box {
	b := c.g.bands[band]
	return page.Box{Min: c.at(c.g.left, b[0]), Max: c.at(c.g.right, b[1])}
}

// seatPart returns the part of a painted symbol.
func (c *canvas) seatPart(s *painted) Part {
	p := Part{ID: s.shows.ID, Page: c.number, Contact: s.contact, Load: s.load, Box: inkOf(c.page.Elements[s.from:s.end])}
	if s.contact >= 0 {
		k := c.wiring.Contacts[s.contact]
		p.Kind, p.Device, p.Rung = ContactPart, k.Device, k.Rung
		p.Box = around(p.Box, inkOf([]page.Element{s.marks.open}))
		return p
	}
	k := c.wiring.Loads[s.load]
	p.Kind, p.Device, p.Rung = LoadPart, k.Device, k.Rung
	p.Box = around(p.Box, inkOf(s.marks.disc))
	if c.ringWidth(k.Load) > 0 {
		c.timerPart(&p, s, k.Load)
	}
	return p
}

// timerPart adds to the part of a timer's coil where its time stands.
func (c *canvas) timerPart(p *Part, s *painted, k circuit.Load) {
	d := &c.circuit.Devices[k.Device]
	words := ""
	for _, preset := range d.Presets {
		if w := elapsedWords(preset-1, preset); preset > 0 && page.Width(w, wordSize, false) > page.Width(words, wordSize, false) {
			words = w
		}
	}
	middle, text := c.ringPlace(s.origin, s.seat, s.depths, s.block, page.Width(words, wordSize, false))
	p.Ring = page.Circle(middle, ringSize)
	p.Elapsed = page.Text{At: text, Size: wordSize, Words: words}
	p.Box = around(around(p.Box, boundsOf(p.Ring)), p.Elapsed.Bounds())
	first := s.words + 1 + len(c.label(d.Label))
	if end := s.words + 1 + len(s.block.lines); first < end {
		p.Preset = inkOf(c.page.Elements[first:end])
	}
}

// inkOf is the box around what elements paint, empty for none.
func inkOf(list []page.Element) (box page.Box) {
	for i, e := range list {
		b := boundsOf(e.Shape).Grow((e.Style.Weight.Width() + 1) / 2)
		if i == 0 {
			box = b
		}
		box = around(box, b)
	}
	return box
}

// boundsOf is Bounds, quicker for a whole circle.
func boundsOf(s page.Shape) page.Box {
	if a, ok := s.(page.Arc); ok && a.Sweep == 360 {
		return page.Box{Min: a.Centre, Max: a.Centre}.Grow(a.Radius)
	}
	return s.Bounds()
}

// around is the least box around two.
func around(a, b page.Box) page.Box {
	return page.Box{Min: page.Point{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		Max: page.Point{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)}}
}
