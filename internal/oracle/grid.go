package oracle

import "tarry/circuit"

// The rails' nodes in a grid.
const (
	leftRail  = 0
	rightRail = 1
)

// grid is the wiring as a plain graph: every end of every contact is a node of
// its own, and what a wire joins is a link without a contact.
type grid struct {
	links [][]link // by node
	loads []fed
	named map[string]int
	list  []circuit.Contact // contacts in drawing order
}

// link leads to another node, through a contact unless it is wire.
type link struct {
	to      int
	wire    bool
	contact circuit.Contact
}

// fed is a load between two nodes.
type fed struct {
	load circuit.Load
	a, b int
}

func newGrid(c *circuit.Circuit) *grid {
	g := &grid{named: map[string]int{}}
	g.named[c.Supply.Rails[0]] = g.node()
	g.named[c.Supply.Rails[1]] = g.node()
	for i := range c.Rungs {
		g.rung(&c.Rungs[i])
	}
	return g
}

func (g *grid) node() int {
	g.links = append(g.links, nil)
	return len(g.links) - 1
}

func (g *grid) net(name string) int {
	if _, ok := g.named[name]; !ok {
		g.named[name] = g.node()
	}
	return g.named[name]
}

func (g *grid) link(a, b int, wire bool, k circuit.Contact) {
	g.links[a] = append(g.links[a], link{b, wire, k})
	g.links[b] = append(g.links[b], link{a, wire, k})
}

func (g *grid) wire(a, b int) { g.link(a, b, true, circuit.Contact{}) }

func (g *grid) rung(r *circuit.Rung) {
	at := g.node()
	if len(r.Path) == 0 || r.Path[0].Net == "" {
		g.wire(leftRail, at)
	}
	end := g.path(r.Path, at)
	if r.Tie != "" {
		g.wire(end, g.net(r.Tie))
		return
	}
	back := g.node()
	for _, l := range r.Loads {
		g.loads = append(g.loads, fed{l, end, back})
	}
	last := g.path(r.Return, back)
	if n := len(r.Return); n == 0 || r.Return[n-1].Net == "" {
		g.wire(last, rightRail)
	}
}

// path draws the items from the node at and returns the node behind them.
func (g *grid) path(p circuit.Path, at int) int {
	for _, it := range p {
		next := g.node()
		switch {
		case it.Net != "":
			g.wire(at, g.net(it.Net))
			g.wire(at, next)
		case it.Contact.Kind != circuit.NoContact:
			g.link(at, next, false, it.Contact)
			g.list = append(g.list, it.Contact)
		}
		for _, b := range it.Branches {
			g.wire(g.path(b, at), next)
		}
		at = next
	}
	return at
}

// reach returns which nodes closed contacts alone tie to a rail.
func (g *grid) reach(rail int, closed func(circuit.Contact) bool) []bool {
	tied := make([]bool, len(g.links))
	tied[rail] = true
	for todo := []int{rail}; len(todo) > 0; {
		n := todo[0]
		todo = todo[1:]
		for _, l := range g.links[n] {
			if !tied[l.to] && (l.wire || closed(l.contact)) {
				tied[l.to] = true
				todo = append(todo, l.to)
			}
		}
	}
	return tied
}

// signals lists the signals of all contacts and loads, each once.
func (g *grid) signals() []circuit.Signal {
	var list []circuit.Signal
	seen := map[circuit.Signal]bool{}
	add := func(s circuit.Signal) {
		if !seen[s] {
			seen[s] = true
			list = append(list, s)
		}
	}
	for _, k := range g.list {
		add(circuit.Signal{Device: k.Device, Contact: k.Kind, Position: k.Position})
	}
	for _, l := range g.loads {
		add(circuit.Signal{Device: l.load.Device, Load: l.load.Part})
	}
	return list
}
