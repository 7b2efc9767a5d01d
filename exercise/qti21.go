package exercise

const (
	space21 = "http://www.imsglobal.org/xsd/imsqti_v2p1"
	test21  = "test.xml"
)

// QTI21 packs a set as a QTI 2.1 package: an assessmentItem with a choiceInteraction
// for each question, feedback for each choice, and an assessmentTest that holds them
// in order. The same set gives the same bytes. Errors are a set without questions,
// and what drawing gives.
func QTI21(set *Set) ([]byte, error) {
	b, err := newBundle(set)
	if err != nil {
		return nil, err
	}
	test := resource{"test", "imsqti_test_xmlv2p1", []string{test21}}
	list := []resource{test}
	for i := range b.asked {
		a := &b.asked[i]
		name := a.id + ".xml"
		b.files = append(b.files, file{name, a.item21()})
		list = append(list, resource{"resource-" + a.id, "imsqti_item_xmlv2p1", append([]string{name}, a.pictures()...)})
	}
	b.files = append(b.files, file{test21, b.test21()},
		file{"imsmanifest.xml", b.manifest("qti21", "QTIv2.1 Package", "1.0.0", list)})
	return packed(b.files)
}

// test21 is the assessmentTest.
func (b *bundle) test21() []byte {
	t := newTree()
	t.open("assessmentTest", "xmlns", space21, "identifier", b.identifier("test"), "title", b.set.Title)
	t.open("testPart", "identifier", "part-1", "navigationMode", "nonlinear", "submissionMode", "individual")
	t.open("assessmentSection", "identifier", "section-1", "title", b.set.Title, "visible", "true")
	for i := range b.asked {
		t.empty("assessmentItemRef", "identifier", b.asked[i].id, "href", b.asked[i].id+".xml")
	}
	t.shut(3)
	return t.Bytes()
}

// item21 is one question.
func (a *asked) item21() []byte {
	t := newTree()
	t.open("assessmentItem", "xmlns", space21, "identifier", a.id, "title", a.title(), "adaptive", "false", "timeDependent", "false")
	t.open("responseDeclaration", "identifier", "RESPONSE", "cardinality", "single", "baseType", "identifier")
	t.open("correctResponse")
	for _, o := range a.Options {
		if o.Right {
			t.leaf("value", o.Letter)
		}
	}
	t.shut(2)
	t.open("outcomeDeclaration", "identifier", "SCORE", "cardinality", "single", "baseType", "float")
	t.open("defaultValue")
	t.leaf("value", "0")
	t.shut(2)
	t.empty("outcomeDeclaration", "identifier", "FEEDBACK", "cardinality", "single", "baseType", "identifier")
	t.open("itemBody")
	t.leaf("p", a.Exercise.place())
	a.image21(t, a.circuit)
	a.image21(t, a.stem)
	t.open("choiceInteraction", "responseIdentifier", "RESPONSE", "shuffle", "false", "maxChoices", "1")
	t.leaf("prompt", a.Prompt)
	for i, o := range a.Options {
		t.open("simpleChoice", "identifier", o.Letter)
		t.empty("img", "src", a.options[i].name, "alt", o.Letter+": "+a.options[i].words)
		t.shut(1)
	}
	t.shut(2)
	a.marking21(t)
	for _, o := range a.Options {
		t.open("modalFeedback", "outcomeIdentifier", "FEEDBACK", "identifier", o.Letter, "showHide", "show")
		t.leaf("p", o.FeedbackAlone())
		t.shut(1)
	}
	t.shut(1)
	return t.Bytes()
}

func (a *asked) image21(t *tree, p picture) {
	t.open("p")
	t.empty("img", "src", p.name, "alt", p.words)
	t.shut(1)
}

// marking21 gives one mark for the right choice, and takes the choice for the name
// of its feedback.
func (a *asked) marking21(t *tree) {
	t.open("responseProcessing")
	t.open("responseCondition")
	t.open("responseIf")
	t.open("match")
	t.empty("variable", "identifier", "RESPONSE")
	t.empty("correct", "identifier", "RESPONSE")
	t.shut(1)
	t.open("setOutcomeValue", "identifier", "SCORE")
	t.leaf("baseValue", "1", "baseType", "float")
	t.shut(3)
	t.open("setOutcomeValue", "identifier", "FEEDBACK")
	t.empty("variable", "identifier", "RESPONSE")
	t.shut(2)
}
