package sheet_test

import (
	"strings"
	"testing"

	"tarry/sheet"
)

// TestSupplyOnSheets looks for the voltage in the title block and in the box
// that the instructor signs.
func TestSupplyOnSheets(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("packing belts ", 14))
	for _, k := range []struct{ heads, block, permission string }{
		{"supply 24 V dc\n", "\nsupply\n24 V dc\n", "supply voltage right: 24 V dc, people"},
		{"station \"50 packing belts\"\nsupply 48 V ac\n", "\nstation\n50 packing belts · 48 V ac\n", "supply voltage right: 48 V ac, people"},
		{"station \"" + long + "\"\nsupply 24 V dc\n", "… · 24 V dc\n", "supply voltage right: 24 V dc, people"},
		{"station \"50 packing belts\"\n", "\nstation\n50 packing belts\n", "supply voltage right, people"},
	} {
		c, traces := readText(t, "supply.tarry", []byte(strings.Replace(smallText, "supply 24 V dc\n", k.heads, 1)))
		all := ""
		for _, part := range makeSet(t, c, traces, sheet.Options{}) {
			for _, p := range part.Pages {
				checkSheet(t, part.Name, p)
				text := wordsOf(p)
				all += strings.ReplaceAll(text, "\n", " ")
				if !strings.Contains(text, k.block) {
					t.Errorf("%q, %s: no %q in\n%s", k.heads, part.Name, k.block, text)
				}
			}
		}
		if !strings.Contains(all, k.permission) {
			t.Errorf("%q: no %q", k.heads, k.permission)
		}
	}
}
