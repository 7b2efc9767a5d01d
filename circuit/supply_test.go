package circuit

import "testing"

func TestSupply(t *testing.T) {
	for _, k := range []struct {
		millivolts int64
		ac         bool
		words      string
		extraLow   bool
	}{
		{0, false, "", true},
		{0, true, "", true},
		{24_000, false, "24 V dc", true},
		{1_500, false, "1.5 V dc", true},
		{12, true, "0.012 V ac", true},
		{12_050, true, "12.05 V ac", true},
		{50_000, true, "50 V ac", true},
		{50_001, true, "50.001 V ac", false},
		{120_000, false, "120 V dc", true},
		{120_001, false, "120.001 V dc", false},
		{230_000, true, "230 V ac", false},
		{1_000_000_000, false, "1000000 V dc", false},
	} {
		s := Supply{Millivolts: k.millivolts, AC: k.ac}
		if got := s.String(); got != k.words {
			t.Errorf("%d mV: %q, want %q", k.millivolts, got, k.words)
		}
		if s.ExtraLow() != k.extraLow {
			t.Errorf("%s: extra-low %v", k.words, !k.extraLow)
		}
	}
}
