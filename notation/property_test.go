package notation

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/diag"
)

// failer is what testing and rapid have in common here.
type failer interface {
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

func sameModel(t failer, a, b *circuit.Circuit) {
	if !reflect.DeepEqual(a, b) {
		t.Fatalf("the model changed\n%+v\n%+v", a, b)
	}
}

// writer makes up the text of a circuit.
type writer struct {
	t    *rapid.T
	b    strings.Builder
	tags []string // everything with no and nc contacts
}

func (w *writer) pick(label string, from ...string) string {
	return rapid.SampledFrom(from).Draw(w.t, label)
}

// blank draws white space of any sort, at least one.
func (w *writer) blank() string { return w.pick("blank", " ", "  ", "\t", " \t ") }

// gap draws white space or none.
func (w *writer) gap() string { return w.pick("gap", "", " ", "  ") }

func (w *writer) time() string {
	return w.pick("time", "4 s", "0.5s", "1 min 30 s", "1h", "250 ms", "0.000000001 s", "1min0.5s", "02.50 s")
}

func (w *writer) end() {
	w.b.WriteString(w.pick("end", "\n", "\n", "\r\n", "   # why\n", "#why\n", "\n\n\n", "\n  # a remark\n"))
}

func (w *writer) devices() {
	kinds := []string{
		"button", "switch", "limit", "overload", "relay", "relay operate 20 ms release 10 ms", "contactor",
		"latching relay", "stepping relay", "counter 3",
	}
	for i := range rapid.IntRange(1, 8).Draw(w.t, "devices") {
		tag := fmt.Sprintf("D%d", i)
		kind := w.pick("kind", kinds...)
		if rapid.Bool().Draw(w.t, "timer") {
			f := rapid.SampledFrom(circuit.Functions()).Draw(w.t, "function")
			kind = f.Word + w.blank() + w.time()
			if f.Times == 2 && f.Function != circuit.StarDelta {
				kind += "," + w.gap() + w.time()
			}
			kind += w.pick("more", "", " air", " electronic", "+-5%", " ±0.25 %")
		}
		w.tags = append(w.tags, tag)
		w.b.WriteString(w.gap() + tag + w.blank() + kind + w.pick("label", "", ` "A label"`, ` “Curly”`))
		w.end()
	}
}

func (w *writer) path(depth int) string {
	var items []string
	for range rapid.IntRange(1, 4).Draw(w.t, "items") {
		switch n := rapid.IntRange(0, 9).Draw(w.t, "item"); {
		case n == 0:
			items = append(items, "@"+w.pick("net", "a", "b", "w-6", "L+"))
		case n < 3 && depth < 4:
			group := "(" + w.gap() + w.path(depth+1)
			for range rapid.IntRange(0, 2).Draw(w.t, "branches") {
				group += w.gap() + "|" + w.gap() + w.path(depth+1)
			}
			items = append(items, group+w.gap()+")")
		default:
			items = append(items, w.pick("tag", w.tags...)+"."+w.pick("contact", "no", "nc"))
		}
	}
	return strings.Join(items, w.blank())
}

func (w *writer) rungs() {
	for i := range rapid.IntRange(0, 8).Draw(w.t, "rungs") {
		w.b.WriteString(w.gap() + itoa(i+1) + w.gap() + ":" + w.gap() + w.path(0) + w.gap() + w.pick("arrow", "->", "→"))
		if rapid.Bool().Draw(w.t, "tie") {
			w.b.WriteString(w.gap() + "@" + w.pick("net", "a", "b", "w-6", "L-"))
		} else {
			fmt.Fprintf(&w.b, " H%d, M%d.star", i, i)
			if rapid.Bool().Draw(w.t, "return") {
				w.b.WriteString(w.gap() + "->" + w.path(0))
			}
		}
		w.end()
		fmt.Fprintf(&w.b, "H%d lamp%s\nM%d motor\n", i, w.pick("colour", "", " amber", " red"), i)
	}
}

func (w *writer) scripts() {
	for i := range rapid.IntRange(0, 2).Draw(w.t, "scripts") {
		fmt.Fprintf(&w.b, "script \"%d\"", i)
		w.end()
		for j := range rapid.IntRange(0, 4).Draw(w.t, "actions") {
			fmt.Fprintf(&w.b, "%s%d s supply %s", w.gap(), j, w.pick("supply", "on", "off", "off for 300 ms"))
			w.end()
		}
		if rapid.Bool().Draw(w.t, "end") {
			w.b.WriteString("end 2 h\n")
		}
		for range rapid.IntRange(0, 3).Draw(w.t, "expects") {
			fmt.Fprintf(&w.b, "%s expect %s.no %s%s", w.gap(), w.pick("tag", w.tags...),
				w.pick("state", "never", "always", "on 1 s..2 s", "off 1 s .. 2 s,2 s .. end", "closed 1min..end"),
				w.pick("within", "", " +- 0.1 s", "+-2%"))
			w.end()
		}
	}
}

// randomText draws the text of a circuit that has no errors in its lines.
func randomText(t *rapid.T) string {
	w := &writer{t: t}
	w.b.WriteString(w.pick("head", "", "circuit \"Made up\"\n", "supply 24 V dc # why\n", "\n\naim\t\"One\"\nsay \"Two\"\n"))
	w.devices()
	w.rungs()
	w.scripts()
	return w.b.String()
}

// TestFormatKeeps draws circuits: laid out, they mean the same, and laying
// them out again changes nothing.
func TestFormatKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := randomText(t)
		formatted, ds := Format("random", []byte(text))
		if len(ds) > 0 {
			t.Fatalf("the lines have faults\n%s", diag.Show("random", []byte(text), ds))
		}
		before, _ := Read("random", []byte(text))
		after, _ := Read("random", formatted)
		sameModel(t, before.Circuit, after.Circuit)
		again, _ := Format("random", formatted)
		if !bytes.Equal(formatted, again) {
			t.Fatalf("not idempotent\n%s\n%s", formatted, again)
		}
		for _, remark := range []string{"# why", "#why", "# a remark"} {
			if strings.Count(text, remark) != strings.Count(string(formatted), remark) {
				t.Fatalf("a remark is lost\n%s\n%s", text, formatted)
			}
		}
	})
}

// TestOrderIsFree draws circuits and turns their device lines round: apart
// from the order of the devices, the model is the same.
func TestOrderIsFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := &writer{t: t}
		w.devices()
		devices := w.b.String()
		w.b.Reset()
		w.rungs()
		w.scripts()
		first, _ := Read("random", []byte(devices+w.b.String()))
		last, _ := Read("random", []byte(w.b.String()+devices))
		if a, b := describe(first.Circuit), describe(last.Circuit); a != b {
			t.Fatalf("the order matters\n%s\n%s", a, b)
		}
	})
}

// describe writes the rungs and expectations by name.
func describe(c *circuit.Circuit) string {
	var b strings.Builder
	for _, r := range c.Rungs {
		fmt.Fprint(&b, r.Number, r.Tie)
		r.Path.Contacts(func(k circuit.Contact) { b.WriteString(" " + c.ContactName(k)) })
		for _, load := range r.Loads {
			b.WriteString(" " + c.LoadName(load))
		}
	}
	for _, s := range c.Scripts {
		for _, e := range s.Expects {
			b.WriteString(" " + c.SignalName(e.Signal))
		}
	}
	return b.String()
}

// checkText reads and lays out any text and checks what always holds.
func checkText(t failer, text []byte) {
	file, ds := Read("any", text)
	if file == nil || file.Circuit == nil || len(file.Rungs) != len(file.Circuit.Rungs) || len(file.Devices) != len(file.Circuit.Devices) {
		t.Fatal("the file is not whole")
	}
	if len(ds) > maxStored+1 {
		t.Fatalf("%d diagnostics", len(ds))
	}
	inside := func(r diag.Range) bool { return r.Start >= 0 && r.Start <= r.End && r.End <= len(text) }
	for _, d := range ds {
		ok := inside(d.At) && inside(d.Within) && (d.Fix == nil || inside(d.Fix.Range))
		for _, n := range d.Notes {
			ok = ok && inside(n.At)
		}
		if !ok {
			t.Fatalf("a range lies outside: %+v", d)
		}
	}
	diag.Show("any", text, ds)
	formatted, _ := Format("any", text)
	if again, _ := Format("any", formatted); !bytes.Equal(formatted, again) {
		t.Fatalf("not idempotent\n%q\n%q\n%q", text, formatted, again)
	}
	after, _ := Read("any", formatted)
	sameModel(t, file.Circuit, after.Circuit)
}

// TestShuffled reads texts made of the notation's words in any order, which
// get further into the grammar than bytes in any order do.
func TestShuffled(t *testing.T) {
	words := strings.Fields(strings.ReplaceAll(string(readFile(t, "testdata/faulty.txt")), "# want", " "))
	words = append(words, "(", ")", "|", ",", ".", "..", ":", "\"", "#", "->", "+-", "%", "@", "-", "\ufeff", "\r", "\xff", "1", "s")
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		for range rapid.IntRange(0, 60).Draw(t, "words") {
			b.WriteString(rapid.SampledFrom(words).Draw(t, "word"))
			b.WriteString(rapid.SampledFrom([]string{" ", " ", " ", "", "\n"}).Draw(t, "blank"))
		}
		checkText(t, []byte(b.String()))
	})
}

// FuzzRead wants no panic, ranges inside the text, and a layout that keeps the
// model and doesn't change any more.
func FuzzRead(f *testing.F) {
	paths, _ := filepath.Glob("../library/*.tarry")
	for _, path := range append(paths, "testdata/belt.tarry", "testdata/faulty.txt") {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
		for _, line := range bytes.Split(text, []byte("\n")) {
			if path == "testdata/faulty.txt" {
				f.Add(line)
			}
		}
	}
	for _, e := range Codes() {
		f.Add([]byte(e.Example))
	}
	f.Fuzz(func(t *testing.T, text []byte) { checkText(t, text) })
}

// TestHostile reads texts of the largest size that are made to be slow.
func TestHostile(t *testing.T) {
	fill := func(s string) string { return strings.Repeat(s, MaxBytes/len(s)) }
	texts := map[string]string{
		"brackets": "1: " + fill("("), "words": fill("a "), "lines": fill("a\n"), "quotes": fill("\"\n"),
		"zeros": fill("\x00"), "invalid": fill("\xff"), "invalid lines": fill("\xff\n"), "one word": fill("a"),
		"digits": "1: " + fill("9"), "time": "K1 on-delay " + fill("9"), "bars": "1: " + fill("|"),
		"groups": "1: " + fill("(K1.no|"), "empty groups": "1: " + fill("()"), "loads": "1: -> " + fill("K1,"),
		"unknown": "1: " + fill("K1.no ") + "-> K1", "unknown loads": fill("1:->K1\n"), "contacts": "K1 relay\n1: " + fill("K1.no "),
		"positions": "S1 selector " + fill("a "), "kinds": fill("K1 wombat\n"), "strings": fill("\"a\" "),
		"nets": "1: " + fill("@a ") + "->@b", "ties": fill("1:@a->@b\n"), "scripts": fill("script\"\"\n"),
		"spans": "script \"\"\nexpect a on " + fill("1 s..2 s,"), "remarks": fill("#\n"), "blank": fill(" "), "blank lines": fill("\n"),
		"returns": fill("\r"), "supply": fill("supply 1 V dc\n"), "times": "K1 flasher " + fill("1 s "), "minus": "K1 flasher " + fill("- "),
		"colons": fill("1:"), "curly": fill("“"), "arrows": fill("->"), "dots": "1: " + fill("K1."),
	}
	different, nets := strings.Builder{}, strings.Builder{}
	for i := 0; different.Len() < MaxBytes-20; i++ {
		fmt.Fprintf(&different, "%d:Q%d.no->R%d\n", i, i, i)
	}
	for i := 0; nets.Len() < MaxBytes-40; i++ {
		fmt.Fprintf(&nets, "H%d lamp\n%d:@n%d->H%d->@n%d\n", i, i, i, i, i+1)
	}
	devices := strings.Builder{}
	for i := 0; devices.Len() < MaxBytes/2; i++ {
		fmt.Fprintf(&devices, "DEVICE%d relay\n", i)
	}
	texts["unknown tags"], texts["chain"] = different.String(), nets.String()
	texts["near misses"] = devices.String() + different.String()[:MaxBytes/2-20]
	for name, text := range texts {
		start := time.Now()
		_, ds := Read(name, []byte(text))
		t.Logf("%s took %v", name, time.Since(start))
		runtime.GC() // in WebAssembly nothing else collects while the test runs
		if len(ds) > maxStored+1 {
			t.Errorf("%s: %d diagnostics are kept", name, len(ds))
		}
	}
}

// BenchmarkRead10000 reads and checks a circuit of 10,000 devices.
func BenchmarkRead10000(b *testing.B) {
	var text strings.Builder
	for i := 0; i < MaxDevices; i += 4 {
		fmt.Fprintf(&text, "S%d button\nK%d relay\nT%d on-delay 4 s\nH%d lamp amber \"Lamp %d\"\n", i, i, i, i, i)
		fmt.Fprintf(&text, "%d: (S%d.no | K%d.no) T%d.ncto -> K%d, T%d\n%d: K%d.no -> H%d\n", i+1, i, i, i, i, i, i+2, i, i)
	}
	source := []byte(text.String())
	b.SetBytes(int64(len(source)))
	for b.Loop() {
		if _, ds := Read("large", source); len(ds) > 0 {
			b.Fatal(diag.Show("large", source, ds))
		}
	}
}
