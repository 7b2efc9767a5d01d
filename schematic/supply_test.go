package schematic_test

import (
	"strings"
	"testing"

	"tarry/schematic"
)

func TestSupplyInTheFoot(t *testing.T) {
	const text = "H1 lamp\n1: -> H1\n"
	for _, layout := range []schematic.Layout{schematic.Rungs, schematic.Paths} {
		with, without := read(t, "supply 24 V dc\n"+text), read(t, text)
		if l := listing(with, schematic.Options{Layout: layout}); !strings.Contains(l, `"Supply 24 V dc. Drawn`) {
			t.Errorf("no voltage in\n%s", l)
		}
		if l := listing(without, schematic.Options{Layout: layout}); strings.Contains(l, "Supply") {
			t.Errorf("a voltage that is not given in\n%s", l)
		}
		bare := schematic.Options{Layout: layout, Bare: true}
		if listing(with, bare) != listing(without, bare) {
			t.Error("the voltage changes a bare drawing")
		}
	}
}
