package sheet

import (
	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
)

// The sheets of symbols show everything that a drawing can hold, in both
// traditions side by side. They are drawn from a circuit that has one of each.

// symbolRow is one line of the sheets: one or two symbols with their words.
type symbolRow struct {
	name, also string
	symbols    []symbol // normally open and normally closed, or a load alone
}

// symbolGroup is a heading with rows below it.
type symbolGroup struct {
	heading string
	pairs   bool // of contacts: normally open, normally closed
	rows    []symbolRow
}

// allDevices returns a circuit with a device of each kind and each function.
func allDevices() *circuit.Circuit {
	c := &circuit.Circuit{Title: "Symbols", Supply: circuit.Supply{Rails: [2]string{"L+", "L-"}}}
	for _, k := range circuit.Kinds() {
		if k.Kind != circuit.Timer {
			c.Devices = append(c.Devices, circuit.Device{Tag: k.Word, Kind: k.Kind, Positions: []string{"off", "on"}})
		}
	}
	for _, f := range circuit.Functions() {
		c.Devices = append(c.Devices, circuit.Device{Tag: f.Word, Kind: circuit.Timer, Function: f.Function})
	}
	return c
}

// pair makes the row of a device's contacts of two kinds.
func pair(c *circuit.Circuit, id int, name, also string, kinds ...circuit.ContactKind) symbolRow {
	row := symbolRow{name: name, also: also}
	for _, k := range kinds {
		contact := circuit.Contact{Device: circuit.DeviceID(id), Kind: k, Position: 1}
		row.symbols = append(row.symbols, symbol{circuit: c, contact: contact})
	}
	return row
}

// symbolGroups lists all symbols.
func symbolGroups(c *circuit.Circuit) []symbolGroup {
	hands := symbolGroup{heading: "Hands and sensors", pairs: true}
	coils := symbolGroup{heading: "Contacts of relays and timers", pairs: true}
	loads := symbolGroup{heading: "Coils and loads"}
	for i := range c.Devices {
		d := &c.Devices[i]
		info := d.Kind.Info()
		switch {
		case d.Kind == circuit.Timer:
			coils.addTimer(c, i)
		case d.Kind == circuit.Selector:
			hands.rows = append(hands.rows, pair(c, i, "Selector", contactMeaning(d, circuit.AtPosition).also, circuit.AtPosition))
		case info.Plain && info.Loads == nil:
			hands.rows = append(hands.rows, pair(c, i, capital(kindName(d.Kind)), operates(d.Kind), circuit.NO, circuit.NC))
		case info.Plain && d.Kind != circuit.Contactor:
			name := capital(kindName(d.Kind))
			if d.Kind == circuit.Relay {
				name = "Relay, contactor, timer"
			}
			coils.rows = append(coils.rows, pair(c, i, name, operates(d.Kind), circuit.NO, circuit.NC))
		}
		for _, p := range []circuit.LoadPart{circuit.Main, circuit.SetCoil, circuit.ResetCoil, circuit.Star, circuit.Delta} {
			if !d.TakesLoad(p) {
				continue
			}
			m := loadMeaning(d, p)
			s := symbol{circuit: c, load: circuit.Load{Device: circuit.DeviceID(i), Part: p}}
			loads.rows = append(loads.rows, symbolRow{m.name, m.also, []symbol{s}})
		}
	}
	return []symbolGroup{hands, coils, loads}
}

// operates says what moves the contacts of a kind.
func operates(k circuit.Kind) string {
	switch k.Info().Class {
	case circuit.WhileHeld:
		return "operates while it is pressed"
	case circuit.ByHand:
		return "operates by hand and stays"
	case circuit.BySensing:
		return "operates as the plant moves it"
	case circuit.ByTripping:
		return "operates when it trips, stays until it is reset"
	}
	switch k {
	case circuit.LatchingRelay:
		return "operates when it is set, stays until it is reset"
	case circuit.SteppingRelay:
		return "changes over at every pick-up of its coil"
	case circuit.Counter:
		return "operates when the count is full"
	}
	return "operates with its coil, at once; forms A and B"
}

// addTimer adds the timed contacts of a function.
func (g *symbolGroup) addTimer(c *circuit.Circuit, id int) {
	f := c.Devices[id].Function
	kinds := f.Info().Contacts
	name, also := "Timed contacts, "+f.String(), functionWords[f]
	switch f {
	case circuit.OnDelay:
		name, also = "NOTC closes late, NCTO opens late", "on-delay; TDC and TDO contact of a TDPU relay"
	case circuit.OffDelay:
		name, also = "NOTO opens late, NCTC closes late", "off-delay; TDO and TDC contact of a TDDO relay"
	}
	g.rows = append(g.rows, pair(c, id, name, also, kinds...))
}

// Columns of the sheets of symbols.
const (
	symbolWords page.Unit = 6800 // room of the words
	symbolCell  page.Unit = 2700
)

// SymbolPages draws every symbol in both traditions with its words. Of opt, the
// header, the paper and the layout count.
func SymbolPages(opt Options) []*page.Page {
	c := allDevices()
	s := &setter{circuit: c, wiring: circuit.Wire(c), opt: opt, anySymbols: true}
	w := &symbolWriter{setter: s}
	for _, g := range symbolGroups(c) {
		w.group(g)
	}
	numberAll([]Part{{Pages: w.pages}})
	return w.pages
}

// symbolWriter fills sheets with rows of symbols from the top down.
type symbolWriter struct {
	*setter
	pages []*page.Page
	f     *frame
	y     page.Unit
}

// need begins a new sheet if a height is no longer free, and reports whether it
// did.
func (w *symbolWriter) need(height page.Unit) bool {
	if w.f != nil && w.y+height <= w.f.room.Max.Y {
		return false
	}
	w.f = w.newSheet(look{name: "Symbols", about: "Every symbol in both traditions, at rest"})
	w.pages = append(w.pages, w.f.page)
	w.y = w.f.room.Min.Y
	return true
}

func (w *symbolWriter) group(g symbolGroup) {
	w.need(2200)
	w.heading(g, "")
	for _, r := range g.rows {
		if w.need(w.rowHeight(r)) {
			w.heading(g, ", continued")
		}
		w.row(r)
	}
	w.y += 300
}

func (w *symbolWriter) heading(g symbolGroup, more string) {
	left := w.f.room.Min.X
	w.f.lines(page.Point{X: left, Y: w.y}, []string{g.heading + more}, bodySize, true, "symbol-group")
	for i, words := range []string{"IEC 60617", "IEEE 315"} {
		x := left + symbolWords + page.Unit(i)*2*symbolCell
		w.f.lines(page.Point{X: x, Y: w.y}, []string{words}, noteSize, true, "symbol-tradition")
		for j, words := range []string{"normally open", "normally closed"} {
			if g.pairs {
				at := page.Point{X: x + page.Unit(j)*symbolCell, Y: w.y + lineOf(noteSize)}
				w.f.lines(at, []string{words}, fineSize, false, "symbol-tradition")
			}
		}
	}
	w.y += 2*lineOf(noteSize) + 100
	w.f.line(page.Thin, page.Point{X: left, Y: w.y}, page.Point{X: w.f.room.Max.X, Y: w.y})
}

func (w *symbolWriter) rowHeight(r symbolRow) page.Unit {
	h := lineOf(bodySize) + page.Unit(len(w.also(r)))*lineOf(fineSize)
	for _, s := range r.symbols {
		for _, t := range []schematic.Tradition{schematic.International, schematic.American} {
			h = max(h, s.draw(t, w.opt.Layout).Height)
		}
	}
	return h + 300
}

func (w *symbolWriter) also(r symbolRow) []string {
	return page.Fold(r.also, fineSize, false, symbolWords-400, 0)
}

func (w *symbolWriter) row(r symbolRow) {
	left, height := w.f.room.Min.X, w.rowHeight(r)
	to := w.f.lines(page.Point{X: left, Y: w.y + 150}, []string{page.Fit(r.name, bodySize, true, symbolWords-200)}, bodySize, true, "symbol-name")
	w.f.lines(to, w.also(r), fineSize, false, "symbol-words")
	for i, t := range []schematic.Tradition{schematic.International, schematic.American} {
		for j, s := range r.symbols {
			p := s.draw(t, w.opt.Layout)
			x := left + symbolWords + page.Unit(2*i+j)*symbolCell
			w.f.place(p, page.Point{X: x, Y: w.y + (height-p.Height)/2}, 100)
		}
	}
	w.y += height
	w.f.line(page.Hair, page.Point{X: left, Y: w.y}, page.Point{X: w.f.room.Max.X, Y: w.y})
}
