package notation

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"columns", `
circuit "A"
caution "B"
S1 button
KT12  on-delay  4s  "Late"   # why
H1 lamp   amber "On"
1:S1.no->KT12
12 :KT12.notc(S1.no|S1.nc S1.no)@w6->H1,K1.reset->S1.nc @L-
`, `circuit  "A"
caution  "B"
S1    button
KT12  on-delay 4 s   "Late"  # why
H1    lamp amber     "On"
1:   S1.no                                 -> KT12
12:  KT12.notc (S1.no | S1.nc S1.no) @w6   -> H1, K1.reset -> S1.nc @L-
`},
		{"remarks and blanks", "\n\n# one\n\n\n\n  # two\nK1 relay#three\n\n\n", "# one\n\n# two\nK1  relay  #three\n"},
		{"script", `
script "A"
1s press S1
  # inside
10 s   press S1 for 300ms
  2s supply off for 1s
 3 s set KT1 to 2 s 3s
end 20s
expect H1 on 1s..5s,7 s..end+-2.50%
expect S1.no never
# outside
K1 relay
`, `script "A"
  1 s    press S1
  # inside
  10 s   press S1 for 300 ms
  2 s    supply off for 1 s
  3 s    set KT1 to 2 s, 3 s
  end 20 s
  expect H1 on 1 s .. 5 s, 7 s .. end +- 2.5%
  expect S1.no never
# outside
K1  relay
`},
		{"faulty lines stay", "K1   realy   ; why\r\n   1:  K1.no  H1  \r\nK2 relay\r\n", "K1   realy   ; why\n   1:  K1.no  H1\nK2  relay\n"},
		{"other lines", `supply 24 V   dc rails P   M
plant B1 opens 500ms after M1 stops
wire   @a 12
S1 selector off auto "A"
KT1 flasher 1s,300ms starting   off electronic ±5 %
K1 latching   relay
K2 contactor operate 20ms release 10ms
`, `supply 24 V dc rails P M
plant B1 opens 500 ms after M1 stops
wire @a 12
S1   selector off auto   "A"
KT1  flasher 1 s, 300 ms starting off electronic +-5%
K1   latching relay
K2   contactor operate 20 ms release 10 ms
`},
		{"nothing", "\n \n", ""},
	} {
		got, _ := Format(c.name, []byte(c.in))
		if string(got) != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// TestFormatBelt wants the example of the design unchanged.
func TestFormatBelt(t *testing.T) {
	text := readFile(t, "testdata/belt.tarry")
	if got, ds := Format("belt.tarry", text); !bytes.Equal(got, text) || len(ds) > 0 {
		t.Errorf("got\n%s", got)
	}
	tight := regexp.MustCompile(`(?m) {2,}|^ +`).ReplaceAllString(string(text), " ")
	if got, _ := Format("belt.tarry", []byte(tight)); !bytes.Equal(got, text) {
		t.Errorf("got\n%s", got)
	}
}

// TestFormatLarge wants a text beyond the limit back as it is.
func TestFormatLarge(t *testing.T) {
	text := []byte(large[codeTooLarge]())
	if got, ds := Format("large", text); !bytes.Equal(got, text) || len(ds) != 1 {
		t.Errorf("%d bytes came back, with %d diagnostics", len(got), len(ds))
	}
}

// TestCodesListed wants every code of codes.go in the catalogue, and once.
func TestCodesListed(t *testing.T) {
	source, err := os.ReadFile("codes.go")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]int{}
	for _, e := range Codes() {
		listed[e.Code]++
	}
	for _, m := range regexp.MustCompile(`= "([a-z0-9-]+)"`).FindAllStringSubmatch(string(source), -1) {
		if listed[m[1]] != 1 {
			t.Errorf("%s is %d times in the catalogue", m[1], listed[m[1]])
		}
		delete(listed, m[1])
	}
	for code := range listed {
		t.Errorf("%s is no code", strings.TrimSpace(code))
	}
}
