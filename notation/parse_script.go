package notation

import (
	"tarry/circuit"
	"tarry/diag"
)

// script reads: script "name".
func (p *parser) script() node {
	n := &scriptNode{at: p.next().at}
	t := p.peek()
	if t.kind != tokString {
		p.want("the script's name in quotes")
		return n
	}
	p.next()
	n.name = word{t.text, t.at}
	return n
}

// endLine reads: end 20 s.
func (p *parser) endLine() node {
	n := &endNode{at: p.next().at}
	n.time = p.preset()
	return n
}

var verbWords = []string{"close", "open", "press", "release", "turn", "trip", "reset", "set", "supply"}

// verbSlips are other words for an action.
var verbSlips = map[string]string{
	"push": "press", "hold": "press", "let": "release", "switch": "turn", "shut": "close", "adjust": "set",
}

func verbOf(text string) circuit.Verb {
	for v := circuit.Close; v <= circuit.SetPreset; v++ {
		if v.String() == text {
			return v
		}
	}
	return circuit.NoVerb
}

// action reads: time verb …
func (p *parser) action() node {
	n := &actionNode{at: p.time()}
	if p.quiet {
		return nil
	}
	t := p.peek()
	n.verbAt = t.at
	if t.kind != tokWord {
		p.want("what is done, such as press S1,")
		return nil
	}
	switch t.text {
	case "break", "weld":
		p.notYet(t.at, t.text)
		return nil
	case "supply":
		p.next()
		return p.supplyAction(n)
	}
	n.verb = verbOf(t.text)
	if n.verb == circuit.NoVerb {
		p.unknownVerb(t)
		return nil
	}
	p.next()
	var ok bool
	if n.device, ok = p.wantTag("the tag of a device"); !ok {
		return nil
	}
	p.actionRest(n)
	return n
}

func (p *parser) unknownVerb(t token) {
	d := p.r.report(codeUnknownAction, t.at, "%s is no action", shorten(t.text)).
		Explain("The actions are %s.", list(verbWords))
	if slip := verbSlips[t.text]; slip != "" {
		d.Offer(t.at, slip, "did you mean "+slip+"?")
	} else {
		p.r.offerNearest(d, t.at, t.text, verbWords)
	}
	p.skip()
}

// supplyAction reads: off | on, the first also with a "for".
func (p *parser) supplyAction(n *actionNode) node {
	t := p.peek()
	switch p.wantOneOf("off", "on") {
	case 0:
		n.verb = circuit.SupplyOff
	case 1:
		n.verb = circuit.SupplyOn
	default:
		return nil
	}
	n.verbAt.End = t.at.End
	p.during(n)
	return n
}

// actionRest reads what stands behind the device.
func (p *parser) actionRest(n *actionNode) {
	switch n.verb {
	case circuit.Turn:
		if p.wantOneOf("to") < 0 {
			return
		}
		n.position, _ = p.wantTag("the name of a position")
	case circuit.SetPreset:
		if p.wantOneOf("to") < 0 {
			return
		}
		n.presets = append(n.presets, p.preset())
		if p.take(tokComma) || p.peek().kind == tokNumber {
			n.presets = append(n.presets, p.preset())
		}
	default:
		p.during(n)
	}
}

// during reads: [for 300 ms].
func (p *parser) during(n *actionNode) {
	t := p.peek()
	if t.kind != tokWord || t.text != "for" {
		return
	}
	if n.verb.Undo() == circuit.NoVerb {
		p.r.report(codeTrailing, t.at, "%s has no “for”", n.verb).
			Explain("Only an action that can be undone lasts for a time: press, close, trip and supply off.")
		p.skip()
		return
	}
	p.next()
	n.during = p.preset()
}

var states = []string{"on", "off", "closed", "open", "never", "always"}

// expect reads: expect signal state … [+- tolerance].
func (p *parser) expect() node {
	n := &expectNode{at: p.next().at}
	var ok bool
	if n.tag, ok = p.wantTag("the tag of a device"); !ok {
		return nil
	}
	if p.take(tokDot) {
		if n.part, ok = p.wantTag("the name of a contact or coil"); !ok {
			return nil
		}
	}
	i := p.wantOneOf(states...)
	if i < 0 {
		return nil
	}
	n.state = states[i]
	if n.state != "never" && n.state != "always" {
		p.spans(n)
	}
	if !p.quiet && p.take(tokPlusMinus) {
		p.tolerance(n)
	}
	return n
}

// spans reads: span {"," span}.
func (p *parser) spans(n *expectNode) {
	for !p.quiet {
		span := spanNode{at: p.peek().at, from: p.time()}
		if p.quiet {
			return
		}
		if !p.take(tokDots) {
			p.want("..").Explain("A stretch of time is written with two dots: 1 s .. 5 s, or 1 s .. end.")
			return
		}
		if p.takeWord("end") {
			span.toEnd = true
		} else {
			span.to = p.time()
		}
		span.at.End = p.toks[max(p.pos-1, 0)].at.End
		n.spans = append(n.spans, span)
		if !p.take(tokComma) {
			return
		}
	}
}

func (p *parser) tolerance(n *expectNode) {
	if p.peek().kind == tokNumber && p.peekAt(1).kind == tokPercent {
		n.tolerance, n.share = byShare, p.share()
		return
	}
	n.tolerance, n.within = byTime, p.time()
}

// at is the place of the signal.
func (n *expectNode) signal() diag.Range {
	if n.part.text == "" {
		return n.tag.at
	}
	return n.tag.at.To(n.part.at)
}
