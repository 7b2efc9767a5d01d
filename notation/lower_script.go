package notation

import (
	"fmt"
	"time"

	"tarry/circuit"
	"tarry/diag"
)

// scriptState is the script in work.
type scriptState struct {
	script *circuit.Script
	source *ScriptSource
	last   time.Duration // of the last action
	ended  bool
	spans  []*expectNode // those that were lowered
}

// runs lowers the scripts. An action, an expectation or an end belongs to the
// last script line before it.
func (l *lowerer) runs(t *tree) {
	for i := range t.lines {
		at := t.lines[i].at
		l.r.within = at
		switch n := t.lines[i].node.(type) {
		case *scriptNode:
			l.closeScript()
			l.begin(at, n)
		case *actionNode:
			if l.inScript(n.at.at, "an action") {
				l.action(at, n)
			}
		case *expectNode:
			if l.inScript(n.at, "an expectation") {
				l.expect(at, n)
			}
		case *endNode:
			if l.inScript(n.at, "an end") {
				l.end(n)
			}
		}
	}
	l.closeScript()
}

// begin opens a script.
func (l *lowerer) begin(at diag.Range, n *scriptNode) {
	if old, double := l.scripts[n.name.text]; double && n.name.text != "" {
		l.r.report(codeDoubleScript, n.name.at, "there is a second script %q", n.name.text).
			Explain("Scripts are called up by their names. Give each a name of its own.").
			Also(old, "the first one")
	} else {
		l.scripts[n.name.text] = n.name.at
	}
	l.script = &scriptState{
		script: &circuit.Script{Name: n.name.text},
		source: &ScriptSource{At: at},
	}
}

// closeScript checks the script in work as a whole and adds it to the circuit.
func (l *lowerer) closeScript() {
	s := l.script
	if s == nil {
		return
	}
	l.checkSpans(s)
	l.c.Scripts = append(l.c.Scripts, *s.script)
	l.file.Scripts = append(l.file.Scripts, *s.source)
	l.script = nil
}

func (l *lowerer) inScript(at diag.Range, what string) bool {
	if l.script == nil {
		l.r.report(codeNoScript, at, "%s stands before the first script line", what).
			Explain("Begin the script with its name: script %q.", "Start and stop")
		return false
	}
	return true
}

// end lowers an end line.
func (l *lowerer) end(n *endNode) {
	s := l.script
	switch {
	case s.ended:
		l.r.report(codeDoubleLine, n.at, "the script has ended already").
			Explain("A script has one end line at most. The first one holds.")
	case n.time.value > 0 && n.time.value < s.last:
		l.r.report(codeAfterEnd, n.time.at, "the script ends before its last action").
			Explain("Its last action is at %s. End it later, or take the action away.", circuit.FormatTime(s.last))
	default:
		s.script.End = n.time.value
	}
	s.ended = true
}

// action lowers an action.
func (l *lowerer) action(at diag.Range, n *actionNode) {
	s := l.script
	if s.ended {
		l.r.report(codeAfterEnd, n.at.at, "an action stands behind the end of its script").
			Explain("Write the actions before the end line.")
		return
	}
	if n.at.value < s.last {
		l.r.report(codeScriptOrder, n.at.at, "this action comes before the one above it").
			Explain("A script tells its actions in order of time; the one above is at %s. Actions of one instant are done together, but for a second one on the same device, which waits until the first has settled.", circuit.FormatTime(s.last))
		return
	}
	s.last = n.at.value
	a := circuit.Action{At: n.at.value, Verb: n.verb, Device: circuit.NoDevice, For: n.during.value}
	if n.device.text != "" && !l.actOn(n, &a) {
		return
	}
	s.script.Actions = append(s.script.Actions, a)
	s.source.Actions = append(s.source.Actions, at)
}

// actOn lowers what an action does to its device.
func (l *lowerer) actOn(n *actionNode, a *circuit.Action) bool {
	id, ok := l.find(n.device)
	if !ok {
		return false
	}
	d := &l.c.Devices[id]
	a.Device = id
	can := false
	for _, v := range d.Kind.Info().Verbs {
		can = can || v == n.verb
	}
	if !can {
		l.wrongAction(n, d)
		return false
	}
	if n.verb == circuit.Turn && n.position.text != "" {
		k, ok := fit(d, n.position.text)
		if !ok {
			l.unknownPosition(n.position.at, n.position, d)
			return false
		}
		a.Position = k.Position
	}
	return n.verb != circuit.SetPreset || l.setPresets(n, d, a)
}

// setPresets lowers the times of a set action.
func (l *lowerer) setPresets(n *actionNode, d *circuit.Device, a *circuit.Action) bool {
	if len(n.presets) > d.Function.Info().Times {
		l.r.report(codeWrongAction, n.presets[1].at, "%s: it has one time to set", what(d))
		return false
	}
	for i := range n.presets {
		a.Presets[i] = n.presets[i].value
	}
	return true
}

// wrongAction reports an action that the device doesn't know.
func (l *lowerer) wrongAction(n *actionNode, d *circuit.Device) {
	out := l.r.report(codeWrongAction, n.whole(), "%s: nobody can %s it", what(d), n.verb)
	verbs := d.Kind.Info().Verbs
	if len(verbs) == 0 {
		out.Explain("It is moved by the circuit, not by a script.")
		return
	}
	var words []string
	for _, v := range verbs {
		words = append(words, v.String()+" "+d.Tag)
	}
	switch verbs[0] {
	case circuit.Turn:
		words[0] += " to " + d.Positions[len(d.Positions)-1]
	case circuit.SetPreset:
		words[0] += " to 6 s"
	}
	out.Explain("A script can %s.", choice(words))
	if len(verbs) == 2 && n.verb != circuit.Turn && n.verb != circuit.SetPreset {
		v := verbs[0]
		if n.verb == circuit.Open || n.verb == circuit.Release || n.verb == circuit.Reset {
			v = verbs[1]
		}
		out.Offer(n.verbAt, v.String(), fmt.Sprintf("did you mean %s %s?", v, d.Tag))
	}
}

// expect lowers an expectation.
func (l *lowerer) expect(at diag.Range, n *expectNode) {
	s := l.script
	signal, ok := l.signal(n)
	if !ok {
		return
	}
	e := circuit.Expect{Signal: signal, Within: n.within.value, Percent: n.share}
	switch n.state {
	case "off", "open":
		e.Off = true
	case "always":
		e.Spans = []circuit.Span{{ToEnd: true}}
	}
	for i := range n.spans {
		if !l.ordered(n, i) {
			return
		}
		e.Spans = append(e.Spans, circuit.Span{From: n.spans[i].from.value, To: n.spans[i].to.value, ToEnd: n.spans[i].toEnd})
	}
	s.script.Expects = append(s.script.Expects, e)
	s.source.Expects = append(s.source.Expects, at)
	s.spans = append(s.spans, n)
}

// ordered reports whether span i ends behind its start and begins behind the
// one before it. Touching spans are a drop-out of no width.
func (l *lowerer) ordered(n *expectNode, i int) bool {
	span := &n.spans[i]
	if !span.toEnd && span.to.value < span.from.value {
		l.r.report(codeWrongSpan, span.at, "this stretch of time ends before it begins")
		return false
	}
	if i == 0 {
		return true
	}
	if before := &n.spans[i-1]; before.toEnd || span.from.value < before.to.value {
		l.r.report(codeWrongSpan, span.at, "this stretch of time begins before the last one ends").
			Explain("Write them in order: 1 s .. 5 s, 7 s .. end.")
		return false
	}
	return true
}

// checkSpans reports expectations about what lies behind the end of the run.
func (l *lowerer) checkSpans(s *scriptState) {
	if s.script.End == 0 {
		return
	}
	for _, n := range s.spans {
		for i := range n.spans {
			if span := &n.spans[i]; span.to.value > s.script.End || span.from.value > s.script.End {
				l.r.within = span.at
				l.r.report(codeOutsideRun, span.at, "the run is over before that").
					Explain("The script ends at %s. Write “end” for the end of the run, or let the script run longer.", circuit.FormatTime(s.script.End))
				break
			}
		}
	}
}

// signal looks up what an expectation watches.
func (l *lowerer) signal(n *expectNode) (circuit.Signal, bool) {
	id, ok := l.find(n.tag)
	if !ok {
		return circuit.Signal{}, false
	}
	d := &l.c.Devices[id]
	if n.part.text == "" {
		if d.TakesLoad(circuit.Main) || d.Kind == circuit.LatchingRelay {
			return circuit.Signal{Device: id}, true
		}
		l.r.report(codeUnknownSignal, n.tag.at, "%s: by its tag alone it is neither on nor off", what(d)).
			Explain("Name one of its contacts: %s.", choice(dotted(d.Tag, contactWords(d))))
		return circuit.Signal{}, false
	}
	if k, ok := fit(d, n.part.text); ok {
		return circuit.Signal{Device: id, Contact: k.Kind, Position: k.Position}, true
	}
	if part, ok := partOf(n.part.text); ok && d.TakesLoad(part) {
		return circuit.Signal{Device: id, Load: part}, true
	}
	if circuit.ContactKindOf(n.part.text) != circuit.NoContact || d.Kind == circuit.Selector {
		l.wrongContact(n.tag, n.part, d)
		return circuit.Signal{}, false
	}
	out := l.r.report(codeUnknownSignal, n.signal(), "%s: it has no %s", what(d), shorten(n.part.text)).
		Explain("A signal is a tag alone, for its coil or load, or a tag with a dot and one of its contacts.")
	l.r.offerNearest(out, n.part.at, n.part.text, contactWords(d))
	return circuit.Signal{}, false
}
