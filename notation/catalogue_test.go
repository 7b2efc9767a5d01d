package notation

import (
	"bytes"
	"os"
	"sort"
	"strings"
	"testing"

	"tarry/diag"
	"tarry/internal/casetest"
)

// large holds the texts that get a code which no small, printable text can.
var large = map[string]func() string{
	codeTooLarge:        func() string { return strings.Repeat("# a remark that takes space\n", 40_000) },
	codeTooMany:         func() string { return strings.Repeat("-> K1\n", 300) },
	codeTooDeep:         func() string { return "H1 lamp\n1: " + strings.Repeat("(", 101) + "H1.no -> H1\n" },
	codeNotUTF8:         func() string { return "# caf\xe9\n" },
	codeTooManyDevices:  func() string { return manyDevices(MaxDevices + 1) },
	codeTooManyContacts: func() string { return manyContacts(MaxContacts + 1) },
}

func manyDevices(n int) string {
	var b strings.Builder
	for i := 1; i <= n; i++ {
		b.WriteString("H" + itoa(i) + " lamp\n")
		if i <= MaxDevices {
			b.WriteString(itoa(i) + ": -> H" + itoa(i) + "\n")
		}
	}
	return b.String()
}

func manyContacts(n int) string {
	return "K1 relay\n1: " + strings.Repeat("K1.no ", n) + "-> K1\n"
}

// TestCatalogue runs the example of every code and wants that code and no
// other.
func TestCatalogue(t *testing.T) {
	sorted := sort.SliceIsSorted(Codes(), func(i, j int) bool { return Codes()[i].Code < Codes()[j].Code })
	if !sorted {
		t.Error("the catalogue is not in order")
	}
	for _, e := range Codes() {
		text := e.Example
		if make := large[e.Code]; make != nil {
			text = make()
		}
		_, ds := Read("example", []byte(text))
		if len(ds) == 0 {
			t.Errorf("%s: the example gets no diagnostic", e.Code)
		}
		for i, d := range ds {
			if e.Code == codeTooMany && i < maxStored {
				continue
			}
			if d.Code != e.Code || d.Grade != e.Grade {
				t.Errorf("%s: the example gets\n%s", e.Code, diag.Show("example", []byte(text), ds))
				break
			}
		}
	}
}

// TestManual keeps docs/diagnostics.md up to date.
func TestManual(t *testing.T) {
	const path = "../docs/diagnostics.md"
	want := []byte(diag.Manual("tarry", Codes()))
	if *casetest.Update {
		if err := os.WriteFile(path, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("%s is out of date (%v): run go test ./notation -run Manual -update", path, err)
	}
}
