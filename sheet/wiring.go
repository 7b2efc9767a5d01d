package sheet

import (
	"cmp"
	"slices"
	"strconv"

	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
)

// The wiring list joins the terminals of each net in a chain: from one to the
// next and so on. A chain joins n terminals with n-1 connections, puts no more
// than two conductors under any terminal, and shows by one reading from its
// first terminal to its last that none of its connections is missing. The
// terminals of one device stand together, so that its jumpers are short; the
// devices stand in the order of the drawing. That is common practice.

// Terminal is one point to which a wire is connected.
type Terminal struct {
	// Name is what stands on the panel: S0:12, or the name of a rail for the
	// supply's own terminal.
	Name string
	Net  circuit.NetID
	// Device is NoDevice for the supply.
	Device circuit.DeviceID
}

// Connection is one length of wire.
type Connection struct {
	Number   int // from 1, in the order of wiring
	From, To string
	// Wire is the wire number, the same at every connection of a net.
	Wire string
}

// panel is a circuit with the names of its terminals.
type panel struct {
	circuit *circuit.Circuit
	wiring  *circuit.Wiring
	numbers *schematic.Numbering
	// contacts and loads are the terminals of Wiring.Contacts and of
	// Wiring.Loads, chains those of each net in the order of wiring.
	contacts, loads [][2]string
	chains          [][]Terminal
}

func newPanel(c *circuit.Circuit) *panel {
	w := circuit.Wire(c)
	p := &panel{circuit: c, wiring: w, numbers: schematic.Number(c, w), chains: make([][]Terminal, len(w.Nets))}
	for i, k := range w.Contacts {
		p.contacts = append(p.contacts, p.names(c.Devices[k.Device].Tag, p.numbers.Contacts[i]))
	}
	for i, l := range w.Loads {
		tag := c.Devices[l.Device].Tag
		if l.Part == circuit.Star || l.Part == circuit.Delta {
			tag = c.LoadName(l.Load) // both windings have the same marks
		}
		p.loads = append(p.loads, p.names(tag, p.numbers.Loads[i]))
	}
	p.fillChains()
	return p
}

func (p *panel) names(tag string, marks [2]string) [2]string {
	return [2]string{tag + ":" + marks[0], tag + ":" + marks[1]}
}

// fillChains lists the terminals of each net rung by rung, then brings those
// of one device together.
func (p *panel) fillChains() {
	for _, rail := range []circuit.NetID{circuit.LeftRail, circuit.RightRail} {
		p.add(Terminal{p.circuit.Supply.Rails[rail], rail, circuit.NoDevice})
	}
	contact, load := 0, 0
	for rung := range p.circuit.Rungs {
		for ; contact < len(p.wiring.Contacts) && p.wiring.Contacts[contact].Rung == rung; contact++ {
			k := p.wiring.Contacts[contact]
			p.add(Terminal{p.contacts[contact][0], k.A, k.Device})
			p.add(Terminal{p.contacts[contact][1], k.B, k.Device})
		}
		for ; load < len(p.wiring.Loads) && p.wiring.Loads[load].Rung == rung; load++ {
			l := p.wiring.Loads[load]
			p.add(Terminal{p.loads[load][0], l.A, l.Device})
			p.add(Terminal{p.loads[load][1], l.B, l.Device})
		}
	}
	for net := range p.chains {
		together(p.chains[net])
	}
}

// add appends a terminal to its net. A load that two rungs feed, which is a
// fault in the text, has its terminals once in each net.
func (p *panel) add(t Terminal) {
	if !slices.Contains(p.chains[t.Net], t) {
		p.chains[t.Net] = append(p.chains[t.Net], t)
	}
}

// together sorts the terminals of one device behind its first one.
func together(chain []Terminal) {
	first := map[circuit.DeviceID]int{}
	for i, t := range chain {
		if _, seen := first[t.Device]; !seen {
			first[t.Device] = i
		}
	}
	slices.SortStableFunc(chain, func(a, b Terminal) int { return cmp.Compare(first[a.Device], first[b.Device]) })
}

// netOrder is the order in which an electrician wires: the left rail, the
// wires between as they are numbered, the right rail.
func (p *panel) netOrder() []circuit.NetID {
	var order []circuit.NetID
	for net := range p.chains {
		if id := circuit.NetID(net); id > circuit.RightRail {
			order = append(order, id)
		}
	}
	slices.SortStableFunc(order, func(a, b circuit.NetID) int {
		x, y := p.numbers.Wires[a], p.numbers.Wires[b]
		return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(x, y))
	})
	return append(append([]circuit.NetID{circuit.LeftRail}, order...), circuit.RightRail)
}

// Terminals returns the terminals of each net in the order of wiring: the left
// rail first, the right rail last. A net without a terminal is left out.
func Terminals(c *circuit.Circuit) [][]Terminal {
	p := newPanel(c)
	var list [][]Terminal
	for _, net := range p.netOrder() {
		if len(p.chains[net]) > 0 {
			list = append(list, p.chains[net])
		}
	}
	return list
}

// Connections returns the point-to-point wiring list of a circuit, numbered
// from 1 in the order of wiring. A net with a single terminal has none.
func Connections(c *circuit.Circuit) []Connection { return newPanel(c).connections() }

func (p *panel) connections() []Connection {
	var list []Connection
	for _, net := range p.netOrder() {
		chain := p.chains[net]
		for i := 1; i < len(chain); i++ {
			list = append(list, Connection{len(list) + 1, chain[i-1].Name, chain[i].Name, p.numbers.Wires[net]})
		}
	}
	return list
}

// wiringPages is the list on paper.
func (s *setter) wiringPages() []*page.Page {
	k := look{name: "Wiring list", about: "Point to point: every length of wire, in the order of wiring", audience: forLearner, cautions: true}
	if s.withheld() != "" {
		return s.notBuilt(k)
	}
	return s.flow(k, s.wiringStrips)
}

const faultyReason = "The text has faults: correct it first; nothing may be wired from this."

// withheld says why there are no sheets to build by; empty if there are.
func (s *setter) withheld() string {
	if len(s.opt.Faults) > 0 {
		return faultyReason
	}
	if words := ReadOnly(s.circuit); words != "" {
		return words + ". There is nothing to wire and nothing to test."
	}
	return ""
}

// notBuilt is what stands in place of a sheet to build by where a circuit must
// not be built, or not yet: nothing in a full set, and the reason where the
// sheet was asked for.
func (s *setter) notBuilt(k look) []*page.Page {
	if len(s.opt.Parts) == 0 {
		return nil
	}
	k.about, k.audience = "Not for this circuit", forAll
	if len(s.opt.Faults) > 0 {
		k.about = "Not before the text is correct"
	}
	return s.flow(k, func(width page.Unit) []strip {
		return paragraph(s.withheld(), aboutSize, width)
	})
}

const wiringRule = "Each line is one length of wire. A wire number belongs to all wires that are joined, and stands at both ends of each. " +
	"No terminal takes more than two conductors. Tick a line when both ends are tight and marked."

func (s *setter) wiringStrips(width page.Unit) []strip {
	g := &grid{columns: []column{{head: "No.", middle: true}, {head: "Wire", bold: true, middle: true, least: 1300}, {head: "From", share: 4},
		{head: "To", share: 4}, {head: "wired", middle: true, ruled: true}, {head: "checked", middle: true, ruled: true},
		{head: "remarks", share: 6, ruled: true}}, least: 620}
	previous := ""
	for _, k := range newPanel(s.circuit).connections() {
		g.rows = append(g.rows, row{heavy: k.Wire != previous && previous != "", cells: []cell{{words: strconv.Itoa(k.Number)}, {words: k.Wire},
			{words: k.From}, {words: k.To}, {ticked: true}, {ticked: true}}})
		previous = k.Wire
	}
	return append(paragraph(wiringRule, noteSize, width), g.strips(width)...)
}
