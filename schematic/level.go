package schematic

// Where do the conductors of the nodes stand? Every piece runs from its first
// node to the right, so a node's conductor must stand at least as many cells
// from the rail as the longest way to it: the levels are longest paths. A piece
// that would close a circle is drawn the other way round, which changes
// nothing: contacts conduct both ways. What is too long for the sheet is taken
// apart and joined by references.

// arrange decides the zone, the direction and the level of everything.
func (l *layout) arrange() {
	l.chooseZones()
	l.foldPieces()
	l.orient(leftZone)
	l.orient(rightZone)
	for l.levels(leftZone) || l.levels(rightZone) {
		l.clearLevels() // a node that is detached is so in both zones
	}
	for zone := range 2 {
		l.turnReferences(zone)
		l.width[zone] = l.widthOf(zone)
	}
	l.nodes[rightNode].level[rightZone] = l.width[rightZone]
	l.splitBands()
	l.addBridges()
}

// chooseZones moves the ties between nodes of the return side to the right of
// the loads.
func (l *layout) chooseZones() {
	onReturn := map[node]bool{rightNode: true}
	for _, b := range l.bands {
		for _, p := range b.right {
			onReturn[p.from], onReturn[p.to] = true, true
		}
	}
	delete(onReturn, noNode)
	for i := range l.bands {
		b := &l.bands[i]
		if len(b.loads) > 0 || len(b.left) == 0 || b.left[0].from == leftNode {
			continue
		}
		if onReturn[b.left[0].from] || onReturn[b.left[len(b.left)-1].to] {
			b.left, b.right = nil, b.left
			for _, p := range b.right {
				onReturn[p.from], onReturn[p.to] = true, true
			}
		}
	}
}

// foldPieces cuts pieces that are longer than the sheet is wide between their
// items and joins the cuts by references.
func (l *layout) foldPieces() {
	for i := range l.bands {
		b := &l.bands[i]
		b.left = l.folded(b.left, l.limit[leftZone])
		b.right = l.folded(b.right, l.limit[rightZone])
	}
}

func (l *layout) folded(pieces []piece, limit int) []piece {
	var list []piece
	for _, p := range pieces {
		for p.cells > limit && len(p.items) > 1 {
			n, cells := 1, p.items[0].cells
			for n < len(p.items)-1 && cells+p.items[n].cells <= limit {
				cells += p.items[n].cells
				n++
			}
			cut := l.reference()
			list = append(list, measured(piece{items: p.items[:n], from: p.from, to: cut}))
			p = measured(piece{items: p.items[n:], from: cut, to: p.to})
		}
		list = append(list, p)
	}
	return list
}

// zone returns a band's pieces of a zone.
func (c *chain) zone(zone int) []piece {
	if zone == leftZone {
		return c.left
	}
	return c.right
}

// orient turns the pieces round that would run back to a node on their left.
func (l *layout) orient(zone int) {
	out := make([][]*piece, len(l.nodes))
	for i := range l.bands {
		pieces := l.bands[i].zone(zone)
		for j := range pieces {
			p := &pieces[j]
			if p.from == noNode || p.to == noNode {
				continue
			}
			if p.from == p.to {
				l.openLoop(p, zone)
				continue
			}
			if p.to == leftNode || p.from == rightNode {
				*p = p.turned()
			}
			out[p.from] = append(out[p.from], p)
		}
	}
	state := make([]uint8, len(l.nodes)) // 1 on the way, 2 done
	for n := range out {
		l.walk(node(n), out, state)
	}
}

// openLoop draws a piece from a node to itself between references. A rail that
// is one end in its own zone stays: it has its name.
func (l *layout) openLoop(p *piece, zone int) {
	n := l.open(l.nodes[p.from].name)
	l.nodes[n].net = l.nodes[p.from].net
	l.nodes[n].label = l.labelOf(p.from)
	l.nodes[n].detached, l.nodes[p.from].detached = true, true
	if p.from == rightNode && zone == rightZone {
		p.from = n
	} else {
		p.to = n
	}
}

// walk goes depth first and turns what leads back to a node on the way.
func (l *layout) walk(from node, out [][]*piece, state []uint8) {
	if state[from] != 0 {
		return
	}
	type visit struct {
		n    node
		next int
	}
	stack := []visit{{from, 0}}
	state[from] = 1
	for len(stack) > 0 {
		v := &stack[len(stack)-1]
		if v.next == len(out[v.n]) {
			state[v.n] = 2
			stack = stack[:len(stack)-1]
			continue
		}
		p := out[v.n][v.next]
		v.next++
		switch state[p.to] {
		case 0:
			state[p.to] = 1
			stack = append(stack, visit{p.to, 0})
		case 1:
			*p = p.turned()
		}
	}
}

// levels finds how many cells stand to the left of each node's conductor, and
// of the loads or the right rail. It reports whether that detached a node.
func (l *layout) levels(zone int) (detached bool) {
	out := make([][]piece, len(l.nodes))
	into := make([]int, len(l.nodes))
	for i := range l.bands {
		for _, p := range l.bands[i].zone(zone) {
			if p.from != noNode {
				l.nodes[p.from].used[zone] = true
				out[p.from] = append(out[p.from], p)
			}
			if p.to == noNode {
				continue
			}
			l.nodes[p.to].used[zone] = true
			if p.from == noNode {
				l.raise(p.to, zone, p.cells)
			} else {
				into[p.to]++
			}
		}
	}
	var ready []node
	for n := range l.nodes {
		if into[n] == 0 {
			ready = append(ready, node(n))
		}
	}
	for len(ready) > 0 {
		n := ready[0]
		ready = ready[1:]
		detached = l.passOn(n, zone, out[n], into, &ready) || detached
	}
	return detached
}

func (l *layout) clearLevels() {
	for i := range l.nodes {
		l.nodes[i].level = [2]int{}
	}
}

// turnReferences turns what is only a wire between a node and a reference so
// that the reference stands behind it.
func (l *layout) turnReferences(zone int) {
	for i := range l.bands {
		pieces := l.bands[i].zone(zone)
		for j, p := range pieces {
			if l.bareReference(p, zone) && !l.loose(p.to, zone) {
				pieces[j] = p.turned()
			}
		}
	}
}

// widthOf returns how many cells a zone is wide.
func (l *layout) widthOf(zone int) int {
	width := 0
	for i := range l.bands {
		for _, p := range l.bands[i].zone(zone) {
			cells, level := p.cells, 0
			if l.bareReference(p, zone) {
				cells = 1
			}
			if p.from != noNode && !l.loose(p.from, zone) {
				level = l.nodes[p.from].level[zone]
			}
			width = max(width, level+cells)
		}
	}
	return width
}

// passOn hands a node's level to the nodes behind it. A node that is too far
// right is detached and begins at the left again.
func (l *layout) passOn(n node, zone int, out []piece, into []int, ready *[]node) (detached bool) {
	j := &l.nodes[n]
	for _, p := range out {
		if !j.detached && j.level[zone] > 0 && j.level[zone]+p.cells > l.limit[zone] {
			j.detached, detached = true, true
		}
	}
	if l.loose(n, zone) {
		j.level[zone] = 0
	}
	for _, p := range out {
		if p.to == noNode {
			continue
		}
		l.raise(p.to, zone, j.level[zone]+p.cells)
		if into[p.to]--; into[p.to] == 0 {
			*ready = append(*ready, p.to)
		}
	}
	return detached
}

func (l *layout) raise(n node, zone, level int) {
	if !l.loose(n, zone) {
		l.nodes[n].level[zone] = max(l.nodes[n].level[zone], level)
	}
}

// splitBands gives a piece a band of its own where it cannot go on from the
// one before: it was turned round, or its node is detached.
func (l *layout) splitBands() {
	var bands []chain
	for _, b := range l.bands {
		parts := []chain{{rung: b.rung, first: b.first, bridge: noNode}}
		last := func() *chain { return &parts[len(parts)-1] }
		for i, p := range b.left {
			if i > 0 && !l.goesOn(last().left, p, leftZone) {
				parts = append(parts, chain{rung: b.rung, bridge: noNode})
			}
			last().left = append(last().left, p)
		}
		if n := len(last().left); n > 0 && len(b.loads) > 0 && last().left[n-1].to != noNode {
			parts = append(parts, chain{rung: b.rung, bridge: noNode})
		}
		last().loads = b.loads
		for i, p := range b.right {
			if i > 0 && !l.goesOn(last().right, p, rightZone) {
				parts = append(parts, chain{rung: b.rung, bridge: noNode})
			}
			last().right = append(last().right, p)
		}
		bands = append(bands, parts...)
	}
	l.bands = bands
}

// goesOn reports whether a piece continues the last one of a band.
func (l *layout) goesOn(pieces []piece, p piece, zone int) bool {
	if len(pieces) == 0 {
		return true
	}
	last := pieces[len(pieces)-1]
	return last.to == p.from && p.from != noNode && !l.loose(p.from, zone)
}

// addBridges adds a band of plain wire for every node that stands in both
// zones, and for a rail that is used on the other side.
func (l *layout) addBridges() {
	for n := range l.nodes {
		j := &l.nodes[n]
		both := j.used[leftZone] && j.used[rightZone]
		switch node(n) {
		case leftNode:
			both = j.used[rightZone]
		case rightNode:
			both = j.used[leftZone]
		}
		if both && !j.detached {
			l.bands = append(l.bands, chain{rung: -1, bridge: node(n)})
		}
	}
}
