// Package page holds a finished drawing: lines, arcs and text in whole
// 1/100 mm, each tagged with what it shows. Charts and schematics draw onto a
// Page; the packages below this one turn it into bytes. List writes it as plain
// text for tests, Faults says where text collides.
package page

// A page says what a thing looks like by role (how heavy, which ink), never by
// a colour or a number of its own, so that every format and every sheet agrees.
// Colour only repeats what weight and pattern already say: a page in black
// loses nothing. X runs to the right and Y runs down from the top left corner.
// Elements are painted in order, later ones over earlier ones.

import "fmt"

// Unit is a length in 1/100 mm.
type Unit int32

// MM is one millimetre.
const MM Unit = 100

// String writes the length in millimetres with two decimals.
func (u Unit) String() string {
	sign := ""
	if u < 0 {
		sign, u = "-", -u
	}
	return fmt.Sprintf("%s%d.%02d", sign, u/MM, u%MM)
}

// Point is a place on the page.
type Point struct {
	X, Y Unit
}

// Add returns p moved by x to the right and y down.
func (p Point) Add(x, y Unit) Point { return Point{p.X + x, p.Y + y} }

// Box is an upright rectangle, Min its top left corner.
type Box struct {
	Min, Max Point
}

// Bounds returns the box, so that Box is its own outline.
func (b Box) Bounds() Box { return b }

// Width returns the box's width in 1/100 mm.
func (b Box) Width() Unit { return b.Max.X - b.Min.X }

// Height returns the box's height in 1/100 mm.
func (b Box) Height() Unit { return b.Max.Y - b.Min.Y }

// Grow returns the box with each side moved outwards by u.
func (b Box) Grow(u Unit) Box { return Box{b.Min.Add(-u, -u), b.Max.Add(u, u)} }

// Overlaps reports whether the boxes share an area; touching does not count.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

// Holds reports whether c lies within b, its edges included.
func (b Box) Holds(c Box) bool {
	return b.Min.X <= c.Min.X && b.Min.Y <= c.Min.Y && c.Max.X <= b.Max.X && c.Max.Y <= b.Max.Y
}

// Page is a finished drawing.
type Page struct {
	// Title and Description are for screen readers and are not drawn.
	Title, Description string
	Width, Height      Unit
	Elements           []Element
}

// Add paints elements over what is there.
func (p *Page) Add(e ...Element) { p.Elements = append(p.Elements, e...) }

// Element is one drawn thing.
type Element struct {
	Shape Shape
	Style Style
	Shows Shows
}

// Shows says what an element shows. The zero value is furniture.
type Shows struct {
	// ID is the notation's name of the thing: KT1.notc. Several elements may
	// have the same one.
	ID string
	// Class is the kind of thing, in kebab-case: timed-contact.
	Class string
}

// Style is how an element is painted. The zero value paints nothing but text,
// which only looks at Ink.
type Style struct {
	Weight Weight
	Dash   Dash
	Ink    Ink
	Fill   Fill
}

// Weight is a class of stroke. The zero value is no stroke.
type Weight uint8

// The weights.
const (
	NoStroke Weight = iota
	Hair            // guide lines
	Thin            // what is off or at rest, dimensions
	Medium          // symbols
	Heavy           // what is on, closed or live
)

var weightWidths = [...]Unit{0, 12, 22, 35, 85}

// Width returns the stroke's width in 1/100 mm.
func (w Weight) Width() Unit { return weightWidths[w] }

// Flat reports whether a stroke ends flat at its very end, and not round
// beyond it: a heavy line begins and ends at an instant.
func (w Weight) Flat() bool { return w == Heavy }

// String returns the weight's name.
func (w Weight) String() string { return [...]string{"", "hair", "thin", "medium", "heavy"}[w] }

// Dash is a pattern of a stroke. The zero value is a full line.
type Dash uint8

// The patterns.
const (
	Full Dash = iota
	Dashed
	Dotted
)

// Pattern returns the lengths of stroke and gap in 1/100 mm, zeros for a full
// line.
func (d Dash) Pattern() (stroke, gap Unit) {
	switch d {
	case Dashed:
		return 180, 110
	case Dotted:
		return 30, 90
	}
	return 0, 0
}

// String returns the pattern's name.
func (d Dash) String() string { return [...]string{"", "dashed", "dotted"}[d] }

// Ink is the role of a colour. The zero value is the ordinary ink.
type Ink uint8

// The roles.
const (
	Black  Ink = iota // the ordinary ink
	Faint             // guide lines and small print
	Live              // energised: always heavy too
	Timing            // a time that runs: always hatched or dimensioned too
	Paper             // the ground
)

// String returns the role's name.
func (k Ink) String() string { return [...]string{"ink", "faint", "live", "timing", "paper"}[k] }

// RGB returns the colour of the ink on a screen.
func (k Ink) RGB() (r, g, b uint8) {
	c := [...][3]uint8{{0x26, 0x24, 0x21}, {0x8a, 0x84, 0x7a}, {0xb8, 0x6a, 0x04}, {0x4d, 0x6c, 0x8c}, {0xfc, 0xfa, 0xf5}}[k]
	return c[0], c[1], c[2]
}

// Fill is how the inside of a closed shape is painted. The zero value leaves
// it as it is.
type Fill uint8

// The fills.
const (
	NoFill   Fill = iota
	Solid         // with the style's ink
	Knockout      // with paper, over what lies below
)

// String returns the fill's name.
func (f Fill) String() string { return [...]string{"", "solid", "knockout"}[f] }

// Ink returns the box around all that is drawn on a page, strokes included; empty for
// an empty page.
func (p *Page) Ink() Box {
	if len(p.Elements) == 0 {
		return Box{}
	}
	box := p.Elements[0].Shape.Bounds()
	for _, e := range p.Elements {
		b := e.Shape.Bounds().Grow(e.Style.Weight.Width() / 2)
		box.Min = Point{X: min(box.Min.X, b.Min.X), Y: min(box.Min.Y, b.Min.Y)}
		box.Max = Point{X: max(box.Max.X, b.Max.X), Y: max(box.Max.Y, b.Max.Y)}
	}
	return box
}
