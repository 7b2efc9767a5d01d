package sheet_test

import (
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/page"
	"tarry/sheet"
)

func TestDecodeName(t *testing.T) {
	for name, want := range map[string]circuit.ContactKind{
		"notc": circuit.NOTC, "NOTC": circuit.NOTC, "NO-TC": circuit.NOTC, "TDC of TDPU": circuit.NOTC, "no on-delay": circuit.NOTC,
		"normally open, timed closed": circuit.NOTC, "delay on make": circuit.NOTC, "Normally open on-delay": circuit.NOTC,
		"ncto": circuit.NCTO, "TDO contact of a TDPU relay": circuit.NCTO, "normally closed on-delay": circuit.NCTO,
		"noto": circuit.NOTO, "TDO of TDDO": circuit.NOTO, "delay on break": circuit.NOTO, "off-delay": circuit.NOTO,
		"delay on de-energising": circuit.NOTO,
		"nctc":                   circuit.NCTC, "nc off-delay": circuit.NCTC, "TDC of TDDO": circuit.NCTC, "normally closed, timed closed": circuit.NCTC,
		"on-delay normally open": circuit.NOTC, "NO, timed closing": circuit.NOTC, "N.O.T.C": circuit.NOTC, "timed closing N.O.": circuit.NOTC,
		"N.C., timed opening": circuit.NCTO, "off delay (normally closed)": circuit.NCTC, "timed opening, normally open": circuit.NOTO,
		"normally closed, timed opened": circuit.NCTO, "timed closed, normally closed": circuit.NCTC, "normally open, closed timed": circuit.NOTC,
		"a timer contact": circuit.NoContact, "timed": circuit.NoContact,
		"": circuit.NoContact, "no": circuit.NoContact, "timer": circuit.NoContact,
	} {
		got, ok := sheet.DecodeName(name)
		if got != want || ok != (want != circuit.NoContact) {
			t.Errorf("DecodeName(%q) = %v, %v", name, got, ok)
		}
	}
}

func TestDecoderNames(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range []circuit.ContactKind{circuit.NOTC, circuit.NCTO, circuit.NOTO, circuit.NCTC} {
		for _, name := range sheet.DecoderNames(k) {
			if got, _ := sheet.DecodeName(name); got != k || seen[name] {
				t.Errorf("%q leads to %v, not %v", name, got, k)
			}
			seen[name] = true
		}
	}
}

// TestDecoder holds the pictures against the published table of the four
// contacts ("Lessons in Electric Circuits", time-delay relays).
func TestDecoder(t *testing.T) {
	for kind, want := range map[circuit.ContactKind][]string{
		circuit.NOTC: {"closing, when the coil goes on", "open", "closes 5 s later", "opens at once", "does not move", "closes late"},
		circuit.NCTO: {"opening, when the coil goes on", "closed", "opens 5 s later", "closes at once", "does not move", "opens late"},
		circuit.NOTO: {"opening, when the coil goes off", "open", "closes at once", "opens 5 s later", "closes at once, opens 5 s after its end", "opens late"},
		circuit.NCTC: {"closing, when the coil goes off", "closed", "opens at once", "closes 5 s later", "opens at once, closes 5 s after its end", "closes late"},
	} {
		p := sheet.Decoder(kind)
		text := strings.Join(strings.Fields(wordsOf(p)), " ")
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%v: %q is missing in %s", kind, w, text)
			}
		}
		for _, f := range page.Faults(p) {
			t.Errorf("%v: %s", kind, f)
		}
	}
	if sheet.Decoder(circuit.NO) != nil {
		t.Error("a plain contact was decoded")
	}
}

func TestSymbolPages(t *testing.T) {
	for _, opt := range []sheet.Options{{}, {Paper: sheet.Letter, Layout: 1}} {
		text := ""
		for _, p := range sheet.SymbolPages(opt) {
			checkSheet(t, "symbols", p)
			text += wordsOf(p)
		}
		for _, want := range []string{"NOTC closes late", "Speed switch", "Brake", "Watchdog timer coil", "Reset coil of a timer", "IEEE 315"} {
			if !strings.Contains(text, want) {
				t.Errorf("%q is missing", want)
			}
		}
	}
}
