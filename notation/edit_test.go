package notation

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"tarry/internal/casetest"
)

// TestEdits makes the changes of testdata/edits and holds what they do to the
// lines, or the reason why they are refused, against the files.
func TestEdits(t *testing.T) {
	names, err := filepath.Glob("testdata/edits/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatal("there are no cases")
	}
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		for _, line := range strings.Split(strings.TrimSpace(string(a.Files[1].Data)), "\n") {
			var ch Change
			d := json.NewDecoder(strings.NewReader(line))
			d.DisallowUnknownFields()
			if err := d.Decode(&ch); err != nil {
				t.Fatalf("%s: %v", line, err)
			}
			out.WriteString("> " + line + "\n" + effect(t, a.Files[0].Data, ch))
		}
		a.Files = append(a.Files[:2:2], txtar.File{Name: "effects", Data: out.Bytes()})
		casetest.Golden(t, name, txtar.Format(a))
	}
}

// effect writes the lines that a change takes away and puts in, or why it is
// refused.
func effect(t failer, text []byte, ch Change) string {
	edited, err := Edit(text, ch)
	if err != nil {
		return "refused: " + err.Error() + "\n"
	}
	checkEdits(t, text, edited)
	a, b := strings.Split(string(text), "\n"), strings.Split(string(edited.Apply(text)), "\n")
	var out strings.Builder
	// A line that stands nowhere further down went, others came.
	for len(a) > 0 || len(b) > 0 {
		switch {
		case len(a) > 0 && len(b) > 0 && a[0] == b[0]:
			a, b = a[1:], b[1:]
		case len(a) > 0 && (len(b) == 0 || !contains(b, a[0])):
			out.WriteString("- " + a[0] + "\n")
			a = a[1:]
		case len(b) > 0:
			out.WriteString("+ " + b[0] + "\n")
			b = b[1:]
		}
	}
	if edited.Select != "" {
		out.WriteString("select " + edited.Select + "\n")
	}
	return out.String()
}

func contains(lines []string, line string) bool {
	for _, l := range lines {
		if l == line {
			return true
		}
	}
	return false
}

// checkEdits holds what is promised of edits: inside the text, in order, apart
// from each other, none of them empty at both ends.
func checkEdits(t failer, text []byte, edited Edited) {
	end := -1
	for _, x := range edited.Edits {
		if x.Start <= end || x.End < x.Start || x.End > len(text) || x.Start < 0 {
			t.Fatalf("the edits are out of order or place: %+v of %d bytes", edited.Edits, len(text))
		}
		end = x.End
	}
}

// apply makes a change that must not be refused.
func apply(t failer, text string, ch Change) string {
	edited, err := Edit([]byte(text), ch)
	if err != nil {
		t.Fatalf("%+v is refused: %v\n%s", ch, err, text)
	}
	checkEdits(t, []byte(text), edited)
	return string(edited.Apply([]byte(text)))
}

// TestEditLineEnds makes one change of texts with every sort of line end.
func TestEditLineEnds(t *testing.T) {
	add := Change{Do: "add-rung", Path: "S1.no", Loads: "H1", Declare: `H1 lamp "Läuft"`}
	for _, c := range []struct{ name, before, after string }{
		{"empty", "", "H1  lamp   \"Läuft\"\n\n1:  S1.no   -> H1\n"},
		{"feeds", "S1 button\n", "S1 button\nH1 lamp   \"Läuft\"\n\n1:  S1.no   -> H1\n"},
		{"no end", "S1 button", "S1 button\nH1 lamp   \"Läuft\"\n\n1:  S1.no   -> H1"},
		{"both", "S1 button\r\n", "S1 button\r\nH1 lamp   \"Läuft\"\r\n\r\n1:  S1.no   -> H1\r\n"},
		{"returns", "S1 button\r", "S1 button\rH1 lamp   \"Läuft\"\r\r1:  S1.no   -> H1\r"},
		{"order mark", "\ufeffS1 button\n", "\ufeffS1 button\nH1 lamp   \"Läuft\"\n\n1:  S1.no   -> H1\n"},
		{"head and script", "supply 24 V dc\n\nscript \"A\"\n  end 1 s\nS1 button",
			"supply 24 V dc\n\nscript \"A\"\n  end 1 s\nS1 button\nH1 lamp   \"Läuft\"\n\n1:  S1.no   -> H1"},
	} {
		if c.name == "empty" {
			add.Path = "H1.no"
			if _, err := Edit(nil, add); err == nil || !strings.Contains(err.Error(), "H1 is a lamp") {
				t.Errorf("a lamp got a contact: %v", err)
			}
			add.Path = ""
			c.after = strings.Replace(c.after, "S1.no   ", "", 1)
		}
		if got := apply(t, c.before, add); got != c.after {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.after)
		}
		add.Path = "S1.no"
	}
	mark := "\ufeff1: -> H1\nH1 lamp\n"
	if got := apply(t, mark, Change{Do: "head", Word: "circuit", Text: "Belt"}); got != "\ufeffcircuit  \"Belt\"\n1: -> H1\nH1 lamp\n" {
		t.Errorf("the title stands before the mark: %q", got)
	}
	if got := apply(t, mark, Change{Do: "delete-rung"}); got != "\ufeffH1 lamp\n" {
		t.Errorf("the mark went with the first line: %q", got)
	}
}

// TestEditReturns moves a rung with its remark in a text with carriage returns
// only.
func TestEditReturns(t *testing.T) {
	text := "H1 lamp\rH2 lamp\r1: -> H1\r# two\r2: -> H2\r"
	want := "H1 lamp\rH2 lamp\r# two\r2: -> H2\r1: -> H1\r"
	if got := apply(t, text, Change{Do: "move-rung", Rung: 1, To: 0}); got != want {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

// TestEditColumns lets a path grow beyond its column and shrink again.
func TestEditColumns(t *testing.T) {
	text := "K1 relay\nH1 lamp\nH2 lamp\n1:  K1.no    -> H1\n2:  K1.nc    -> H2 # late\n"
	longer := apply(t, text, Change{Do: "series", New: "K1.no"})
	longest := apply(t, longer, Change{Do: "series", New: "K1.nc"})
	if want := strings.Replace(text, "K1.no    ->", "K1.no K1.nc K1.no ->", 1); longest != want {
		t.Errorf("got  %q\nwant %q", longest, want)
	}
	back := apply(t, longest, Change{Do: "delete-contact", Contact: 1})
	if back = apply(t, back, Change{Do: "delete-contact", Contact: 1}); back != text {
		t.Errorf("there and back is\n%q\n%q", back, text)
	}
}

// TestEditHiddenFault cures a fault that kept the reader from seeing another
// one, which is no reason to refuse.
func TestEditHiddenFault(t *testing.T) {
	text := "K1 relay\nH1 lamp\n1: K9.no -> K1\n2: @x K1.no -> H1\n"
	cured := apply(t, text, Change{Do: "replace-contact", New: "K1.nc"})
	_, err := Edit([]byte("K1 relay\nH1 lamp\n1: K1.nc -> K1\n"), Change{Do: "add-rung", Path: "@x K1.no", Loads: "H1"})
	if err == nil || !strings.Contains(err.Error(), "no way to") {
		t.Errorf("a dead rung was added: %v", err)
	}
	if want := strings.Replace(text, "K9.no", "K1.nc", 1); cured != want {
		t.Errorf("got %q", cured)
	}
}

// TestScriptText writes every script of the library and reads it back.
func TestScriptText(t *testing.T) {
	paths, err := filepath.Glob("../library/*.tarry")
	if err != nil || len(paths) == 0 {
		t.Fatal("there is no library")
	}
	for _, path := range append(paths, "testdata/edits/bare.txtar") {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if a := txtar.Parse(text); len(a.Files) > 0 {
			text = a.Files[0].Data
		}
		file, _ := Read(path, text)
		for _, s := range file.Circuit.Scripts {
			replaced := apply(t, string(text), Change{Do: "keep-script", Name: s.Name, Replace: s.Name, Text: ScriptText(file.Circuit, &s)})
			after, _ := Read(path, []byte(replaced))
			sameModel(t, file.Circuit, after.Circuit)
			kept := apply(t, string(text), Change{Do: "keep-script", Name: "A copy", Text: ScriptText(file.Circuit, &s)})
			if back := apply(t, kept, Change{Do: "delete-script", Name: "A copy"}); back != string(text) {
				t.Fatalf("%s: keeping and deleting a script leaves\n%s", path, back)
			}
		}
	}
}
