package exercise

import (
	"cmp"
	"fmt"
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

// VaryOptions are the choices for Vary. The zero value takes the first script and
// asks for what the circuit drives.
type VaryOptions struct {
	// Script is the script's name, "" for the first.
	Script string
	// Asked are the rows to be drawn, named as in chart.Options.Rows; none are all
	// loads and contactors that move.
	Asked []string
}

// Vary makes n exercises from a circuit in the notation: the same circuit and the
// same kinds of presses, with other presets and other times, and the same shape.
// What is set to less than something else stays so, and what is set alike too, or
// the circuit would mean something else. All times are whole squares but for those
// of less than a second, which stay as they are; asked edges that stand at two
// instants less than half a square apart are not accepted (squares.go). The same
// text, choices and code give the same exercises. Teaching notes, remarks and
// other scripts are left out, since they speak of the old times. Errors: a text with
// errors or warnings, a script or a row that there is not, a run that is not fit for
// an exercise, and a circuit that has fewer variants.
func Vary(name string, text []byte, code string, n int, opt VaryOptions) ([]Exercise, error) {
	code, err := checked(code, n)
	if err != nil {
		return nil, err
	}
	v, err := newVaried(name, text, opt)
	if err != nil {
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

// varied is a circuit of which variants are made.
type varied struct {
	head   string // the text without notes and scripts
	c      *circuit.Circuit
	script *circuit.Script
	asked  []string
	end    time.Duration
	square time.Duration // what all times that change are whole multiples of
	shape  Shape
}

func newVaried(name string, text []byte, opt VaryOptions) (*varied, error) {
	file, ds := notation.Read(name, text)
	if !clean(ds) {
		return nil, fmt.Errorf("exercise: the circuit has something to put right first: %s", firstFault(name, text, ds))
	}
	v := &varied{c: file.Circuit}
	for i := range v.c.Scripts {
		if s := &v.c.Scripts[i]; s.Name == opt.Script || opt.Script == "" && i == 0 {
			v.script = s
		}
	}
	if len(v.c.Scripts) == 0 {
		return nil, fmt.Errorf("exercise: the circuit has no script, and an exercise asks what comes of one: write one first")
	}
	if v.script == nil {
		return nil, fmt.Errorf("exercise: the circuit has no script %q: name one of %s", opt.Script, scriptNames(v.c))
	}
	v.head = headOf(string(text), file)
	t := engine.Run(v.c, v.script, engine.Options{})
	v.end = t.End
	v.square = squareOf(v.c, v.script, v.end)
	v.asked = opt.Asked
	if len(v.asked) == 0 {
		v.asked = driven(t)
	}
	signals, err := signalsOf(v.c, v.asked)
	if err != nil {
		return nil, err
	}
	if timed(v.c) && !slices.ContainsFunc(signals, func(s circuit.Signal) bool { return circuit.HangsOnTimer(v.c, s) }) {
		return nil, fmt.Errorf("exercise: no timer has to do with %s: ask for other rows, or take another script", list(v.asked, "or"))
	}
	return v, v.judge(t, signals)
}

// timed reports whether a circuit has a timer.
func timed(c *circuit.Circuit) bool {
	return slices.ContainsFunc(c.Devices, func(d circuit.Device) bool { return d.Kind == circuit.Timer })
}

// judge takes the shape of the original, or says why it is not fit.
func (v *varied) judge(t *trace.Trace, signals []circuit.Signal) error {
	var reason string
	var err error
	if v.shape, reason = shapeOf(t, signals, v.apart()); reason != "" {
		return fmt.Errorf("exercise: the script %q is not fit for an exercise: %s. Change its times, or take another script", v.script.Name, reason)
	}
	e := v.exercise(v.c, v.script, t)
	if reason, err = undrawable(t, &e); err == nil && reason != "" {
		err = fmt.Errorf("exercise: the script %q is not fit for an exercise: %s. Ask for other rows, change its times, or take another script", v.script.Name, reason)
	}
	return err
}

// exercise is the exercise about a variant, without its text.
func (v *varied) exercise(c *circuit.Circuit, s *circuit.Script, t *trace.Trace) Exercise {
	return Exercise{Level: c.Title, Title: c.Title, Station: c.Station,
		Circuit: c, Script: s, Asked: v.asked, Given: givenRows(t, v.asked), Square: v.square, Shape: v.shape}
}

// firstFault words the first error or warning, with its place.
func firstFault(name string, text []byte, ds []diag.Diagnostic) string {
	i := slices.IndexFunc(ds, func(d diag.Diagnostic) bool { return d.Grade != diag.Notice })
	at := diag.NewLines(string(text)).Position(ds[i].At.Start)
	return strings.TrimSpace(fmt.Sprintf("%s, line %d: %s. %s", name, at.Line, ds[i].Summary, ds[i].Detail))
}

func scriptNames(c *circuit.Circuit) string {
	if len(c.Scripts) == 0 {
		return "none: write one"
	}
	var names []string
	for i := range c.Scripts {
		names = append(names, strconv.Quote(c.Scripts[i].Name))
	}
	return list(names, "or")
}

func signalsOf(c *circuit.Circuit, names []string) ([]circuit.Signal, error) {
	var signals []circuit.Signal
	for _, name := range names {
		s, known := c.FindSignal(name)
		if !known {
			return nil, fmt.Errorf("exercise: the circuit has no row %q: name a coil, a load or a contact, such as H1 or KT1.notc", name)
		}
		signals = append(signals, s)
	}
	return signals, nil
}

// driven names the loads and contactors that move in a run.
func driven(t *trace.Trace) []string {
	var names []string
	for _, s := range t.Signals() {
		d := &t.Circuit.Devices[s.Device]
		load := d.Kind.Info().Class == circuit.LoadOnly || d.Kind == circuit.Contactor
		if name := t.Circuit.SignalName(s); s.Contact == circuit.NoContact && load && edgesOf(t, name) > 0 {
			names = append(names, name)
		}
	}
	return names
}

// headOf cuts notes, remarks and scripts out of a text.
func headOf(text string, file *notation.File) string {
	end := len(text)
	for _, s := range file.Scripts {
		end = min(end, s.At.Start)
	}
	var kept []string
	for _, line := range strings.Split(strings.ReplaceAll(text[:end], "\r", ""), "\n") {
		word, _, _ := strings.Cut(strings.TrimSpace(line), " ")
		if !slices.Contains([]string{"aim", "trap", "say", "try"}, word) && !strings.HasPrefix(word, "#") {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "\n")
}

// apart is how close two things may come that have nothing to do with each other.
func (v *varied) apart() time.Duration { return min(v.square, 500*time.Millisecond) }

// one makes the variant of a number that is not among those seen.
func (v *varied) one(code string, number int, seen map[string]bool) (Exercise, error) {
	l := newLot("tarry variant 2", v.head, v.script.Name, strings.Join(v.asked, " "), code, strconv.Itoa(number))
	for range tries {
		c, s := v.draw(l)
		t := engine.Run(c, s, engine.Options{})
		signals, _ := signalsOf(c, v.asked)
		if sh, reason := shapeOf(t, signals, v.apart()); reason != "" || sh != v.shape {
			continue
		}
		e := v.exercise(c, s, t)
		e.Code, e.Number = code, number
		if reason, err := undrawable(t, &e); err != nil || reason != "" {
			continue
		}
		head, err := v.withPresets(c)
		if err != nil {
			return e, err
		}
		if !e.settle(head, t) || seen[string(e.Text)] {
			continue
		}
		seen[string(e.Text)] = true
		return e, nil
	}
	return Exercise{}, fmt.Errorf("exercise: of %q and this script there are no more variants for %s than %d: ask for fewer, or take another script",
		v.c.Title, code, number-1)
}

// between returns a time from three fifths to eight fifths of d, in whole squares,
// and longer than another time.
func (v *varied) between(l *lot, d, than time.Duration) time.Duration {
	squares := int((d + v.square/2) / v.square)
	least := max(1, (squares*3+4)/5, int(than/v.square)+1)
	return time.Duration(l.from(least, max(least, min(squares*8/5, squares+100)))) * v.square
}

// settings draws what each setting becomes. They keep their order: beginning with
// the shortest, each becomes longer than the one before.
func (v *varied) settings(l *lot) map[time.Duration]time.Duration {
	become := map[time.Duration]time.Duration{}
	last := time.Duration(0)
	for _, p := range settingsOf(v.c, v.script) {
		become[p] = p
		if p >= tiny {
			become[p] = v.between(l, p, last)
			last = become[p]
		}
	}
	return become
}

// draw returns the circuit with other presets and the script with other times.
func (v *varied) draw(l *lot) (*circuit.Circuit, *circuit.Script) {
	c, s := *v.c, *v.script
	c.Notes, c.Scripts = nil, nil
	c.Devices = slices.Clone(c.Devices)
	longer := time.Duration(0)
	become := v.settings(l)
	for i := range c.Devices {
		for k, p := range c.Devices[i].Presets {
			c.Devices[i].Presets[k] = become[p]
			longer += max(0, become[p]-p)
		}
	}
	s.Actions, s.Expects = slices.Clone(s.Actions), nil
	slices.SortStableFunc(s.Actions, func(a, b circuit.Action) int { return cmp.Compare(a.At, b.At) })
	at, old, last := time.Duration(0), time.Duration(0), time.Duration(0)
	for i := range s.Actions {
		a := &s.Actions[i]
		if a.At > old {
			at += v.between(l, a.At-old, 0)
			old = a.At
		}
		a.At = at
		if a.For >= tiny {
			longer += a.For
			a.For = v.between(l, a.For, 0)
		}
		for k, p := range a.Presets {
			a.Presets[k] = become[p]
			longer += max(0, become[p]-p)
		}
		last = max(last, a.At+a.For)
	}
	s.End = (last + v.end - old + longer).Round(v.square)
	c.Scripts = []circuit.Script{s}
	return &c, &c.Scripts[0]
}

// withPresets returns the head of the text with the presets of c.
func (v *varied) withPresets(c *circuit.Circuit) (string, error) {
	text := []byte(v.head)
	for i := range c.Devices {
		for k, p := range c.Devices[i].Presets {
			if p == v.c.Devices[i].Presets[k] {
				continue
			}
			edit, err := notation.Edit(text, notation.Change{Do: "preset", Tag: c.Devices[i].Tag, Which: k, Text: circuit.FormatTime(p)})
			if err != nil {
				return "", fmt.Errorf("exercise: the setting of %s can't be changed: %w", c.Devices[i].Tag, err)
			}
			text = edit.Apply(text)
		}
	}
	return string(text) + "\n", nil
}
