package tarry

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"tarry/notation"
)

// DeskEdit is a stretch of the text and what takes its place.
type DeskEdit struct {
	From int    `json:"from"`
	To   int    `json:"to"`
	Text string `json:"text"`
}

// DeskEdited is what a change on the picture means in the text, or why it is
// not possible.
type DeskEdited struct {
	Edits   []DeskEdit `json:"edits"`
	Select  string     `json:"select"`
	Refused string     `json:"refused"`
}

// Edit turns a change on the picture into one of the text that is given. A
// change that can't be made is no error: Refused says why.
func (d *Desk) Edit(text []byte, ch notation.Change) (out DeskEdited, err error) {
	defer guard(Source{d.source.Name, text}, &err)
	out.Edits = []DeskEdit{}
	edited, refusal := notation.Edit(text, ch)
	if refusal != nil {
		out.Refused = sentence(refusal.Error())
		return out, nil
	}
	u := newPlaces(text)
	for _, e := range edited.Edits {
		out.Edits = append(out.Edits, DeskEdit{u.out(e.Start), u.out(e.End), e.Text})
	}
	out.Select = edited.Select
	return out, nil
}

// sentence begins a message with a capital, unless a tag stands there.
func sentence(words string) string {
	first, _, _ := strings.Cut(words, " ")
	if strings.ContainsFunc(first, func(r rune) bool { return !unicode.IsLower(r) }) {
		return words
	}
	r, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(r)) + words[size:]
}

// DeskCompletions is what may stand in place of a stretch of the text.
type DeskCompletions struct {
	From    int          `json:"from"`
	To      int          `json:"to"`
	Options []DeskOption `json:"options"`
}

// DeskOption is one completion.
type DeskOption struct {
	Text  string `json:"text"`
	Kind  string `json:"kind"`
	About string `json:"about"`
}

// Complete says what may stand at a place of the text that is given.
func (d *Desk) Complete(text []byte, at int) (out DeskCompletions, err error) {
	defer guard(Source{d.source.Name, text}, &err)
	u := newPlaces(text)
	found := notation.Complete(text, u.in(at))
	out = DeskCompletions{From: u.out(found.From), To: u.out(found.To), Options: []DeskOption{}}
	for _, o := range found.Options {
		out.Options = append(out.Options, DeskOption{o.Text, o.Kind, o.About})
	}
	return out, nil
}

// DeskFormatted is a text laid out, or why it can't be.
type DeskFormatted struct {
	Text    string `json:"text"`
	Refused string `json:"refused"`
}

// Format lays out the text that is given; one with faulty lines stays.
func (d *Desk) Format(text []byte) (out DeskFormatted, err error) {
	made, err := Format(Source{d.source.Name, text})
	if err != nil {
		return out, err
	}
	out.Text = string(made.Text)
	if made.Errors {
		out.Text, out.Refused = string(text), "A line that is not understood can't be laid out. Put it right first."
	}
	return out, nil
}

// Suggest returns the next free tag for a kind of device.
func (d *Desk) Suggest(kind string) (tag string, err error) {
	defer guard(d.source, &err)
	return notation.SuggestTag(d.file.Circuit, kind), nil
}

// DeskScripted is what hands did so far, as a script.
type DeskScripted struct {
	Lines  []string `json:"lines"`
	Script string   `json:"script"`
}
