package exercise

// questions12 is the file that holds all questions.
const questions12 = "questions.xml"

// QTI12 packs a set as a QTI 1.2 package: one assessment with an item for each
// question, a response_lid with its choices, and itemfeedback for each choice. The
// same set gives the same bytes. Errors are those of QTI21.
func QTI12(set *Set) ([]byte, error) {
	b, err := newBundle(set)
	if err != nil {
		return nil, err
	}
	t := newTree()
	t.open("questestinterop")
	t.open("assessment", "ident", b.identifier("qti12"), "title", set.Title)
	t.open("section", "ident", "section-1")
	names := []string{questions12}
	for i := range b.asked {
		b.asked[i].item12(t)
		names = append(names, b.asked[i].pictures()...)
	}
	t.shut(3)
	b.files = append(b.files, file{questions12, t.Bytes()},
		file{"imsmanifest.xml", b.manifest("qti12", "IMS Content", "1.1.3", []resource{{"questions", "imsqti_xmlv1p2", names}})})
	return packed(b.files)
}

// item12 is one question.
func (a *asked) item12(t *tree) {
	t.open("item", "ident", a.id, "title", a.title())
	t.open("itemmetadata")
	t.open("qtimetadata")
	for _, f := range [][2]string{{"question_type", "multiple_choice_question"}, {"points_possible", "1"}} {
		t.open("qtimetadatafield")
		t.leaf("fieldlabel", f[0])
		t.leaf("fieldentry", f[1])
		t.shut(1)
	}
	t.shut(2)
	t.open("presentation")
	t.open("material")
	t.leaf("mattext", a.Exercise.place()+" "+a.Prompt, "texttype", "text/plain")
	a.image12(t, a.circuit)
	a.image12(t, a.stem)
	t.shut(1)
	t.open("response_lid", "ident", "RESPONSE", "rcardinality", "Single")
	t.open("render_choice", "shuffle", "No")
	for i, o := range a.Options {
		t.open("response_label", "ident", a.label(o))
		t.open("material")
		t.leaf("mattext", o.Letter+": "+a.options[i].words, "texttype", "text/plain")
		a.image12(t, a.options[i])
		t.shut(2)
	}
	t.shut(3)
	a.marking12(t)
	for _, o := range a.Options {
		t.open("itemfeedback", "ident", "feedback-"+o.Letter, "view", "Candidate")
		t.open("material")
		t.leaf("mattext", o.FeedbackAlone(), "texttype", "text/plain")
		t.shut(2)
	}
	t.shut(1)
}

// label names a choice; in one file with the others it needs the question's name.
func (a *asked) label(o Option) string { return a.id + "-" + o.Letter }

func (a *asked) image12(t *tree, p picture) {
	t.empty("matimage", "imagtype", typeOf(p.name), "uri", p.name, "label", p.words)
}

// marking12 gives one mark for the right choice, and each its feedback.
func (a *asked) marking12(t *tree) {
	t.open("resprocessing")
	t.open("outcomes")
	t.empty("decvar", "varname", "SCORE", "vartype", "Integer", "defaultval", "0", "minvalue", "0", "maxvalue", "1")
	t.shut(1)
	for _, o := range a.Options {
		t.open("respcondition", "continue", "Yes")
		t.open("conditionvar")
		t.leaf("varequal", a.label(o), "respident", "RESPONSE")
		t.shut(1)
		if o.Right {
			t.leaf("setvar", "1", "action", "Set", "varname", "SCORE")
		}
		t.empty("displayfeedback", "feedbacktype", "Response", "linkrefid", "feedback-"+o.Letter)
		t.shut(1)
	}
	t.shut(1)
}
