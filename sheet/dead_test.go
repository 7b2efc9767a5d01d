package sheet_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/schematic"
	"tarry/sheet"
)

// The dead test of the panel by hand. At rest S0 joins L+ and wire 1, and
// nothing joins wire 1 to the coils. The terminal marks follow EN 50005, from a
// published article; the readings to take are common practice.
func TestDeadTestWorked(t *testing.T) {
	const want = `
 1                L+     – L-      open            rail to rail
 2                L+     – KT1:17  closed          wire L+, end to end
 3                S0:12  – K1:13   closed          wire 1, end to end
 4                S1:14  – KT1:A1  closed          wire 2, end to end
 5                KT1:18 – H1:X1   closed          wire 3, end to end
 6                L-     – H1:X2   closed          wire L-, end to end
 7                S0:11  – S0:12   closed          contact S0.nc
 8                S1:13  – S1:14   open            contact S1.no
 9                K1:13  – K1:14   open            contact K1.no
10                KT1:17 – KT1:18  open            contact KT1.notc
11                L+     – K1:A1   open            L+ to K1
12                K1:A1  – K1:A2   through a load  across K1
13                K1:A2  – L-      closed          K1 to L-
14                L+     – KT1:A1  open            L+ to KT1
15                KT1:A1 – KT1:A2  through a load  across KT1
16                KT1:A2 – L-      closed          KT1 to L-
17                L+     – H1:X1   open            L+ to H1
18                H1:X1  – H1:X2   through a load  across H1
19  S0 pressed    S0:11  – S0:12   open            contact S0.nc, moved
20  S0 pressed    L+     – KT1:17  closed          wire L+, end to end
21  S0 pressed    S0:12  – K1:13   closed          wire 1, end to end
22  S1 pressed    S1:13  – S1:14   closed          contact S1.no, moved
23  S1 pressed    L+     – K1:A1   closed          L+ to K1
`
	table := sheet.DeadTestOf(read(t, sealIn))
	got := "\n"
	for _, x := range table.Tests {
		got += fmt.Sprintf("%2d  %-12s  %-6s – %-6s  %-14s  %s\n", x.Number, x.With, x.From, x.To, x.Expected, x.Shows)
	}
	if got != want {
		t.Errorf("got%s\nwant%s", got, want)
	}
	if len(table.ByEye) > 0 {
		t.Errorf("readings that cannot be told apart: %v", table.ByEye)
	}
}

// A load that is on at rest joins the rails through itself, and what stands
// beside it reads through it too.
func TestDeadTestThroughLoad(t *testing.T) {
	c := read(t, `circuit "Two lamps"
supply 24 V dc
K1  relay       "Change over"
S1  switch      "Over"
H1  lamp green  "At rest"
H2  lamp red    "Over"

1:  S1.no  -> K1
2:  K1.nc  -> H1
3:  K1.no  -> H2
`)
	for _, want := range []string{
		"L+ – L- through a load", // H1, through K1.nc
		"L+ – K1:A1 through a load",
		"L+ – H2:X1 through a load", // H1, then H2
		"K1:11 – K1:12 closed",
		"S1 closed: L+ – K1:A1 closed",
	} {
		found := slices.ContainsFunc(sheet.DeadTestOf(c).Tests, func(x sheet.DeadTest) bool {
			words := fmt.Sprintf("%s – %s %s", x.From, x.To, x.Expected)
			if x.With != "" {
				words = x.With + ": " + words
			}
			return words == want
		})
		if !found {
			t.Errorf("the dead test lacks %s", want)
		}
	}
	// Nobody moves K1 without supply: its terminals cannot be told apart.
	if got, want := fmt.Sprint(sheet.DeadTestOf(c).ByEye), "[[K1:11 K1:23 K1:12]]"; got != want {
		t.Errorf("by eye: %s, want %s", got, want)
	}
}

// meter is a panel by names: what wires, contacts and loads join. It is written
// for the tests alone and shares nothing with the dead test.
type meter struct {
	circuit *circuit.Circuit
	wires   [][2]string
	pairs   []pair
}

type pair struct {
	ends    [2]string
	contact *circuit.Contact // nil for a load
}

func newMeter(c *circuit.Circuit) *meter {
	w := circuit.Wire(c)
	n := schematic.Number(c, w)
	m := &meter{circuit: c}
	for i := range w.Contacts {
		tag := c.Devices[w.Contacts[i].Device].Tag
		m.pairs = append(m.pairs, pair{[2]string{tag + ":" + n.Contacts[i][0], tag + ":" + n.Contacts[i][1]}, &w.Contacts[i].Contact})
	}
	for i, l := range w.Loads {
		tag := c.LoadName(l.Load)
		if l.Part == circuit.SetCoil || l.Part == circuit.ResetCoil {
			tag = c.Devices[l.Device].Tag
		}
		m.pairs = append(m.pairs, pair{[2]string{tag + ":" + n.Loads[i][0], tag + ":" + n.Loads[i][1]}, nil})
	}
	for _, k := range sheet.Connections(c) {
		m.wires = append(m.wires, [2]string{k.From, k.To})
	}
	return m
}

// conducts says whether a contact is closed while a hand does what with says.
func (m *meter) conducts(k *circuit.Contact, with string) bool {
	d := &m.circuit.Devices[k.Device]
	held := strings.HasPrefix(with, d.Tag+" ")
	if k.Kind == circuit.AtPosition {
		if held {
			return with == d.Tag+" in "+d.Positions[k.Position]
		}
		return k.Position == 0
	}
	return held != (k.Kind.ClosedAtRest())
}

// read walks from one terminal to the other, first without and then through
// loads.
func (m *meter) read(x sheet.DeadTest) sheet.Reading {
	for _, loads := range []bool{false, true} {
		reached := map[string]bool{x.From: true}
		for grown := true; grown; {
			grown = false
			step := func(a, b string) {
				if reached[a] != reached[b] {
					reached[a], reached[b], grown = true, true, true
				}
			}
			for _, w := range m.wires {
				step(w[0], w[1])
			}
			for _, p := range m.pairs {
				if p.contact == nil && loads || p.contact != nil && m.conducts(p.contact, x.With) {
					step(p.ends[0], p.ends[1])
				}
			}
		}
		if reached[x.To] && loads {
			return sheet.ThroughLoad
		}
		if reached[x.To] {
			return sheet.ReadsClosed
		}
	}
	return sheet.ReadsOpen
}

// Every expected reading is what a meter would say, no reading stands there
// twice, and every missing wire shows.
func TestDeadTestReads(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *circuit.Circuit) {
		m := newMeter(c)
		table := sheet.DeadTestOf(c)
		seen := map[string]bool{}
		for _, x := range table.Tests {
			if got := m.read(x); got != x.Expected {
				t.Errorf("%s %s – %s: %s, should be %s", x.With, x.From, x.To, x.Expected, got)
			}
			key := x.With + min(x.From, x.To) + " " + max(x.From, x.To)
			if seen[key] {
				t.Errorf("%s %s – %s stands there twice", x.With, x.From, x.To)
			}
			seen[key] = true
		}
		whole := m.wires
		for i, w := range whole {
			m.wires = slices.Delete(slices.Clone(whole), i, i+1)
			if !m.differs(table.Tests) && !byEye(table, w[0], w[1]) {
				t.Errorf("no reading shows that %s – %s is missing", w[0], w[1])
			}
		}
	})
}

// A wire's end on a wrong terminal of the same device shows, or stands among
// what is to be followed by eye; and those are contacts that no hand moves.
func TestDeadTestShowsWrongWires(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *circuit.Circuit) {
		m := newMeter(c)
		table := sheet.DeadTestOf(c)
		terminals := map[string][]string{}
		for _, p := range m.pairs {
			tag, _, _ := strings.Cut(p.ends[0], ":")
			terminals[tag] = append(terminals[tag], p.ends[0], p.ends[1])
		}
		net := map[string]int{}
		for i, chain := range sheet.Terminals(c) {
			for _, x := range chain {
				net[x.Name] = i
			}
		}
		whole := m.wires
		for i, w := range whole {
			for end := range 2 {
				tag, _, _ := strings.Cut(w[end], ":")
				for _, wrong := range terminals[tag] {
					if net[wrong] == net[w[end]] {
						continue
					}
					m.wires = slices.Clone(whole)
					m.wires[i][end] = wrong
					if !byEye(table, w[end], wrong) && !m.differs(table.Tests) {
						t.Errorf("no reading shows %s on %s", w[end], wrong)
					}
				}
			}
		}
	})
}

// differs reports whether any reading is not as expected.
func (m *meter) differs(tests []sheet.DeadTest) bool {
	return slices.ContainsFunc(tests, func(x sheet.DeadTest) bool { return m.read(x) != x.Expected })
}

func byEye(table sheet.DeadTable, a, b string) bool {
	return slices.ContainsFunc(table.ByEye, func(names []string) bool { return slices.Contains(names, a) && slices.Contains(names, b) })
}
