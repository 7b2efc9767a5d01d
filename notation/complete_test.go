package notation

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/diag"
)

// completionText is the circuit that the lines below are completed in; a line
// stands in place of the mark.
const completionText = `supply 24 V dc
S0   button  "Stop"
S1   button  "Start"
S3   selector off auto hand
B1   limit
KT1  on-delay 5 s
K2   latching relay
M1   contactor
H1   lamp "Läuft"
1:  S0.nc @w6 -> M1
2:  K9.no KT1.notc -> H1
script "A"
  1 s  press S1
`

// TestComplete completes the word at the | of a line that is added to the text,
// or whose place it takes.
func TestComplete(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"|", "1 s expect end script K9 3: circuit station aim trap caution try say supply plant wire"},
		{"c|", "circuit caution"},
		{"K9 la|", "latching relay lamp"},
		{"K9 latching r|", "relay"},
		{"K9 lamp |", "amber white red green blue clear yellow orange"},
		{"K9 on-delay |", "5 s air electronic"},
		{"K9 on-delay 5|", "s ms min h"},
		{"K9 on-delay 0.5m|", "ms min"},
		{"K9 flasher starting |", "off"},
		{"K9 relay \"on|\"", ""},
		{"# c|", ""},
		{"3: |", "S0 S1 S3 B1 KT1 K2 M1 @w6 @L+ @L-"},
		{"3: s|", "S0 S1 S3"},
		{"3: KT1.|", "no nc notc ncto"},
		{"3: KT1.n|o -> H1", "no nc notc ncto"},
		{"3: KT1.nct|", "ncto"},
		{"3: S3.|", "off auto hand"},
		{"3: H1.|", ""},
		{"3: S1.no |", "S0 S1 S3 B1 KT1 K2 M1 @w6 @L+ @L- ->"},
		{"3: (K|", "KT1 K2"},
		{"3: (S1.no | K|", "KT1 K2"},
		{"3: S1.no @|", "@w6 @L+ @L-"},
		{"3: S1.no -> |", "KT1 K2 M1 H1 @w6 @L+ @L-"},
		{"3: S1.no -> KT1, K2.|", "set reset"},
		{"3: S1.no -> KT1 -> S0.|", "no nc"},
		{"1|", "s ms min h :"},
		{"1 s |", "close open press release turn set supply"},
		{"1 s press |", "S0 S1"},
		{"1 s press S1 |", "for"},
		{"1 s press S1 for |", "5 s"},
		{"1 s turn S3 |", "to"},
		{"1 s turn S3 to a|", "auto"},
		{"1 s set KT1 to |", "5 s"},
		{"1 s supply |", "off on"},
		{"end |", "5 s"},
		{"expect |", "KT1 K2 M1 H1 S0 S1 S3 B1"},
		{"expect KT1.n|", "no nc notc ncto"},
		{"expect H1 |", "on off closed open never always"},
		{"expect H1 on 1 s |", ".."},
		{"expect H1 on 1 s .. |", "end 5 s"},
		{"plant |", "B1"},
		{"plant B1 |", "closes opens"},
		{"plant B1 closes 5 s |", "after"},
		{"plant B1 closes 5 s after |", "KT1 M1 H1"},
		{"plant B1 closes 5 s after M1 s|", "starts stops"},
		{"wire |", "@w6 @L+ @L-"},
		{"supply |", "24 V dc 24 V ac"},
		{"supply 24 |", "V"},
		{"supply 24 V |", "dc ac"},
		{"supply 24 V ac |", "rails"},
		{"1 s supply off f|", "for"},
		{"1 s supply off for 2|", "s ms min h"},
		{"9 wombat |", ""},
		{"K9 wombat |", ""},
		{"3: K8.|", ""},
	} {
		text := completionText + c.line
		at := strings.LastIndex(text, "|")
		text = text[:at] + text[at+1:]
		var got []string
		for _, o := range Complete([]byte(text), at).Options {
			got = append(got, o.Text)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.line, strings.Join(got, " "), c.want)
		}
		checkCompletions(t, []byte(text), at)
	}
	text := completionText + "3: KT1.n_x -> H1"
	c := Complete([]byte(text), strings.Index(text, "_x"))
	if text[c.From:c.To] != "n_x" || len(c.Options) != 4 || c.Options[2] != (Option{"notc", "contact", "closes late"}) {
		t.Errorf("the whole word is not what is completed: %q %+v", text[c.From:c.To], c.Options)
	}
}

// checkCompletions holds what is promised of completions anywhere.
func checkCompletions(t failer, text []byte, at int) {
	c := Complete(text, at)
	if c.From < 0 || c.From > c.To || c.To > len(text) {
		t.Fatalf("completing %d of %d bytes is about %d to %d", at, len(text), c.From, c.To)
	}
	for _, o := range c.Options {
		if o.Text == "" || o.Kind == "" {
			t.Fatalf("an option says nothing: %+v", o)
		}
	}
}

// TestCompleteAnywhere completes drawn texts at any place.
func TestCompleteAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := oddText(t)
		checkCompletions(t, []byte(text), rapid.IntRange(-1, len(text)+1).Draw(t, "at"))
	})
}

// TestKinds wants every kind of the model explained, with an example that is
// read without a word.
func TestKinds(t *testing.T) {
	list := Kinds()
	if want := len(circuit.Kinds()) - 1 + len(circuit.Functions()); len(list) != want || len(abouts) != want {
		t.Fatalf("%d choices with %d explanations, want %d", len(list), len(abouts), want)
	}
	for _, k := range list {
		tag := SuggestTag(&circuit.Circuit{}, k.Example)
		if _, ds := Read("", []byte(tag+" "+k.Example+"\n")); diag.HasErrors(ds) || k.About == "" || len(k.Contacts)+len(k.Loads) == 0 {
			t.Errorf("%+v: %v", k, ds)
		}
	}
}

func TestSuggestTag(t *testing.T) {
	file, _ := Read("", []byte(completionText))
	for kind, want := range map[string]string{
		"button": "S2", "switch": "S2", "photo": "B2", "relay": "K1", "latching relay": "K1", "off-delay 5 s": "KT2",
		"contactor": "M2", "motor": "M2", "horn": "H2", "overload": "F1", "counter 5": "C1", "solenoid": "Y1", "wombat": "K1", "": "K1",
	} {
		if got := SuggestTag(file.Circuit, kind); got != want {
			t.Errorf("the next %s is %s, want %s", kind, got, want)
		}
	}
}

func TestOutline(t *testing.T) {
	text := []byte("\ufeffS1 button \"Start\" # why\r\nS3  selector off auto\r\nKT1 star-delta 5 s\r\nK2 latching relay\r\n1: K9.no -> KT1\r\n")
	file, _ := Read("", text)
	parts := Outline(file, text)
	if len(parts) != 4 {
		t.Fatalf("%d devices, want 4: %+v", len(parts), parts)
	}
	for i, want := range []string{
		"S1|button|a button|Start||press release||S1.no S1.nc||S1 button \"Start\" # why",
		"S3|selector off auto|a selector|||turn|off auto|S3.off S3.auto||S3  selector off auto",
		"KT1|star-delta 5 s|a star-delta timer||5 s 50 ms|||KT1.no KT1.nc KT1.star KT1.delta|KT1|KT1 star-delta 5 s",
		"K2|latching relay|a latching relay|||||K2.no K2.nc|K2.set K2.reset|K2 latching relay",
	} {
		p := parts[i]
		got := strings.Join([]string{p.Tag, p.Words, p.What, p.Label, strings.Join(p.Presets, " "), strings.Join(p.Hand, " "),
			strings.Join(p.Positions, " "), strings.Join(p.Contacts, " "), strings.Join(p.Loads, " "), string(text[p.At.Start:p.At.End])}, "|")
		if got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
		if string(text[p.TagAt.Start:p.TagAt.End]) != p.Tag {
			t.Errorf("%s stands elsewhere", p.Tag)
		}
	}
}
