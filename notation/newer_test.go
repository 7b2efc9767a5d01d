package notation_test

import (
	"strings"
	"testing"

	"tarry/notation"
)

// TestNewerText: what nothing here knows may come from a newer version, and says
// so; a slip of the pen is still taken for one, and the lines stay.
func TestNewerText(t *testing.T) {
	for text, newer := range map[string]bool{
		"tarry 2\n":               true,
		"version 9\n":             true,
		"hologram S1 blink\n":     true,
		"S2 zwxqqq\n":             true,
		"S2 swich\n":              false,
		"scritp \"x\"\nend 3 s\n": false,
	} {
		const rest = "S1 switch\nH1 lamp\n1: S1.no -> H1\n"
		file, ds := notation.Read("t", []byte(text+rest))
		if len(ds) == 0 || len(file.Circuit.Rungs) != 1 {
			t.Fatalf("%q: %d faults, %d rungs", text, len(ds), len(file.Circuit.Rungs))
		}
		if got := strings.Contains(ds[0].Detail, "newer tarry"); got != newer {
			t.Errorf("%q: %s", text, ds[0].Detail)
		}
		kept, _ := notation.Format("t", []byte(text+rest))
		if word := strings.Fields(text)[0]; !strings.Contains(string(kept), word) {
			t.Errorf("%q is lost", text)
		}
	}
}
