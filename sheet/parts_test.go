package sheet_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/sheet"
)

const manyParts = `circuit "Many parts"
supply 24 V dc
S1   selector off hand auto  "Mode"
F1   overload                "Motor"
K1   relay operate 20 ms release 10 ms
K2   latching relay          "Memory"
KT1  off-delay 4 s +-5%      "Run-on"
KT2  flasher 1 s 2 s
C1   counter 3
H1   lamp amber

1:  S1.auto F1.nc          -> K1
2:  S1.hand K1.no KT1.nctc -> K2.set, KT1
3:  F1.no K1.nc            -> K2.reset
4:  K2.no KT1.noto         -> KT2
5:  KT2.tno                -> H1, C1
6:  C1.no                  -> C1.reset
`

// What each device needs, by hand. The terminal marks follow EN 50005, from a
// published article; 95-96, 97-98 and B1-B2 are common practice.
func TestPartsWorked(t *testing.T) {
	want := []string{
		"S1 selector [positions off, hand, auto] coils: contacts: 13-14 make on 1, closed in auto; 23-24 make on 2, closed in hand; = 2 make",
		"F1 overload relay [] coils: contacts: 95-96 break on 1, ; 97-98 make on 3, ; = 1 make, 1 break",
		"K1 relay [operates in 20 ms, releases in 10 ms] coils: K1 A1-A2 contacts: 13-14 make on 2, ; 21-22 break on 3, ; = 1 make, 1 break",
		"K2 latching relay [] coils: K2.set A1-A2 K2.reset B1-B2 contacts: 13-14 make on 4, ; = 1 make",
		"KT1 timer [off-delay 4 s | ±5 % | air: finishes timing without supply] coils: KT1 A1-A2 contacts: 15-16 late break on 2, closes late; 27-28 late make on 4, opens late; = 1 late make, 1 late break",
		"KT2 timer [flasher 1 s, off 2 s] coils: KT2 A1-A2 contacts: 17-18 late make on 5, flasher; = 1 late make",
		"C1 counter [counts to 3] coils: C1 A1-A2 C1.reset B1-B2 contacts: 13-14 make on 6, ; = 1 make",
		"H1 lamp [amber] coils: H1 X1-X2 contacts: = ",
	}
	for i, n := range sheet.PartsOf(read(t, manyParts)) {
		got := fmt.Sprintf("%s %s [%s] coils:", n.Tag, n.Kind, strings.Join(n.Settings, " | "))
		for _, k := range n.Coils {
			got += " " + k.Name + " " + k.Terminals[0] + "-" + k.Terminals[1]
		}
		got += " contacts:"
		for _, k := range n.Contacts {
			got += fmt.Sprintf(" %s-%s %s on %d, %s;", k.Terminals[0], k.Terminals[1], k.What, k.Rung, k.Words)
		}
		got += " = " + n.Count.CountWords()
		if got != want[i] {
			t.Errorf("got  %s\nwant %s", got, want[i])
		}
	}
}

// The counts are those of the graph, and no terminal of a device is listed
// twice.
func TestPartsCount(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *circuit.Circuit) {
		contacts, coils := 0, 0
		for _, n := range sheet.PartsOf(c) {
			contacts += len(n.Contacts)
			coils += len(n.Coils)
			if k := n.Count; k.Make+k.Break+k.LateMake+k.LateBreak != len(n.Contacts) {
				t.Errorf("%s: %s for %d contacts", n.Tag, n.Count.CountWords(), len(n.Contacts))
			}
			var marks []string
			for _, k := range n.Contacts {
				marks = append(marks, k.Terminals[:]...)
			}
			slices.Sort(marks)
			if len(slices.Compact(slices.Clone(marks))) != len(marks) {
				t.Errorf("%s: terminals %v", n.Tag, marks)
			}
		}
		if w := circuit.Wire(c); contacts != len(w.Contacts) || coils != len(w.Loads) {
			t.Errorf("%d contacts and %d coils, wired are %d and %d", contacts, coils, len(w.Contacts), len(w.Loads))
		}
	})
}
