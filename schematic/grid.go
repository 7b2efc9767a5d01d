package schematic

// The grid: how wide cells and lanes are, how high rows, and which bands stand
// on which page. "Along" is the way the path runs, "across" the way from one
// rung to the next; all lengths are in 1/100 mm.

import (
	"sort"

	"tarry/circuit"
	"tarry/page"
)

const (
	rungStub  page.Unit = 340 // least wire between a symbol and its cell's edge, on a rung
	pathStub  page.Unit = 520 // and in a path, where terminals stand at it
	trackStep page.Unit = 320 // between conductors of one lane
	trackLead page.Unit = 250 // in front of the first and behind the last
	rowGap    page.Unit = 160 // between what belongs to two rows
	bandGap   page.Unit = 240 // more between two rungs
	markRoom  page.Unit = 260 // for the dot or ring of a contact
	ringRoom  page.Unit = 640 // for a timer's ring
	ringSize  page.Unit = 240 // its radius
	// numberDepth keeps a tag above the wire number beside its symbol.
	numberDepth page.Unit = 170
)

// box is how far something reaches from the middle of its cell: along to both
// sides, across before (towards the first rung) and after.
type box struct {
	along         page.Unit
	before, after page.Unit
}

// seatBox works out the room of a seat.
func (l *layout) seatBox(s seat) box {
	d, b := l.symbolOf(s)
	marks := page.Unit(0)
	if l.opt.State != nil && s.contact >= 0 {
		marks = markRoom
	}
	ring := page.Unit(0)
	if s.load >= 0 && l.timing(l.wiring.Loads[s.load].Load) != nil {
		ring = ringRoom
	}
	if l.opt.Layout == Paths {
		text := b.width()
		if ring > 0 {
			text = max(text, 2*ringSize+150+page.Width("999.9 of 999.9 s", wordSize, false))
		}
		along := max(reach+pathStub, (b.height()+ring)/2+80)
		terminals := page.Width("999", numberSize, false) + 110
		return box{along, d.minus + marks + 130 + text, max(d.plus, terminals) + 60}
	}
	along := max(reach+rungStub, b.width()/2+110)
	if ring > 0 {
		along = max(along, ringSize+100+page.Width("999.9 of 999.9 s", wordSize, false)/2+100)
	}
	return box{along, max(d.plus, numberDepth) + 90 + b.tag.height(), d.minus + marks + 70 + b.below() + ring}
}

// symbolOf returns the depths and the words of a seat.
func (l *layout) symbolOf(s seat) (depths, block) {
	if s.contact >= 0 {
		k := l.wiring.Contacts[s.contact].Contact
		return l.family.contactDepths(faceOf(l.circuit, k)), l.contactBlock(k)
	}
	k := l.wiring.Loads[s.load].Load
	return l.family.loadDepths(loadFaceOf(l.circuit, k)), l.loadBlock(k)
}

// timing returns what a state says of a timer's main coil, nil for nothing.
func (l *layout) timing(k circuit.Load) *Timing {
	if l.opt.State == nil || k.Part != circuit.Main {
		return nil
	}
	for i := range l.opt.State.Timers {
		if l.opt.State.Timers[i].Device == k.Device {
			return &l.opt.State.Timers[i]
		}
	}
	return nil
}

// grid is the finished measure of a drawing.
type grid struct {
	cells []page.Unit // where each cell begins
	lanes []page.Unit // where each lane begins
	width []page.Unit // of each cell
	// track is the place of each node's conductor in its lane, by zone.
	track [2]map[node]page.Unit
	left  page.Unit // the rails
	right page.Unit
	// Of each band: its page, where its rows' middles are, and where it ends.
	page  []int
	rows  [][]page.Unit
	ends  []page.Unit
	depth []page.Unit // of each page
}

// measure works the grid out.
func (l *layout) measure() *grid {
	g := &grid{}
	n := l.rightLane() + l.width[rightZone]
	g.width = make([]page.Unit, n)
	for i := range g.width {
		g.width[i] = 2 * (reach + rungStub)
	}
	before, after := l.rowRoom(g)
	l.standBands(g, before, after)
	l.standLanes(g, n)
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
	}
	for _, s := range l.seats {
		b := l.seatBox(s)
		g.width[s.cell] = max(g.width[s.cell], 2*b.along)
		before[s.band][s.row] = max(before[s.band][s.row], b.before)
		after[s.band][s.row] = max(after[s.band][s.row], b.after)
	}
	return before, after
}

// standBands gives the rows their places and the bands their pages.
func (l *layout) standBands(g *grid, before, after [][]page.Unit) {
	room := l.acrossRoom()
	y := page.Unit(0)
	for i := range l.bands {
		high := page.Unit(0)
		for r := range before[i] {
			high += before[i][r] + after[i][r] + rowGap
		}
		if y > 0 && room > 0 && y+high+bandGap > room {
			g.depth = append(g.depth, y)
			y = 0
		}
		y += bandGap
		var rows []page.Unit
		for r := range before[i] {
			y += before[i][r]
			rows = append(rows, y)
			y += after[i][r] + rowGap
		}
		g.page = append(g.page, len(g.depth))
		g.rows = append(g.rows, rows)
		g.ends = append(g.ends, y)
	}
	g.depth = append(g.depth, y)
}

// reachOf is from which band to which a node's conductor runs.
type reachOf struct {
	n           node
	first, last int
}

// standLanes gives every node's conductor a track of its lane that no other
// needs in the same bands, and then every cell and lane its place.
func (l *layout) standLanes(g *grid, cells int) {
	tracks := make([]int, cells+1)
	place := [2]map[node]int{{}, {}}
	for zone := range 2 {
		for lane, list := range l.conductors(zone) {
			tracks[lane] = max(tracks[lane], assign(list, place[zone]))
		}
	}
	at := page.Unit(0)
	g.lanes = make([]page.Unit, cells+2)
	g.cells = make([]page.Unit, cells+1)
	starts := make([]page.Unit, cells+1)
	for i := 0; i <= cells; i++ {
		g.lanes[i] = at
		if tracks[i] > 0 {
			starts[i] = at + trackLead
			at += 2*trackLead + page.Unit(tracks[i]-1)*trackStep
		}
		g.cells[i] = at
		if i < cells {
			at += g.width[i]
		}
	}
	g.left, g.right = -300, at+300
	g.lanes[cells+1] = at
	for zone := range 2 {
		g.track[zone] = map[node]page.Unit{}
		for n, t := range place[zone] {
			g.track[zone][n] = starts[l.lane(n, zone)] + page.Unit(t)*trackStep
		}
	}
}

// conductors lists the nodes' conductors by lane, with the bands they run
// through.
func (l *layout) conductors(zone int) map[int][]reachOf {
	span := map[node]*reachOf{}
	for _, j := range l.joints {
		if j.zone != zone {
			continue
		}
		r, ok := span[j.n]
		if !ok {
			r = &reachOf{j.n, j.band, j.band}
			span[j.n] = r
		}
		r.first, r.last = min(r.first, j.band), max(r.last, j.band)
	}
	lanes := map[int][]reachOf{}
	for n, r := range span {
		lane := l.lane(n, zone)
		lanes[lane] = append(lanes[lane], *r)
	}
	return lanes
}

// assign gives conductors that do not pass the same bands the same track, and
// returns how many tracks there are.
func assign(list []reachOf, place map[node]int) int {
	sort.Slice(list, func(i, j int) bool {
		return list[i].first < list[j].first || list[i].first == list[j].first && list[i].n < list[j].n
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
		place[r.n] = t
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
		return g.track[zone][node(s.track)]
	case cellIn:
		return g.cells[s.at] + g.width[s.at]/2 - reach
	case cellOut:
		return g.cells[s.at] + g.width[s.at]/2 + reach
	case railLeft:
		return g.left
	}
	return g.right
}
