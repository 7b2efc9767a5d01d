package sheet_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/library"
	"tarry/notation"
	"tarry/schematic"
	"tarry/sheet"
)

// read reads a circuit that a test has written out.
func read(t *testing.T, text string) *circuit.Circuit {
	t.Helper()
	file, diagnostics := notation.Read("test.tarry", []byte(text))
	for _, d := range diagnostics {
		t.Logf("%s: %s", d.Code, d.Summary)
	}
	return file.Circuit
}

// eachCircuit runs check on every circuit of the library.
func eachCircuit(t *testing.T, check func(t *testing.T, c *circuit.Circuit)) {
	t.Helper()
	for _, e := range library.All() {
		file, _ := notation.Read(e.Name, e.Text)
		t.Run(e.Name, func(t *testing.T) { check(t, file.Circuit) })
	}
}

// sealIn is the panel that the worked lists below are for.
const sealIn = `circuit  "Stop, start, and a timer"
supply 24 V dc
S0   button         "Stop"
S1   button         "Start"
K1   relay          "Run"
KT1  on-delay 5 s   "Wait"
H1   lamp green     "Ready"

1:  S0.nc (S1.no | K1.no)   -> K1, KT1
2:  KT1.notc                -> H1
`

// The list for the panel by hand. The terminal marks follow EN 50005, from a
// published article; the order of wiring is common practice.
func TestConnectionsWorked(t *testing.T) {
	want := []string{
		"1 L+ – S0:11 [L+]",
		"2 S0:11 – KT1:17 [L+]",
		"3 S0:12 – S1:13 [1]",
		"4 S1:13 – K1:13 [1]",
		"5 S1:14 – K1:14 [2]",
		"6 K1:14 – K1:A1 [2]",
		"7 K1:A1 – KT1:A1 [2]",
		"8 KT1:18 – H1:X1 [3]",
		"9 L- – K1:A2 [L-]",
		"10 K1:A2 – KT1:A2 [L-]",
		"11 KT1:A2 – H1:X2 [L-]",
	}
	var got []string
	for _, k := range sheet.Connections(read(t, sealIn)) {
		got = append(got, fmt.Sprintf("%d %s – %s [%s]", k.Number, k.From, k.To, k.Wire))
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Every terminal of the graph stands in the chain of its own net and of no
// other, and the connections of each net are a spanning tree over them with at
// most two conductors under a terminal.
func TestConnectionsSpan(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *circuit.Circuit) {
		wanted := terminalsOf(c)
		connections := sheet.Connections(c)
		wires := map[string][]sheet.Connection{}
		for i, k := range connections {
			if k.Number != i+1 {
				t.Errorf("connection %d has the number %d", i+1, k.Number)
			}
			wires[k.Wire] = append(wires[k.Wire], k)
		}
		for wire, terminals := range wanted {
			spans(t, wire, terminals, wires[wire])
			delete(wires, wire)
		}
		for wire := range wires {
			t.Errorf("connections on wire %s, which has no terminals", wire)
		}
	})
}

// terminalsOf lists the terminals at each wire number straight from the graph.
func terminalsOf(c *circuit.Circuit) map[string][]string {
	w := circuit.Wire(c)
	n := schematic.Number(c, w)
	at := map[string][]string{}
	put := func(net circuit.NetID, name string) { at[n.Wires[net]] = append(at[n.Wires[net]], name) }
	put(circuit.LeftRail, c.Supply.Rails[0])
	put(circuit.RightRail, c.Supply.Rails[1])
	for i, k := range w.Contacts {
		tag := c.Devices[k.Device].Tag
		put(k.A, tag+":"+n.Contacts[i][0])
		put(k.B, tag+":"+n.Contacts[i][1])
	}
	for i, l := range w.Loads {
		tag := c.LoadName(l.Load)
		if l.Part == circuit.SetCoil || l.Part == circuit.ResetCoil {
			tag = c.Devices[l.Device].Tag
		}
		put(l.A, tag+":"+n.Loads[i][0])
		put(l.B, tag+":"+n.Loads[i][1])
	}
	return at
}

func spans(t *testing.T, wire string, terminals []string, list []sheet.Connection) {
	t.Helper()
	if len(list) != len(terminals)-1 {
		t.Errorf("wire %s: %d connections for %d terminals", wire, len(list), len(terminals))
	}
	ends := map[string]int{}
	reached := map[string]bool{terminals[0]: true}
	for range list {
		for _, k := range list {
			if reached[k.From] || reached[k.To] {
				reached[k.From], reached[k.To] = true, true
			}
		}
	}
	for _, k := range list {
		ends[k.From]++
		ends[k.To]++
	}
	for _, name := range terminals {
		if !reached[name] {
			t.Errorf("wire %s does not reach %s", wire, name)
		}
		if ends[name] > 2 {
			t.Errorf("%d conductors under %s", ends[name], name)
		}
	}
	if len(reached) != len(terminals) {
		t.Errorf("wire %s reaches %d terminals of %d", wire, len(reached), len(terminals))
	}
}

// The list doesn't depend on the run of the program.
func TestConnectionsSame(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *circuit.Circuit) {
		if !slices.Equal(sheet.Connections(c), sheet.Connections(c)) {
			t.Error("two lists of one circuit differ")
		}
	})
}

// Half a circuit has lists too: whatever line of a text is missing, nothing
// panics.
func TestListsOfHalfCircuits(t *testing.T) {
	for n, e := range library.All() {
		lines := strings.SplitAfter(string(e.Text), "\n")
		for i := n % 4; i < len(lines); i += 4 {
			file, _ := notation.Read(e.Name, []byte(strings.Join(slices.Delete(slices.Clone(lines), i, i+1), "")))
			c := file.Circuit
			if connections := sheet.Connections(c); len(connections) > 0 && connections[0].Number != 1 {
				t.Errorf("%s without line %d begins with number %d", e.Name, i+1, connections[0].Number)
			}
			if parts := sheet.PartsOf(c); len(parts) != len(c.Devices) {
				t.Errorf("%s without line %d has %d parts for %d devices", e.Name, i+1, len(parts), len(c.Devices))
			}
			if tests := sheet.DeadTestOf(c).Tests; len(tests) == 0 || tests[0].Shows != "rail to rail" {
				t.Errorf("%s without line %d is not read from rail to rail", e.Name, i+1)
			}
		}
	}
}
