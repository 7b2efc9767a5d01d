// Package schematic draws a circuit: rungs between upright rails or current
// paths between level ones, in international or American symbols, at rest or
// with the marks of a moment.
package schematic

// The way from a circuit to a drawing:
//
//	chain   the rungs are taken apart into series-parallel pieces between nodes
//	level   each node's conductor gets its place, counted in cells
//	grid    cells and lanes get their width, bands their height, pages their bands
//	place   every contact, load, wire and word gets its place
//	paint   symbols, wires and words go onto the page
//
// Everything up to paint counts in two directions only: along the path, and
// across it from one rung to the next. The two layouts differ in which of them
// points right.

import (
	"time"

	"tarry/circuit"
	"tarry/page"
)

// Layout says which way the paths run.
type Layout uint8

// The layouts.
const (
	Rungs Layout = iota // upright rails, level rungs
	Paths               // level rails, upright current paths
)

// Options are the choices for Draw. The zero value is a drawing at rest with
// international symbols and level rungs.
type Options struct {
	Symbols Tradition
	Layout  Layout
	// Width and Height are the room for the drawing on a page, in 1/100 mm;
	// zero means as much as it takes, on one page.
	Width, Height page.Unit
	// NoWords leaves out the words beside timed contacts, for a test.
	NoWords bool
	// State marks a moment; nil draws the rest state alone.
	State *State
	// Bare leaves out the heading and the foot, for a sheet that has its own.
	Bare bool
	// Heading stands over the drawing; empty means the circuit's title.
	Heading string
	// Faults are lines that stand below the drawing: what is wrong with the
	// text of which this is what was understood.
	Faults []string
}

// State is a moment of a run, as the drawing marks it.
type State struct {
	Closed    []bool // of Wiring.Contacts: conducts now
	Energised []bool // of Wiring.Loads
	// LiveNets and LiveContacts carry the current of energised loads.
	LiveNets     []bool // of Wiring.Nets
	LiveContacts []bool
	Timers       []Timing
}

// Timing is a timer whose time runs or stands above zero.
type Timing struct {
	Device          circuit.DeviceID
	Elapsed, Preset time.Duration
}

// layout is a drawing in the making.
type layout struct {
	circuit    *circuit.Circuit
	wiring     *circuit.Wiring
	numbers    *Numbering
	places     [][]Place
	opt        Options
	family     family
	nodes      []junction
	bands      []chain
	references int
	limit      [2]int // cells that a zone may be wide
	width      [2]int // cells that it is
	seats      []seat
	wires      []wire
	joints     []joint
	tags       []tag
}

// Draw draws a circuit on as many pages as its Width and Height ask for.
func Draw(c *circuit.Circuit, opt Options) []*page.Page {
	w := circuit.Wire(c)
	l := &layout{circuit: c, wiring: w, opt: opt, family: opt.Symbols.family(),
		numbers: Number(c, w), places: Places(c, w)}
	l.limit = l.limits()
	l.chains()
	l.arrange()
	l.placeAll()
	return l.paint(l.measure())
}

// limits returns how many cells fit along the path in each zone.
func (l *layout) limits() [2]int {
	room := l.opt.Width
	if l.opt.Layout == Paths {
		room = l.opt.Height
	}
	if room == 0 {
		return [2]int{1 << 30, 1 << 30}
	}
	around := page.Unit(8500)
	back := 0
	for i := range l.circuit.Rungs {
		back = max(back, min(2, len(l.circuit.Rungs[i].Return)))
	}
	cells := int((room-around)/1900) - back
	return [2]int{max(cells, 2), max(back, 1)}
}
