package schematic

// The grid: how wide cells and lanes are, how high rows, and which bands stand
// on which page. "Along" is the way the path runs, "across" the way from one
// rung to the next; all lengths are in 1/100 mm.

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"tarry/page"
)

const (
	rungStub page.Unit = 340 // least wire between a symbol and its cell's edge, on a rung
	pathStub page.Unit = 400 // and in a path, where terminals stand at it
	// shy is half a stroke: a wire ends so much before a symbol's stroke, and the
	// round ends of both make one line. Drawn over each other they would make a
	// bump on a screen.
	shy       page.Unit = 17
	trackStep page.Unit = 320  // between conductors of one lane
	trackLead page.Unit = 250  // in front of the first and behind the last
	rowGap    page.Unit = 160  // between what belongs to two rows
	usualRow  page.Unit = 2000 // about what a row takes
	bandGap   page.Unit = 240  // more between two rungs
	markRoom  page.Unit = 260  // for the dot or ring of a contact
	ringRoom  page.Unit = 640  // for a timer's ring
	ringSize  page.Unit = 240  // its radius
	// numberDepth keeps a tag above the wire number beside its symbol.
	numberDepth page.Unit = 170
	tagLead     page.Unit = 120 // wire between a reference and where it belongs
	tagInCell   page.Unit = 200 // from the cell's edge to where that begins
	// referenceStep is the height of a reference to another page, referenceHead
	// from the first of them to the first rung.
	referenceStep page.Unit = 320
	referenceHead page.Unit = 720
)

// grid is the finished measure of a drawing.
type grid struct {
	cells []page.Unit // where each cell begins
	lanes []page.Unit // where each lane begins
	width []page.Unit // of each cell
	// track is the place of each conductor in its lane.
	track map[conductor]page.Unit
	left  page.Unit // the rails
	right page.Unit
	// Of each band: its page, where its rows' middles are.
	page  []int
	rows  [][]page.Unit
	bands [][2]page.Unit // and from where to where it has room
	pages []span
}

// span is what stands on one page: its bands, and how far they reach across.
// Top is where the first begins, below the references to earlier pages; foot is
// the room for those to later ones.
type span struct {
	first, end       int // bands
	top, depth, foot page.Unit
}

func (g *grid) along() page.Unit { return g.right - g.left }

// conductor is the upright wire of a node in a zone.
type conductor struct {
	n    node
	zone int
}

// reachOf is from which band to which a conductor runs.
type reachOf struct {
	conductor
	first, last int
}

// measure works the grid out.
func (l *layout) measure() *grid {
	g := &grid{track: map[conductor]page.Unit{}}
	g.width = make([]page.Unit, l.rightLane()+l.width[rightZone])
	for i := range g.width {
		g.width[i] = 2 * (reach + l.measures.stub)
	}
	before, after := l.rowRoom(g)
	reaches := l.conductors()
	l.standBands(g, before, after, reaches)
	l.standLanes(g, reaches)
	return g
}

// rowRoom widens the cells and returns the room before and after the middle of
// each row of each band.
func (l *layout) rowRoom(g *grid) (before, after [][]page.Unit) {
	before = make([][]page.Unit, len(l.bands))
	after = make([][]page.Unit, len(l.bands))
	for i := range l.bands {
		rows := l.bands[i].rows()
		before[i], after[i] = make([]page.Unit, rows), make([]page.Unit, rows)
		for r := range rows {
			before[i][r], after[i][r] = 300, 200
		}
		if l.opt.Layout == Paths && l.bands[i].first {
			half := page.Width(l.rungNumber(i), tagSize, true)/2 + 50
			before[i][0], after[i][0] = max(before[i][0], half), max(after[i][0], half)
		}
	}
	for _, s := range l.seats {
		b := l.seatBox(s)
		g.width[s.cell] = max(g.width[s.cell], 2*b.along)
		before[s.band][s.row] = max(before[s.band][s.row], b.before)
		after[s.band][s.row] = max(after[s.band][s.row], b.after)
	}
	for _, t := range l.tags {
		if half := t.width()/2 + 80; l.opt.Layout == Paths {
			before[t.band][0], after[t.band][0] = max(before[t.band][0], half), max(after[t.band][0], half)
		} else if t.at.kind == cellTag {
			g.width[t.at.at] = max(g.width[t.at.at], tagInCell+tagLead+t.width()+220)
		}
	}
	return before, after
}

// standBands gives the rows their places and the bands their pages. A
// conductor that goes on on another page takes room for a reference on both.
func (l *layout) standBands(g *grid, before, after [][]page.Unit, reaches []reachOf) {
	head, foot := l.referenceRooms(reaches)
	room := l.acrossRoom()
	p := span{}
	y := page.Unit(0)
	for i := range l.bands {
		high := bandGap
		for r := range before[i] {
			high += before[i][r] + after[i][r] + rowGap
		}
		if i > p.first && room > 0 && y+high+foot[i+1] > room {
			p.end, p.depth, p.foot = i, y, foot[i]
			g.pages = append(g.pages, p)
			p = span{first: i, top: head[i]}
			y = p.top
		}
		begin := y
		y += bandGap
		var rows []page.Unit
		for r := range before[i] {
			y += before[i][r]
			rows = append(rows, y)
			y += after[i][r] + rowGap
		}
		g.page = append(g.page, len(g.pages))
		g.rows = append(g.rows, rows)
		g.bands = append(g.bands, [2]page.Unit{begin, y})
	}
	if len(l.bands) == 0 { // room for the words instead
		words := page.Width(nothingWired, tagSize, false) + 400
		if y = 1500; l.opt.Layout == Paths {
			y = words
		} else {
			g.width[0] = words
		}
	}
	p.end, p.depth = len(l.bands), y
	g.pages = append(g.pages, p)
}

// referenceRooms returns how much room the references need if a page begins at
// a band, and if one ends before it.
func (l *layout) referenceRooms(reaches []reachOf) (head, foot []page.Unit) {
	head, foot = make([]page.Unit, len(l.bands)+1), make([]page.Unit, len(l.bands)+1)
	if l.acrossRoom() == 0 {
		return head, foot
	}
	passing := make([]int, len(l.bands)+2)
	for _, r := range reaches {
		passing[r.first+1]++
		passing[r.last+1]--
	}
	n, wide := 0, l.pageReferenceRoom()
	for i := range foot {
		if n += passing[i]; n == 0 {
			continue
		}
		head[i], foot[i] = page.Unit(n)*referenceStep+300, page.Unit(n)*referenceStep+100
		if l.opt.Layout == Paths {
			head[i], foot[i] = 0, wide
		}
	}
	return head, foot
}

// pageReferenceRoom is the width of the longest reference to another page, of
// which there are no more than bands.
func (l *layout) pageReferenceRoom() page.Unit {
	widest := page.Unit(0)
	for _, j := range l.joints {
		widest = max(widest, page.Width(l.labelOf(j.n), numberSize, true))
	}
	digits := strings.Repeat("8", len(strconv.Itoa(len(l.bands))))
	return widest + page.Width(" → drawing "+digits, numberSize, true) + 300
}

// standLanes gives every conductor a track of its lane that no other needs in
// the same bands, and then every cell and lane its place. References at the
// ends of wires have room of their own on both sides of the tracks.
func (l *layout) standLanes(g *grid, reaches []reachOf) {
	cells := len(g.width)
	byLane := make([][]reachOf, cells+1)
	for _, r := range reaches {
		lane := l.lane(r.n, r.zone)
		byLane[lane] = append(byLane[lane], r)
	}
	closing, opening := l.tagRooms(cells)
	g.lanes, g.cells = make([]page.Unit, cells+2), make([]page.Unit, cells+1)
	at := page.Unit(0)
	for i := range byLane {
		g.lanes[i] = at
		at += closing[i]
		if tracks := assign(byLane[i], at+trackLead, g.track); tracks > 0 {
			at += 2*trackLead + page.Unit(tracks-1)*trackStep
		}
		at += opening[i]
		g.cells[i] = at
		if i < cells {
			at += g.width[i]
		}
	}
	g.left, g.right = -300, at+300
	g.lanes[cells+1] = at
}

// tagRooms is the room in each lane for references of wires that end there and
// of wires that begin there.
func (l *layout) tagRooms(cells int) (closing, opening []page.Unit) {
	closing, opening = make([]page.Unit, cells+1), make([]page.Unit, cells+1)
	for _, t := range l.tags {
		room := tagLead + t.width() + 220
		if l.opt.Layout == Paths {
			room = tagLead + 90 + page.Above(wordSize) + page.Below(wordSize) + 100
		}
		if t.at.kind == cellTag {
			continue // the cell has room
		}
		if t.right {
			opening[t.at.at] = max(opening[t.at.at], room)
		} else {
			closing[t.at.at] = max(closing[t.at.at], room)
		}
	}
	return closing, opening
}

// conductors lists the conductors with the bands they run through.
func (l *layout) conductors() []reachOf {
	at := map[conductor]int{}
	var list []reachOf
	for _, j := range l.joints {
		i, ok := at[j.conductor]
		if !ok {
			i = len(list)
			at[j.conductor] = i
			list = append(list, reachOf{j.conductor, j.band, j.band})
		}
		list[i].first, list[i].last = min(list[i].first, j.band), max(list[i].last, j.band)
	}
	return list
}

// assign gives conductors that do not pass the same bands the same track, from
// a place on, and returns how many tracks there are.
func assign(list []reachOf, from page.Unit, place map[conductor]page.Unit) int {
	slices.SortFunc(list, func(a, b reachOf) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.n, b.n))
	})
	var ends []int
	for _, r := range list {
		t := 0
		for t < len(ends) && ends[t] >= r.first {
			t++
		}
		if t == len(ends) {
			ends = append(ends, 0)
		}
		ends[t] = r.last
		place[r.conductor] = from + page.Unit(t)*trackStep
	}
	return len(ends)
}

// spot returns how far along the path a spot lies.
func (l *layout) spot(g *grid, s spot) page.Unit {
	switch s.kind {
	case laneClose:
		return g.lanes[s.at]
	case laneOpen:
		return g.cells[s.at]
	case laneTrack:
		zone := leftZone
		if s.at >= l.rightLane() {
			zone = rightZone
		}
		return g.track[conductor{node(s.track), zone}]
	case cellIn:
		return g.cells[s.at] + g.width[s.at]/2 - reach - shy
	case cellTag:
		return g.cells[s.at] + tagInCell
	case cellOut:
		return g.cells[s.at] + g.width[s.at]/2 + reach + shy
	case railLeft:
		return g.left
	}
	return g.right
}
