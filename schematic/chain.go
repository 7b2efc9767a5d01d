package schematic

// From rungs to chains. A drawing joins series-parallel pieces at nodes: the
// rails, the named nets, and points that have no name but where a piece must be
// taken apart. A chain is what is drawn in one band of the sheet, from left to
// right: a node, a piece, a node, a piece … and perhaps the loads and the
// return pieces behind them. A group with a named net inside cannot be one
// piece: its ends become nodes, its first branch goes on in the same band and
// the others get bands of their own.

import "tarry/circuit"

// node is a junction of the drawing; its number is a place in layout.nodes.
type node int

// The rails are the first two nodes.
const (
	leftNode  node = 0
	rightNode node = 1
	noNode    node = -1
)

// junction is what is known of a node.
type junction struct {
	name     string // empty for a point without a name
	net      circuit.NetID
	detached bool // drawn by references instead of a conductor
	used     [2]bool
	level    [2]int // cells to its left, in the left and in the right zone
	track    [2]int
	label    string // of its references
}

// The zones of a sheet lie to the left and to the right of the loads.
const (
	leftZone  = 0
	rightZone = 1
)

// piece is a series-parallel path between two nodes. The last piece before
// the loads, and the first behind them, has no node on that side.
type piece struct {
	items    []item
	from, to node // noNode for the loads' side
	cells    int
	rows     int
}

// item is a contact or a group of a piece.
type item struct {
	contact  int  // place in Wiring.Contacts, -1 for a group
	turned   bool // drawn with end B on the left
	branches [][]item
	cells    int
	rows     int
}

// chain is what one band shows.
type chain struct {
	rung   int     // place in Circuit.Rungs
	first  bool    // carries the rung's number
	left   []piece // in the left zone
	loads  []int   // places in Wiring.Loads
	right  []piece // in the right zone
	bridge node    // or nothing but a wire between a node's two zones
}

// builder takes the rungs apart.
type builder struct {
	l       *layout
	contact int // next of Wiring.Contacts
	load    int
	rung    int
	limit   int // cells that a group may be wide
	rows    int // and rows that it may be high, or loads that stand together
}

func (b *builder) node(name string) node {
	n, ok := b.l.named[name]
	if !ok {
		n = b.l.open(name)
		b.l.named[name] = n
	}
	return n
}

// open makes a new node.
func (l *layout) open(name string) node {
	l.nodes = append(l.nodes, junction{name: name, net: -1})
	return node(len(l.nodes) - 1)
}

// chains takes all rungs apart.
func (l *layout) chains() {
	b := &builder{l: l, rows: noLimit}
	if room := l.acrossRoom(); room > 0 {
		b.rows = max(int(room/b.l.rowHigh), b.l.leastRows)
	}
	for _, rail := range l.circuit.Supply.Rails {
		b.node(rail)
	}
	for i := range l.circuit.Rungs {
		b.rung = i
		b.addRung(&l.circuit.Rungs[i])
	}
	l.findNets()
}

// findNets learns which net each node belongs to.
func (l *layout) findNets() {
	l.nodes[leftNode].net, l.nodes[rightNode].net = circuit.LeftRail, circuit.RightRail
	for name, n := range l.named {
		if net, ok := l.wiring.Named[name]; ok && n > rightNode {
			l.nodes[n].net = net
		}
	}
}

func (b *builder) addRung(r *circuit.Rung) {
	from := leftNode
	path := r.Path
	if len(path) > 0 && path[0].Net != "" {
		from, path = b.node(path[0].Net), path[1:]
	}
	main := chain{rung: b.rung, first: true, bridge: noNode}
	var more []chain
	end := noNode
	switch {
	case r.Tie != "":
		end = b.node(r.Tie)
	case len(r.Loads) == 0: // a text with errors: the wire ends blindly
		end = b.l.open("")
	}
	b.limit = b.l.limit[leftZone]
	if len(r.Loads) > b.rows {
		b.addCrowd(r, main, path, from)
		return
	}
	main.left = b.pieces(path, from, end, &more)
	main.loads = b.takeLoads(len(r.Loads))
	b.limit = b.l.limit[rightZone]
	switch {
	case len(r.Loads) > 0:
		main.right = b.returnPieces(r.Return, noNode, &more)
	case r.Tie == "" && len(r.Return) > 0:
		main.right = b.returnPieces(r.Return, b.l.open(""), &more)
	}
	b.l.bands = append(b.l.bands, main)
	b.l.bands = append(b.l.bands, more...)
}

// addCrowd adds a rung of more loads than a page is high: the path and the
// return end on nodes, and the loads stand between them a few at a time.
func (b *builder) addCrowd(r *circuit.Rung, main chain, path circuit.Path, from node) {
	start, end := b.l.open(""), rightNode
	var more []chain
	main.left = b.pieces(path, from, start, &more)
	var loads []chain
	for n := len(r.Loads); n > 0; n -= b.rows {
		loads = append(loads, chain{rung: b.rung, bridge: noNode, left: []piece{{from: start, to: noNode, rows: 1}}, loads: b.takeLoads(min(n, b.rows))})
	}
	b.limit = b.l.limit[rightZone]
	if len(r.Return) > 0 {
		end = b.l.open("")
		back := chain{rung: b.rung, bridge: noNode}
		back.right = b.returnPieces(r.Return, end, &more)
		more = append([]chain{back}, more...)
	}
	for i := range loads {
		loads[i].right = []piece{{from: noNode, to: end, rows: 1}}
	}
	b.l.bands = append(append(append(b.l.bands, main), loads...), more...)
}

func (b *builder) takeLoads(n int) (list []int) {
	for range n {
		list = append(list, b.load)
		b.load++
	}
	return list
}

func (b *builder) returnPieces(p circuit.Path, from node, more *[]chain) []piece {
	end := rightNode
	if n := len(p); n > 0 && p[n-1].Net != "" {
		end, p = b.node(p[n-1].Net), p[:n-1]
	}
	return b.pieces(p, from, end, more)
}

// pieces takes a path between two nodes apart. What needs a band of its own is
// added to more.
func (b *builder) pieces(p circuit.Path, from, to node, more *[]chain) []piece {
	var list []piece
	cur := piece{from: from}
	cut := func(n node) {
		if cur.to = n; cur.from != n || len(cur.items) > 0 { // @b @b is @b
			list = append(list, measured(cur))
		}
		cur = piece{from: n}
	}
	for i, it := range p {
		switch {
		case it.Net != "":
			cut(b.node(it.Net))
		case it.Contact.Kind != circuit.NoContact:
			cur.items = append(cur.items, b.takeContact())
		case hasNet(it) || widthOf(it) > b.limit || rowsOf(it) > b.rows:
			start, end := cur.from, b.l.open("")
			if len(cur.items) > 0 || start == noNode {
				start = b.l.open("")
				cut(start)
			}
			if i == len(p)-1 && to != noNode {
				end = to
			}
			inner := b.pieces(it.Branches[0], start, end, more)
			list = append(list, inner...)
			for _, branch := range it.Branches[1:] {
				*more = append(*more, chain{rung: b.rung, left: b.pieces(branch, start, end, more), bridge: noNode})
			}
			cur = piece{from: end}
		default:
			cur.items = append(cur.items, b.group(it))
		}
	}
	if len(cur.items) > 0 || cur.from != to || len(list) == 0 {
		cut(to)
	}
	return list
}

func hasNet(it circuit.Item) bool {
	for _, b := range it.Branches {
		for _, inner := range b {
			if inner.Net != "" || hasNet(inner) {
				return true
			}
		}
	}
	return false
}

// widthOf returns how many cells an item takes.
func widthOf(it circuit.Item) int {
	if it.Contact.Kind != circuit.NoContact {
		return 1
	}
	widest := 0
	for _, b := range it.Branches {
		width := 0
		for _, inner := range b {
			width += widthOf(inner)
		}
		widest = max(widest, width)
	}
	return widest
}

// rowsOf returns how many rows an item takes.
func rowsOf(it circuit.Item) int {
	rows := 0
	for _, b := range it.Branches {
		highest := 1
		for _, inner := range b {
			highest = max(highest, rowsOf(inner))
		}
		rows += highest
	}
	return max(rows, 1)
}

func (b *builder) takeContact() item {
	b.contact++
	return item{contact: b.contact - 1, cells: 1, rows: 1}
}

// group takes a group without nets inside.
func (b *builder) group(it circuit.Item) item {
	g := item{contact: -1}
	for _, branch := range it.Branches {
		var items []item
		for _, inner := range branch {
			if inner.Contact.Kind != circuit.NoContact {
				items = append(items, b.takeContact())
			} else {
				items = append(items, b.group(inner))
			}
		}
		cells, rows := extent(items)
		g.branches = append(g.branches, items)
		g.cells = max(g.cells, cells)
		g.rows += rows
	}
	return g
}

// extent returns how many cells and rows items in series take.
func extent(items []item) (cells, rows int) {
	rows = 1
	for _, it := range items {
		cells += it.cells
		rows = max(rows, it.rows)
	}
	return cells, rows
}

func measured(p piece) piece {
	p.cells, p.rows = extent(p.items)
	return p
}

// turned returns the piece the other way round: contacts conduct both ways.
func (p piece) turned() piece {
	return piece{items: turned(p.items), from: p.to, to: p.from, cells: p.cells, rows: p.rows}
}

func turned(items []item) []item {
	list := make([]item, len(items))
	for i, it := range items {
		branches := make([][]item, len(it.branches))
		for j, b := range it.branches {
			branches[j] = turned(b)
		}
		it.branches, it.turned = branches, !it.turned
		list[len(items)-1-i] = it
	}
	return list
}

// reference makes a node that is drawn by references.
func (l *layout) reference() node {
	n := l.open("")
	l.nodes[n].detached = true
	return n
}

// loose reports whether a node is drawn by references in a zone; a rail never
// is in its own.
func (l *layout) loose(n node, zone int) bool {
	own := n == leftNode && zone == leftZone || n == rightNode && zone == rightZone
	return n != noNode && l.nodes[n].detached && !own
}

// labelOf returns the text by which a reference to a node is written: its name,
// or a letter that is no net's name.
func (l *layout) labelOf(n node) string {
	j := &l.nodes[n]
	if j.label == "" {
		j.label = j.name
	}
	for j.label == "" {
		l.references++
		if s := letters(l.references); !l.isName(s) {
			j.label = s
		}
	}
	return j.label
}

func (l *layout) isName(label string) bool {
	_, taken := l.named[label]
	return taken
}

// letters writes 1 as a, 26 as z, 27 as aa.
func letters(n int) string {
	if n <= 26 {
		return string(rune('a' + n - 1))
	}
	return letters((n-1)/26) + string(rune('a'+(n-1)%26))
}
