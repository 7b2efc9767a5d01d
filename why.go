package tarry

import (
	"strings"

	"tarry/circuit"
	"tarry/notation"
	"tarry/trace"
	"tarry/why"
)

// WhyRequest asks why a signal is as it is. Script may be a name or a number
// from 1; empty means the first. Of is a signal such as H1 or KT1.notc, At a
// time such as "3.2 s".
type WhyRequest struct {
	Source
	Script string
	Of, At string
	Width  int // of Text in columns; 0 is 80
}

// WhyResponse is the answer, in sentences, and how things came to be so.
type WhyResponse struct {
	Checked
	Script string
	Value  string // on, off, closed or open
	Answer []string
	Story  []string
	Text   string // all of it, laid out for a terminal
}

// Why explains a signal at an instant, also what did not happen.
func Why(r WhyRequest) (out WhyResponse, err error) {
	defer guard(r.Source, &err)
	c, checked := read(r.Source)
	out.Checked = checked
	list, err := scripts(c, r.Script)
	if err != nil {
		return out, err
	}
	supply := strings.TrimSpace(r.Of) == supplyName
	s, ok := c.FindSignal(r.Of)
	if !ok && !supply {
		return out, badInput("%q is no signal of this circuit; %s", r.Of, choice(r.Of, append(signalNames(c), supplyName), "signals"))
	}
	at, err := notation.ParseTime(r.At)
	if err != nil {
		return out, badInput("--at %q: %v", r.At, err)
	}
	t := runOne(c, list[0])
	if at > t.End {
		return out, badInput("the run ends at %s, before %s", circuit.FormatTime(t.End), circuit.FormatTime(at))
	}
	if out.Script = list[0].Name; supply {
		on, answer := why.Supply(t, at)
		out.Value, out.Answer = map[bool]string{true: "on", false: "off"}[on], []string{answer}
		out.layOut(r.Width)
		return out, nil
	}
	x := why.Explain(t, s, at)
	out.Answer, out.Story = x.Answer, x.Story
	out.Value = trace.ValueWord(s, x.On)
	out.layOut(r.Width)
	return out, nil
}

func (out *WhyResponse) layOut(width int) {
	w := newReport(width, false)
	w.fold("Script: ", out.Script)
	w.WriteString("\n")
	for _, line := range out.Answer {
		w.fold("", line)
	}
	if len(out.Story) > 0 {
		w.WriteString("\nHow it came about\n")
	}
	for _, line := range out.Story {
		at, text, _ := strings.Cut(line, ": ")
		w.fold("  "+at+": ", text)
	}
	out.Text = w.String()
}

// signalNames lists the signals that a circuit's wiring has.
func signalNames(c *circuit.Circuit) []string {
	t := trace.Trace{Circuit: c, Wiring: circuit.Wire(c)}
	var names []string
	for _, s := range t.Signals() {
		names = append(names, c.SignalName(s))
	}
	return names
}
