package schematic

import (
	"strconv"

	"tarry/circuit"
	"tarry/page"
)

// Where the contacts of a coil stand: beside its rung a list of rungs, below its
// path a table of make and break contacts.

const (
	placesWide page.Unit = 3400 // a line of rung numbers
	placeGap   page.Unit = 180
	placeLine  page.Unit = 280
	tableLine  page.Unit = 280
	tableGap   page.Unit = 90 // between a column and the line in the middle
)

// placesOf lists where the contacts of a load's device stand. A reset coil
// leaves that to the main one.
func (l *layout) placesOf(k circuit.Load) []Place {
	if k.Part == circuit.ResetCoil {
		return nil
	}
	return l.places[k.Device]
}

// placeLines breaks the list of rungs into lines.
func (l *layout) placeLines(k circuit.Load) (lines [][]Place) {
	wide := page.Unit(0)
	for _, p := range l.placesOf(k) {
		w := p.width() + placeGap
		if len(lines) == 0 || wide+w > l.placesWide {
			lines = append(lines, nil)
			wide = 0
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], p)
		wide += w
	}
	return lines
}

func (p Place) width() page.Unit { return page.Width(strconv.Itoa(p.Rung), wordSize, false) }

// referenceRoom is the room right of the right rail for cross-references.
func (l *layout) referenceRoom() page.Unit {
	room := max(l.rightRoom, page.Width(l.circuit.Supply.Rails[1], tagSize, true))
	for i := range l.wiring.Loads {
		for _, line := range l.placeLines(l.wiring.Loads[i].Load) {
			wide := page.Unit(250)
			for _, p := range line {
				wide += p.width() + placeGap
			}
			room = max(room, wide)
		}
	}
	return room
}

// crossReferences tells where the contacts of a coil stand: right of its rung,
// a normally closed one underlined; or in a table below its path.
func (c *canvas) crossReferences(s seat, k circuit.Load) {
	if c.opt.Layout == Paths {
		c.contactTable(s, k)
		return
	}
	left := c.at(c.g.right, c.g.rows[s.band][s.row]).Add(250, 75)
	for i, line := range c.placeLines(k) {
		at := left.Add(0, page.Unit(i)*placeLine)
		for _, p := range line {
			id := c.circuit.Devices[k.Device].Tag + " in " + strconv.Itoa(p.Rung)
			c.page.Add(page.Element{Shape: page.Text{At: at, Size: wordSize, Words: strconv.Itoa(p.Rung)}, Style: page.Style{Ink: page.Black},
				Shows: page.Shows{ID: id, Class: "cross-reference"}})
			if p.Closed {
				c.page.Add(page.Element{Shape: page.Line(at.Add(0, 70), at.Add(p.width(), 70)),
					Style: page.Style{Weight: page.Thin, Ink: page.Black}, Shows: page.Shows{ID: id, Class: "closed-reference"}})
			}
			at.X += p.width() + placeGap
		}
	}
}

// table is the contacts of a device: terminals and path of each.
type table struct {
	makes, breaks []string
}

func (l *layout) tableOf(k circuit.Load) (t table) {
	if k.Part == circuit.ResetCoil {
		return t
	}
	for _, i := range l.contacts[k.Device] {
		w := l.wiring.Contacts[i]
		marks := l.numbers.Contacts[i]
		row := marks[0] + "-" + marks[1] + " / " + strconv.Itoa(l.circuit.Rungs[w.Rung].Number)
		if l.circuit.Devices[k.Device].ClosedAtRest(w.Contact) {
			t.breaks = append(t.breaks, row)
		} else {
			t.makes = append(t.makes, row)
		}
	}
	return t
}

// width is the room that a table takes on each side of its path, 0 for an empty
// one.
func (t table) width() page.Unit {
	widest := page.Unit(0)
	for _, row := range append(append([]string(nil), t.makes...), t.breaks...) {
		widest = max(widest, page.Width(row, numberSize, false)+tableGap+60)
	}
	return widest
}

// lines is how many rows a table has below its heads.
func (t table) lines() page.Unit { return page.Unit(max(len(t.makes), len(t.breaks))) }

// tableRoom is the room below the lower rail for the contact tables.
func (l *layout) tableRoom() page.Unit {
	lines := page.Unit(0)
	for i := range l.wiring.Loads {
		lines = max(lines, l.tableOf(l.wiring.Loads[i].Load).lines())
	}
	if lines == 0 {
		return 0
	}
	return (lines+2)*tableLine + 200
}

// contactTable lists the make contacts below a coil's path on the left, the
// break contacts on the right.
func (c *canvas) contactTable(s seat, k circuit.Load) {
	t := c.tableOf(k)
	if t.lines() == 0 {
		return
	}
	head := c.at(c.g.right, c.g.rows[s.band][s.row]).Add(0, 1050)
	id := c.circuit.LoadName(k)
	shows := page.Shows{ID: id, Class: "contact-table"}
	rule := func(a, b page.Point) {
		c.page.Add(page.Element{Shape: page.Line(a, b), Style: page.Style{Weight: page.Thin, Ink: page.Black}, Shows: shows})
	}
	rule(head.Add(-t.width()+60, 80), head.Add(t.width()-60, 80))
	rule(head.Add(0, -page.Above(numberSize)), head.Add(0, t.lines()*tableLine+130))
	for _, column := range []struct {
		head   string
		rows   []string
		x      page.Unit
		anchor page.Anchor
	}{{"make", t.makes, -tableGap, page.End}, {"break", t.breaks, tableGap, page.Start}} {
		at := head.Add(column.x, 0)
		c.words(words{column.head, numberSize, true}, at, column.anchor, id)
		at.Y += 50
		for _, row := range column.rows {
			at.Y += tableLine
			c.words(words{row, numberSize, false}, at, column.anchor, id)
		}
	}
}
