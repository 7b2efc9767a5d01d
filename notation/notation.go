// Package notation reads and prints the text form of a circuit, the .tarry
// file: devices, rungs, scripts, expectations and teaching notes. Read turns
// text into a circuit.Circuit, Format lays a text out. Both report what is
// wrong as diagnostics and return what they understood.
package notation

// The stages, one file or a few each, and what each makes:
//
//	scan    one line of text        → tokens
//	parse   tokens                  → a node of the syntax tree
//	lower   the tree                → circuit.Circuit and the side tables
//	check   the circuit's wiring    → diagnostics only
//	print   the tree                → text
//
// A node holds what the text says, not what it means: tags are words until
// lower looks them up, so the order of declaration is free. Each stage reports
// to one reporter, which stores a limited number of diagnostics so that
// hostile text costs no memory. All stages are linear in the length of the
// text; what could search (near-misses) has a budget for the whole file.

import (
	"strings"
	"unicode/utf8"

	"tarry/circuit"
	"tarry/diag"
)

// Limits on one file. What goes beyond is reported and left out.
const (
	MaxBytes    = 1 << 20
	MaxDevices  = 10_000
	MaxContacts = 100_000
	MaxDepth    = 100
)

// File is what was understood of one text.
type File struct {
	Name    string
	Circuit *circuit.Circuit
	// Devices are the places where the tags are declared, one for each of
	// Circuit.Devices.
	Devices []diag.Range
	// Rungs, Plants and Scripts are the sources of the circuit's lists of the
	// same names.
	Rungs   []RungSource
	Plants  []diag.Range
	Scripts []ScriptSource
}

// RungSource says where a rung stands in the text.
type RungSource struct {
	At diag.Range // the whole line
	// Contacts follow the order of Path.Contacts, the return path's behind
	// those of the path.
	Contacts []diag.Range
	Loads    []diag.Range
}

// ScriptSource says where a script stands in the text.
type ScriptSource struct {
	At      diag.Range // its first line
	Actions []diag.Range
	Expects []diag.Range
}

// Read reads a text. The name is only kept. The file is never nil: what was
// understood is in it, and may be run if no diagnostic is an error.
func Read(name string, text []byte) (*File, []diag.Diagnostic) {
	r := &reporter{}
	source := lineEnds(cut(text, r))
	tree := parse(source, r)
	file := lower(name, tree, r)
	return file, r.result(len(source))
}

// lineEnds turns the line ends of a text that has none but carriage returns, an
// old kind, into line feeds; no byte moves.
func lineEnds(source string) string {
	if strings.Contains(source, "\n") {
		return source
	}
	return strings.ReplaceAll(source, "\r", "\n")
}

// cut brings a text down to the size limit, at the end of a line if it can.
func cut(text []byte, r *reporter) string {
	if len(text) <= MaxBytes {
		return string(text)
	}
	head := text[:MaxBytes]
	for len(head) > 0 && !utf8.RuneStart(text[len(head)]) {
		head = head[:len(head)-1]
	}
	source := string(head)
	if i := strings.LastIndexByte(source, '\n'); i >= 0 {
		source = source[:i+1]
	}
	r.report(codeTooLarge, diag.Range{Start: len(source), End: len(source)},
		"the text is larger than 1 MiB").
		Explain("What stands from here on was not read. Split the text into several files.")
	return source
}
