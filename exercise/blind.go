package exercise

import (
	"fmt"

	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
	"tarry/trace"
)

// NoError is what a script lets pass.
type NoError struct {
	// Pass are the readings whose answer to the script is right, Caught the others.
	Pass, Caught []string
	Left         []Left // those that the circuit can't show
	// Sentence is for the diagnostic warning shows-no-error, "" if nothing passes;
	// Better are presses that show what passes, and WayOut says them.
	Sentence string
	Better   Told
	WayOut   string
}

// ShowsNoError says which readings answer a script right on the signals asked, so
// that somebody who thinks so is taken for right, and finds better presses. Two
// lines that differ nowhere for longer than opt's margin count as the same. Errors
// are those of Tell, and a script whose right run breaks off.
func ShowsNoError(c *circuit.Circuit, s *circuit.Script, signals []circuit.Signal, ids []string, opt TellOptions) (NoError, error) {
	opt = opt.filled(c)
	opt.OnlyRight = true
	var told Told
	names, err := told.inPlay(c, ids)
	if err != nil {
		return NoError{}, err
	}
	if len(signals) == 0 {
		return NoError{}, fmt.Errorf("exercise: no signal is asked about: name one, such as H1 or KT1.notc")
	}
	n := NoError{Left: told.Left}
	r := misread.NewRunner(c, engine.Options{NoCauses: true})
	right := r.Right(s)
	if right.Trace.Ending != trace.Finished {
		return NoError{}, fmt.Errorf("exercise: the script %q breaks off, so its answer can't be compared: put that right first", s.Name)
	}
	end := right.End
	want := linesOf(right, signals)
	for _, id := range names[1:] {
		p, err := r.Play(s, id)
		if err != nil {
			return NoError{}, err
		}
		if p.Trace.Ending != trace.Finished || p.End < end {
			n.Left = append(n.Left, Left{id, "its run breaks off in this script, so it gives no answer"})
			continue
		}
		caught := false
		for i, l := range linesOf(p, signals) {
			caught = caught || differ(want[i], l, end) >= opt.Margin
		}
		if caught {
			n.Caught = append(n.Caught, id)
		} else {
			n.Pass = append(n.Pass, id)
		}
	}
	if len(n.Pass) == 0 {
		return n, nil
	}
	n.Sentence = fmt.Sprintf("%s cannot tell a right answer from %s.", presses(c, s), named(n.Pass))
	if n.Better, err = Tell(c, signals, n.Pass, opt); err != nil {
		return n, err
	}
	n.WayOut = n.wayOut(c)
	return n, nil
}

func linesOf(p *misread.Prediction, signals []circuit.Signal) []line {
	lines := make([]line, len(signals))
	for i, s := range signals {
		lines[i] = lineOf(p.Edges(s), p.End)
	}
	return lines
}

// presses says what a script is made of: one long press, two presses, a script.
func presses(c *circuit.Circuit, s *circuit.Script) string {
	for _, a := range s.Actions {
		if a.Verb != circuit.Press && a.Verb != circuit.Close {
			return fmt.Sprintf("the script “%s”", s.Name)
		}
	}
	switch n := len(s.Actions); {
	case n == 1 && s.Actions[0].For > longestPreset(c):
		return "one long press"
	case n == 1:
		return "one press"
	case n == 2:
		return "a script of two presses"
	default:
		return fmt.Sprintf("a script of %d presses", n)
	}
}

// named lists readings with their names.
func named(ids []string) string {
	var words []string
	for _, id := range ids {
		r, _ := misread.Find(id)
		words = append(words, fmt.Sprintf("%s (%s)", id, r.Name))
	}
	return list(words, "or")
}

// scriptOrWords names a script of the circuit's own, and tells another one.
func scriptOrWords(c *circuit.Circuit, s *circuit.Script) string {
	for i := range c.Scripts {
		if s == &c.Scripts[i] {
			return "the script “" + s.Name + "”"
		}
	}
	return ScriptWords(c, s)
}

// wayOut says which presses would show more.
func (n *NoError) wayOut(c *circuit.Circuit) string {
	if len(n.Better.Items) == 0 {
		if len(n.Better.Own) > 0 {
			return "Another script of this circuit shows it."
		}
		return "None of the presses that were tried shows it on these rows: another row may, or other times."
	}
	out := "Ask also: "
	for i, item := range n.Better.Items {
		if i > 0 {
			out += "; and "
		}
		out += item.Name + " with " + scriptOrWords(c, item.Script)
	}
	if len(n.Better.Never) > 0 {
		var never []string
		for _, p := range n.Better.Never {
			never = append(never, p.B)
		}
		out += ". None of the presses that were tried shows " + list(never, "or") + " on these rows: another row may, or other times"
	}
	return out + "."
}
