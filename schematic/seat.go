package schematic

import (
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/page"
)

// paintSeats draws the symbols of this page with their words and marks.
func (c *canvas) paintSeats() {
	for _, s := range c.seats {
		if !c.on(s.band) {
			continue
		}
		middle := c.g.cells[s.cell] + c.g.width[s.cell]/2
		p := &pen{page: c.page, origin: c.at(middle, c.g.rows[s.band][s.row]), down: c.opt.Layout == Paths, weight: page.Medium}
		if s.contact >= 0 {
			c.paintContact(p, s)
		} else {
			c.paintLoad(p, s)
		}
	}
}

// ContactID is the id that the drawing gives to the contact at place i of
// Wiring.Contacts: its name and its first terminal, as in K1.no:13.
func (n *Numbering) ContactID(c *circuit.Circuit, w *circuit.Wiring, i int) string {
	return c.ContactName(w.Contacts[i].Contact) + ":" + n.Contacts[i][0]
}

func (c *canvas) paintContact(p *pen, s seat) {
	k := c.wiring.Contacts[s.contact].Contact
	f := faceOf(c.circuit, k)
	p.shows = page.Shows{ID: c.numbers.ContactID(c.circuit, c.wiring, s.contact), Class: "contact"}
	if f.timed {
		p.shows.Class = "timed-contact"
	}
	c.family.contact(p, f)
	d, b := c.symbolOf(s)
	marks := page.Unit(0)
	if st := c.opt.State; st != nil {
		marks = markRoom
		c.mark(p, d, st.Closed[s.contact], st.LiveContacts[s.contact])
	}
	c.write(p, d, b, marks)
	if c.opt.Layout == Paths {
		c.terminals(p, c.numbers.Contacts[s.contact], s.turned)
	}
}

// mark tells whether a contact conducts now: a filled dot or a hollow ring,
// and a heavy line through one that carries the current of a load.
func (c *canvas) mark(p *pen, d depths, closed, live bool) {
	at := p.at(0, -d.minus-markRoom/2-20)
	shows := page.Shows{ID: p.shows.ID, Class: "mark-open"}
	style := page.Style{Weight: page.Thin, Ink: page.Black, Fill: page.Knockout}
	if closed {
		shows.Class = "mark-closed"
		style.Fill = page.Solid
	}
	c.page.Add(page.Element{Shape: page.Circle(at, markSize), Style: style, Shows: shows})
	if live {
		shows.Class = "live"
		for _, side := range []page.Unit{-1, 1} {
			c.page.Add(page.Element{Shape: page.Line(p.at(side*reach, 0), p.at(side*(reach-180), 0)),
				Style: page.Style{Weight: page.Heavy, Ink: page.Live}, Shows: shows})
		}
	}
}

func (c *canvas) paintLoad(p *pen, s seat) {
	k := c.wiring.Loads[s.load].Load
	p.shows = page.Shows{ID: c.circuit.LoadName(k), Class: "load"}
	on := c.opt.State != nil && c.opt.State.Energised[s.load]
	if on {
		c.lit(p)
	}
	c.family.load(p, loadFaceOf(c.circuit, k))
	d, b := c.symbolOf(s)
	c.write(p, d, b, 0)
	if t := c.timing(k); t != nil {
		c.ring(p, d, b, t)
	}
	if c.opt.Layout == Paths {
		c.terminals(p, c.numbers.Loads[s.load], false)
	}
	c.crossReferences(s, k)
}

// lit marks an energised load behind its symbol: the live ink, and a heavy line
// on both sides.
func (c *canvas) lit(p *pen) {
	shows := page.Shows{ID: p.shows.ID, Class: "live"}
	c.page.Add(page.Element{Shape: page.Circle(p.at(0, 0), 230), Style: page.Style{Ink: page.Live, Fill: page.Solid}, Shows: shows})
	for _, side := range []page.Unit{-1, 1} {
		c.page.Add(page.Element{Shape: page.Line(p.at(side*reach, 0), p.at(side*(reach-150), 0)),
			Style: page.Style{Weight: page.Heavy, Ink: page.Live}, Shows: shows})
	}
}

// write puts the tag and the lines at a symbol: above and below it on a rung,
// on its left in a current path.
func (c *canvas) write(p *pen, d depths, b block, marks page.Unit) {
	if c.opt.Layout == Paths {
		x := p.origin.X - d.minus - marks - 130
		y := p.origin.Y - b.height()/2
		for _, w := range append([]words{b.tag}, b.lines...) {
			c.words(w, page.Point{X: x, Y: y + page.Above(w.size)}, page.End, p.shows.ID)
			y += w.height()
		}
		return
	}
	c.words(b.tag, page.Point{X: p.origin.X, Y: p.origin.Y - max(d.plus, numberDepth) - 90 - page.Below(b.tag.size)}, page.Middle, p.shows.ID)
	y := p.origin.Y + d.minus + marks + 70
	for _, w := range b.lines {
		c.words(w, page.Point{X: p.origin.X, Y: y + page.Above(w.size)}, page.Middle, p.shows.ID)
		y += w.height()
	}
}

func (c *canvas) words(w words, at page.Point, anchor page.Anchor, id string) {
	c.page.Add(page.Element{Shape: page.Text{At: at, Anchor: anchor, Size: w.size, Bold: w.bold, Words: w.text},
		Style: page.Style{Ink: page.Black}, Shows: page.Shows{ID: id, Class: "words"}})
}

// terminals writes the terminal marks on the right of the wires that meet a
// symbol in a path.
func (c *canvas) terminals(p *pen, marks [2]string, turned bool) {
	if turned {
		marks[0], marks[1] = marks[1], marks[0]
	}
	for i, y := range []page.Unit{-reach - 30, reach + 30 + page.Above(numberSize)} {
		c.words(words{marks[i], numberSize, false}, p.origin.Add(80, y), page.Start, p.shows.ID)
	}
}

// ring draws how far a timer's time has run.
func (c *canvas) ring(p *pen, d depths, b block, t *Timing) {
	shows := page.Shows{ID: p.shows.ID, Class: "timer-ring"}
	words := circuit.FormatTime(t.Elapsed) + " of " + circuit.FormatTime(t.Preset)
	middle := p.origin.Add(0, d.minus+70+b.below()+ringRoom/2)
	text := page.Point{X: middle.X - page.Width(words, wordSize, false)/2 + ringSize, Y: middle.Y + wordSize/3}
	middle.X = text.X - ringSize - 100
	if c.opt.Layout == Paths {
		right := p.origin.X - d.minus - 130
		text = page.Point{X: right - page.Width(words, wordSize, false), Y: p.origin.Y + b.height()/2 + ringRoom/2}
		middle = page.Point{X: text.X - ringSize - 100, Y: text.Y - wordSize/3}
	}
	sweep := 0
	if t.Preset > 0 {
		sweep = int(min(t.Elapsed, t.Preset) * 360 / t.Preset)
	}
	c.page.Add(page.Element{Shape: page.Circle(middle, ringSize), Style: page.Style{Weight: page.Thin, Ink: page.Black}, Shows: shows})
	if sweep > 0 {
		c.page.Add(page.Element{Shape: page.Arc{Centre: middle, Radius: ringSize - 60, From: -90, Sweep: sweep},
			Style: page.Style{Weight: page.Heavy, Ink: page.Timing}, Shows: shows})
	}
	c.page.Add(page.Element{Shape: page.Text{At: text, Size: wordSize, Words: words}, Style: page.Style{Ink: page.Black}, Shows: shows})
}

// referenceRoom is the room right of the right rail for cross-references.
func (l *layout) referenceRoom() page.Unit {
	room := page.Unit(600)
	for _, s := range l.seats {
		if s.load < 0 {
			continue
		}
		if k := l.wiring.Loads[s.load].Load; k.Part != circuit.ResetCoil {
			room = max(room, page.Width(l.placesText(k.Device), wordSize, false)+500)
		}
	}
	return min(room, 4000)
}

func (l *layout) placesText(d circuit.DeviceID) string {
	var list []string
	for _, p := range l.places[d] {
		list = append(list, strconv.Itoa(p.Rung))
	}
	return strings.Join(list, "  ")
}

// crossReferences lists where the contacts of a coil stand: right of its rung,
// a normally closed one underlined; or in a table below its path.
func (c *canvas) crossReferences(s seat, k circuit.Load) {
	places := c.places[k.Device]
	if len(places) == 0 || k.Part == circuit.ResetCoil {
		return
	}
	if c.opt.Layout == Paths {
		c.contactTable(s, k)
		return
	}
	at := c.at(c.g.right, c.g.rows[s.band][s.row]).Add(250, 75)
	left := at.X
	for _, p := range places {
		words := strconv.Itoa(p.Rung)
		width := page.Width(words, wordSize, false)
		if at.X > left && at.X+width > left+3400 {
			at = page.Point{X: left, Y: at.Y + 280}
		}
		c.page.Add(page.Element{Shape: page.Text{At: at, Size: wordSize, Words: words}, Style: page.Style{Ink: page.Black},
			Shows: page.Shows{ID: p.id(c.circuit, k.Device), Class: "cross-reference"}})
		if p.Closed {
			c.page.Add(page.Element{Shape: page.Line(at.Add(0, 70), at.Add(width, 70)), Style: page.Style{Weight: page.Thin, Ink: page.Black},
				Shows: page.Shows{ID: p.id(c.circuit, k.Device), Class: "closed-reference"}})
		}
		at.X += width + 180
	}
}

func (p Place) id(c *circuit.Circuit, d circuit.DeviceID) string {
	return c.Devices[d].Tag + " in " + strconv.Itoa(p.Rung)
}

// tableRows returns the make and the break contacts of a device as the rows of
// its table: terminals and path.
func (l *layout) tableRows(d circuit.DeviceID) (makes, breaks []string) {
	for i, k := range l.wiring.Contacts {
		if k.Device != d {
			continue
		}
		t := l.numbers.Contacts[i]
		row := t[0] + "-" + t[1] + " / " + strconv.Itoa(l.circuit.Rungs[k.Rung].Number)
		if l.circuit.Devices[d].ClosedAtRest(k.Contact) {
			breaks = append(breaks, row)
		} else {
			makes = append(makes, row)
		}
	}
	return makes, breaks
}

const tableLine page.Unit = 280

// tableRoom is the room below the lower rail for the contact tables.
func (l *layout) tableRoom() page.Unit {
	lines := 0
	for i := range l.circuit.Devices {
		makes, breaks := l.tableRows(circuit.DeviceID(i))
		lines = max(lines, len(makes)+len(breaks))
	}
	if lines == 0 {
		return 0
	}
	return page.Unit(lines+2)*tableLine + 300
}

// contactTable lists make and break contacts below a coil's path: terminals
// and the path in which each stands.
func (c *canvas) contactTable(s seat, k circuit.Load) {
	makes, breaks := c.tableRows(k.Device)
	at := c.at(c.g.right, c.g.rows[s.band][s.row]).Add(-950, 1000)
	for _, part := range []struct {
		head string
		rows []string
	}{{"make", makes}, {"break", breaks}} {
		if len(part.rows) == 0 {
			continue
		}
		c.words(words{part.head, numberSize, true}, at, page.Start, c.circuit.LoadName(k))
		for _, row := range part.rows {
			at.Y += tableLine
			c.words(words{row, numberSize, false}, at, page.Start, c.circuit.LoadName(k))
		}
		at.Y += tableLine
	}
}

// rungNumbers writes the rungs' numbers left of the left rail, or the paths'
// along the bottom.
func (c *canvas) rungNumbers() {
	for i, b := range c.bands {
		if !b.first || !c.on(i) {
			continue
		}
		number := strconv.Itoa(c.circuit.Rungs[b.rung].Number)
		t := page.Text{At: c.at(c.g.left, c.g.rows[i][0]).Add(-250, tagSize*35/100), Anchor: page.End, Size: tagSize, Bold: true, Words: number}
		if c.opt.Layout == Paths {
			t.At, t.Anchor = c.at(c.g.right, c.g.rows[i][0]).Add(0, 150+page.Above(tagSize)), page.Middle
		}
		c.page.Add(page.Element{Shape: t, Style: page.Style{Ink: page.Black}, Shows: page.Shows{ID: "rung " + number, Class: "rung-number"}})
	}
}

// heading writes the title over the drawing and the rules of reading below it.
func (c *canvas) heading(pages int) {
	title := c.opt.Heading
	if title == "" {
		title = c.circuit.Title
	}
	c.page.Title = title
	if pages > 1 {
		c.page.Title += " (" + strconv.Itoa(c.number+1) + " of " + strconv.Itoa(pages) + ")"
	}
	c.page.Description = c.describe()
	if c.opt.Bare {
		return
	}
	c.words(words{c.page.Title, headSize, true}, page.Point{X: edge, Y: edge + page.Above(headSize)}, page.Start, "")
	lines := c.foot(c.page.Width)
	y := c.page.Height - edge - page.Unit(len(lines)-1)*footLine
	for _, line := range lines {
		c.words(words{line, numberSize, false}, page.Point{X: edge, Y: y}, page.Start, "")
		y += footLine
	}
}

// describe tells the circuit in words for a screen reader.
func (c *canvas) describe() string {
	var parts []string
	for _, r := range c.circuit.Rungs {
		parts = append(parts, "Rung "+strconv.Itoa(r.Number)+": "+c.rungWords(&r))
	}
	return strings.Join(parts, " ")
}

func (c *canvas) rungWords(r *circuit.Rung) string {
	var names []string
	add := func(k circuit.Contact) { names = append(names, c.circuit.ContactName(k)) }
	r.Path.Contacts(add)
	r.Return.Contacts(add)
	for _, k := range r.Loads {
		names = append(names, c.circuit.LoadName(k))
	}
	if r.Tie != "" {
		names = append(names, "conductor "+r.Tie)
	}
	return strings.Join(names, ", ") + "."
}
