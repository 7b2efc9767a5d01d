package circuit_test

import (
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/notation"
)

// TestGivesAway asks for rows of small circuits, and looks which others would tell
// them.
func TestGivesAway(t *testing.T) {
	for _, x := range []struct{ rungs, asked, tell, silent string }{
		// Each timer's coil is on the rung of the timer before it.
		{"1: S1.no -> KT1\n2: KT1.notc -> KT2\n3: KT2.notc -> H1", "KT1.notc", "KT1.ncto KT2 KT2.notc H1", "S1.no KT1 KT1.no"},
		{"1: S1.no -> KT1\n2: KT1.notc -> KT2\n3: KT2.notc -> H1", "KT2.notc", "H1", "S1.no KT1 KT1.notc KT2"},
		{"1: S1.no -> KT1\n2: KT1.notc -> KT2\n3: KT2.notc -> H1", "H1", "KT2.notc KT2.ncto", "S1.no KT1 KT1.notc KT2"},
		// What shares an asked lamp's feed moves like it.
		{"1: S1.no -> KT1\n2: KT1.notc -> KT2, H1\n3: KT2.notc -> H2", "H1", "KT1.notc KT2 KT2.notc H2", "S1.no KT1 KT1.no"},
		// A timer that starts itself anew shows on its coil when its time is up.
		{"1: S1.no KT1.ncto -> KT1\n2: KT1.notc -> H1", "H1", "KT1 KT1.notc", "S1.no"},
		// A seal tells nothing of the timed contact behind it; a timed seal does.
		{"1: S0.nc (S1.no | KT1.no) -> KT1\n2: KT1.notc -> H1", "KT1.notc", "H1", "KT1 S1.no KT1.no"},
		{"1: S0.nc (S1.no | KT1.notc) -> KT1\n2: KT1.no -> H1", "KT1.notc", "KT1 H1", "S1.no"},
		// A contact without delay moves with its coil.
		{"1: S1.no -> K1\n2: K1.no -> H1\n3: S0.nc -> H2", "K1.no", "K1 K1.nc H1", "S1.no H2"},
		// Behind the load as well.
		{"1: S1.no -> KT1\n2: S0.nc -> H1 -> @back KT1.ncto", "KT1.ncto", "H1", "S1.no KT1"},
		// By way of a named net.
		{"1: S1.no -> KT1\n2: KT1.notc -> @a\n3: @a S0.nc -> H1\n4: S0.nc -> H2", "KT1.notc", "H1", "H2 KT1"},
	} {
		text := "circuit \"T\"\nS0 button\nS1 switch\nKT1 on-delay 5 s\nKT2 on-delay 5 s\nK1 relay\nH1 lamp\nH2 lamp\n" + x.rungs + "\n"
		file, _ := notation.Read("t", []byte(text))
		c := file.Circuit
		signal := func(name string) circuit.Signal {
			s, known := c.FindSignal(name)
			if !known {
				t.Fatalf("no %s", name)
			}
			return s
		}
		tells := circuit.GivesAway(c, []circuit.Signal{signal(x.asked)})
		for _, name := range strings.Fields(x.tell) {
			if !tells(signal(name)) {
				t.Errorf("%s\n%s does not give %s away", x.rungs, name, x.asked)
			}
		}
		for _, name := range strings.Fields(x.silent) {
			if tells(signal(name)) {
				t.Errorf("%s\n%s gives %s away", x.rungs, name, x.asked)
			}
		}
	}
}

func TestHangsOnTimer(t *testing.T) {
	file, _ := notation.Read("t", []byte("S1 switch\nKT1 on-delay 5 s\nK1 relay\nK2 relay\nH1 lamp\nH2 lamp\nH3 lamp\n"+
		"1: S1.no -> KT1, H1\n2: KT1.notc -> K1\n3: K1.no (K2.no | S1.no) -> K2, H2\n4: KT1.no -> H3\n"))
	for name, want := range map[string]bool{"H1": false, "H2": true, "K2": true, "K1.no": true, "KT1.notc": true, "H3": false, "KT1": false, "S1.no": false} {
		s, known := file.Circuit.FindSignal(name)
		if got := circuit.HangsOnTimer(file.Circuit, s); !known || got != want {
			t.Errorf("%s: %v", name, got)
		}
	}
}
