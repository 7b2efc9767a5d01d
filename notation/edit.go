package notation

// An edit never prints the circuit anew. It finds the few bytes that a change
// of the picture means in the text, and leaves all others where they are. What
// comes of it is read again before it is handed out: a change that would bring
// a new error is refused in that error's words. So each change below only
// looks after its own reasons to say no; the reader knows the rest.
//
//	edit.go         the change, the check, what all changes share
//	edit_line.go    inserting and deleting lines, keeping columns
//	edit_rung.go    whole rungs and their loads
//	edit_path.go    contacts within a path
//	edit_device.go  device lines, tags, heads
//	edit_script.go  scripts

import (
	"errors"
	"fmt"
	"sort"
	"strings"

	"tarry/circuit"
	"tarry/diag"
)

// Change is one change of a circuit as a hand makes it on the picture. Do says
// which; the other fields are those that it needs, the rest are not looked at.
//
//	add-device      Tag, Kind ("on-delay 5 s"), Label
//	delete-device   Tag
//	rename          Tag, New
//	label           Tag, Text ("" takes the label away)
//	preset          Tag, Which (0 or 1), Text ("6 s")
//	kind            Tag, Kind
//	add-rung        After, Path ("" for none), Loads ("H1, M1")
//	move-rung       Rung, To
//	delete-rung     Rung
//	series          Rung, Contact (-1: at the end of the path), Before, New
//	parallel        Rung, Contact, Upto, New
//	replace-contact Rung, Contact, New
//	delete-contact  Rung, Contact
//	add-load        Rung, New
//	replace-load    Rung, Load, New
//	delete-load     Rung, Load
//	head            Word (circuit or station), Text ("" takes the line away)
//	keep-script     Name, Text (lines of the notation), Replace
//	delete-script   Name
//	rename-script   Name, New
type Change struct {
	Do string `json:"do"`
	// Tag names a device that is there, or the new one.
	Tag   string `json:"tag,omitempty"`
	Kind  string `json:"kind,omitempty"`
	Label string `json:"label,omitempty"`
	Text  string `json:"text,omitempty"`
	Which int    `json:"which,omitempty"`
	New   string `json:"new,omitempty"`
	// Rung and To are places in File.Rungs; After is the place of the rung that
	// the new one follows, -1 for none, and -2 or beyond the last for the last.
	Rung  int `json:"rung,omitempty"`
	To    int `json:"to,omitempty"`
	After int `json:"after,omitempty"`
	// Contact and Upto are places in RungSource.Contacts, Load is one in
	// RungSource.Loads. An Upto before Contact means Contact alone.
	Contact int    `json:"contact,omitempty"`
	Upto    int    `json:"upto,omitempty"`
	Before  bool   `json:"before,omitempty"`
	Load    int    `json:"load,omitempty"`
	Path    string `json:"path,omitempty"`
	Loads   string `json:"loads,omitempty"`
	Word    string `json:"word,omitempty"`
	Name    string `json:"name,omitempty"`
	Replace string `json:"replace,omitempty"`
	// Declare is a device line that the change needs; it is added with it, ""
	// for none.
	Declare string `json:"declare,omitempty"`
}

// TextEdit replaces the bytes of a text from Start up to End by Text.
type TextEdit struct {
	Start int    `json:"start"`
	End   int    `json:"end"`
	Text  string `json:"text"`
}

// Edited is what a change means in the text. The edits are in order, don't
// touch each other, and count in bytes of the text before all of them. Select
// is what to look at afterwards: a tag, a contact such as KT1.notc, "rung 3",
// or "" for nothing.
type Edited struct {
	Edits  []TextEdit `json:"edits"`
	Select string     `json:"select,omitempty"`
}

// Apply returns the text with the edits made.
func (e Edited) Apply(text []byte) []byte {
	var out []byte
	last := 0
	for _, x := range e.Edits {
		out = append(out, text[last:x.Start]...)
		out = append(out, x.Text...)
		last = x.End
	}
	return append(out, text[last:]...)
}

// Edit works out what a change means in the text. Everything else in the text
// stays byte for byte, remarks and spacing included. The error is for the
// user: why it cannot be done, and the way out.
func Edit(text []byte, ch Change) (Edited, error) {
	if len(text) > MaxBytes {
		return Edited{}, errors.New("the text is larger than 1 MiB. Split it into several files first")
	}
	do := changes[ch.Do]
	if do == nil {
		return Edited{}, refuse("there is no change called %q", shorten(ch.Do))
	}
	e := newEditor(text)
	if ch.Declare != "" {
		if err := e.declare(ch.Declare); err != nil {
			return Edited{}, err
		}
	}
	if err := do(e, &ch); err != nil {
		return Edited{}, err
	}
	out := Edited{Edits: tidy(e.edits), Select: e.selected}
	after := newEditor(out.Apply(text))
	if d := e.worse(after, ch.Do == "rename"); d != nil {
		return Edited{}, refuse("that would put a fault into the text: %v", sentence(d))
	}
	return out, nil
}

var changes map[string]func(*editor, *Change) error

func init() {
	changes = map[string]func(*editor, *Change) error{
		"add-device": (*editor).addDevice, "delete-device": (*editor).deleteDevice,
		"rename": (*editor).rename, "label": (*editor).label, "preset": (*editor).preset,
		"kind": (*editor).kind, "head": (*editor).head,
		"add-rung": (*editor).addRung, "move-rung": (*editor).moveRung, "delete-rung": (*editor).deleteRung,
		"add-load": (*editor).addLoad, "replace-load": (*editor).replaceLoad, "delete-load": (*editor).deleteLoad,
		"series": (*editor).series, "parallel": (*editor).parallel,
		"replace-contact": (*editor).replaceContact, "delete-contact": (*editor).deleteContact,
		"keep-script": (*editor).keepScript, "delete-script": (*editor).deleteScript,
		"rename-script": (*editor).renameScript,
	}
}

// editor is a text with what it means, and the edits gathered so far.
type editor struct {
	text     string // with line feeds; the places are those of the given text
	nl       string // the line end of the given text
	tree     *tree
	file     *File
	faults   []diag.Diagnostic
	edits    []TextEdit
	selected string
	columns  [2]map[int]int // by anchor: how many lines have it where, when asked
}

func newEditor(text []byte) *editor {
	r := &reporter{}
	e := &editor{text: lineEnds(cut(text, r)), nl: "\n"}
	switch i := strings.IndexAny(string(text), "\r\n"); {
	case i < 0 || text[i] == '\n':
	case strings.HasPrefix(string(text[i:]), "\r\n"):
		e.nl = "\r\n"
	case !strings.Contains(string(text), "\n"):
		e.nl = "\r"
	}
	e.tree = parse(e.text, r)
	e.file = lower("", e.tree, r)
	e.faults = r.result(len(e.text))
	return e
}

func refuse(format string, args ...any) error { return fmt.Errorf(format, args...) }

// sentence turns a diagnostic into an error for the user.
func sentence(d *diag.Diagnostic) error {
	if d.Detail == "" {
		return errors.New(d.Summary)
	}
	return errors.New(d.Summary + ". " + d.Detail)
}

// replace gathers one edit.
func (e *editor) replace(start, end int, text string) {
	e.edits = append(e.edits, TextEdit{start, end, text})
}

// tidy brings edits into order, what is inserted at a place before what is
// replaced from there on, and joins those that touch.
func tidy(edits []TextEdit) []TextEdit {
	sort.SliceStable(edits, func(i, j int) bool {
		a, b := edits[i], edits[j]
		return a.Start < b.Start || a.Start == b.Start && a.End < b.End
	})
	out := []TextEdit{}
	for _, x := range edits {
		if n := len(out); n > 0 && out[n-1].End == x.Start {
			out[n-1].End = x.End
			out[n-1].Text += x.Text
			continue
		}
		out = append(out, x)
	}
	return out
}

// worse returns an error that the text has after the edits but had not before.
// After a renaming, faults are told by their codes, for the tag stands in
// their words. What concerns the wiring as a whole is no new fault where the
// reader could not look at it before.
func (e *editor) worse(after *editor, renamed bool) *diag.Diagnostic {
	key := func(d *diag.Diagnostic) string {
		if renamed {
			return d.Code
		}
		return d.Code + " " + d.Summary
	}
	had, hidden := map[string]int{}, diag.HasErrors(e.faults)
	for i := range e.faults {
		had[key(&e.faults[i])]++
	}
	for i := range after.faults {
		d := &after.faults[i]
		whole := isOneOf(d.Code, []string{codeRailsJoined, codeBothEnds, codeDeadRung})
		if d.Grade != diag.Error || d.Code == codeTooMany || hidden && whole {
			continue
		}
		if had[key(d)]--; had[key(d)] < 0 {
			return d
		}
	}
	return nil
}

// readOne reads a line that comes from outside the text. It must be free of
// faults and remarks.
func readOne(text string) (node, error) {
	if strings.ContainsAny(text, "\r\n") {
		return nil, refuse("%q does not stand on one line", shorten(text))
	}
	r := &reporter{}
	t := parse(text, r)
	if ds := r.result(len(text)); diag.HasErrors(ds) {
		return nil, sentence(&ds[0])
	}
	if len(t.lines) != 1 || t.lines[0].node == nil || t.lines[0].comment != "" {
		return nil, refuse("%q says nothing that can be used here", shorten(text))
	}
	return t.lines[0].node, nil
}

// words calls do for every word of the text that names a device, line by line.
// In a line with a fault every word counts that stands behind no dot.
func (e *editor) words(do func(line int, w word)) {
	for i := range e.tree.lines {
		l := &e.tree.lines[i]
		if !l.faulty {
			tagsOf(l.node, func(w word) { do(i, w) })
			continue
		}
		toks := e.tokens(i)
		for j, t := range toks {
			if t.kind == tokWord && (j == 0 || toks[j-1].kind != tokDot) {
				do(i, word{t.text, t.at})
			}
		}
	}
}

// tagsOf calls do for every word of a node that names a device.
func tagsOf(n node, do func(word)) {
	switch n := n.(type) {
	case *deviceNode:
		do(n.tag)
	case *rungNode:
		n.path.each(func(item *itemNode) { do(item.tag) })
		for _, load := range n.loads {
			do(load.tag)
		}
		n.back.each(func(item *itemNode) { do(item.tag) })
	case *plantNode:
		do(n.sensor)
		do(n.load)
	case *actionNode:
		if n.device.text != "" {
			do(n.device)
		}
	case *expectNode:
		do(n.tag)
	}
}

// each calls do for every contact of a path.
func (n pathNode) each(do func(*itemNode)) {
	for i := range n {
		for _, b := range n[i].branches {
			b.each(do)
		}
		if n[i].branches == nil && n[i].net == "" {
			do(&n[i])
		}
	}
}

// declared finds the first line that declares a tag.
func (e *editor) declared(tag string) (int, error) {
	for i := range e.tree.lines {
		if n, ok := e.tree.lines[i].node.(*deviceNode); ok && n.tag.text == tag {
			return i, nil
		}
	}
	return 0, refuse("nothing is called %s", shorten(tag))
}

// device finds a device and its line. A line with a fault of its own is no
// ground for a change.
func (e *editor) device(tag string) (int, *deviceNode, *circuit.Device, error) {
	i, err := e.declared(tag)
	if err != nil {
		return 0, nil, nil, err
	}
	id := e.file.Circuit.Find(tag)
	if e.tree.lines[i].faulty || id == circuit.NoDevice {
		return 0, nil, nil, refuse("the line of %s has a fault. Cure it in the text first", tag)
	}
	return i, e.node(i).(*deviceNode), &e.file.Circuit.Devices[id], nil
}
