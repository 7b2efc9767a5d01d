package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// aloneStub is the piece of wire on both sides of a symbol that stands alone.
const aloneStub page.Unit = 200

// ContactSymbol draws the symbol of a contact alone, on a page of its own with
// its path through the middle; for legends and lists.
func ContactSymbol(c *circuit.Circuit, k circuit.Contact, t Tradition, l Layout) *page.Page {
	f := faceOf(c, k)
	p := alone(t.family().contactDepths(f), l, page.Shows{ID: c.ContactName(k), Class: "symbol"})
	t.family().contact(p, f)
	return p.page
}

// LoadSymbol draws the symbol of a coil or load alone, as ContactSymbol does.
func LoadSymbol(c *circuit.Circuit, k circuit.Load, t Tradition, l Layout) *page.Page {
	f := loadFaceOf(c, k)
	p := alone(t.family().loadDepths(f), l, page.Shows{ID: c.LoadName(k), Class: "symbol"})
	t.family().load(p, f)
	return p.page
}

// alone returns a pen on a page of the symbol's size, the stubs of wire drawn.
func alone(d depths, l Layout, shows page.Shows) *pen {
	along, pad := 2*(reach+aloneStub), page.Unit(60)
	p := &pen{page: &page.Page{}, down: l == Paths, shows: shows, weight: page.Medium}
	if p.down {
		p.page.Width, p.page.Height = d.plus+d.minus+2*pad, along
		p.origin = page.Point{X: d.minus + pad, Y: along / 2}
	} else {
		p.page.Width, p.page.Height = along, d.plus+d.minus+2*pad
		p.origin = page.Point{X: along / 2, Y: d.plus + pad}
	}
	for _, side := range []page.Unit{-1, 1} {
		p.line(side*reach, 0, side*(reach+aloneStub), 0)
	}
	return p
}
