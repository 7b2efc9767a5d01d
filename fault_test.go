package tarry

import (
	"errors"
	"strings"
	"testing"

	"tarry/circuit"
)

// TestFault turns a panic into a fault that carries the input.
func TestFault(t *testing.T) {
	s := Source{Name: "belt.tarry", Text: []byte("H1 lamp\n")}
	door := func() (err error) {
		defer guard(s, &err)
		var none *circuit.Circuit
		_ = none.Title
		return nil
	}
	err := door()
	var fault *Fault
	if !errors.As(err, &fault) {
		t.Fatalf("a panic gives %v", err)
	}
	if fault.Input.Name != s.Name || string(fault.Input.Text) != string(s.Text) {
		t.Errorf("the fault carries %v", fault.Input)
	}
	if !strings.Contains(fault.Error(), "a fault in tarry itself, not in your text: ") || !strings.Contains(fault.Stack, "fault_test.go") {
		t.Errorf("the fault says %q at %s", fault.Error(), fault.Stack)
	}
	if errors.Is(err, ErrInput) {
		t.Error("a fault of ours counts as bad input")
	}
}

// TestFold breaks between words, never between a number and its unit.
func TestFold(t *testing.T) {
	w := newReport(minWidth, false)
	w.fold("  1 s  ", "KT1 picks up and begins to time its whole 15 s. Then KT1.notc closes (after 2 min 30 s) and H1 lights.")
	const want = "  1 s  KT1 picks up and begins to time its whole\n" +
		"       15 s. Then KT1.notc closes (after 2 min\n" +
		"       30 s) and H1 lights.\n"
	if got := w.String(); got != want {
		t.Errorf("folded:\n%s", got)
	}
}

// TestChoice lists what there is, not more than a reader takes in.
func TestChoice(t *testing.T) {
	many := strings.Fields(strings.Repeat("H ", 100))
	for want, got := range map[string]string{
		"there are no scripts":                                           choice("x", nil, "scripts"),
		"the signals are H1, KT1; did you mean KT1?":                     choice("KT2", []string{"H1", "KT1"}, "signals"),
		`the scripts are "A dab", Held`:                                  choice("zzz", []string{"A dab", "Held"}, "scripts"),
		"the signals are " + strings.Repeat("H, ", 19) + "H and 80 more": choice("KT2", many, "signals"),
	} {
		if got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}
