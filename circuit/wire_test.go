package circuit

import (
	"fmt"
	"testing"
)

// sample is a circuit of two switches and two lamps; the tests write its
// rungs.
func sample(rungs ...Rung) *Circuit {
	return &Circuit{
		Supply: Supply{Rails: [2]string{"L+", "L-"}},
		Devices: []Device{{Tag: "S1", Kind: Switch}, {Tag: "S2", Kind: Switch}, {Tag: "H1", Kind: Lamp}, {Tag: "H2", Kind: Lamp},
			{Tag: "S3", Kind: Selector, Positions: []string{"off", "auto"}}, {Tag: "K1", Kind: LatchingRelay},
			{Tag: "KT1", Kind: Timer, Function: OnDelay}, {Tag: "M1", Kind: Motor}},
		Rungs: rungs,
	}
}

func no(d DeviceID) Item     { return Item{Contact: Contact{Device: d, Kind: NO}} }
func named(name string) Item { return Item{Net: name} }
func lamp(d DeviceID) []Load { return []Load{{Device: d}} }

// wiredText writes a wiring shortly: each contact and load with its nets.
func wiredText(c *Circuit) string {
	w := Wire(c)
	text := fmt.Sprint(len(w.Nets), " nets")
	for _, k := range w.Contacts {
		text += fmt.Sprintf(", %s %d-%d", c.ContactName(k.Contact), k.A, k.B)
	}
	for _, l := range w.Loads {
		text += fmt.Sprintf(", %s %d-%d", c.LoadName(l.Load), l.A, l.B)
	}
	return text
}

func TestWire(t *testing.T) {
	for _, c := range []struct {
		name, want string
		rungs      []Rung
	}{
		{"series", "4 nets, S1.no 0-2, S2.no 2-3, H1 3-1", []Rung{{Path: Path{no(0), no(1)}, Loads: lamp(2)}}},
		{"group", "3 nets, S1.no 0-2, S2.no 0-2, H1 2-1", []Rung{{Path: Path{{Branches: []Path{{no(0)}, {no(1)}}}}, Loads: lamp(2)}}},
		{"empty path", "2 nets, H1 0-1", []Rung{{Loads: lamp(2)}}},
		{"return side", "4 nets, S1.no 0-2, S2.no 3-1, H1 2-3", []Rung{{Path: Path{no(0)}, Loads: lamp(2), Return: Path{no(1)}}}},
		{"named net", "3 nets, S1.no 0-2, H1 2-1, H2 2-1", []Rung{{Path: Path{no(0), named("a")}, Loads: lamp(2)}, {Path: Path{named("a")}, Loads: lamp(3)}}},
		{"tie", "3 nets, S1.no 0-2, S2.no 0-2, H1 2-1",
			[]Rung{{Path: Path{no(0), named("a")}, Loads: lamp(2)}, {Path: Path{no(1)}, Tie: "a"}}},
		{"rails by name", "2 nets, S1.no 1-0, H1 0-1", []Rung{{Path: Path{named("L-"), no(0), named("L+")}, Loads: lamp(2)}}},
		{"return to a net", "4 nets, S1.no 0-2, S2.no 3-1, H1 2-3, H2 0-3",
			[]Rung{{Path: Path{no(0)}, Loads: lamp(2), Return: Path{named("z")}}, {Path: nil, Loads: lamp(3), Return: Path{named("z"), no(1)}}}},
		{"bridged", "3 nets, S1.no 2-2, H1 2-1", []Rung{{Path: Path{named("a"), no(0), named("a")}, Loads: lamp(2)}}},
	} {
		if got := wiredText(sample(c.rungs...)); got != c.want {
			t.Errorf("%s: %s, not %s", c.name, got, c.want)
		}
	}
}

// Names stay with merged nets, and wire between the rails is reported.
func TestWireNames(t *testing.T) {
	w := Wire(sample(Rung{Path: Path{no(0), named("b"), named("a")}, Loads: lamp(2)}))
	if len(w.Nets) != 3 || w.Nets[0].Name != "L+" || w.Nets[1].Name != "L-" || w.Nets[2].Name != "b" || w.RailsJoined {
		t.Errorf("the nets are %v, rails joined: %t", w.Nets, w.RailsJoined)
	}
	if w = Wire(sample(Rung{Path: Path{named("L+")}, Tie: "L-"})); !w.RailsJoined || len(w.Nets) != 2 {
		t.Errorf("the nets are %v, rails joined: %t", w.Nets, w.RailsJoined)
	}
}

func TestFindSignal(t *testing.T) {
	c := sample()
	for name, want := range map[string]Signal{
		"H1": {Device: 2}, " S1.no ": {Device: 0, Contact: NO}, "S1.nc": {Device: 0, Contact: NC},
		"S3.auto": {Device: 4, Contact: AtPosition, Position: 1}, "S3.off": {Device: 4, Contact: AtPosition},
		"K1": {Device: 5}, "K1.set": {Device: 5, Load: SetCoil}, "K1.reset": {Device: 5, Load: ResetCoil}, "K1.no": {Device: 5, Contact: NO},
		"KT1": {Device: 6}, "KT1.notc": {Device: 6, Contact: NOTC}, "KT1.tno": {Device: 6, Contact: NOTC}, "KT1.tnc": {Device: 6, Contact: NCTO},
		"M1": {Device: 7}, "M1.star": {Device: 7, Load: Star}, "M1.delta": {Device: 7, Load: Delta},
	} {
		if got, ok := c.FindSignal(name); !ok || got != want {
			t.Errorf("%s is %+v, %t", name, got, ok)
		}
	}
	for _, name := range []string{"", "K9", "S1", "S3", "S3.no", "S1.notc", "H1.no", "KT1.noto", "KT1.reset", "K1.star", "H1.", "S1.position"} {
		if got, ok := c.FindSignal(name); ok {
			t.Errorf("%q is %+v", name, got)
		}
	}
}

// What FindSignal reads is what SignalName writes.
func TestSignalNames(t *testing.T) {
	c := sample()
	for _, name := range []string{"H1", "S1.nc", "S3.auto", "K1.set", "KT1.ncto", "M1.delta"} {
		if s, ok := c.FindSignal(name); !ok || c.SignalName(s) != name {
			t.Errorf("%s is written %s", name, c.SignalName(s))
		}
	}
}
