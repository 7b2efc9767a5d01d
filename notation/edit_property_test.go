package notation

import (
	"reflect"
	"regexp"
	"sort"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/diag"
)

// oddText draws the text of a circuit with any line ends, with or without a
// mark of the byte order, and perhaps with a faulty line in it.
func oddText(t *rapid.T) string {
	text := strings.ReplaceAll(randomText(t), "\r", "")
	if rapid.Bool().Draw(t, "faulty") {
		text = "K9 realy\n9999: D0.no ( -> K9\n" + text
	}
	if rapid.Bool().Draw(t, "laid out") {
		formatted, _ := Format("", []byte(text))
		text = string(formatted)
	}
	text = strings.TrimRight(text, "\n") + rapid.SampledFrom([]string{"", "\n", "\n\n"}).Draw(t, "last")
	text = strings.ReplaceAll(text, "\n", rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "ends"))
	return rapid.SampledFrom([]string{"", "\ufeff"}).Draw(t, "mark") + text
}

// pickRung draws a rung that has a contact, and one of its contacts.
func pickRung(t *rapid.T, f *File) (rung, contact int, ok bool) {
	var with []int
	for i, r := range f.Rungs {
		if len(r.Contacts) > 0 {
			with = append(with, i)
		}
	}
	if len(with) == 0 {
		return 0, 0, false
	}
	rung = rapid.SampledFrom(with).Draw(t, "rung")
	return rung, rapid.IntRange(0, len(f.Rungs[rung].Contacts)-1).Draw(t, "contact"), true
}

var arrowGap = regexp.MustCompile(`[ \t]*(->|→)`)

// sameBytes compares two texts, but for blanks before arrows, which keep a
// column if they happen to stand in it.
func sameBytes(t failer, what, before, after string) {
	if arrowGap.ReplaceAllString(before, "$1") != arrowGap.ReplaceAllString(after, "$1") {
		t.Fatalf("%s there and back is not the same text\n%q\n%q", what, before, after)
	}
}

// tryChange makes a change that may be refused.
func tryChange(t failer, text string, ch Change) (string, bool) {
	edited, err := Edit([]byte(text), ch)
	if err != nil {
		return text, false
	}
	checkEdits(t, []byte(text), edited)
	return string(edited.Apply([]byte(text))), true
}

// TestThereAndBack draws circuits, makes a change and its opposite, and wants
// the same bytes again.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := oddText(t)
		file, _ := Read("", []byte(text))
		tag := file.Circuit.Devices[len(file.Circuit.Devices)-1].Tag
		if there, ok := tryChange(t, text, Change{Do: "rename", Tag: tag, New: "Z-9"}); ok {
			if back := apply(t, there, Change{Do: "rename", Tag: "Z-9", New: tag}); back != text {
				t.Fatalf("renaming there and back is not the same text\n%q\n%q", text, back)
			}
		}
		text = apply(t, text, Change{Do: "add-device", Tag: "Z1", Kind: "relay"})
		script := apply(t, text, Change{Do: "keep-script", Name: "Z", Text: "1 s supply off for 2 s\nend 4 s"})
		if back := apply(t, script, Change{Do: "delete-script", Name: "Z"}); strings.TrimRight(back, "\r\n") != strings.TrimRight(text, "\r\n") {
			t.Fatalf("keeping and deleting a script is not the same text\n%q\n%q", text, back)
		}
		rung, contact, ok := pickRung(t, file)
		if !ok {
			return
		}
		to := rapid.IntRange(0, len(file.Rungs)-1).Draw(t, "to")
		moved := apply(t, text, Change{Do: "move-rung", Rung: rung, To: to})
		if back := apply(t, moved, Change{Do: "move-rung", Rung: to, To: rung}); back != text {
			t.Fatalf("moving there and back is not the same text\n%q\n%q", text, back)
		}
		thereAndBack(t, text, "series", Change{Do: "series", Rung: rung, Contact: contact, New: "Z1.no",
			Before: rapid.Bool().Draw(t, "before")})
		thereAndBack(t, text, "parallel", Change{Do: "parallel", Rung: rung, Contact: contact, New: "Z1.no",
			Upto: rapid.IntRange(0, len(file.Rungs[rung].Contacts)-1).Draw(t, "upto")})
		loads := len(file.Rungs[rung].Loads)
		if there, ok := tryChange(t, text, Change{Do: "add-load", Rung: rung, New: "Z1"}); ok {
			sameBytes(t, "add-load", text, apply(t, there, Change{Do: "delete-load", Rung: rung, Load: loads}))
		}
	})
}

// thereAndBack makes a change that brings in Z1.no, and deletes that contact.
func thereAndBack(t *rapid.T, text, what string, ch Change) {
	there, ok := tryChange(t, text, ch)
	if !ok {
		return
	}
	file, _ := Read("", []byte(there))
	for i, at := range file.Rungs[ch.Rung].Contacts {
		if there[at.Start:at.End] == "Z1.no" {
			if _, ds := Read("", []byte(text)); diag.HasErrors(ds) {
				// The way there may have cured a fault that the way back is
				// refused for.
				if back, ok := tryChange(t, there, Change{Do: "delete-contact", Rung: ch.Rung, Contact: i}); ok {
					sameBytes(t, what, text, back)
				}
				return
			}
			sameBytes(t, what, text, apply(t, there, Change{Do: "delete-contact", Rung: ch.Rung, Contact: i}))
			return
		}
	}
	t.Fatalf("%s brought no contact in\n%q", what, there)
}

// sorts are all sorts of change.
func sorts() []string {
	var list []string
	for do := range changes {
		list = append(list, do)
	}
	sort.Strings(list)
	return list
}

// randomChange draws a change of a sort that fits a file, more or less.
func randomChange(t *rapid.T, f *File, do string) Change {
	small := rapid.IntRange(-2, 5)
	tag := rapid.SampledFrom(f.Circuit.Devices).Draw(t, "device").Tag
	other := rapid.SampledFrom(f.Circuit.Devices).Draw(t, "other").Tag
	part := rapid.SampledFrom([]string{"no", "nc", "tno", "notc"}).Draw(t, "part")
	ch := Change{Do: do, Tag: tag, Rung: small.Draw(t, "rung"), To: small.Draw(t, "to"), After: small.Draw(t, "after"),
		Contact: small.Draw(t, "contact"), Upto: small.Draw(t, "upto"), Load: small.Draw(t, "load"), Which: small.Draw(t, "which"),
		Kind:  rapid.SampledFrom([]string{"relay", "on-delay 5 s", "off-delay 1 s", "lamp", "switch"}).Draw(t, "kind"),
		Label: "Länge", Path: other + ".no", Loads: "N1", Declare: rapid.SampledFrom([]string{"", "N1 relay \"New\""}).Draw(t, "declare"),
		Word: rapid.SampledFrom([]string{"circuit", "station"}).Draw(t, "word"),
		Name: rapid.SampledFrom([]string{"0", "1", "Other"}).Draw(t, "name"), New: other + "." + part, Text: "3 s"}
	switch do {
	case "add-device", "rename":
		ch.Tag, ch.New = rapid.SampledFrom([]string{"N2", tag}).Draw(t, "tag"), "N3"
	case "add-load", "replace-load":
		ch.New = rapid.SampledFrom([]string{"N1", other}).Draw(t, "new")
	case "keep-script":
		ch.Text, ch.Replace = "1 s supply off\nend 2 s", rapid.SampledFrom([]string{"", "0"}).Draw(t, "replace")
	}
	return ch
}

// TestChangesKeep draws changes of every sort: what is accepted brings no new
// error, loses no remark and leaves what it is not about as it was.
func TestChangesKeep(t *testing.T) {
	accepted := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		text := oddText(t)
		file, ds := Read("", []byte(text))
		for _, do := range sorts() {
			ch := randomChange(t, file, do)
			after, ok := tryChange(t, text, ch)
			if !ok {
				continue
			}
			accepted[do] = true
			changed, now := Read("", []byte(after))
			if !diag.HasErrors(ds) && diag.HasErrors(now) {
				t.Fatalf("%+v brings an error\n%s", ch, diag.Show("", []byte(after), now))
			}
			for _, remark := range []string{"# why", "#why", "# a remark"} {
				if !strings.HasPrefix(do, "delete-") && ch.Replace == "" && strings.Count(text, remark) != strings.Count(after, remark) {
					t.Fatalf("%+v loses a remark\n%s\n%s", ch, text, after)
				}
			}
			checkModel(t, ch, file.Circuit, changed.Circuit)
		}
	})
	if len(accepted) < len(sorts())/2 {
		t.Errorf("few sorts of change were ever accepted: %v", accepted)
	}
}

// inRungs are the changes that are about rungs.
var inRungs = regexp.MustCompile(`rung|series|parallel|contact|load`)

// checkModel holds what a change must not touch against what it was.
func checkModel(t failer, ch Change, old, new *circuit.Circuit) {
	rungs := inRungs.MatchString(ch.Do)
	switch {
	case rungs && !reflect.DeepEqual(old.Scripts, new.Scripts):
		t.Fatalf("%+v changes a script", ch)
	case rungs && ch.Declare == "" && !reflect.DeepEqual(old.Devices, new.Devices):
		t.Fatalf("%+v changes a device", ch)
	case rungs && !strings.HasSuffix(ch.Do, "-rung"):
		checkOtherRungs(t, old, new, ch.Rung)
	case ch.Do == "delete-device":
		if describe(old) != describe(new) {
			t.Fatalf("%+v changes more than the devices", ch)
		}
	case !rungs && ch.Do != "kind" && !reflect.DeepEqual(old.Rungs, new.Rungs):
		t.Fatalf("%+v changes a rung", ch)
	}
}

func checkOtherRungs(t failer, old, new *circuit.Circuit, but int) {
	if len(old.Rungs) != len(new.Rungs) {
		t.Fatalf("there were %d rungs and are %d", len(old.Rungs), len(new.Rungs))
	}
	for i := range old.Rungs {
		if i != but && !reflect.DeepEqual(old.Rungs[i], new.Rungs[i]) {
			t.Fatalf("rung %d changed, not only %d", i, but)
		}
	}
}

// FuzzEdit makes any change of any text, and completes it anywhere.
func FuzzEdit(f *testing.F) {
	f.Add([]byte("S1 button\nK1 relay\n1: S1.no (K1.no | S1.nc) -> K1\nscript \"A\"\n 1 s press S1\n"), 0, 0, 1, 30, "K1", "S1.no")
	f.Add([]byte("\ufeff1: -> K1 # why\r\nK1 relay\r\n"), 9, 0, -1, 4, "K1", "K1.no")
	f.Add([]byte("KT1 star-delta 5 s \"A\"\rS2 selector a b\r1: S2.a KT1.star -> KT1"), 6, 0, 1, 12, "KT1", "6 s")
	names := sorts()
	f.Fuzz(func(t *testing.T, text []byte, do, a, b, at int, tag, word string) {
		ch := Change{Do: names[max(do, 0)%len(names)], Tag: tag, Kind: word, Label: word, Text: word, Which: b, New: word, Rung: a, To: b,
			After: a, Contact: b, Upto: b + 1, Before: a%2 == 0, Load: b, Path: word, Loads: tag, Word: word, Name: tag, Replace: ""}
		if edited, err := Edit(text, ch); err == nil {
			checkEdits(t, text, edited)
			checkText(t, edited.Apply(text))
		}
		checkCompletions(t, text, at)
	})
}
