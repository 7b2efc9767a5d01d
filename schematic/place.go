package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// spotKind says at which part of a cell or lane a wire ends.
type spotKind uint8

// Cells hold symbols; the lane in front of each cell holds the upright wires:
// first where groups that end there close, then the conductors of nodes, then
// where groups that begin there open.
const (
	laneClose spotKind = iota
	laneTrack
	laneOpen
	cellIn  // where a wire meets a symbol from the left
	cellOut // and from the right
	cellTag // where a wire ends at a reference in a cell without a symbol
	railLeft
	railRight
)

// spot is a place along the path, before cells have a width. At is the number
// of the lane or cell.
type spot struct {
	kind  spotKind
	at    int
	track int
}

// seat is a placed contact or load.
type seat struct {
	band, row, cell int
	contact         int // place in Wiring.Contacts, -1 for a load
	load            int // place in Wiring.Loads
	turned          bool
	left, right     circuit.NetID
}

// wire is a placed conductor: along the path if the rows are the same, across
// it at from if not.
type wire struct {
	band       int
	net        circuit.NetID
	row, toRow int
	from, to   spot
	number     numberSide
}

// numberSide says whether and where a wire shows the number of its net.
type numberSide uint8

const (
	noNumber     numberSide = iota
	numberBehind            // behind the symbol that the wire comes from
	numberAhead             // in front of the symbol that it leads to
)

// joint is where a band meets the conductor of a node.
type joint struct {
	band int
	conductor
}

// tag is a reference at the end of a wire.
type tag struct {
	band  int
	net   circuit.NetID
	at    spot
	right bool // the wire goes on to the right, the words stand on its left
	words string
}

func (t tag) text() string {
	if t.right {
		return "→ " + t.words
	}
	return t.words + " →"
}

func (t tag) width() page.Unit { return page.Width(t.text(), wordSize, true) }

// rows returns how many rows a band has.
func (c *chain) rows() int {
	n := max(1, len(c.loads))
	for zone := range 2 {
		for _, p := range c.zone(zone) {
			n = max(n, p.rows)
		}
	}
	return n
}

// loadCell is the cell of the loads, rightLane the lane in front of the right
// zone's first cell.
func (l *layout) loadCell() int  { return l.width[leftZone] }
func (l *layout) rightLane() int { return l.width[leftZone] + 1 }

// lane returns the lane of a node's conductor, 0 of its zone for a detached
// one.
func (l *layout) lane(n node, zone int) int {
	lane := 0
	if n != noNode && !l.loose(n, zone) {
		lane = l.nodes[n].level[zone]
	}
	if zone == rightZone {
		lane += l.rightLane()
	}
	return lane
}

// placeAll gives everything its cell and row.
func (l *layout) placeAll() {
	l.nameNets()
	for i := range l.bands {
		b := &l.bands[i]
		if b.bridge != noNode && b.rung < 0 {
			l.placeBridge(i, b.bridge)
			continue
		}
		for _, p := range b.left {
			l.placePiece(i, p, leftZone)
		}
		l.placeLoads(i, b)
		for _, p := range b.right {
			l.placePiece(i, p, rightZone)
		}
	}
	l.numberWires()
}

// numberWires chooses the wires that show the numbers: in each band the first
// of a net that comes from a symbol. A net without one shows its number at the
// first symbol that it leads to.
func (l *layout) numberWires() {
	type key struct {
		band int
		net  circuit.NetID
	}
	done := map[key]bool{}
	shown := make([]bool, len(l.wiring.Nets))
	for i := range l.wires {
		w := &l.wires[i]
		if k := (key{w.band, w.net}); w.net > circuit.RightRail && w.from.kind == cellOut && !done[k] {
			w.number = numberBehind
			done[k], shown[w.net] = true, true
		}
	}
	for i := range l.wires {
		w := &l.wires[i]
		if w.net > circuit.RightRail && w.to.kind == cellIn && !shown[w.net] {
			w.number = numberAhead
			shown[w.net] = true
		}
	}
}

// nameNets learns the nets of the nodes that have no name from the contacts at
// their pieces.
func (l *layout) nameNets() {
	for changed := true; changed; {
		changed = false
		for i := range l.bands {
			for zone := range 2 {
				for _, p := range l.bands[i].zone(zone) {
					left, right := l.endNets(p)
					changed = l.learn(p.from, left) || changed
					changed = l.learn(p.to, right) || changed
				}
			}
		}
	}
}

func (l *layout) learn(n node, net circuit.NetID) bool {
	if n == noNode || net < 0 || l.nodes[n].net >= 0 {
		return false
	}
	l.nodes[n].net = net
	return true
}

// endNets returns the nets at the two ends of a piece, -1 where unknown.
func (l *layout) endNets(p piece) (left, right circuit.NetID) {
	if len(p.items) > 0 {
		left, _ = l.itemNets(p.items[0])
		_, right = l.itemNets(p.items[len(p.items)-1])
		return left, right
	}
	net := circuit.NetID(-1)
	for _, n := range []node{p.from, p.to} {
		if n != noNode && l.nodes[n].net >= 0 {
			net = l.nodes[n].net
		}
	}
	return net, net
}

func (l *layout) itemNets(it item) (left, right circuit.NetID) {
	first, last := it, it
	for first.contact < 0 {
		first = first.branches[0][0]
	}
	for last.contact < 0 {
		last = last.branches[0][len(last.branches[0])-1]
	}
	left, _ = l.contactNets(first)
	_, right = l.contactNets(last)
	return left, right
}

// contactNets returns the nets left and right of a contact as it is drawn.
func (l *layout) contactNets(it item) (left, right circuit.NetID) {
	k := l.wiring.Contacts[it.contact]
	if it.turned {
		return k.B, k.A
	}
	return k.A, k.B
}

// ending returns the spot at which a piece meets its node, or the loads, and
// notes the joint or the reference.
func (l *layout) ending(band int, n node, zone, lane int, net circuit.NetID, right bool) spot {
	switch {
	case n == noNode && zone == leftZone:
		return spot{laneOpen, l.loadCell(), 0}
	case n == noNode:
		return spot{laneClose, l.rightLane(), 0}
	case l.loose(n, zone):
		at := spot{laneClose, lane, 0}
		if right {
			at.kind = laneOpen
		}
		l.tags = append(l.tags, tag{band, net, at, right, l.labelOf(n)})
		return at
	case n == leftNode && zone == leftZone:
		return spot{kind: railLeft}
	case n == rightNode && zone == rightZone:
		return spot{kind: railRight}
	}
	l.joints = append(l.joints, joint{band, conductor{n, zone}})
	return spot{laneTrack, l.lane(n, zone), int(n)}
}

func (l *layout) placePiece(band int, p piece, zone int) {
	if l.bareReference(p, zone) {
		l.placeReference(band, p, zone)
		return
	}
	left, right := l.endNets(p)
	lane := l.lane(p.from, zone)
	from := l.ending(band, p.from, zone, lane, left, true)
	to := l.ending(band, p.to, zone, lane+p.cells, right, false)
	if left < 0 { // nothing but wire from node to loads
		left = l.loadNet(band, zone)
	}
	l.placeSeries(band, p.items, lane, 0, from, to, left)
}

// bareReference reports whether a piece is nothing but a wire between two nodes
// of which one at least is drawn by references.
func (l *layout) bareReference(p piece, zone int) bool {
	bare := len(p.items) == 0 && p.from != noNode && p.to != noNode && !(p.to == rightNode && zone == rightZone)
	return bare && (l.loose(p.from, zone) || l.loose(p.to, zone))
}

// placeReference draws such a piece. The reference behind it stands where a
// symbol would.
func (l *layout) placeReference(band int, p piece, zone int) {
	net, _ := l.endNets(p)
	lane := l.lane(p.from, zone)
	from := l.ending(band, p.from, zone, lane, net, true)
	to := spot{cellTag, lane, 0}
	l.tags = append(l.tags, tag{band, net, to, false, l.labelOf(p.to)})
	l.wires = append(l.wires, wire{band: band, net: net, from: from, to: to})
}

// loadNet returns the net on one side of a band's loads.
func (l *layout) loadNet(band, zone int) circuit.NetID {
	w := l.wiring.Loads[l.bands[band].loads[0]]
	if zone == leftZone {
		return w.A
	}
	return w.B
}

// placeSeries places items one behind the other from a lane on.
func (l *layout) placeSeries(band int, items []item, lane, row int, from, to spot, left circuit.NetID) {
	for _, it := range items {
		a, b := l.itemNets(it)
		if it.contact >= 0 {
			l.wires = append(l.wires, wire{band: band, net: a, row: row, toRow: row, from: from, to: spot{cellIn, lane, 0}})
			l.seats = append(l.seats, seat{band, row, lane, it.contact, -1, it.turned, a, b})
			from = spot{cellOut, lane, 0}
		} else {
			from = l.placeGroup(band, it, lane, row, from, a, b)
		}
		lane += it.cells
		left = b
	}
	l.wires = append(l.wires, wire{band: band, net: left, row: row, toRow: row, from: from, to: to})
}

// placeGroup places the branches below each other and returns where they meet
// again.
func (l *layout) placeGroup(band int, g item, lane, row int, from spot, a, b circuit.NetID) spot {
	open, close := spot{laneOpen, lane, 0}, spot{laneClose, lane + g.cells, 0}
	l.wires = append(l.wires, wire{band: band, net: a, row: row, toRow: row, from: from, to: open})
	first, last := row, row
	for _, branch := range g.branches {
		_, rows := extent(branch)
		l.placeSeries(band, branch, lane, row, open, close, a)
		last = row
		row += rows
	}
	l.wires = append(l.wires, wire{band: band, net: a, row: first, toRow: last, from: open, to: open},
		wire{band: band, net: b, row: first, toRow: last, from: close, to: close})
	return close
}

// placeLoads places the loads of a band below each other.
func (l *layout) placeLoads(band int, b *chain) {
	if len(b.loads) == 0 {
		return
	}
	cell := l.loadCell()
	in, out := spot{laneOpen, cell, 0}, spot{laneClose, cell + 1, 0}
	w := l.wiring.Loads[b.loads[0]]
	for row, load := range b.loads {
		l.seats = append(l.seats, seat{band, row, cell, -1, load, false, w.A, w.B})
		l.wires = append(l.wires,
			wire{band: band, net: w.A, row: row, toRow: row, from: in, to: spot{cellIn, cell, 0}},
			wire{band: band, net: w.B, row: row, toRow: row, from: spot{cellOut, cell, 0}, to: out})
	}
	if last := len(b.loads) - 1; last > 0 {
		l.wires = append(l.wires, wire{band: band, net: w.A, toRow: last, from: in, to: in}, wire{band: band, net: w.B, toRow: last, from: out, to: out})
	}
}

// placeBridge joins the two conductors of a node.
func (l *layout) placeBridge(band int, n node) {
	net := l.nodes[n].net
	lane := l.lane(n, leftZone)
	from := l.ending(band, n, leftZone, lane, net, true)
	to := l.ending(band, n, rightZone, l.lane(n, rightZone), net, false)
	l.wires = append(l.wires, wire{band: band, net: net, from: from, to: to})
}
