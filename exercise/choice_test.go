package exercise

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tarry/engine"
	"tarry/library"
	"tarry/misread"
	"tarry/page"
	"tarry/page/svg"
)

func TestChoices(t *testing.T) {
	firsts := map[string]int{}
	each(t, 60, func(v *Level, list []Exercise) {
		for i := range list {
			q, err := Choices(&list[i], ChoiceOptions{})
			if err != nil || len(q.Options) != 4 {
				t.Fatalf("%s %d: %v", v.Name, i, err)
			}
			choose(t, q)
			for _, o := range q.Options {
				if o.Right {
					firsts[o.Letter]++
				}
			}
		}
	})
	for _, letter := range []string{"A", "B", "C", "D"} {
		if n := firsts[letter]; n < 40 || n > 110 {
			t.Errorf("of 300 questions %d are right at %s", n, letter)
		}
	}
}

// choose looks at a question from outside.
func choose(t *testing.T, q *Question) {
	t.Helper()
	e := q.Exercise
	right := 0
	for i, o := range q.Options {
		if o.Letter != string(rune('A'+i)) || o.Feedback == "" || len(o.Lines) != len(e.Asked) || o.Right != (len(o.IDs) == 0) {
			t.Errorf("%+v", o)
		}
		if o.Right {
			right++
		}
		for _, id := range append([]string{}, o.IDs...) {
			p, err := misread.Run(e.Circuit, e.Script, engine.Options{}, id)
			if err != nil {
				t.Fatal(err)
			}
			for k, s := range e.signals() {
				if lineOf(p.Edges(s), p.End).key() != lineOf(o.Lines[k].Levels, p.End).key() {
					t.Errorf("%s: the line of %s is not that of %s", o.Letter, e.Asked[k], id)
				}
			}
		}
		for _, other := range q.Options[:i] {
			most := s * 0
			for k := range o.Lines {
				end := e.Script.End
				most = max(most, sampled(lineOf(o.Lines[k].Levels, end), lineOf(other.Lines[k].Levels, end), end))
			}
			if most < 2*square {
				t.Errorf("%s and %s differ for %v", o.Letter, other.Letter, most)
			}
		}
	}
	if right != 1 {
		t.Errorf("%d options are right", right)
	}
}

func TestChoicesErrors(t *testing.T) {
	list, _ := Make("chain", "A", 1)
	if _, err := Choices(&list[0], ChoiceOptions{IDs: []string{"M99"}}); err == nil || !strings.Contains(err.Error(), "M01 to M20") {
		t.Error(err)
	}
	if _, err := Choices(&list[0], ChoiceOptions{IDs: []string{"M12"}}); err == nil || !strings.Contains(err.Error(), "ask for other rows") {
		t.Error(err)
	}
}

// hostile is a set whose words would break XML that is written carelessly.
func hostile(t *testing.T) *Set {
	t.Helper()
	set := &Set{Title: "A & B <i>\"'\x01 ü ]]>", Code: "SPRING-07",
		Draw: func(p *page.Page) ([]byte, string, error) { return svg.Encode(p, svg.Options{}), ".svg", nil }}
	each(t, 2, func(_ *Level, list []Exercise) {
		for i := range list {
			q, err := Choices(&list[i], ChoiceOptions{})
			if err != nil {
				t.Fatal(err)
			}
			set.Questions = append(set.Questions, q)
		}
	})
	set.Questions[0].Exercise.Title = "Start & \"stop\" <b>"
	set.Questions[0].Options[0].Feedback = "1 < 2 & 3 > 2"
	return set
}

func TestPackages(t *testing.T) {
	for version, pack := range map[string]func(*Set) ([]byte, error){"2.1": QTI21, "1.2": QTI12} {
		set := hostile(t)
		data, err := pack(set)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := pack(hostile(t))
		if !bytes.Equal(data, again) {
			t.Errorf("%s: a second package has other bytes", version)
		}
		files := unzipped(t, data)
		ids, listed, used := map[string]bool{}, map[string]bool{}, map[string]bool{}
		for name, text := range files {
			switch path.Ext(name) {
			case ".xml", ".html", ".svg":
				readXML(t, version, name, text, ids, listed, used)
			default:
				t.Errorf("%s: what is %s?", version, name)
			}
		}
		if len(listed) != len(files)-1 {
			t.Errorf("%s: the manifest lists %d of %d files", version, len(listed), len(files)-1)
		}
		for name := range files {
			if name != "imsmanifest.xml" && !listed[name] {
				t.Errorf("%s: the manifest doesn't list %s", version, name)
			}
			if strings.HasPrefix(name, "images/") && !used[name] {
				t.Errorf("%s: no question shows %s", version, name)
			}
		}
		for _, names := range []map[string]bool{listed, used} {
			for name := range names {
				if files[name] == nil {
					t.Errorf("%s: %s is not there", version, name)
				}
			}
		}
	}
}

func unzipped(t *testing.T, data []byte) map[string][]byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	last := ""
	for _, f := range r.File {
		if f.Name <= last || f.Modified.UTC().Year() != 2000 {
			t.Errorf("%s stands behind %s, of %v", f.Name, last, f.Modified)
		}
		last = f.Name
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		files[f.Name], _ = io.ReadAll(in)
	}
	return files
}

var ncName = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_.-]*$`)

// declares are the attributes by which an element gets its name; an identifier in
// other elements refers to one.
var declares = []string{"manifest", "resource", "assessmentTest", "testPart", "assessmentSection", "assessmentItem",
	"responseDeclaration", "outcomeDeclaration", "simpleChoice", "assessment", "section", "item", "response_lid", "response_label", "itemfeedback"}

func readXML(t *testing.T, version, name string, text []byte, ids, listed, used map[string]bool) {
	t.Helper()
	if strings.HasSuffix(name, ".html") {
		text = bytes.TrimPrefix(text, []byte("<!DOCTYPE html>\n"))
	}
	d := xml.NewDecoder(bytes.NewReader(text))
	item := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: %s: %v", version, name, err)
			return
		}
		e, is := token.(xml.StartElement)
		if !is || strings.HasPrefix(name, "images/") {
			continue
		}
		for _, a := range e.Attr {
			switch key := a.Name.Local; {
			case (key == "identifier" || key == "ident") && slices.Contains(declares, e.Name.Local):
				if e.Name.Local == "item" {
					item = a.Value
				}
				place := name + " " + item + " " + a.Value // names hold within a file and an item
				if e.Name.Local == "resource" || e.Name.Local == "assessmentItem" || e.Name.Local == "response_label" || e.Name.Local == "item" {
					place = e.Name.Local + " " + a.Value // and these everywhere
				}
				if !ncName.MatchString(a.Value) || ids[place] {
					t.Errorf("%s: %s: %s %q is no name of its own", version, name, e.Name.Local, a.Value)
				}
				ids[place] = true
			case e.Name.Local == "file" && key == "href":
				if listed[a.Value] {
					t.Errorf("%s: %s is listed twice", version, a.Value)
				}
				listed[a.Value] = true
			case key == "href" || key == "src" || key == "uri":
				used[a.Value] = true
			}
		}
	}
}

// TestItem21 reads one question back: the right choice and what each one says.
func TestItem21(t *testing.T) {
	set := hostile(t)
	data, err := QTI21(set)
	if err != nil {
		t.Fatal(err)
	}
	files := unzipped(t, data)
	for i, q := range set.Questions {
		var item struct {
			Title   string     `xml:"title,attr"`
			Correct string     `xml:"responseDeclaration>correctResponse>value"`
			Choices []choice21 `xml:"itemBody>choiceInteraction>simpleChoice"`
			Says    []choice21 `xml:"modalFeedback"`
		}
		if err := xml.Unmarshal(files[fmt.Sprintf("question-%03d.xml", i+1)], &item); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(item.Title, q.Exercise.Title) || len(item.Choices) != len(q.Options) || len(item.Says) != len(q.Options) {
			t.Errorf("%+v", item)
		}
		for k, o := range q.Options {
			if (item.Correct == o.Letter) != o.Right || item.Choices[k].ID != o.Letter || item.Says[k].ID != o.Letter || item.Says[k].Words != o.FeedbackAlone() {
				t.Errorf("%+v is not %+v", item, o)
			}
		}
	}
}

type choice21 struct {
	ID    string `xml:"identifier,attr"`
	Words string `xml:"p"`
}

func TestPackageErrors(t *testing.T) {
	if _, err := QTI21(&Set{}); err == nil || !strings.Contains(err.Error(), "make some first") {
		t.Error(err)
	}
	set := hostile(t)
	set.Draw = func(*page.Page) ([]byte, string, error) { return nil, "", errors.New("no ink") }
	if _, err := QTI12(set); err == nil || !strings.Contains(err.Error(), "no ink") {
		t.Error(err)
	}
	set.Draw = func(*page.Page) ([]byte, string, error) { return nil, ".gif", nil }
	if _, err := QTI12(set); err == nil || !strings.Contains(err.Error(), ".gif") {
		t.Error(err)
	}
}

// TestPictures: what is painted without being asked, and from the library too.
func TestPictures(t *testing.T) {
	x, _ := library.Find("5")
	list, err := Vary(x.Name, x.Text, "A", 1, VaryOptions{Asked: []string{"KT1", "H1"}})
	if err != nil {
		t.Fatal(err)
	}
	q, err := Choices(&list[0], ChoiceOptions{Wrong: 2})
	if err != nil || len(q.Options) != 3 {
		t.Fatal(err)
	}
	data, err := QTI21(&Set{Title: "Dabs", Questions: []*Question{q}})
	if err != nil {
		t.Fatal(err)
	}
	files := unzipped(t, data)
	for _, name := range []string{"circuit", "given", "A", "B", "C"} {
		if !bytes.HasPrefix(files["images/question-001-"+name+".png"], []byte("\x89PNG")) {
			t.Errorf("there is no picture %s", name)
		}
	}
}

// TestPressesGoStraightDown: the ticks of what is given and of all options stand
// below each other.
func TestPressesGoStraightDown(t *testing.T) {
	ticks := func(p *page.Page, err error) []page.Unit {
		if err != nil {
			t.Fatal(err)
		}
		var list []page.Unit
		for _, e := range p.Elements {
			if b := e.Shape.Bounds(); e.Shows.Class == "axis" && b.Width() == 0 {
				list = append(list, b.Min.X)
			}
		}
		return list
	}
	each(t, 3, func(v *Level, list []Exercise) {
		for i := range list {
			q, err := Choices(&list[i], ChoiceOptions{})
			if err != nil {
				t.Fatal(err)
			}
			want := ticks(q.Stem())
			for k := range q.Options {
				if got := ticks(q.Picture(&q.Options[k])); !slices.Equal(got, want) {
					t.Errorf("%s %d: ticks at %v, those of the given rows at %v", v.Name, i, got, want)
				}
			}
		}
	})
}

// TestDrawing: the drawing of a question is the one in the package.
func TestDrawing(t *testing.T) {
	set := hostile(t)
	data, err := QTI21(set)
	if err != nil {
		t.Fatal(err)
	}
	drawn := svg.Encode(set.Questions[0].Drawing(), svg.Options{})
	_, shapes, _ := bytes.Cut(drawn, []byte("</desc>"))
	_, packed, _ := bytes.Cut(unzipped(t, data)["images/question-001-circuit.svg"], []byte("</desc>"))
	if len(shapes) == 0 || !bytes.Equal(shapes, packed) {
		t.Error("the package shows another drawing")
	}
}
