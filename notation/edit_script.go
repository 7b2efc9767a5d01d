package notation

import (
	"strings"

	"tarry/circuit"
	"tarry/diag"
)

// script finds a script by its name: its line and the lines of its actions,
// expectations and end.
func (e *editor) script(name string) (int, []int, error) {
	at, open := -1, false
	var lines []int
	for i := range e.tree.lines {
		switch n := e.node(i).(type) {
		case *scriptNode:
			open = at < 0 && n.name.text == name
			if open {
				at = i
			}
		case *actionNode, *expectNode, *endNode:
			if open {
				lines = append(lines, i)
			}
		}
	}
	if at < 0 {
		return 0, nil, refuse("there is no script called %q", shorten(name))
	}
	return at, lines, nil
}

// keepScript adds a script at the end of the text, or replaces the lines of one
// that is there. Remarks that stand on lines of their own stay.
func (e *editor) keepScript(ch *Change) error {
	if err := quotable(ch.Name); err != nil {
		return err
	}
	block, err := scriptBlock(ch.Name, ch.Text)
	if err != nil {
		return err
	}
	if ch.Replace == "" {
		end := len(e.tree.lines) - 1
		for e.blank(end) {
			end--
		}
		if end >= 0 {
			block = append([]string{""}, block...)
		}
		e.insert(end, block...)
		return nil
	}
	at, lines, err := e.script(ch.Replace)
	if err != nil {
		return err
	}
	if ch.Name != ch.Replace {
		name := e.node(at).(*scriptNode).name.at
		e.replace(name.Start, name.End, quote(ch.Name))
	}
	if len(block) > 1 {
		e.insert(at, block[1:]...)
	}
	for _, i := range lines {
		e.deleteLine(i)
	}
	return nil
}

// scriptBlock lays out the lines of a script. The text may begin with a script
// line, whose name doesn't count.
func scriptBlock(name, text string) ([]string, error) {
	text = strings.ReplaceAll(lineEnds(text), "\r\n", "\n")
	r := &reporter{}
	t := parse(text, r)
	if ds := r.result(len(text)); diag.HasErrors(ds) {
		return nil, sentence(&ds[0])
	}
	head := line{node: &scriptNode{name: word{text: name}}}
	out := &tree{text: text, lines: []line{head}}
	for i := range t.lines {
		switch t.lines[i].node.(type) {
		case *scriptNode:
			if i > 0 {
				return nil, refuse("one script at a time can be kept")
			}
		case nil, *actionNode, *expectNode, *endNode:
			if !isBlank(&t.lines[i], t) {
				out.lines = append(out.lines, t.lines[i])
			}
		default:
			return nil, refuse("%q is no line of a script", shorten(text[t.lines[i].at.Start:t.lines[i].at.End]))
		}
	}
	// The script's line has no text of its own that could look blank.
	rows := []row{cellsOf(head.node)}
	for i := range out.lines[1:] {
		rows = append(rows, rowOf(out, &out.lines[i+1], true))
	}
	widths := columnWidths(rows)
	var block []string
	for i := range rows {
		block = append(block, rows[i].text(widths[rows[i].class]))
	}
	return block, nil
}

// deleteScript takes a script away: its line, its actions, expectations and
// end, the blank lines and remarks between them, and one of two blank lines
// that would meet.
func (e *editor) deleteScript(ch *Change) error {
	at, lines, err := e.script(ch.Name)
	if err != nil {
		return err
	}
	gone := at
	e.deleteLine(at)
	for _, i := range lines {
		if e.bare(gone+1, i) {
			for k := gone + 1; k < i; k++ {
				e.deleteLine(k)
			}
		}
		e.deleteLine(i)
		gone = i
	}
	if e.blank(at-1) && (gone+1 == len(e.tree.lines) || e.blank(gone+1)) {
		e.deleteLine(at - 1)
	}
	return nil
}

// bare reports whether the lines from one up to another, without it, are
// blank or remarks.
func (e *editor) bare(from, to int) bool {
	for i := from; i < to; i++ {
		if !e.blank(i) && !e.isRemark(i) {
			return false
		}
	}
	return true
}

// renameScript gives a script another name.
func (e *editor) renameScript(ch *Change) error {
	if err := quotable(ch.New); err != nil {
		return err
	}
	at, _, err := e.script(ch.Name)
	if err != nil {
		return err
	}
	name := e.node(at).(*scriptNode).name.at
	if name.End == name.Start {
		return refuse("the script's line has a fault. Cure it in the text first")
	}
	e.replace(name.Start, name.End, quote(ch.New))
	return nil
}

// ScriptText writes a script of a circuit as lines of the notation, laid out,
// the last one with its line end. Read back behind the devices of c it is the
// same script. A straight quotation mark in its name, which the notation cannot
// write, becomes ’.
func ScriptText(c *circuit.Circuit, s *circuit.Script) string {
	var b strings.Builder
	for i := range s.Actions {
		a := &s.Actions[i]
		b.WriteString(circuit.FormatTime(a.At) + " " + actionText(c, a) + "\n")
	}
	if s.End > 0 {
		b.WriteString("end " + circuit.FormatTime(s.End) + "\n")
	}
	for i := range s.Expects {
		b.WriteString(expectText(c, &s.Expects[i]) + "\n")
	}
	name := strings.ReplaceAll(s.Name, `"`, "’")
	block, err := scriptBlock(name, b.String())
	if err != nil { // a time beyond what the notation takes: its reader says so
		return "script " + quote(name) + "\n" + b.String()
	}
	return strings.Join(block, "\n") + "\n"
}

func actionText(c *circuit.Circuit, a *circuit.Action) string {
	text := a.Verb.String()
	if a.Device != circuit.NoDevice {
		text += " " + c.Devices[a.Device].Tag
	}
	switch {
	case a.Verb == circuit.Turn:
		text += " to " + c.Devices[a.Device].Positions[a.Position]
	case a.Verb == circuit.SetPreset:
		first := a.Presets[0]
		if first == 0 {
			first = c.Devices[a.Device].Presets[0]
		}
		text += " to " + circuit.FormatTime(first)
		if a.Presets[1] > 0 {
			text += ", " + circuit.FormatTime(a.Presets[1])
		}
	case a.For > 0:
		text += " for " + circuit.FormatTime(a.For)
	}
	return text
}

func expectText(c *circuit.Circuit, x *circuit.Expect) string {
	text := "expect " + c.SignalName(x.Signal)
	words := [2]string{"on", "off"}
	if x.Signal.Contact != circuit.NoContact {
		words = [2]string{"closed", "open"}
	}
	always := len(x.Spans) == 1 && x.Spans[0] == circuit.Span{ToEnd: true} && !x.Off
	switch {
	case len(x.Spans) == 0 && !x.Off:
		text += " never"
	case always || len(x.Spans) == 0:
		text += " always"
	case x.Off:
		text += " " + words[1]
	default:
		text += " " + words[0]
	}
	for i, s := range x.Spans {
		if always {
			break
		}
		if i > 0 {
			text += ","
		}
		text += " " + circuit.FormatTime(s.From) + " .. "
		if s.ToEnd {
			text += "end"
		} else {
			text += circuit.FormatTime(s.To)
		}
	}
	switch {
	case x.Within > 0:
		text += " +- " + circuit.FormatTime(x.Within)
	case x.Percent > 0:
		text += " +- " + percent(x.Percent)
	}
	return text
}
