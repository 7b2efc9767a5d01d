package notation

import (
	"strings"
	"unicode/utf8"

	"tarry/circuit"
	"tarry/diag"
)

// maxTag is how many letters a tag may have; more does not fit a drawing.
const maxTag = 16

// kindWords lists the words for a device's kind: those of the kinds, and for
// timers those of the functions.
var kindWords, functionWords = func() (all, functions []string) {
	for _, k := range circuit.Kinds() {
		if k.Kind != circuit.Timer {
			all = append(all, k.Word)
		}
	}
	for _, f := range circuit.Functions() {
		functions = append(functions, f.Word)
	}
	return append(all, functions...), functions
}()

// kindSlips are everyday words for a kind.
var kindSlips = map[string]string{
	"pushbutton": "button", "push-button": "button", "light": "lamp", "bulb": "lamp",
	"buzzer": "horn", "bell": "horn", "siren": "horn", "valve": "solenoid", "coil": "relay",
	"photocell": "photo", "toggle": "switch", "blinker": "flasher", "delay": "on-delay",
	"latching": "latching relay", "stepping": "stepping relay",
	"push": "button", "pilot": "lamp", "led": "lamp", "fuse": "breaker", "mcb": "breaker",
	"pump": "motor", "fan": "motor", "starter": "contactor", "limitswitch": "limit", "sensor": "proximity",
	"on": "on-delay", "off": "off-delay", "delay-on": "on-delay", "delay-off": "off-delay",
	"ondelay": "on-delay", "offdelay": "off-delay", "ton": "on-delay", "tof": "off-delay", "tp": "pulse",
	"timer": "on-delay", "time": "on-delay", "oneshot": "pulse", "one-shot": "pulse", "retentive": "accumulating",
	"thermal": "overload", "key": "switch", "magnet": "solenoid",
}

// kindOf returns the kind and function that a word names.
func kindOf(text string) (circuit.Kind, circuit.Function) {
	for _, k := range circuit.Kinds() {
		if k.Word == text && k.Kind != circuit.Timer {
			return k.Kind, circuit.NoFunction
		}
	}
	for _, f := range circuit.Functions() {
		if f.Word == text {
			return circuit.Timer, f.Function
		}
	}
	return circuit.NoKind, circuit.NoFunction
}

// device reads: tag kind {parameter} ["label"].
func (p *parser) device() node {
	tag := p.peek()
	after := p.peekAt(1)
	if after.kind != tokWord {
		return p.noKind(tag, after)
	}
	p.next()
	n := &deviceNode{tag: word{tag.text, tag.at}}
	p.checkTag(tag)
	p.kind(n)
	if n.kind == circuit.NoKind {
		p.skip()
		return n
	}
	p.params(n)
	return n
}

// noKind reports a line that begins with a word but has no second one.
func (p *parser) noKind(tag, after token) node {
	line := diag.Nearest(tag.text, lineWords)
	switch {
	case line != "" && after.kind != tokEnd, p.arrow:
		return p.unknownLine()
	case after.kind == tokEnd || after.kind == tokString:
		p.r.report(codeMissingKind, tag.at, "%s has no kind", shorten(tag.text)).
			Explain("Say what it is, for example %s relay.", shorten(tag.text))
		p.skip()
		return &deviceNode{tag: word{tag.text, tag.at}}
	}
	return p.unknownLine()
}

func (p *parser) checkTag(t token) {
	switch {
	case utf8.RuneCountInString(t.text) > maxTag:
		p.r.report(codeBadTag, t.at, "the tag %s is longer than 16 letters", shorten(t.text)).
			Explain("Keep the tag short and say the rest in the label: S1 button %q.", "Start, north door")
	case strings.ContainsRune(t.text, '+'):
		p.r.report(codeBadTag, t.at, "the tag %s holds a +", shorten(t.text)).
			Explain("A tag is a letter followed by letters, digits, _ and -.")
	case isOneOf(strings.ToLower(t.text), reserved):
		p.r.report(codeReserved, t.at, "%s is a word of the notation", t.text).
			Explain("A device by this name would make scripts unreadable. Choose another tag.")
	}
}

// kind reads the kind of a device. An unknown one is replaced by its near
// miss, if it has one.
func (p *parser) kind(n *deviceNode) {
	first := p.next()
	text := first.text
	n.kindAt = first.at
	if t := p.peek(); t.kind == tokWord {
		if k, _ := kindOf(text + " " + t.text); k != circuit.NoKind {
			text += " " + t.text
			n.kindAt.End = t.at.End
			p.next()
		}
	}
	if n.kind, n.function = kindOf(text); n.kind != circuit.NoKind {
		return
	}
	d := p.r.report(codeUnknownKind, n.kindAt, "%s is no kind of device", shorten(text))
	near := kindSlips[strings.ToLower(text)]
	switch {
	case text == "timer":
		d.Explain("A timer is written by its function: %s.", choice(functionWords))
	case near != "":
		d.Explain("What is meant may be the %s.", near).Offer(n.kindAt, near, "did you mean "+near+"?")
	default:
		d.Explain("The kinds are %s.", list(kindWords))
		if near = p.r.offerNearest(d, n.kindAt, text, kindWords); near == "" {
			d.Explain("The kinds are %s. "+ofNewer, list(kindWords))
		}
	}
	n.kind, n.function = kindOf(near)
}

// params reads the parameters and the label.
func (p *parser) params(n *deviceNode) {
	for comma := false; !p.quiet; {
		t := p.peek()
		switch t.kind {
		case tokEnd:
			return
		case tokString:
			p.next()
			n.label, n.labelled = t.text, true
			return
		case tokComma:
			if p.commaFits(n) {
				p.next()
				comma = true
				continue
			}
		}
		par, ok := p.param(n)
		if !ok {
			return
		}
		par.comma = comma
		comma = false
		n.params = append(n.params, par)
	}
}

// commaFits reports whether a comma may stand here: between two times.
func (p *parser) commaFits(n *deviceNode) bool {
	last := len(n.params) - 1
	return last >= 0 && n.params[last].kind == parTime && p.peekAt(1).kind == tokNumber
}

func (p *parser) param(n *deviceNode) (param, bool) {
	t := p.peek()
	par := param{at: t.at}
	switch t.kind {
	case tokPlusMinus:
		p.next()
		if p.peek().kind != tokNumber {
			p.want("the tolerance in %")
			return par, false
		}
		par.kind, par.share = parTolerance, p.share()
	case tokNumber, tokMinus:
		if t.kind == tokNumber && n.kind != circuit.Timer && unit(p.peekAt(1)) == "" {
			p.next()
			par.kind, par.text = parNumber, t.text
			break
		}
		par.kind, par.time = parTime, p.preset()
	case tokWord:
		p.wordParam(n, &par)
	default:
		p.want("a parameter or the label in quotes")
		return par, false
	}
	par.at.End = p.toks[max(p.pos-1, 0)].at.End
	return par, !p.quiet
}

// wordParam reads a parameter that begins with a word. All words of a selector
// are its positions.
func (p *parser) wordParam(n *deviceNode, par *param) {
	t := p.next()
	par.kind, par.text = parWord, t.text
	if n.kind == circuit.Selector {
		return
	}
	switch t.text {
	case "operate":
		par.kind, par.time = parOperate, p.preset()
	case "release":
		par.kind, par.time = parRelease, p.preset()
	case "gap":
		par.kind, par.time = parGap, p.preset()
	case "starting":
		if p.wantOneOf("off") == 0 {
			par.kind = parStartingOff
		}
	}
}
