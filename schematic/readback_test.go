package schematic_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
)

// A drawing is read back as an eye reads it: two lines are joined where an end
// of one lies on the other, lines that cross are not, references of the same
// words are one conductor. What comes out must be the graph that circuit.Wire
// works out. Which symbol is which is known from its id; what it is connected
// to is told by the lines alone.

// reach is from a symbol's middle to the ends of its strokes. A wire ends half
// a stroke before: there the round ends of both touch.
const (
	reach page.Unit = 500
	touch page.Unit = 17
)

// segment is a drawn line of a page.
type segment struct {
	page int
	a, b page.Point
	id   string
	rail bool
}

// holds reports whether a point lies on the segment, which runs along the sheet
// or across it.
func (s segment) holds(p page.Point) bool {
	return page.Line(s.a, s.b).Bounds().Holds(page.Box{Min: p, Max: p})
}

// symbol is a drawn contact or load with its two ends in the way of the path.
type symbol struct {
	page   int
	id     string
	load   bool
	points []page.Point
	ends   [2]page.Point
}

// reader reads a drawing back.
type reader struct {
	paths    bool // the paths run down
	segments []segment
	symbols  []*symbol
	dots     map[int][]page.Point
	texts    []placedText
	along    map[[2]int][]int // the level segments by page and height
	across   map[[2]int][]int // the upright ones by page and place
	terminal map[place]bool   // ends of symbols
	parent   []int            // of the segments
	faults   []string

	railsJoined bool
}

type place struct {
	page int
	page.Point
}

type placedText struct {
	page int
	page.Text
	class string
}

func (r *reader) fault(format string, args ...any) {
	r.faults = append(r.faults, fmt.Sprintf(format, args...))
}

// readBack reads the elements of all pages and joins what is joined.
func readBack(pages []*page.Page, layout schematic.Layout) *reader {
	r := &reader{paths: layout == schematic.Paths, dots: map[int][]page.Point{}, along: map[[2]int][]int{},
		across: map[[2]int][]int{}, terminal: map[place]bool{}}
	for n, p := range pages {
		r.readPage(n, p)
	}
	r.parent = make([]int, len(r.segments))
	for i, s := range r.segments {
		r.parent[i] = i
		if s.a.Y == s.b.Y {
			r.along[[2]int{s.page, int(s.a.Y)}] = append(r.along[[2]int{s.page, int(s.a.Y)}], i)
		} else {
			r.across[[2]int{s.page, int(s.a.X)}] = append(r.across[[2]int{s.page, int(s.a.X)}], i)
		}
	}
	for _, s := range r.symbols {
		r.findEnds(s)
	}
	r.joinSegments()
	r.joinReferences()
	r.joinRails()
	return r
}

func (r *reader) readPage(n int, p *page.Page) {
	last := page.Shows{}
	for _, e := range p.Elements {
		switch e.Shows.Class {
		case "wire", "rail":
			l := e.Shape.(page.Poly)
			r.segments = append(r.segments, segment{n, l.Points[0], l.Points[1], e.Shows.ID, e.Shows.Class == "rail"})
		case "joint":
			r.dots[n] = append(r.dots[n], e.Shape.(page.Arc).Centre)
		case "reference", "rail-name":
			r.texts = append(r.texts, placedText{n, e.Shape.(page.Text), e.Shows.Class})
		case "contact", "timed-contact", "load":
			if e.Shows != last {
				r.symbols = append(r.symbols, &symbol{page: n, id: e.Shows.ID, load: e.Shows.Class == "load"})
			}
			if l, ok := e.Shape.(page.Poly); ok {
				s := r.symbols[len(r.symbols)-1]
				s.points = append(s.points, l.Points...)
			}
		}
		last = e.Shows
	}
}

// findEnds looks for the two points of a symbol that lie twice its reach apart
// along the path.
func (r *reader) findEnds(s *symbol) {
	found := map[[2]page.Point]bool{}
	for _, a := range s.points {
		for _, b := range s.points {
			if !r.paths && a.Y == b.Y && b.X-a.X == 2*reach || r.paths && a.X == b.X && b.Y-a.Y == 2*reach {
				s.ends = [2]page.Point{a, b}
				found[s.ends] = true
			}
		}
	}
	if len(found) != 1 {
		r.fault("%s has %d pairs of ends", s.id, len(found))
	}
	for i, way := range []page.Unit{-touch, touch} {
		if s.ends[i] = s.ends[i].Add(way, 0); r.paths {
			s.ends[i] = s.ends[i].Add(-way, way)
		}
		r.terminal[place{s.page, s.ends[i]}] = true
	}
}

func (r *reader) root(i int) int {
	for r.parent[i] != i {
		i = r.parent[i]
	}
	return i
}

func (r *reader) join(i, j int) { r.parent[r.root(i)] = r.root(j) }

func (r *reader) joinSegments() {
	for i, s := range r.segments {
		if s.a.X != s.b.X && s.a.Y != s.b.Y {
			r.fault("slanting wire %v", s)
		}
		for _, p := range []page.Point{s.a, s.b} {
			for _, j := range r.on(s.page, p) {
				r.join(i, j)
			}
		}
	}
	for n, dots := range r.dots {
		for _, p := range dots {
			r.checkDot(n, p)
		}
	}
}

// on lists the segments of a page that hold a point.
func (r *reader) on(n int, p page.Point) (list []int) {
	for _, near := range [][]int{r.along[[2]int{n, int(p.Y)}], r.across[[2]int{n, int(p.X)}]} {
		for _, i := range near {
			if r.segments[i].holds(p) {
				list = append(list, i)
			}
		}
	}
	return list
}

// checkDot joins what meets at a dot; a dot stands where at least three wires
// do.
func (r *reader) checkDot(n int, p page.Point) {
	at := r.on(n, p)
	if len(at) == 0 || r.ways(at, p) < 3 {
		r.fault("a dot at %v where %d ways meet", p, r.ways(at, p))
		return
	}
	for _, i := range at[1:] {
		r.join(i, at[0])
	}
}

// ways counts in how many of the four ways the segments leave a point.
func (r *reader) ways(list []int, p page.Point) int {
	var way [4]bool
	for _, i := range list {
		b := page.Line(r.segments[i].a, r.segments[i].b).Bounds()
		way[0] = way[0] || b.Min.X < p.X
		way[1] = way[1] || b.Max.X > p.X
		way[2] = way[2] || b.Min.Y < p.Y
		way[3] = way[3] || b.Max.Y > p.Y
	}
	n := 0
	for _, w := range way {
		if w {
			n++
		}
	}
	return n
}

// checkJoints asks for a dot wherever the end of a wire makes three ways meet,
// but for the rails.
func (r *reader) checkJoints() {
	for _, s := range r.segments {
		for _, p := range []page.Point{s.a, s.b} {
			at := r.on(s.page, p)
			if r.ways(at, p) >= 3 && !r.dotAt(s.page, p) && !r.onRail(at) {
				r.fault("wires meet without a dot at %v on page %d", p, s.page+1)
			}
		}
	}
}

func (r *reader) onRail(list []int) bool {
	for _, i := range list {
		if r.segments[i].rail {
			return true
		}
	}
	return false
}

func (r *reader) dotAt(n int, p page.Point) bool {
	for _, q := range r.dots[n] {
		if p == q {
			return true
		}
	}
	return false
}

// joinReferences gives each reference to the loose end that is nearest, and
// joins all of one label. The rails' names are such labels too.
func (r *reader) joinReferences() {
	byLabel := map[string]int{}
	for _, t := range r.texts {
		label, _, _ := strings.Cut(t.Words, " → drawing ")
		label = strings.Trim(label, "→ ")
		at := r.nearestEnd(t)
		if at < 0 {
			r.fault("no wire ends at %s %q", t.class, t.Words)
			continue
		}
		if first, ok := byLabel[label]; ok {
			r.join(at, first)
		} else {
			byLabel[label] = at
		}
	}
}

// nearestEnd returns the segment whose loose end is nearest to a text, -1 if
// none is within 4 mm or another is as near.
func (r *reader) nearestEnd(t placedText) int {
	const near = 400
	best, second, found := page.Unit(near), page.Unit(near), -1
	for i, s := range r.segments {
		if s.page != t.page || s.rail != (t.class == "rail-name") {
			continue
		}
		for _, p := range []page.Point{s.a, s.b} {
			d := away(t.Bounds(), p)
			if d >= second || !r.loose(i, p) {
				continue
			}
			if d < best {
				best, second, found = d, best, i
			} else {
				second = d
			}
		}
	}
	if found >= 0 && second-best < 60 {
		r.fault("%q stands between two ends", t.Words)
	}
	return found
}

// loose reports whether nothing but segment i ends or passes at p.
func (r *reader) loose(i int, p page.Point) bool {
	n := r.segments[i].page
	return len(r.on(n, p)) == 1 && !r.terminal[place{n, p}]
}

// away is how far a point lies outside a box.
func away(b page.Box, p page.Point) page.Unit {
	return max(b.Min.X-p.X, p.X-b.Max.X, 0) + max(b.Min.Y-p.Y, p.Y-b.Max.Y, 0)
}

// joinRails joins the parts of each rail on all pages.
func (r *reader) joinRails() {
	var rails [2]int
	n := 0
	for i, s := range r.segments {
		if !s.rail {
			continue
		}
		if n < 2 {
			rails[n] = i
		}
		r.join(i, rails[n%2])
		n++
	}
	if n < 2 || n%2 != 0 {
		r.fault("%d rails", n)
	}
}

// compare holds what was read against the wiring.
func (r *reader) compare(c *circuit.Circuit) []string {
	w := circuit.Wire(c)
	n := schematic.Number(c, w)
	numbers := map[string]circuit.NetID{}
	for i, s := range n.Wires {
		if old, twice := numbers["wire "+s]; twice {
			r.fault("nets %d and %d have the number %s", old, i, s)
		}
		numbers["wire "+s] = circuit.NetID(i)
	}
	if r.railsJoined = w.RailsJoined; r.railsJoined {
		numbers["wire "+n.Wires[circuit.RightRail]] = circuit.LeftRail
	}
	nets := r.drawnNets(numbers)
	drawn := map[string][]*symbol{}
	for _, s := range r.symbols {
		drawn[s.id] = append(drawn[s.id], s)
	}
	for i, k := range w.Contacts { // a contact may be drawn either way round
		id := n.ContactID(c, w, i)
		if list := drawn[id]; len(list) != 1 {
			r.fault("contact %s is drawn %d times", id, len(list))
		} else if !r.between(list[0], nets, k.A, k.B) && !r.between(list[0], nets, k.B, k.A) {
			r.fault("%s is not between nets %d and %d", id, k.A, k.B)
		}
	}
	for _, l := range w.Loads { // one load may stand in several rungs
		id := c.LoadName(l.Load)
		i := slices.IndexFunc(drawn[id], func(s *symbol) bool { return r.between(s, nets, l.A, l.B) })
		if i < 0 {
			r.fault("%s is not drawn between nets %d and %d", id, l.A, l.B)
			continue
		}
		drawn[id] = slices.Delete(drawn[id], i, i+1)
	}
	if len(r.symbols) != len(w.Contacts)+len(w.Loads) {
		r.fault("%d symbols for %d contacts and %d loads", len(r.symbols), len(w.Contacts), len(w.Loads))
	}
	r.checkJoints()
	return r.faults
}

// drawnNets gives each group of joined segments the net that its ids name. A
// group has one net, and a net one group.
func (r *reader) drawnNets(numbers map[string]circuit.NetID) map[int]circuit.NetID {
	nets := map[int]circuit.NetID{}
	group := map[circuit.NetID]int{}
	for i, s := range r.segments {
		net, ok := numbers[s.id]
		root := r.root(i)
		if !ok {
			r.fault("a wire called %q", s.id)
			continue
		}
		if old, ok := nets[root]; ok && old != net {
			r.fault("%s is joined to net %d at %v-%v page %d", s.id, old, s.a, s.b, s.page+1)
		}
		if old, ok := group[net]; ok && old != root {
			r.fault("%s falls apart at %v-%v page %d", s.id, s.a, s.b, s.page+1)
		}
		nets[root], group[net] = net, root
	}
	return nets
}

func (r *reader) between(s *symbol, nets map[int]circuit.NetID, a, b circuit.NetID) bool {
	for i, want := range []circuit.NetID{a, b} {
		if r.railsJoined && want == circuit.RightRail {
			want = circuit.LeftRail
		}
		at := r.on(s.page, s.ends[i])
		if len(at) == 0 || nets[r.root(at[0])] != want {
			return false
		}
	}
	return true
}

// ways of drawing: both traditions, both layouts, free and in the rooms of A4.
func waysToDraw() (list []schematic.Options) {
	for _, tradition := range []schematic.Tradition{schematic.International, schematic.American} {
		for _, layout := range []schematic.Layout{schematic.Rungs, schematic.Paths} {
			for _, room := range []page.Point{{}, {X: 17800, Y: 22000}, {X: 26500, Y: 15000}} {
				list = append(list, schematic.Options{Symbols: tradition, Layout: layout, Width: room.X, Height: room.Y})
			}
		}
	}
	return list
}

// checkDrawing draws a circuit in every way, reads each drawing back and looks
// for collisions.
func checkDrawing(c *circuit.Circuit, ways []schematic.Options) []string {
	var faults []string
	for _, opt := range ways {
		pages := schematic.Draw(c, opt)
		var list []string
		for n, p := range pages {
			for _, f := range page.Faults(p) {
				list = append(list, fmt.Sprintf("page %d: %s", n+1, f))
			}
		}
		list = append(list, readBack(pages, opt.Layout).compare(c)...)
		for _, f := range list {
			faults = append(faults, fmt.Sprintf("symbols %d, layout %d, room %vx%v: %s", opt.Symbols, opt.Layout, opt.Width, opt.Height, f))
		}
	}
	return faults
}

func report(t *testing.T, name string, c *circuit.Circuit, faults []string) {
	t.Helper()
	if len(faults) == 0 {
		return
	}
	t.Errorf("%s:\n%s\n%s", name, rungsOf(c), strings.Join(faults[:min(len(faults), 12)], "\n"))
}

func TestReadBackLibrary(t *testing.T) {
	for _, e := range libraryCircuits(t) {
		report(t, e.name, e.circuit, checkDrawing(e.circuit, waysToDraw()))
	}
}

func TestReadBackNasty(t *testing.T) {
	for name, text := range nasty {
		c := read(t, text)
		report(t, name, c, checkDrawing(c, append(waysToDraw(), narrowWays()...)))
	}
}

// TestReadBackRandom draws a thousand random circuits, each in all four
// combinations of symbols and layout, free and in the two rooms by turns, and
// some for narrow pages.
func TestReadBackRandom(t *testing.T) {
	seed, runs := randomRuns(t, 1000)
	ways := waysToDraw()
	bad := 0
	for i := range runs {
		rng := rand.New(rand.NewPCG(seed, uint64(i)))
		c := randomCircuit(rng)
		var four []schematic.Options
		for j := i % 3; j < len(ways); j += 3 { // the rooms follow each other
			four = append(four, ways[j])
		}
		if i%5 == 0 {
			four = append(four, narrowWays()...)
		}
		if faults := checkDrawing(c, four); len(faults) > 0 {
			report(t, fmt.Sprintf("seed %d, circuit %d", seed, i), c, faults)
			if bad++; bad >= 5 {
				return
			}
		}
	}
}

// TestReaderSees spoils drawings and asks the reader to notice.
func TestReaderSees(t *testing.T) {
	c := read(t, nasty["nets before and after"])
	for name, spoil := range map[string]func(p *page.Page){
		"a wire taken away": func(p *page.Page) { dropLast(p, "wire") },
		"a dot taken away":  func(p *page.Page) { dropLast(p, "joint") },
		"a symbol lost": func(p *page.Page) {
			p.Elements = slices.DeleteFunc(p.Elements, func(e page.Element) bool { return e.Shows.ID == "K1" && e.Shows.Class == "load" })
		},
		"a wire between": func(p *page.Page) {
			var first page.Point
			for _, e := range p.Elements {
				if l, ok := e.Shape.(page.Poly); ok && e.Shows.Class == "rail" {
					first = l.Points[0]
				}
			}
			p.Add(page.Element{Shape: page.Line(first.Add(-20000, 500), first.Add(0, 500)), Shows: page.Shows{ID: "wire L", Class: "wire"}})
		},
	} {
		pages := schematic.Draw(c, schematic.Options{})
		spoil(pages[0])
		if len(readBack(pages, schematic.Rungs).compare(c)) == 0 {
			t.Errorf("%s is not noticed", name)
		}
	}
}

// dropLast takes the last element of a class away.
func dropLast(p *page.Page, class string) {
	for i := len(p.Elements) - 1; i >= 0; i-- {
		if p.Elements[i].Shows.Class == class {
			p.Elements = append(p.Elements[:i], p.Elements[i+1:]...)
			return
		}
	}
}
