package exercise

// QTI is the open format of IMS Global (now 1EdTech) in which test systems
// exchange questions: a zip with a manifest of IMS Content Packaging, and either an
// XML file for each question (version 2.1) or one for all (version 1.2). Names of
// elements, attributes, namespaces and resource types are written here from memory
// of the published specifications: QTI 2.1 "Assessment Test, Section and Item
// Information Model" with its XML binding, QTI 1.2 "ASI XML Binding", Content
// Packaging 1.1.
//
// A question is a circuit's drawing, the chart of what is given, and charts to
// choose from, each a picture with its meaning in words beside it (alt, or a
// text), so that it can be answered without seeing.

import (
	"fmt"
	"strings"

	"tarry/page"
	"tarry/page/png"
)

// Set is a list of questions for one package.
type Set struct {
	Title     string
	Code      string // names the package; as Code returns it
	Questions []*Question
	// Draw turns a page into a picture and returns it with the ending of its file's
	// name, ".png" or ".svg". nil paints PNG files of 900 pixels' width.
	Draw func(*page.Page) (data []byte, ending string, err error)
}

// paint is what Set.Draw is if it is nil.
func paint(p *page.Page) ([]byte, string, error) {
	r, err := png.Encode(p, png.Options{Width: 900, White: true})
	return r.Bytes, ".png", err
}

// picture is a picture within a package and what it shows in words.
type picture struct{ name, words string }

// asked is a question with its pictures.
type asked struct {
	*Question
	id      string
	circuit picture
	stem    picture
	options []picture
}

// bundle is a package in the making.
type bundle struct {
	set   *Set
	files []file
	asked []asked
}

// Errors of the packages: a set without questions, and what drawing gives.
func newBundle(set *Set) (*bundle, error) {
	if len(set.Questions) == 0 {
		return nil, fmt.Errorf("exercise: there are no questions to pack: make some first")
	}
	b := &bundle{set: set}
	for i, q := range set.Questions {
		a := asked{Question: q, id: fmt.Sprintf("question-%03d", i+1)}
		var err error
		if a.circuit, err = b.drawing(a.id, q); err != nil {
			return nil, err
		}
		stem, err := q.Stem()
		if err != nil {
			return nil, err
		}
		stem.Description = "What is given: " + ScriptWords(q.Exercise.Circuit, q.Exercise.Script) + "."
		if a.stem, err = b.picture(a.id+"-given", stem); err != nil {
			return nil, err
		}
		for k := range q.Options {
			p, err := q.Picture(&q.Options[k])
			if err != nil {
				return nil, err
			}
			shown, err := b.picture(a.id+"-"+q.Options[k].Letter, p)
			if err != nil {
				return nil, err
			}
			a.options = append(a.options, shown)
		}
		b.asked = append(b.asked, a)
	}
	b.files = append(b.files, file{readMe, b.readMe()})
	return b, nil
}

// drawing adds the circuit's drawing; of one on several pages, the first.
func (b *bundle) drawing(id string, q *Question) (picture, error) {
	p := q.Drawing()
	p.Description = "The circuit, as text: " + q.Exercise.circuitWords()
	return b.picture(id+"-circuit", p)
}

// place says which circuit it is, and where it stands.
func (e *Exercise) place() string {
	words := strings.TrimSuffix(e.Title, ".") + "."
	if e.Title == "" {
		words = "A circuit."
	}
	if e.Station != "" {
		words += " Station " + e.Station + "."
	}
	return words
}

// circuitWords is the exercise's text up to its script, in one line.
func (e *Exercise) circuitWords() string {
	text, _, _ := strings.Cut(string(e.Text), "\nscript ")
	var lines []string
	for line := range strings.Lines(text) {
		if words := strings.Join(strings.Fields(line), " "); words != "" {
			lines = append(lines, words)
		}
	}
	return strings.Join(lines, "; ")
}

func (b *bundle) picture(name string, p *page.Page) (picture, error) {
	draw := b.set.Draw
	if draw == nil {
		draw = paint
	}
	data, ending, err := draw(p)
	if err != nil {
		return picture{}, fmt.Errorf("exercise: a picture can't be drawn: %w", err)
	}
	if ending != ".png" && ending != ".svg" {
		return picture{}, fmt.Errorf("exercise: a picture can't end in %q: draw .png or .svg", ending)
	}
	name = "images/" + name + ending
	b.files = append(b.files, file{name, data})
	return picture{name, page.Clean(p.Description)}, nil
}

// title is what a question is called in lists.
func (a *asked) title() string {
	e := a.Exercise
	return strings.TrimSpace(fmt.Sprintf("%s (%s %d)", e.Title, e.Code, e.Number))
}

// pictures lists the question's picture files.
func (a *asked) pictures() []string {
	names := []string{a.circuit.name, a.stem.name}
	for _, p := range a.options {
		names = append(names, p.name)
	}
	return names
}

// identifier is the package's name: letters, digits and hyphens behind a letter.
func (b *bundle) identifier(version string) string {
	id := "tarry-" + version
	if code, err := Code(b.set.Code); err == nil {
		id += "-" + code
	}
	return id
}

// readMe is the page that says what should be seen.
const readMe = "what-you-should-see.html"

func (b *bundle) readMe() []byte {
	t := &tree{}
	t.WriteString("<!DOCTYPE html>\n")
	t.open("html", "xmlns", "http://www.w3.org/1999/xhtml", "lang", "en-GB")
	t.open("head")
	t.empty("meta", "charset", "utf-8")
	t.leaf("title", b.set.Title+": what you should see")
	t.shut(1)
	t.open("body")
	t.leaf("h1", b.set.Title)
	t.leaf("p", fmt.Sprintf("This package holds %s with one right answer each. When it is in your test system, look at the first one before you let anybody else:",
		plural(len(b.asked), "question", "questions")))
	t.open("ol")
	for _, words := range []string{
		"The list shows every title below, once.",
		"The question shows the drawing of a circuit, then a chart of what hands and coils do, then the choices.",
		fmt.Sprintf("The first question has %s, each a chart whose lines end in the choice's letter.", plural(len(b.asked[0].options), "choice", "choices")),
		"A wrong choice gives words that begin with “You seem to”, and no marks. The right one gives “That is right.” and the full mark.",
		"If the pictures are missing, import the whole zip file and not the XML file alone. If the words are missing, switch feedback on in your system.",
		"If your system shuffles choices, switch that off: the letters on the charts would not agree with its own.",
	} {
		t.leaf("li", words)
	}
	t.shut(1)
	t.leaf("h2", "The questions")
	t.open("ol")
	for i := range b.asked {
		t.leaf("li", fmt.Sprintf("%s: %s", b.asked[i].title(), plural(len(b.asked[i].options), "choice", "choices")))
	}
	t.shut(3)
	return t.Bytes()
}

// resource is a line of the manifest: files, of which the first is what it is about.
type resource struct {
	id, kind string
	files    []string
}

// manifest writes imsmanifest.xml. It lists every file but itself.
func (b *bundle) manifest(version, schema, schemaVersion string, list []resource) []byte {
	t := newTree()
	t.open("manifest", "xmlns", "http://www.imsglobal.org/xsd/imscp_v1p1", "identifier", b.identifier(version))
	t.open("metadata")
	t.leaf("schema", schema)
	t.leaf("schemaversion", schemaVersion)
	t.shut(1)
	t.empty("organizations")
	t.open("resources")
	for _, r := range append(list, resource{"read-me", "webcontent", []string{readMe}}) {
		t.open("resource", "identifier", r.id, "type", r.kind, "href", r.files[0])
		for _, name := range r.files {
			t.empty("file", "href", name)
		}
		t.shut(1)
	}
	t.shut(2)
	return t.Bytes()
}
