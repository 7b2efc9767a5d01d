// Package diag holds what every reader of text reports: ranges in the source,
// diagnostics with stable codes, and how they are shown. It knows no notation.
package diag

import "fmt"

// Grade says how much a diagnostic matters. The zero value is Error.
type Grade uint8

// The grades. An Error stops a run, a Warning doesn't, and a Notice only asks
// the reader to look.
const (
	Error Grade = iota
	Warning
	Notice
)

var grades = [...]string{"error", "warning", "notice"}

// String returns the grade as shown.
func (g Grade) String() string {
	if int(g) < len(grades) {
		return grades[g]
	}
	return fmt.Sprintf("grade %d", uint8(g))
}

// MarshalText writes the grade as its word, so that JSON carries no number.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText reads the word that MarshalText writes.
func (g *Grade) UnmarshalText(text []byte) error {
	for i, word := range grades {
		if word == string(text) {
			*g = Grade(i)
			return nil
		}
	}
	return fmt.Errorf("diag: %q is no grade", text)
}

// Range is a stretch of the source in byte offsets, closed at Start and open
// at End. A range of no width is a place between two bytes.
type Range struct {
	Start int `json:"start"`
	End   int `json:"end"`
}

// To returns the range from the start of r to the end of s.
func (r Range) To(s Range) Range { return Range{r.Start, s.End} }

// Contains reports whether s lies inside r.
func (r Range) Contains(s Range) bool { return r.Start <= s.Start && s.End <= r.End }

// Note points at a second place that belongs to a diagnostic, for example the
// first use of a tag that is used twice.
type Note struct {
	At   Range  `json:"at"`
	Text string `json:"text"`
}

// Fix is a change of the text that would cure the fault. It is offered, never
// made.
type Fix struct {
	Range Range  `json:"range"`
	Text  string `json:"text"`
	Label string `json:"label"` // a question: did you mean KT1?
}

// Diagnostic is one thing to say about a text.
type Diagnostic struct {
	// Code is stable, in kebab-case, and explained in docs/diagnostics.md.
	Code  string `json:"code"`
	Grade Grade  `json:"grade"`
	// Summary names the fault in the user's own tags, without a full stop.
	Summary string `json:"summary"`
	// Detail gives the rule and the way out in full sentences; it may be empty.
	Detail string `json:"detail,omitempty"`
	// At is the fault itself, Within the line or statement around it.
	At     Range  `json:"at"`
	Within Range  `json:"within"`
	Notes  []Note `json:"notes,omitempty"`
	Fix    *Fix   `json:"fix,omitempty"`
}

// Explain adds a detail and returns d. Like the other methods that build a
// diagnostic it does nothing on a nil one, which a reader gets when it has
// already said enough.
func (d *Diagnostic) Explain(format string, args ...any) *Diagnostic {
	if d != nil {
		d.Detail = fmt.Sprintf(format, args...)
	}
	return d
}

// Offer adds a fix and returns d.
func (d *Diagnostic) Offer(at Range, text, label string) *Diagnostic {
	if d != nil {
		d.Fix = &Fix{Range: at, Text: text, Label: label}
	}
	return d
}

// Also adds a note and returns d.
func (d *Diagnostic) Also(at Range, text string) *Diagnostic {
	if d != nil {
		d.Notes = append(d.Notes, Note{at, text})
	}
	return d
}

// HasErrors reports whether any of ds is an Error.
func HasErrors(ds []Diagnostic) bool {
	for i := range ds {
		if ds[i].Grade == Error {
			return true
		}
	}
	return false
}
