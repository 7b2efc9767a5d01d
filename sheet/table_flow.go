package sheet

import "tarry/page"

// What runs over several sheets is cut into strips: slices as wide as the
// sheet's room, none of which ever breaks. A row of a table is a strip, so is a
// line of text. The flow fills sheet after sheet with them, keeps together what
// belongs together, and says the head of a table again where a sheet begins
// in the middle of one.

// strip is one slice.
type strip struct {
	height page.Unit
	// draw paints the strip, its top left corner at a point; nil for blank room,
	// which is left out at the top of a sheet.
	draw func(f *frame, at page.Point)
	// with keeps the strip on one sheet with the next one.
	with bool
	// head is said again above the strip if it is the first on a sheet.
	head []strip
}

// gap is blank room between strips.
func gap(height page.Unit) strip { return strip{height: height} }

// joined keeps strips together on one sheet.
func joined(strips []strip) []strip {
	for i := range strips {
		strips[i].with = i+1 < len(strips)
	}
	return strips
}

// noted puts a note under a table, on the sheet of its last row.
func noted(table []strip, note []strip) []strip {
	if n := len(table); n > 0 {
		table[n-1].with = true
	}
	return append(append(table, followed([]strip{gap(200)})...), note...)
}

// followed keeps strips together with what comes next.
func followed(strips []strip) []strip {
	for i := range strips {
		strips[i].with = true
	}
	return strips
}

// mostTogether is how high a table may be that is not broken.
const mostTogether page.Unit = 11000

// compact keeps strips on one sheet if they are not too high together.
func compact(strips []strip) []strip {
	if heightOf(strips) > mostTogether {
		return strips
	}
	return joined(strips)
}

func heightOf(strips []strip) page.Unit {
	h := page.Unit(0)
	for _, t := range strips {
		h += t.height
	}
	return h
}

// flowing is a flow in the making.
type flowing struct {
	setter *setter
	look   look
	pages  []*page.Page
	frame  *frame
	y      page.Unit
	begun  bool // something stands on the sheet
}

// flow fills sheets of one look with what strips returns for the width of their
// room.
func (s *setter) flow(k look, strips func(width page.Unit) []strip) []*page.Page {
	w := &flowing{setter: s, look: k}
	w.open()
	list := strips(w.frame.room.Width())
	for i := 0; i < len(list); {
		end := i + 1
		for end < len(list) && list[end-1].with {
			end++
		}
		w.add(list[i:end])
		i = end
	}
	return w.pages
}

// open begins a sheet. The boxes for assumptions and cautions stand on the
// first one only.
func (w *flowing) open() {
	k := w.look
	if len(w.pages) > 0 {
		k.assumptions, k.cautions = false, false
		k.about = trimJoin(k.about, "continued")
	}
	w.frame = w.setter.newSheet(k)
	w.pages = append(w.pages, w.frame.page)
	w.y, w.begun = w.frame.room.Min.Y, false
}

func trimJoin(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// add puts strips that belong together onto the sheet, or onto a new one. What
// is higher than a whole sheet is broken all the same.
func (w *flowing) add(group []strip) {
	if w.begun && w.y+heightOf(group) > w.frame.room.Max.Y {
		w.open()
	}
	for _, t := range group {
		if w.begun && w.y+t.height > w.frame.room.Max.Y {
			w.open()
		}
		if !w.begun && t.draw == nil {
			continue
		}
		if !w.begun && len(w.pages) > 1 {
			for _, h := range t.head {
				w.put(h)
			}
		}
		w.put(t)
	}
}

func (w *flowing) put(t strip) {
	if t.draw != nil {
		t.draw(w.frame, page.Point{X: w.frame.room.Min.X, Y: w.y})
	}
	w.y += t.height
	w.begun = true
}

// heading is the name of a section.
func heading(words string) []strip {
	const size = aboutSize
	return followed([]strip{gap(450), {height: lineOf(size) + 120, draw: func(f *frame, at page.Point) {
		f.lines(at, []string{words}, size, true, "section")
	}}})
}

// paragraph is text of a size, folded to the width, its lines kept together.
func paragraph(words string, size, width page.Unit) []strip {
	var list []strip
	for _, line := range fold(words, size, false, width) {
		list = append(list, strip{height: lineOf(size), draw: func(f *frame, at page.Point) {
			f.lines(at, []string{line}, size, false, "text")
		}})
	}
	return append(joined(list), gap(100))
}

// tickWidth is the room that a tick box takes in front of its words.
const tickWidth page.Unit = 620

// tick is a box to tick with words behind it.
func tick(words string, size, width page.Unit) []strip {
	var list []strip
	for i, line := range fold(words, size, false, width-tickWidth) {
		list = append(list, strip{height: lineOf(size), draw: func(f *frame, at page.Point) {
			if i == 0 {
				f.tickBox(page.Point{X: at.X, Y: at.Y + page.Above(size)/2}, 150)
			}
			f.lines(at.Add(tickWidth, 0), []string{line}, size, false, "text")
		}})
	}
	return append(joined(list), gap(130))
}

// tickBox draws an empty box, the middle of its left side at a point.
func (f *frame) tickBox(at page.Point, half page.Unit) {
	box := page.Box{Min: at.Add(0, -half), Max: at.Add(2*half, half)}
	f.page.Add(page.Element{Shape: page.Rect{Box: box}, Style: page.Style{Weight: page.Thin}, Shows: page.Shows{Class: "tick-box"}})
}

// ruled is a number of empty lines to write on.
func ruled(lines int, width page.Unit) []strip {
	var list []strip
	for range lines {
		list = append(list, strip{height: 800, draw: func(f *frame, at page.Point) {
			f.line(page.Thin, at.Add(0, 750), at.Add(width, 750))
		}})
	}
	return list
}
