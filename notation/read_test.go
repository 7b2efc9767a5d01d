package notation

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/diag"
)

func itoa(n int) string { return strconv.Itoa(n) }

func readFile(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// readClean reads a text that must get no diagnostic at all.
func readClean(t *testing.T, text string) *circuit.Circuit {
	t.Helper()
	file, ds := Read("test", []byte(text))
	if len(ds) > 0 {
		t.Fatalf("unexpected diagnostics\n%s", diag.Show("test", []byte(text), ds))
	}
	return file.Circuit
}

var want = regexp.MustCompile(`# want ([a-z0-9 -]+)$`)

// TestFaulty reads the programs of testdata/faulty.txt and compares the codes
// line by line.
func TestFaulty(t *testing.T) {
	all := string(readFile(t, "testdata/faulty.txt"))
	offset := 0
	for _, program := range strings.Split(all, "\n---\n") {
		_, ds := Read("faulty.txt", []byte(program))
		got := map[int][]string{}
		lines := diag.NewLines(program)
		for _, d := range ds {
			n := lines.Position(d.At.Start).Line
			got[n] = append(got[n], d.Code)
		}
		for i, line := range strings.Split(program, "\n") {
			wanted := ""
			if m := want.FindStringSubmatch(line); m != nil {
				wanted = m[1]
			}
			if codes := strings.Join(got[i+1], " "); codes != wanted {
				t.Errorf("faulty.txt:%d: %s\n\tgot  %q\n\twant %q", offset+i+1, line, codes, wanted)
			}
		}
		offset += strings.Count(program, "\n") + 2
	}
}

func TestBelt(t *testing.T) {
	c := readClean(t, string(readFile(t, "testdata/belt.tarry")))
	if c.Title != "Belt start warning" || c.Station != "50 packing belts" || len(c.Notes) != 2 {
		t.Errorf("heads: %q %q %v", c.Title, c.Station, c.Notes)
	}
	if len(c.Devices) != 8 || len(c.Rungs) != 5 || len(c.Scripts) != 2 {
		t.Fatalf("%d devices, %d rungs, %d scripts", len(c.Devices), len(c.Rungs), len(c.Scripts))
	}
	if d := c.Devices[4]; d.Tag != "KT2" || d.Function != circuit.OffDelay || d.Presets[0] != 2500*time.Millisecond {
		t.Errorf("KT2: %+v", d)
	}
	if e := c.Scripts[0].Expects[2]; c.SignalName(e.Signal) != "H2" || e.Spans[0].To != 14500*time.Millisecond {
		t.Errorf("third expectation: %+v", e)
	}
	if c.Scripts[1].Expects[0].Spans != nil || c.Scripts[1].End != 10*time.Second {
		t.Errorf("second script: %+v", c.Scripts[1])
	}
}

// TestMeaning looks at what the less common forms mean.
func TestMeaning(t *testing.T) {
	c := readClean(t, `supply 48.5 V ac rails P N1
S2 selector off auto
C1 counter 12
KT1 on-delay 1min30s +-2.5% air
KT2 star-delta 6 s
KT3 flasher 1 s, 0.5 s starting off
KT4 accumulating 1 h forgetful
K1 relay operate 20 ms release 10.5 ms
B1 limit
S1 button
7: (S2.auto) ((S1.no) | S1.nc B1.no) KT1.tnc -> K1, C1 -> KT1.no @n
8: @n K1.no C1.nc KT3.tno KT4.tno -> @N1
9: -> KT1, KT2, KT3, KT4
10: S1.no -> KT4.reset
plant B1 opens 0.5 s after K1 stops
wire @n 12
script "A"
  0 s set KT3 to 2 s 3 s
  1 s supply off for 300 ms
  expect S2.auto never
  expect KT1.nc closed 0 s .. 1 s, 1 s .. end +- 2%
  expect K1 off 1 s .. 2 s +- 0.1 s
  expect KT4.reset always
`)
	d := c.Devices
	switch {
	case c.Supply != circuit.Supply{Millivolts: 48500, AC: true, Rails: [2]string{"P", "N1"}}:
		t.Errorf("supply: %+v", c.Supply)
	case d[1].Count != 12, d[2].Presets[0] != 90*time.Second, d[2].Tolerance != 250, d[2].Storage != circuit.Air:
		t.Errorf("counter and on-delay: %+v %+v", d[1], d[2])
	case d[3].Presets != [2]time.Duration{6 * time.Second, 50 * time.Millisecond}:
		t.Errorf("star-delta: %v", d[3].Presets)
	case !d[4].StartingOff, d[4].Presets[1] != time.Second/2, !d[5].Forgetful:
		t.Errorf("flasher, accumulating: %+v %+v", d[4], d[5])
	case d[6].Operate != 20*time.Millisecond, d[6].Release != 10500*time.Microsecond:
		t.Errorf("relay: %+v", d[6])
	}
	r := c.Rungs[0]
	if len(r.Path) != 3 || r.Path[0].Contact.Position != 1 || r.Path[2].Contact.Kind != circuit.NCTO {
		t.Errorf("rung 7: %+v", r.Path)
	}
	if len(r.Return) != 2 || r.Return[1].Net != "n" || c.Rungs[1].Tie != "N1" || c.Pins[0].Number != 12 {
		t.Errorf("nets: %+v %+v %v", r, c.Rungs[1], c.Pins)
	}
	s := c.Scripts[0]
	if s.Actions[0].Presets[1] != 3*time.Second || s.Actions[1].For != 300*time.Millisecond || s.Actions[1].Device != circuit.NoDevice {
		t.Errorf("actions: %+v", s.Actions)
	}
	e := s.Expects
	if e[0].Signal.Position != 1 || e[1].Percent != 200 || !e[1].Spans[1].ToEnd || !e[2].Off ||
		e[2].Within != time.Second/10 || e[3].Signal.Load != circuit.ResetCoil || !e[3].Spans[0].ToEnd {
		t.Errorf("expectations: %+v", e)
	}
}

// TestSources wants the side tables to point at what they name.
func TestSources(t *testing.T) {
	text := string(readFile(t, "testdata/belt.tarry"))
	file, _ := Read("belt.tarry", []byte(text))
	at := func(r diag.Range) string { return text[r.Start:r.End] }
	for i, r := range file.Devices {
		if at(r) != file.Circuit.Devices[i].Tag {
			t.Errorf("device %d is at %q", i, at(r))
		}
	}
	for i, r := range file.Circuit.Rungs {
		n := 0
		r.Path.Contacts(func(k circuit.Contact) {
			if got := at(file.Rungs[i].Contacts[n]); got != file.Circuit.ContactName(k) {
				t.Errorf("rung %d: contact %d is at %q", r.Number, n, got)
			}
			n++
		})
		for j, load := range r.Loads {
			if got := at(file.Rungs[i].Loads[j]); got != file.Circuit.LoadName(load) {
				t.Errorf("rung %d: load %d is at %q", r.Number, j, got)
			}
		}
	}
	if got := at(file.Scripts[1].Actions[0]); got != "  1 s    press S1 for 200 ms" {
		t.Errorf("action at %q", got)
	}
}

// TestForms reads one text in the forms that editors give it.
func TestForms(t *testing.T) {
	text := string(readFile(t, "testdata/belt.tarry"))
	plain := readClean(t, text)
	for name, other := range map[string]string{
		"crlf":         strings.ReplaceAll(text, "\n", "\r\n"),
		"mark":         "\ufeff" + text,
		"tabs":         strings.ReplaceAll(text, "   ", "\t"),
		"no last line": strings.TrimRight(text, "\n"),
		"no-break":     strings.ReplaceAll(text, "  ", "\u00a0 "),
	} {
		t.Run(name, func(t *testing.T) { sameModel(t, plain, readClean(t, other)) })
	}
}

// TestNone reads texts without anything in them.
func TestNone(t *testing.T) {
	for _, text := range []string{"", "\n", "# only a remark", "\ufeff", "\r\n\r\n"} {
		c := readClean(t, text)
		if c.Supply.Rails != [2]string{"L+", "L-"} {
			t.Errorf("%q: rails %v", text, c.Supply.Rails)
		}
	}
}

// TestScaled tries exact decimals at the edges.
func TestScaled(t *testing.T) {
	for _, c := range []struct {
		number string
		unit   int64
		want   int64
		state  scaling
	}{
		{"0.1", 1e9, 1e8, exactly}, {"0.000000001", 1e9, 1, exactly}, {"0.0000000005", 1e9, 0, tooFine},
		{"00012.50", 1e9, 12_500_000_000, exactly}, {"0.000000000000000001", 1e9, 0, tooFine},
		{"1.00000000000000000000", 1e9, 1e9, exactly}, {"0.5", 3600e9, 1800e9, exactly},
		{"999999999999", 3600e9, 0, tooLarge}, {"9999999999999", 1, 0, tooLarge}, {"8761", 3600e9, 0, tooLarge},
		{"8760.000000001", 3600e9, 0, tooLarge}, {"0.999999999999999999", 1e9, 0, tooFine},
	} {
		if got, state := scaled(c.number, c.unit, int64(maxTime)); got != c.want || state != c.state {
			t.Errorf("scaled(%s, %d) = %d, %d; want %d, %d", c.number, c.unit, got, state, c.want, c.state)
		}
	}
}
