package sheet

import (
	"strings"

	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
)

// meaning is what a legend says of a symbol: its name, and what it does or is
// called elsewhere.
type meaning struct{ name, also string }

// symbol is one entry of a legend.
type symbol struct {
	meaning
	circuit *circuit.Circuit
	contact circuit.Contact // its Kind is NoContact for a coil or load
	load    circuit.Load
}

// draw returns the symbol's small drawing.
func (s *symbol) draw(t schematic.Tradition, l schematic.Layout) *page.Page {
	if s.contact.Kind != circuit.NoContact {
		return schematic.ContactSymbol(s.circuit, s.contact, t, l)
	}
	return schematic.LoadSymbol(s.circuit, s.load, t, l)
}

// symbolsOf lists the symbols of a circuit, each once, in order of the drawing.
func symbolsOf(c *circuit.Circuit, w *circuit.Wiring) []symbol {
	var list []symbol
	seen := map[meaning]bool{}
	add := func(s symbol) {
		if !seen[s.meaning] {
			seen[s.meaning] = true
			list = append(list, s)
		}
	}
	contact, load := 0, 0
	for rung := range c.Rungs {
		for ; contact < len(w.Contacts) && w.Contacts[contact].Rung == rung; contact++ {
			k := w.Contacts[contact].Contact
			add(symbol{contactMeaning(&c.Devices[k.Device], k.Kind), c, k, circuit.Load{}})
		}
		for ; load < len(w.Loads) && w.Loads[load].Rung == rung; load++ {
			l := w.Loads[load].Load
			add(symbol{loadMeaning(&c.Devices[l.Device], l.Part), c, circuit.Contact{}, l})
		}
	}
	return list
}

// kindNames are the kinds as a legend names them; the notation's own word does
// for the rest.
var kindNames = map[circuit.Kind]string{
	circuit.Limit: "limit switch", circuit.Float: "float switch", circuit.Pressure: "pressure switch",
	circuit.Flow: "flow switch", circuit.Photo: "photo sensor", circuit.Proximity: "proximity switch",
	circuit.Thermostat: "thermostat", circuit.Speed: "speed switch", circuit.Overload: "overload relay",
	circuit.Solenoid: "solenoid valve",
}

func kindName(k circuit.Kind) string {
	if words, ok := kindNames[k]; ok {
		return words
	}
	return k.String()
}

// capital returns words with a capital first letter.
func capital(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

// contactMeaning says what a contact's symbol stands for.
func contactMeaning(d *circuit.Device, k circuit.ContactKind) meaning {
	if m, ok := timedMeanings[k]; ok {
		return m
	}
	normally, moves := "normally open", "closes"
	if k.ClosedAtRest() {
		normally, moves = "normally closed", "opens"
	}
	switch k {
	case circuit.TNO, circuit.TNC:
		return meaning{"Timed output, " + normally, d.Function.String() + ": " + functionWords[d.Function]}
	case circuit.AtPosition:
		return meaning{"Selector contact", "closed in the position that is named, open in the others"}
	}
	switch d.Kind.Info().Class {
	case circuit.WhileHeld:
		return meaning{capital(kindName(d.Kind)) + ", " + normally, moves + " while it is pressed"}
	case circuit.ByHand:
		return meaning{capital(kindName(d.Kind)) + ", " + normally, moves + " by hand and stays"}
	case circuit.BySensing:
		return meaning{capital(kindName(d.Kind)) + ", " + normally, moves + " when it operates"}
	case circuit.ByTripping:
		return meaning{capital(kindName(d.Kind)) + ", " + normally, moves + " when it trips, stays until it is reset"}
	}
	switch d.Kind {
	case circuit.LatchingRelay:
		return meaning{"Latching contact, " + normally, moves + " when the relay is set, stays until it is reset"}
	case circuit.SteppingRelay:
		return meaning{"Stepping contact, " + normally, "changes over at every pick-up of its coil"}
	case circuit.Counter:
		return meaning{"Counter contact, " + normally, moves + " when the count is full"}
	}
	if k.ClosedAtRest() {
		return meaning{"NC contact, normally closed", "opens with its coil at once; break contact, form B"}
	}
	return meaning{"NO contact, normally open", "closes with its coil at once; make contact, form A"}
}

// timedMeanings are the contacts that the trade has letters for, with the other
// names of each (names of the open textbook "Lessons in Electric Circuits";
// TDC, TDO, TDPU and TDDO from a published table of drawing symbols; the pairing
// is derived).
var timedMeanings = map[circuit.ContactKind]meaning{
	circuit.NOTC:     {"NOTC: closes late", "normally open, timed closed; normally open on-delay; TDC contact of a TDPU relay"},
	circuit.NCTO:     {"NCTO: opens late", "normally closed, timed open; normally closed on-delay; TDO contact of a TDPU relay"},
	circuit.NOTO:     {"NOTO: opens late", "normally open, timed open; normally open off-delay; TDO contact of a TDDO relay"},
	circuit.NCTC:     {"NCTC: closes late", "normally closed, timed closed; normally closed off-delay; TDC contact of a TDDO relay"},
	circuit.StarOut:  {"Star output", "closes at once, opens when the star time is up"},
	circuit.DeltaOut: {"Delta output", "closes after the star time and the gap"},
}

// functionWords say what the timed output of a function does.
var functionWords = map[circuit.Function]string{
	circuit.OnDelay:        "slow operating; delay on energising, on make, on operate; TDPU",
	circuit.OffDelay:       "slow releasing; delay on de-energising, on break, on release; TDDO",
	circuit.OnOffDelay:     "operates late and returns late",
	circuit.Interval:       "operates with the coil, returns when the time is up",
	circuit.Pulse:          "operates for the time, whatever the coil does meanwhile",
	circuit.PulseOnRelease: "operates for the time when the coil goes off",
	circuit.MinimumOn:      "operates with the coil, for the time at least",
	circuit.Flasher:        "to and fro while the coil is on",
	circuit.Accumulating:   "adds up the time that the coil is on, until it is reset",
	circuit.Watchdog:       "returns when the coil has not gone on again in time",
	circuit.StarDelta:      "star output first, delta output after a gap",
}

// loadMeaning says what a coil's or load's symbol stands for.
func loadMeaning(d *circuit.Device, p circuit.LoadPart) meaning {
	switch {
	case d.Kind == circuit.Timer && p == circuit.Main:
		return meaning{capital(d.Function.String()) + " timer coil", functionWords[d.Function]}
	case d.Kind == circuit.Timer:
		return meaning{"Reset coil of a timer", "clears the time"}
	case p == circuit.SetCoil:
		return meaning{"Set coil of a latching relay", "moves its contacts, which then stay"}
	case p == circuit.ResetCoil && d.Kind == circuit.Counter:
		return meaning{"Reset coil of a counter", "clears the count"}
	case p == circuit.ResetCoil:
		return meaning{"Reset coil of a latching relay", "moves its contacts back"}
	case p == circuit.Star || p == circuit.Delta:
		return meaning{"Motor in " + p.String(), "its windings joined in " + p.String()}
	case d.Kind == circuit.SteppingRelay:
		return meaning{"Stepping relay coil", "changes over at every pick-up"}
	case d.Kind == circuit.Counter:
		return meaning{"Counter coil", "counts its pick-ups"}
	case d.Kind == circuit.Relay:
		return meaning{"Relay coil", "moves the contacts of its own tag"}
	case d.Kind == circuit.Contactor:
		return meaning{"Contactor coil", "moves the contacts of its own tag"}
	}
	return meaning{capital(kindName(d.Kind)), loadWords[d.Kind]}
}

var loadWords = map[circuit.Kind]string{
	circuit.Lamp: "lit while current flows", circuit.Horn: "sounds while current flows",
	circuit.Solenoid: "moves while current flows", circuit.Motor: "runs while current flows",
	circuit.Heater: "heats while current flows", circuit.Brake: "a coil releases or applies it",
}

// Room of one entry of a legend.
const (
	legendSymbol page.Unit = 1650
	legendGap    page.Unit = 350
	legendWide   page.Unit = 5800 // least width of a column
)

// legend is the list of symbols below a drawing, folded for a width.
type legend struct {
	entries []symbol
	columns int
	width   page.Unit // of a column
	rows    []page.Unit
	numbers []string // what the numbers at coils and wires are
}

// What the numbers on a drawing are.
const (
	rungNumbers = "Numbers at the right: the rungs where a coil's contacts stand, underlined for a closed one."
	pathNumbers = "Framed numbers are wires, the others terminals; a table shows a coil's contacts and their paths."
)

// newLegend lays out the legend of a circuit for a width.
func (s *setter) newLegend(width page.Unit) *legend {
	l := &legend{entries: symbolsOf(s.circuit, s.wiring)}
	l.columns = max(int((width+legendGap)/(legendWide+legendGap)), 1)
	l.width = (width - page.Unit(l.columns-1)*legendGap) / page.Unit(l.columns)
	words := rungNumbers
	if s.opt.Layout == schematic.Paths {
		words = pathNumbers
	}
	l.numbers = page.Fold(words, noteSize, false, width, 0)
	for i := range l.entries {
		if i%l.columns == 0 {
			l.rows = append(l.rows, 0)
		}
		row := &l.rows[len(l.rows)-1]
		*row = max(*row, l.entryHeight(s, &l.entries[i]))
	}
	return l
}

func (l *legend) also(e *symbol) []string {
	return page.Fold(e.also, fineSize, false, l.width-legendSymbol-100, 0)
}

func (l *legend) names(e *symbol) []string {
	return page.Fold(e.name, noteSize, true, l.width-legendSymbol-100, 0)
}

func (l *legend) entryHeight(s *setter, e *symbol) page.Unit {
	words := page.Unit(len(l.names(e)))*lineOf(noteSize) + page.Unit(len(l.also(e)))*lineOf(fineSize)
	return max(words, e.draw(s.opt.Symbols, s.opt.Layout).Height*legendPercent/100) + 200
}

// legendPercent is the size of a legend's symbols.
const legendPercent = 90

func (l *legend) height() page.Unit {
	h := page.Unit(1+len(l.numbers))*lineOf(noteSize) + 200 + 60
	for _, row := range l.rows {
		h += row
	}
	return h
}

// paint draws the legend with its top left corner at a point.
func (l *legend) paint(s *setter, f *frame, at page.Point) {
	f.line(page.Hair, at, at.Add(f.room.Max.X-at.X, 0))
	at = f.lines(at.Add(0, 120), l.numbers, noteSize, false, "legend-numbers")
	f.lines(at, []string{"Symbols on this drawing"}, noteSize, true, "legend-heading")
	y := at.Y + lineOf(noteSize) + 220
	for i := range l.entries {
		if i > 0 && i%l.columns == 0 {
			y += l.rows[i/l.columns-1]
		}
		l.entry(s, f, &l.entries[i], page.Point{X: at.X + page.Unit(i%l.columns)*(l.width+legendGap), Y: y})
	}
}

func (l *legend) entry(s *setter, f *frame, e *symbol, at page.Point) {
	p := e.draw(s.opt.Symbols, s.opt.Layout)
	shift := (legendSymbol - 250 - p.Width*legendPercent/100) / 2
	f.place(p, at.Add(max(shift, 0), 0), legendPercent)
	to := f.lines(at.Add(legendSymbol, 0), l.names(e), noteSize, true, "legend")
	f.lines(to, l.also(e), fineSize, false, "legend")
}
