package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/sheet"
)

func keyWords(k sheet.RunKey) string {
	text := k.Script + "\n"
	for _, l := range k.Lines {
		text += fmt.Sprintf("%s: %s", l.Signal, l.When())
		if l.Checked {
			text += " checked"
		}
		text += "\n"
	}
	return text + k.Ends
}

// The on-delay of the open text-book, "Lessons in Electric Circuits", vol. IV,
// "Time-delay relays": the lamp on a normally open, timed closed contact of 5 s.
// Its coil is on from 2 s to 20 s and from 30 s to 33 s; the times of the lamp
// follow from the stated rule.
func TestKeyOfTextbookLamp(t *testing.T) {
	_, traces := readText(t, "lamp", []byte(`circuit "On-delay lamp"
supply 24 V dc
S1   switch
KT1  on-delay 5 s
H1   lamp
1:  S1.no     -> KT1
2:  KT1.notc  -> H1
script "Long and short"
  2 s   close S1
  20 s  open S1
  30 s  close S1 for 3 s
  end 40 s
  expect H1 on 7 s .. 20 s
`))
	want := `Long and short
KT1: 2 s to 20 s; 30 s to 33 s
KT1.notc: 7 s to 20 s
H1: 7 s to 20 s checked
The run ends at 40 s.`
	if got := keyWords(sheet.KeyOf(traces[0])); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestKeyOfPulse(t *testing.T) {
	_, traces := readText(t, "flicker", []byte(flicker))
	want := `Fed
KT1: 1 s to 3 s; 3 s to the end
KT1.ncto: 0 s to 3 s; 3 s to the end
KT1.notc: at 3 s for no time
H1: at 3 s for no time checked
The run ends at 4 s.`
	if got := keyWords(sheet.KeyOf(traces[0])); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Where a run is not as expected, the key says so.
func TestKeyDiffers(t *testing.T) {
	c, traces := readText(t, "wrong", []byte(strings.Replace(flicker, "on 3 s .. 3 s", "never", 1)))
	key := sheet.KeyOf(traces[0])
	if got := key.Lines[len(key.Lines)-1]; !got.Checked || !strings.Contains(got.Differs, "never be on") {
		t.Errorf("%+v", got)
	}
	text := wordsOf(makeSet(t, c, traces, sheet.Options{Parts: []string{"key"}})[0].Pages[0])
	if !strings.Contains(text, "NO\n") || !strings.Contains(text, "KEY\n") {
		t.Error("the key does not show it")
	}
}

// Every run of the library is as its script expects, and each key names the
// trap.
func TestKeysOfLibrary(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *circuit.Circuit) {
		_, traces := libraryCircuit(t, t.Name()[strings.Index(t.Name(), "/")+1:])
		for _, run := range traces {
			for _, l := range sheet.KeyOf(run).Lines {
				if l.Differs != "" {
					t.Errorf("%s: %s", run.Script, l.Differs)
				}
			}
		}
		text := wordsOf(makeSet(t, c, traces, sheet.Options{Parts: []string{"key"}})[0].Pages[0])
		if !strings.Contains(text, "The trap\n") {
			t.Error("the key does not tell the trap")
		}
	})
}

// The key has the notes and the questions of the text.
func TestKeyTeaches(t *testing.T) {
	c, traces := libraryCircuit(t, "15")
	text := ""
	for _, p := range makeSet(t, c, traces, sheet.Options{Parts: []string{"key"}})[0].Pages {
		text += wordsOf(p)
	}
	text = strings.Join(strings.Fields(text), " ")
	for _, word := range []string{"say", "try"} {
		for _, n := range c.NotesOf(word) {
			if !strings.Contains(text, strings.Join(strings.Fields(n), " ")) {
				t.Errorf("%s is missing: %s", word, n)
			}
		}
	}
}
