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
// same kinds of presses, with other presets and other times, and the same shape. The
// same text, choices and code give the same exercises. Teaching notes, remarks and
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
	step   time.Duration // what all times are whole multiples of
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
	if v.script == nil {
		return nil, fmt.Errorf("exercise: the circuit has no script %q: name one of %s", opt.Script, scriptNames(v.c))
	}
	v.head = headOf(string(text), file)
	v.step = stepOf(v.c, v.script)
	t := engine.Run(v.c, v.script, engine.Options{})
	v.end = t.End
	v.asked = opt.Asked
	if len(v.asked) == 0 {
		v.asked = driven(t)
	}
	signals, err := signalsOf(v.c, v.asked)
	if err != nil {
		return nil, err
	}
	reason := ""
	if v.shape, reason = shapeOf(t, signals, v.apart()); reason != "" {
		return nil, fmt.Errorf("exercise: the script %q is not fit for an exercise: %s. Change its times, or take another script", v.script.Name, reason)
	}
	return v, nil
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

// dabbed is what counts as a dab, which keeps its length.
const dabbed = time.Second

// stepOf returns the longest time of which all presets and times of a script are
// whole multiples, dabs left out.
func stepOf(c *circuit.Circuit, s *circuit.Script) time.Duration {
	var step time.Duration
	with := func(d time.Duration) {
		for d != 0 {
			step, d = d, step%d
		}
	}
	for i := range c.Devices {
		with(c.Devices[i].Presets[0])
		with(c.Devices[i].Presets[1])
	}
	for _, a := range s.Actions {
		with(a.At)
		if a.For >= dabbed {
			with(a.For)
		}
	}
	return max(min(step, time.Second), time.Millisecond)
}

// apart is how close two things may come that have nothing to do with each other.
func (v *varied) apart() time.Duration { return min(v.step, 500*time.Millisecond) }

// one makes the variant of a number that is not among those seen.
func (v *varied) one(code string, number int, seen map[string]bool) (Exercise, error) {
	l := newLot("tarry variant 1", v.head, v.script.Name, strings.Join(v.asked, " "), code, strconv.Itoa(number))
	for range tries {
		c, s := v.draw(l)
		t := engine.Run(c, s, engine.Options{})
		signals, _ := signalsOf(c, v.asked)
		if sh, reason := shapeOf(t, signals, v.apart()); reason != "" || sh != v.shape {
			continue
		}
		e := Exercise{Code: code, Number: number, Level: c.Title, Title: c.Title, Station: c.Station,
			Circuit: c, Script: s, Asked: v.asked, Given: givenRows(t, v.asked), Square: v.step, Shape: v.shape}
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

// between returns a time from three fifths to eight fifths of d, in whole steps.
func (v *varied) between(l *lot, d time.Duration) time.Duration {
	steps := int(d / v.step)
	least := max(1, (steps*3+4)/5)
	return time.Duration(l.from(least, max(least, min(steps*8/5, steps+100)))) * v.step
}

// draw returns the circuit with other presets and the script with other times.
func (v *varied) draw(l *lot) (*circuit.Circuit, *circuit.Script) {
	c, s := *v.c, *v.script
	c.Notes, c.Scripts = nil, nil
	c.Devices = slices.Clone(c.Devices)
	longer := time.Duration(0)
	for i := range c.Devices {
		for k, p := range c.Devices[i].Presets {
			if p > 0 {
				c.Devices[i].Presets[k] = v.between(l, p)
				longer += max(0, c.Devices[i].Presets[k]-p)
			}
		}
	}
	s.Actions, s.Expects = slices.Clone(s.Actions), nil
	slices.SortStableFunc(s.Actions, func(a, b circuit.Action) int { return cmp.Compare(a.At, b.At) })
	at, old, last := time.Duration(0), time.Duration(0), time.Duration(0)
	for i := range s.Actions {
		a := &s.Actions[i]
		if a.At > old {
			at += v.between(l, a.At-old)
			old = a.At
		}
		a.At = at
		if a.For >= dabbed {
			longer += a.For
			a.For = v.between(l, a.For)
		}
		last = max(last, a.At+a.For)
	}
	s.End = (last + v.end - old + longer).Round(v.step)
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
