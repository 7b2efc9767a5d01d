package exercise

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/diag"
	"tarry/engine"
	"tarry/notation"
	"tarry/trace"
)

// MostMade is how many exercises one call makes at most.
const MostMade = 10_000

// tries is how many drafts one exercise may take.
const tries = 500

// Make makes n exercises of a level. The same level and code give the same
// exercises everywhere, and a longer list begins with the shorter one. All have the
// level's shape, and no two of a list are the same. Errors: a level that there is
// not, a code that is none, n below 1 or above MostMade, and a level that has no
// more variants.
func Make(level, code string, n int) ([]Exercise, error) {
	v, err := FindLevel(level)
	if err != nil {
		return nil, err
	}
	if code, err = checked(code, n); err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	made := make([]Exercise, 0, n)
	for number := 1; number <= n; number++ {
		e, err := v.one(code, number, seen)
		if err != nil {
			return made, err
		}
		made = append(made, e)
	}
	return made, nil
}

func checked(code string, n int) (string, error) {
	if n < 1 || n > MostMade {
		return "", fmt.Errorf("exercise: %d exercises can't be made: ask for 1 to %d", n, MostMade)
	}
	return Code(code)
}

// one makes the exercise of a number that is not among those seen.
func (v *Level) one(code string, number int, seen map[string]bool) (Exercise, error) {
	l := newLot("tarry exercise 1", v.Name, code, strconv.Itoa(number))
	for range tries {
		p := &settings[l.below(len(settings))]
		d := v.draft(l, p)
		e, fit := d.finish(p.station, v.Shape)
		if !fit || seen[string(e.Text)] {
			continue
		}
		seen[string(e.Text)] = true
		e.Code, e.Number, e.Level = code, number, v.Name
		return e, nil
	}
	return Exercise{}, fmt.Errorf("exercise: level %s has no more variants for %s than %d: ask for fewer, or take another code", v.Name, code, number-1)
}

// square is the time between two ticks on the exercises of the levels.
const square = time.Second

// text writes the draft in the notation, without what must come out.
func (d *draft) text(station string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "circuit %q\nstation %q\n\nsupply 24 V dc\n\n", d.title, station)
	for _, line := range d.devices {
		parts := strings.SplitN(line, " | ", 3)
		b.WriteString(parts[0] + " " + parts[1])
		if parts[2] != "" {
			fmt.Fprintf(&b, " %q", parts[2])
		}
		b.WriteByte('\n')
	}
	b.WriteByte('\n')
	for i, r := range d.rungs {
		fmt.Fprintf(&b, "%d: %s\n", i+1, r)
	}
	fmt.Fprintf(&b, "\nscript \"Presses\"\n%s\nend %d s\n", strings.Join(d.acts, "\n"), d.end)
	return b.String()
}

// finish reads, runs and checks the draft. It returns false if it is not fit.
func (d *draft) finish(station string, want Shape) (Exercise, bool) {
	text := d.text(station)
	file, ds := notation.Read("exercise", []byte(text))
	if !clean(ds) {
		return Exercise{}, false
	}
	e := Exercise{Title: file.Circuit.Title, Station: station, Circuit: file.Circuit,
		Script: &file.Circuit.Scripts[0], Asked: d.asked, Square: square}
	t := engine.Run(e.Circuit, e.Script, engine.Options{})
	var reason string
	if e.Shape, reason = shapeOf(t, e.signals(), square); reason != "" || e.Shape != want {
		return e, false
	}
	e.Given = givenRows(t, e.Asked)
	return e, e.settle(text[:strings.Index(text, "script ")], t)
}

// settle writes the text with what must come out, and reads it back.
func (e *Exercise) settle(head string, t *trace.Trace) bool {
	script := *e.Script
	script.Expects = nil
	for _, s := range e.signals() {
		script.Expects = append(script.Expects, circuit.Expect{Signal: s, Spans: t.Spans(s)})
	}
	text, ds := notation.Format("exercise", []byte(head+notation.ScriptText(e.Circuit, &script)))
	if !clean(ds) {
		return false
	}
	file, ds := notation.Read("exercise", text)
	if !clean(ds) || len(file.Circuit.Scripts) != 1 {
		return false
	}
	e.Text, e.Circuit, e.Script = text, file.Circuit, &file.Circuit.Scripts[0]
	return true
}

// clean reports whether a text was read without an error or a warning.
func clean(ds []diag.Diagnostic) bool {
	return !slices.ContainsFunc(ds, func(d diag.Diagnostic) bool { return d.Grade != diag.Notice })
}

// givenRows names the rows that are not asked: the contacts that hands move, and
// the coils. A coil that follows from an asked row, or moves like one, would give
// it away.
func givenRows(t *trace.Trace, asked []string) []string {
	same := map[string]bool{}
	var signals []circuit.Signal
	for _, name := range asked {
		s, _ := t.Circuit.FindSignal(name)
		same[lineOf(t.Edges(s), t.End).key()] = true
		signals = append(signals, s)
	}
	tells := circuit.GivesAway(t.Circuit, signals)
	var hands, coils []string
	for _, s := range t.Signals() {
		name := t.Circuit.SignalName(s)
		info := t.Circuit.Devices[s.Device].Kind.Info()
		switch {
		case slices.Contains(asked, name):
		case info.Loads == nil:
			hands = append(hands, name)
		case s.Contact == circuit.NoContact && info.Class != circuit.LoadOnly && !tells(s) && !same[lineOf(t.Edges(s), t.End).key()]:
			coils = append(coils, name)
		}
	}
	if slices.Contains(chart.Rows(t), "supply") {
		hands = append([]string{"supply"}, hands...) // it fails on the way
	}
	return append(hands, coils...)
}

// keyRows names the rows of the key: those of the learner's chart, and the coils of
// timers that the chart shows nothing else of. Their times are what explains the
// asked rows, and there is nothing left to give away.
func (e *Exercise) keyRows() []string {
	var coils []string
	for i := range e.Circuit.Devices {
		d := &e.Circuit.Devices[i]
		if d.Kind == circuit.Timer && !slices.ContainsFunc(e.Rows(), func(name string) bool {
			s, known := e.Circuit.FindSignal(name)
			timed := s.Contact == circuit.NoContact || s.Contact.Group() != circuit.Instant
			return known && s.Device == circuit.DeviceID(i) && timed
		}) {
			coils = append(coils, d.Tag)
		}
	}
	return slices.Concat(e.Given, coils, e.Asked)
}
