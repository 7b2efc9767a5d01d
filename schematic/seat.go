package schematic

import (
	"slices"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/page"
)

// paintSeats draws the symbols of this page with their words and marks.
func (c *canvas) paintSeats() {
	for _, s := range part(c.seats, func(s seat) int { return s.band }, c.g.pages[c.number]) {
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
	done := painted{seat: s, shows: p.shows, from: len(c.page.Elements)}
	c.family.contact(p, f)
	d, b := c.symbolOf(s)
	marks := page.Unit(0)
	if c.marked() {
		marks = markRoom
		done.marks = marksOfContact(p, d)
	}
	if st := c.opt.State; st != nil {
		c.page.Add(done.marks.ofContact(st.Closed[s.contact], st.LiveContacts[s.contact])...)
	}
	c.write(p, s, d, b, marks)
	if c.opt.Layout == Paths {
		c.terminals(p, c.numbers.Contacts[s.contact], s.turned)
	}
	c.finish(done)
}

// finish keeps what was painted last, if marks are to follow.
func (c *canvas) finish(done painted) {
	if done.end = len(c.page.Elements); c.marked() {
		c.painted = append(c.painted, done)
	}
}

func (c *canvas) paintLoad(p *pen, s seat) {
	k := c.wiring.Loads[s.load].Load
	p.shows = page.Shows{ID: c.circuit.LoadName(k), Class: "load"}
	done := painted{seat: s, shows: p.shows, from: len(c.page.Elements)}
	c.family.load(p, loadFaceOf(c.circuit, k))
	if c.marked() {
		done.marks = marksOfLoad(p, c.page.Elements[done.from:])
	}
	if st := c.opt.State; st != nil && st.Energised[s.load] {
		c.page.Elements = append(c.page.Elements[:done.from], done.marks.disc...)
		c.page.Add(done.marks.symbol...)
		c.page.Add(done.marks.ends[:]...)
	}
	d, b := c.symbolOf(s)
	done.words = len(c.page.Elements)
	c.write(p, s, d, b, 0)
	done.depths, done.block, done.origin = d, b, p.origin
	if t := c.timing(k); t != nil {
		c.ring(p, s, d, b, t)
	}
	if c.opt.Layout == Paths {
		c.terminals(p, c.numbers.Loads[s.load], false)
	}
	c.finish(done)
	c.crossReferences(s, k)
}

// write puts the tag and the lines at a symbol: above and below it on a rung,
// on its left in a current path.
func (c *canvas) write(p *pen, s seat, d depths, b block, marks page.Unit) {
	if c.opt.Layout == Paths {
		high := c.high(s, b)
		x, y := p.origin.X-c.wordsOff(d, high, marks), p.origin.Y-high/2
		for _, w := range append([]words{b.tag}, b.lines...) {
			c.words(w, page.Point{X: x, Y: y + page.Above(w.size)}, page.End, p.shows.ID)
			y += w.height()
		}
		return
	}
	c.words(b.tag, page.Point{X: p.origin.X, Y: p.origin.Y - max(d.plus, numberDepth) - 90 - page.Below(b.tag.size)}, page.Middle, p.shows.ID)
	y := p.origin.Y + wordsUnder(d, marks)
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

// timing returns what a state says of a timer's main coil, nil for nothing.
func (l *layout) timing(k circuit.Load) *Timing {
	if l.opt.State == nil || k.Part != circuit.Main {
		return nil
	}
	i := slices.IndexFunc(l.opt.State.Timers, func(t Timing) bool { return t.Device == k.Device })
	if i < 0 {
		return nil
	}
	return &l.opt.State.Timers[i]
}

// ringWidth is the room for a timer's ring and its words, whether it runs now
// or not, so that the drawings of a run are all alike; 0 for what has none.
func (l *layout) ringWidth(k circuit.Load) page.Unit {
	d := &l.circuit.Devices[k.Device]
	if !l.marked() || k.Part != circuit.Main || d.Kind != circuit.Timer {
		return 0
	}
	widest := page.Unit(0)
	presets := d.Presets[:]
	if t := l.timing(k); t != nil {
		presets = append(slices.Clone(presets), t.Preset)
	}
	for _, preset := range presets {
		widest = max(widest, page.Width(elapsedWords(preset-1, preset), wordSize, false)+page.Width("8.8", wordSize, false))
	}
	return 2*ringSize + 150 + widest
}

// elapsedWords writes how much of a timer's time has run, cut to a tenth of a
// second or to the whole milliseconds: 2.4 of 5 s.
func elapsedWords(elapsed, preset time.Duration) string {
	unit := time.Second / 10
	switch {
	case preset < time.Second:
		unit = time.Millisecond
	case preset >= time.Minute:
		unit = time.Second
	}
	ran, whole := circuit.FormatTime(elapsed.Truncate(unit)), circuit.FormatTime(preset)
	for _, tail := range []string{" ms", " s"} {
		if strings.Count(ran, " ")+strings.Count(whole, " ") == 2 && strings.HasSuffix(whole, tail) {
			ran = strings.TrimSuffix(ran, tail)
		}
	}
	return ran + " of " + whole
}

// ring draws how far a timer's time has run.
func (c *canvas) ring(p *pen, s seat, d depths, b block, t *Timing) {
	shows := page.Shows{ID: p.shows.ID, Class: "timer-ring"}
	words := elapsedWords(t.Elapsed, t.Preset)
	middle, text := c.ringPlace(p.origin, s, d, b, page.Width(words, wordSize, false))
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

// ringPlace returns the middle of a timer's ring and where its words begin,
// which are so wide; origin is the middle of the symbol.
func (l *layout) ringPlace(origin page.Point, s seat, d depths, b block, wide page.Unit) (middle, text page.Point) {
	middle = origin.Add(0, wordsUnder(d, 0)+b.below()+ringRoom/2)
	text = page.Point{X: middle.X - wide/2 + ringSize, Y: middle.Y + wordSize/3}
	middle.X = text.X - ringSize - 100
	if l.opt.Layout == Paths {
		high := l.high(s, b)
		right := origin.X - l.wordsOff(d, high, 0)
		text = page.Point{X: right - wide, Y: origin.Y + high/2 - ringRoom/2 + wordSize/3}
		middle = page.Point{X: text.X - ringSize - 100, Y: text.Y - wordSize/3}
	}
	return middle, text
}
