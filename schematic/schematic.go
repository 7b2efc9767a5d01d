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
	// MarkRoom leaves the room that the marks of a State take, though none are
	// drawn: Prepare's drawing at rest.
	MarkRoom bool
	// Bare leaves out the heading and the foot, for a sheet that has its own.
	Bare bool
	// Heading stands over the drawing; empty means the circuit's title.
	Heading string
	// Moment is a line below the heading: which instant of which run is marked.
	Moment string
	// Faults are lines that stand below the drawing: what is wrong with the
	// text of which this is what was understood.
	Faults []string
}

// State is a moment of a run, as the drawing marks it.
type State struct {
	Closed    []bool // of Wiring.Contacts: conducts now
	Energised []bool // of Wiring.Loads
	SupplyOff bool
	// LiveNets and LiveContacts carry the current of energised loads.
	LiveNets     []bool // of Wiring.Nets
	LiveContacts []bool
	Timers       []Timing
	// Set are the timers that are set to other times than the circuit says.
	Set []Setting
}

// Legend says in sentences what the marks of a state mean, and whether the
// supply is on.
func (s *State) Legend() string {
	supply := " The supply is on."
	if s.SupplyOff {
		supply = " The supply is off."
	}
	return supply + marksLegend
}

const marksLegend = " Filled dot: closed now. Ring: open now. Heavy line: carries current; a thin line may be live all the same."

// Timing is a timer whose time runs or stands above zero.
type Timing struct {
	Device          circuit.DeviceID
	Elapsed, Preset time.Duration
}

// layout is a drawing in the making.
type layout struct {
	measures
	circuit    *circuit.Circuit
	wiring     *circuit.Wiring
	numbers    *Numbering
	numberWide page.Unit // the widest wire number or terminal
	places     [][]Place
	contacts   [][]int // of each device, as places in Wiring.Contacts
	opt        Options
	family     family
	faces      faces
	named      map[string]node
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
	var pages []*page.Page
	for _, c := range draw(c, opt) {
		pages = append(pages, c.page)
	}
	return pages
}

func draw(c *circuit.Circuit, opt Options) []*canvas {
	w := circuit.Wire(c)
	start := layout{measures: opt.measures(), circuit: c, wiring: w, opt: opt, family: opt.Symbols.family(), faces: newFaces(),
		numbers: Number(c, w), places: Places(c, w), contacts: contactsByDevice(c, w)}
	start.numberWide = start.numbers.width()
	l, g := start.fit()
	return l.paint(g)
}

// marked reports whether the drawing has room for the marks of a state.
func (l *layout) marked() bool { return l.opt.State != nil || l.opt.MarkRoom }

// fit lays the circuit out as wide as it wants to be, and again with shorter
// rungs until it fits, or gets no shorter.
func (l *layout) fit() (*layout, *grid) {
	limit := [2]int{noLimit, noLimit}
	best, g := l.within(limit)
	room := best.alongRoom()
	for room > 0 && g.along() > room && limit != [2]int{l.leastCells, 1} {
		wide := best.width[leftZone]
		limit[leftZone] = max(l.leastCells, min(wide-1, wide*int(room)/int(g.along())+1))
		if limit[rightZone] = 2; wide <= l.leastCells {
			limit[rightZone] = 1
		}
		next, h := l.within(limit)
		if h.along() >= g.along() && next.width[leftZone] >= wide && wide > l.leastCells {
			break
		}
		if h.along() < g.along() || wide > l.leastCells {
			best, g = next, h
		}
	}
	return best, g
}

const (
	leastCells = 2       // rungs are never folded shorter on paper
	noLimit    = 1 << 30 // cells
)

// within lays the circuit out with at most so many cells in each zone.
func (l *layout) within(limit [2]int) (*layout, *grid) {
	next := *l
	next.limit, next.named = limit, map[string]node{}
	next.chains()
	next.arrange()
	next.placeAll()
	return &next, next.measure()
}
