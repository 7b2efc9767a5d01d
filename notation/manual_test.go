package notation

import (
	"strings"
	"testing"

	"tarry/diag"
)

// TestNotationManual reads every example of docs/NOTATION.md. The word behind
// "tarry wrong" is the code that the example must get.
func TestNotationManual(t *testing.T) {
	parts := strings.Split(string(readFile(t, "../docs/NOTATION.md")), "```")
	examples := 0
	for i := 1; i < len(parts); i += 2 {
		fence, text, _ := strings.Cut(parts[i], "\n")
		words := strings.Fields(fence)
		if len(words) == 0 || words[0] != "tarry" {
			t.Errorf("example %d: the fence says %q", i, fence)
			continue
		}
		examples++
		_, ds := Read("example", []byte(text))
		switch {
		case len(words) == 1 && len(ds) > 0:
			t.Errorf("an example has faults\n%s", diag.Show("example", []byte(text), ds))
		case len(words) == 3 && (words[1] != "wrong" || len(ds) != 1 || ds[0].Code != words[2]):
			t.Errorf("an example should get %s\n%s", words[2], diag.Show("example", []byte(text), ds))
		}
		if formatted, _ := Format("example", []byte(text)); len(words) == 1 && strings.TrimSpace(string(formatted)) == "" {
			t.Errorf("example %d is laid out to nothing", i)
		}
	}
	if examples < 15 {
		t.Errorf("only %d examples were found", examples)
	}
}
