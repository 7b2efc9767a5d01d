// Package tarry is the one door to everything that tarry does: plain requests
// in, plain responses out. It opens no file, knows no network and no wall
// clock, and prints nothing; the command line, the browser and a server are
// wiring around it.
package tarry

// Every function reads the text anew. A circuit of a lesson is read in well
// under a millisecond, and a request that carries its whole text cannot be
// answered from a stale one.

import (
	"errors"
	"fmt"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/diag"
	"tarry/engine"
	"tarry/notation"
	"tarry/trace"
)

// Source is a text in the notation and the name under which messages speak of
// it.
type Source struct {
	Name string
	Text []byte
}

// Checked is what reading a text said.
type Checked struct {
	Diagnostics []diag.Diagnostic
	// Listing is the diagnostics as text for a terminal, empty for none.
	Listing string
	// Errors says that at least one diagnostic is an error: what was understood
	// is used all the same.
	Errors bool
}

// ErrInput is wrapped by every error that the user's request is the cause of:
// an unknown script, signal or row, a time that is none.
var ErrInput = errors.New("bad input")

// Fault is a panic of ours, with the input that it happened on.
type Fault struct {
	What  string
	Stack string
	Input Source
}

// Error says that the fault is ours.
func (f *Fault) Error() string {
	return "a fault in tarry itself, not in your text: " + f.What
}

// inputError is ErrInput with the words for the user.
type inputError string

func (e inputError) Error() string { return string(e) }
func (e inputError) Unwrap() error { return ErrInput }

func badInput(format string, args ...any) error {
	return inputError(fmt.Sprintf(format, args...))
}

// guard turns a panic into a Fault.
func guard(s Source, err *error) {
	if r := recover(); r != nil {
		*err = &Fault{fmt.Sprint(r), string(debug.Stack()), s}
	}
}

// Check reads a text and says what is wrong with it.
func Check(s Source) (out Checked, err error) {
	defer guard(s, &err)
	_, out = read(s)
	return out, nil
}

func read(s Source) (*circuit.Circuit, Checked) {
	file, diagnostics := notation.Read(s.Name, s.Text)
	out := Checked{Diagnostics: diagnostics, Errors: diag.HasErrors(diagnostics)}
	if len(diagnostics) > 0 {
		out.Listing = diag.Show(s.Name, s.Text, diagnostics)
	}
	return file.Circuit, out
}

// Formatted is a text laid out anew.
type Formatted struct {
	Checked
	Text []byte
}

// Format lays a text out; comments and order stay.
func Format(s Source) (out Formatted, err error) {
	defer guard(s, &err)
	text, diagnostics := notation.Format(s.Name, s.Text)
	out.Text = text
	out.Diagnostics, out.Errors = diagnostics, diag.HasErrors(diagnostics)
	if len(diagnostics) > 0 {
		out.Listing = diag.Show(s.Name, s.Text, diagnostics)
	}
	return out, nil
}

// scripts returns the scripts to run: the named one, or all. A circuit without
// scripts gets one in which nobody touches anything for ten seconds.
func scripts(c *circuit.Circuit, name string) ([]*circuit.Script, error) {
	if len(c.Scripts) == 0 && name == "" {
		return []*circuit.Script{{Name: "at rest", End: 10 * time.Second}}, nil
	}
	var list []*circuit.Script
	var names []string
	for i := range c.Scripts {
		list = append(list, &c.Scripts[i])
		names = append(names, c.Scripts[i].Name)
	}
	if name == "" {
		return list, nil
	}
	place := slices.Index(names, name)
	if place < 0 {
		if n, err := strconv.Atoi(name); err == nil {
			place = n - 1
		}
	}
	if place < 0 || place >= len(list) {
		return nil, badInput("no script is called %q; %s", name, choice(name, names, "scripts"))
	}
	return list[place : place+1], nil
}

// maxChoice is how many names a message lists.
const maxChoice = 20

// choice says what there is where a name was not found.
func choice(name string, names []string, what string) string {
	if len(names) == 0 {
		return "there are no " + what
	}
	text := "the " + what + " are "
	for i, n := range names[:min(len(names), maxChoice)] {
		if i > 0 {
			text += ", "
		}
		text += quoted(n)
	}
	if more := len(names) - maxChoice; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	if near := diag.Nearest(name, names); near != "" {
		text += "; did you mean " + quoted(near) + "?"
	}
	return text
}

// quoted puts a name of several words in quotes.
func quoted(name string) string {
	if strings.ContainsAny(name, " ,") {
		return strconv.Quote(name)
	}
	return name
}

// runOne runs one script of a circuit.
func runOne(c *circuit.Circuit, s *circuit.Script) *trace.Trace {
	return engine.Run(c, s, engine.Options{})
}
