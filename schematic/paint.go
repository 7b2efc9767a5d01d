package schematic

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/page"
)

// Room around the drawing in 1/100 mm.
const (
	edge     page.Unit = 600
	headSize page.Unit = 460
	dotSize  page.Unit = 55 // radius of a joint
	markSize page.Unit = 85 // radius of a contact's mark
	// The radius of the disc in an energised load, and in one with letters.
	litSize     page.Unit = 150
	litLettered page.Unit = 280
	numberRoom  page.Unit = 900
	headRoom    page.Unit = 1000
	topRoom     page.Unit = 250 // above the upper rail of the paths, where no name stands
	momentRoom  page.Unit = 350
	momentSize  page.Unit = 300
	footLine    page.Unit = 270
	leastWide   page.Unit = 12000
)

// canvas is one page being painted.
type canvas struct {
	*layout
	g       *grid
	page    *page.Page
	number  int        // of the page, from 0
	origin  page.Point // of along 0, across 0
	strokes []stroke
	ends    map[meeting]bool
	stands  map[conductor][]int // the pages on which a conductor has joints
	// held are the ends of wires that are never free, holders those that symbols
	// hold, seatAt the symbols by band, row and cell, flow what the wires come to;
	// see current.go.
	held    map[meeting]bool
	holders map[meeting][]seat
	seatAt  map[[3]int]seat
	flow    *flow
	painted []painted // the symbols, in order of the seats
}

// alongRoom is the room along the rungs between the rails, acrossRoom the one
// across them on one page; 0 is no limit.
func (l *layout) alongRoom() page.Unit {
	if l.opt.Layout == Paths {
		return l.roomIn(l.opt.Height, l.around().Y+l.footHeight(l.opt.Width))
	}
	return l.roomIn(l.opt.Width, l.around().X)
}

func (l *layout) acrossRoom() page.Unit {
	if l.opt.Layout == Paths {
		return l.roomIn(l.opt.Width, l.around().X)
	}
	return l.roomIn(l.opt.Height, l.around().Y+l.footHeight(l.opt.Width))
}

func (l *layout) roomIn(whole, around page.Unit) page.Unit {
	if whole == 0 {
		return 0
	}
	return max(whole-around, 3000)
}

// around is the room that a page needs besides the drawing itself, but for the
// foot, which depends on the page's width.
func (l *layout) around() page.Point {
	p := page.Point{X: 2*l.edge + l.numberRoom(), Y: 2*l.edge + 900}
	if !l.opt.Bare {
		p.Y += l.headRoom()
	}
	if l.opt.Layout == Rungs {
		p.X += l.referenceRoom()
	} else {
		p.Y += 600 + l.tableRoom() + topRoom - 500
	}
	return p
}

// numberRoom is the room left of the left rail for the rungs' numbers, or left
// of the paths for the rails' names. References to other pages may need more; they
// reach into the edge.
func (l *layout) numberRoom() page.Unit {
	room := l.measures.numberRoom
	for i := range l.circuit.Rungs {
		if l.opt.Layout == Rungs {
			room = max(room, page.Width(strconv.Itoa(l.circuit.Rungs[i].Number), tagSize, true)+350)
		}
	}
	for _, name := range l.circuit.Supply.Rails {
		if wide := page.Width(name, tagSize, true); l.opt.Layout == Paths || wide > shortName || !l.opt.narrow() {
			room = max(room, wide+500)
		}
	}
	if l.opt.Width > 0 && len(l.joints) > 0 {
		reach := l.edge
		if l.opt.Layout == Rungs {
			reach += 100 // there they begin nearer to the rail
		}
		room = max(room, l.pageReferenceRoom()-reach)
	}
	return room
}

// headRoom is what the heading takes.
func (l *layout) headRoom() page.Unit {
	if l.opt.Moment != "" {
		return headRoom + momentRoom
	}
	return headRoom
}

// foot returns the lines below the drawing.
func (l *layout) foot(width page.Unit) []string {
	if l.opt.Bare {
		return nil
	}
	words := "Drawn de-energised, nothing operated. Numbers at the right: the rungs where a coil's contacts stand, underlined for a closed one."
	if l.opt.Layout == Paths {
		words = "Drawn de-energised, nothing operated. Framed numbers are wires, the others terminals; a table shows a coil's contacts and their paths."
	}
	if voltage := l.circuit.Supply.String(); voltage != "" {
		words = "Supply " + voltage + ". " + words
	}
	if l.opt.State != nil {
		words += l.opt.State.Legend()
	} else if l.opt.MarkRoom {
		words += marksLegend
	}
	lines, ok := l.faces.feet[width]
	if ok {
		return lines
	}
	for _, text := range append(slices.Clone(l.opt.Faults), words+" "+circuit.StandingCaution) {
		lines = append(lines, page.Fold(text, numberSize, false, width-2*l.edge, 0)...)
	}
	l.faces.feet[width] = lines
	return lines
}

func (l *layout) footHeight(width page.Unit) page.Unit {
	return page.Unit(len(l.foot(max(width, l.leastWide)))) * footLine
}

// paint paints all pages.
func (l *layout) paint(g *grid) []*canvas {
	stands := map[conductor][]int{}
	for _, j := range l.joints {
		list := stands[j.conductor]
		if p := g.page[j.band]; len(list) == 0 || list[len(list)-1] != p {
			stands[j.conductor] = append(list, p)
		}
	}
	around, left := l.around(), l.edge+l.numberRoom()
	seatAt := l.seatsByPlace()
	var list []*canvas
	for n := range g.pages {
		c := &canvas{layout: l, g: g, number: n, page: &page.Page{}, ends: map[meeting]bool{}, stands: stands,
			held: map[meeting]bool{}, holders: map[meeting][]seat{}, seatAt: seatAt}
		c.setUp(around, left)
		c.rails()
		c.conductorsOf()
		c.bandWires()
		c.tagsOf()
		c.ink()
		c.paintSeats()
		c.rungNumbers()
		c.heading(len(g.pages))
		list = append(list, c)
	}
	return list
}

// part returns what stands in the bands of a page, from a list in order of the
// bands.
func part[T any](list []T, band func(T) int, s span) []T {
	from := sort.Search(len(list), func(i int) bool { return band(list[i]) >= s.first })
	end := sort.Search(len(list), func(i int) bool { return band(list[i]) >= s.end })
	return list[from:end]
}

// setUp sizes the page and finds the origin.
func (c *canvas) setUp(around page.Point, left page.Unit) {
	s := c.g.pages[c.number]
	along, across := c.g.along(), s.depth+s.foot
	head := c.edge
	if !c.opt.Bare {
		head += c.headRoom()
	}
	if c.opt.Layout == Paths {
		c.page.Width, c.page.Height = across+around.X, along+around.Y
		c.origin = page.Point{X: left, Y: head + topRoom - c.g.left}
	} else {
		c.page.Width, c.page.Height = along+around.X, across+around.Y
		c.origin = page.Point{X: left - c.g.left, Y: head + 500}
	}
	c.page.Width = max(c.page.Width, c.opt.Width, c.leastWide)
	c.page.Height += c.footHeight(c.page.Width)
}

// at returns a place on the page.
func (c *canvas) at(along, across page.Unit) page.Point {
	if c.opt.Layout == Paths {
		return c.origin.Add(across, along)
	}
	return c.origin.Add(along, across)
}

func (c *canvas) say(t page.Text, class string) {
	c.page.Add(page.Element{Shape: t, Style: page.Style{Ink: page.Black}, Shows: page.Shows{Class: class}})
}

// rungNumber is the number of the rung that begins in a band.
func (l *layout) rungNumber(band int) string {
	return strconv.Itoa(l.circuit.Rungs[l.bands[band].rung].Number)
}

// rungNumbers writes the rungs' numbers left of the left rail, or the paths'
// along the bottom.
func (c *canvas) rungNumbers() {
	s := c.g.pages[c.number]
	for i := s.first; i < s.end; i++ {
		if !c.bands[i].first {
			continue
		}
		c.page.Add(page.Element{Shape: c.numberAt(i), Style: page.Style{Ink: page.Black},
			Shows: page.Shows{ID: "rung " + c.rungNumber(i), Class: "rung-number"}})
	}
}

// numberAt is the number of the rung that begins in a band.
func (c *canvas) numberAt(band int) page.Text {
	t := page.Text{At: c.at(c.g.left, c.g.rows[band][0]).Add(-250, tagSize*35/100), Anchor: page.End, Size: tagSize, Bold: true, Words: c.rungNumber(band)}
	if c.opt.Layout == Paths {
		t.At, t.Anchor = c.at(c.g.right, c.g.rows[band][0]).Add(0, 150+page.Above(tagSize)), page.Middle
	}
	return t
}

// heading writes the title over the drawing and the rules of reading below it.
func (c *canvas) heading(pages int) {
	title, count := c.opt.Heading, ""
	if title == "" {
		title = c.circuit.Title
	}
	if pages > 1 {
		count = " (" + strconv.Itoa(c.number+1) + " of " + strconv.Itoa(pages) + ")"
	}
	c.page.Title = title + count
	c.page.Description = c.describe()
	if len(c.bands) == 0 {
		middle := c.at(c.g.along()/2+c.g.left, c.g.pages[0].depth/2)
		c.say(page.Text{At: middle, Anchor: page.Middle, Size: tagSize, Words: nothingWired}, "words")
	}
	if c.opt.Bare {
		return
	}
	c.headline(title+count, headSize, true, c.edge+page.Above(headSize))
	if c.opt.Moment != "" {
		c.headline(c.opt.Moment, momentSize, false, c.edge+page.Above(headSize)+450)
	}
	lines := c.foot(c.page.Width)
	y := c.page.Height - c.edge - page.Unit(len(lines)-1)*footLine
	for _, line := range lines {
		c.words(words{line, numberSize, false}, page.Point{X: c.edge, Y: y}, page.Start, "")
		y += footLine
	}
}

// headline writes a line over the drawing, smaller if it is long, and cut short
// only if it would be too small to read.
func (c *canvas) headline(text string, size page.Unit, bold bool, y page.Unit) {
	room := c.page.Width - 2*c.edge
	for size > wordSize && page.Width(text, size, bold) > room {
		size -= 10
	}
	c.words(words{page.Fit(text, size, bold, room), size, bold}, page.Point{X: c.edge, Y: y}, page.Start, "")
}

// nothingWired is said of a circuit without rungs.
const nothingWired = "Nothing is wired yet."

// describe tells the page's rungs in words for a screen reader.
func (c *canvas) describe() string {
	if len(c.bands) == 0 {
		return nothingWired
	}
	var parts []string
	s := c.g.pages[c.number]
	for i := s.first; i < s.end; i++ {
		if b := &c.bands[i]; b.first {
			parts = append(parts, "Rung "+c.rungNumber(i)+": "+c.rungWords(&c.circuit.Rungs[b.rung]))
		}
	}
	return strings.Join(parts, " ")
}

func (c *canvas) rungWords(r *circuit.Rung) string {
	var names []string
	add := func(k circuit.Contact) { names = append(names, c.circuit.ContactName(k)) }
	r.Path.Contacts(add)
	for _, k := range r.Loads {
		names = append(names, c.circuit.LoadName(k))
	}
	r.Return.Contacts(add)
	if r.Tie != "" {
		names = append(names, "conductor "+r.Tie)
	}
	return strings.Join(names, ", ") + "."
}
