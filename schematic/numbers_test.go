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

// panel is a small panel whose numbers were worked out by hand from the rules:
// a wire number for each net, new after each device; terminals by EN 50005
// (place in front, then 1-2 break, 3-4 make, 5-6 late break, 7-8 late make);
// 95-96 at an overload, X1-X2 at a lamp and B1-B2 at a second coil are common
// practice; an underlined cross-reference is a break contact (a training text on
// ladder locators).
const panel = `circuit "Panel"
supply 24 V dc rails L N
S0 button
S1 button
K1 relay
KT1 on-delay 5 s
KT2 off-delay 3 s
M1 contactor
F1 overload
H1 lamp
H2 lamp
H3 lamp
wire @lit 20
wire @also 3
1: S0.nc (S1.no | K1.no) -> K1
2: K1.no -> KT1
3: K1.no KT1.ncto -> H1
4: KT1.notc -> M1, KT2 -> F1.nc
5: KT2.noto @lit -> H2
6: @lit K1.nc @also -> H3
7: M1.no -> @also
`

func TestPanelNumbers(t *testing.T) {
	c := read(t, panel)
	w := circuit.Wire(c)
	n := schematic.Number(c, w)
	var lines []string
	for i, k := range w.Contacts {
		lines = append(lines, fmt.Sprintf("%s %s-%s wires %s %s", c.ContactName(k.Contact), n.Contacts[i][0], n.Contacts[i][1], n.Wires[k.A], n.Wires[k.B]))
	}
	for i, l := range w.Loads {
		lines = append(lines, fmt.Sprintf("%s %s-%s wires %s %s", c.LoadName(l.Load), n.Loads[i][0], n.Loads[i][1], n.Wires[l.A], n.Wires[l.B]))
	}
	want := `S0.nc 11-12 wires L 1
S1.no 13-14 wires 1 2
K1.no 13-14 wires 1 2
K1.no 23-24 wires L 4
K1.no 33-34 wires L 5
KT1.ncto 15-16 wires 5 6
KT1.notc 27-28 wires L 7
F1.nc 95-96 wires 8 N
KT2.noto 17-18 wires L 20
K1.nc 41-42 wires 20 3
M1.no 13-14 wires L 3
K1 A1-A2 wires 2 N
KT1 A1-A2 wires 4 N
H1 X1-X2 wires 6 N
M1 A1-A2 wires 7 8
KT2 A1-A2 wires 7 8
H2 X1-X2 wires 20 N
H3 X1-X2 wires 3 N`
	if got := strings.Join(lines, "\n"); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestPanelReferences(t *testing.T) {
	c := read(t, panel)
	p := schematic.Draw(c, schematic.Options{})[0]
	var got []string
	for i, e := range p.Elements {
		if e.Shows.Class != "cross-reference" {
			continue
		}
		words := e.Shape.(page.Text).Words
		if next := p.Elements[i+1]; next.Shows.Class == "closed-reference" {
			line, text := next.Shape.Bounds(), e.Shape.Bounds()
			if line.Min.X != text.Min.X || line.Max.X != text.Max.X || line.Min.Y < text.Max.Y {
				t.Errorf("the line %v is not under %v", line, text)
			}
			words = "_" + words + "_"
		}
		got = append(got, e.Shows.ID+" "+words)
	}
	want := []string{"K1 in 1 1", "K1 in 2 2", "K1 in 3 3", "K1 in 6 _6_", "KT1 in 3 _3_", "KT1 in 4 4", "M1 in 7 7", "KT2 in 5 5"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if got := textsOf(p, "rung-number"); strings.Join(got, " ") != "1 2 3 4 5 6 7" {
		t.Errorf("rung numbers %q", got)
	}
}

func TestPanelTables(t *testing.T) {
	c := read(t, panel)
	p := schematic.Draw(c, schematic.Options{Layout: schematic.Paths})[0]
	tables := map[string]string{}
	for _, e := range p.Elements {
		words, ok := e.Shape.(page.Text)
		if ok && (strings.Contains(words.Words, " / ") || words.Words == "make" || words.Words == "break") {
			tables[e.Shows.ID] += words.Words + "; "
		}
	}
	for id, want := range map[string]string{
		"K1":  "make; 13-14 / 1; 23-24 / 2; 33-34 / 3; break; 41-42 / 6; ",
		"KT1": "make; 27-28 / 4; break; 15-16 / 3; ",
		"KT2": "make; 17-18 / 5; break; ",
		"M1":  "make; 13-14 / 7; break; ",
	} {
		if tables[id] != want {
			t.Errorf("%s: %q, want %q", id, tables[id], want)
		}
	}
	if len(tables) != 4 {
		t.Errorf("tables of %d devices", len(tables))
	}
}

// TestWireNumbersStandAtTheirWires looks at every number on drawings of all
// kinds: the nearest wire is the one that it names, and no net that a symbol
// meets is without one.
func TestWireNumbersStandAtTheirWires(t *testing.T) {
	seed, runs := randomRuns(t, 100)
	list := libraryCircuits(t)
	for name, text := range nasty {
		list = append(list, named{name, read(t, text)})
	}
	for i := range runs {
		list = append(list, named{fmt.Sprintf("seed %d, circuit %d", seed, i), randomCircuit(rand.New(rand.NewPCG(seed, uint64(i))))})
	}
	for _, e := range list {
		for _, opt := range waysToDraw()[:6] {
			report(t, e.name, e.circuit, numberFaults(e.circuit, schematic.Draw(e.circuit, opt), opt.Layout))
		}
	}
}

func numberFaults(c *circuit.Circuit, pages []*page.Page, layout schematic.Layout) (faults []string) {
	r := readBack(pages, layout)
	shown := map[string]bool{}
	for n, p := range pages {
		for _, e := range p.Elements {
			words, ok := e.Shape.(page.Text)
			if !ok || e.Shows.Class != "wire-number" {
				continue
			}
			shown[words.Words] = true
			if s := r.nearestWire(n, words.Bounds()); s.id != "wire "+words.Words {
				faults = append(faults, fmt.Sprintf("%s stands at %s", words.Words, s.id))
			}
		}
	}
	w := circuit.Wire(c)
	numbers := schematic.Number(c, w).Wires
	for _, k := range w.Contacts {
		for _, net := range []circuit.NetID{k.A, k.B} {
			if net > circuit.RightRail && !shown[numbers[net]] {
				faults = append(faults, "wire "+numbers[net]+" shows no number")
			}
		}
	}
	return faults
}

func (r *reader) nearestWire(n int, b page.Box) (near segment) {
	best := page.Unit(1 << 30)
	for _, s := range r.segments {
		l := page.Line(s.a, s.b).Bounds()
		d := max(l.Min.X-b.Max.X, b.Min.X-l.Max.X, 0) + max(l.Min.Y-b.Max.Y, b.Min.Y-l.Max.Y, 0)
		if s.page == n && d < best {
			best, near = d, s
		}
	}
	return near
}

// TestTerminalsStandAtTheirEnds reads the terminals of current paths: the mark of
// end A stands at the end that is on end A's net.
func TestTerminalsStandAtTheirEnds(t *testing.T) {
	list := libraryCircuits(t)
	for name, text := range nasty {
		list = append(list, named{name, read(t, text)})
	}
	for _, e := range list {
		pages := schematic.Draw(e.circuit, schematic.Options{Layout: schematic.Paths})
		r := readBack(pages, schematic.Paths)
		w := circuit.Wire(e.circuit)
		n := schematic.Number(e.circuit, w)
		for i, k := range w.Contacts {
			id := n.ContactID(e.circuit, w, i)
			at := slices.IndexFunc(r.symbols, func(s *symbol) bool { return s.id == id })
			for side, net := range []circuit.NetID{k.A, k.B} {
				end := r.symbols[at].ends[nearerEnd(pages[0], r.symbols[at], n.Contacts[i][side])]
				if got := r.segments[r.on(0, end)[0]].id; got != "wire "+n.Wires[net] && !w.RailsJoined {
					t.Errorf("%s: %s stands at %s, not at wire %s", e.name, id+" "+n.Contacts[i][side], got, n.Wires[net])
				}
			}
		}
	}
}

// nearerEnd returns which end of a symbol a terminal's mark stands at.
func nearerEnd(p *page.Page, s *symbol, mark string) int {
	for _, e := range p.Elements {
		words, ok := e.Shape.(page.Text)
		if ok && e.Shows.ID == s.id && words.Words == mark && e.Shows.Class == "words" {
			if away(words.Bounds(), s.ends[0]) < away(words.Bounds(), s.ends[1]) {
				return 0
			}
			return 1
		}
	}
	return 0
}
