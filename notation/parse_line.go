package notation

import (
	"slices"
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/diag"
)

// The words that begin a line. No device may be called by one of them.
var lineWords = []string{
	"circuit", "station", "aim", "trap", "caution", "try", "say", "supply",
	"plant", "wire", "script", "expect", "end", "claim",
}

// reserved lists the other words that would confuse as a tag.
var reserved = append([]string{
	"close", "open", "press", "release", "turn", "trip", "reset", "set", "break", "weld",
	"on", "off", "never", "always", "to", "for", "after",
}, lineWords...)

func isOneOf(s string, words []string) bool {
	for _, w := range words {
		if s == w {
			return true
		}
	}
	return false
}

// statement reads the line by what it begins with.
func (p *parser) statement() node {
	switch t := p.peek(); t.kind {
	case tokNumber, tokMinus:
		return p.numbered()
	case tokWord:
		key := t.text
		if isOneOf(strings.ToLower(key), reserved) && p.kindFollows() {
			return p.device() // which reports the tag
		}
		if lower := strings.ToLower(key); lower != key && isOneOf(lower, lineWords) {
			p.r.report(codeReserved, t.at, "%s is a word of the notation", key).
				Explain("No device can be called so. Where the line is meant to begin with the word, write it in small letters.").
				Offer(t.at, lower, "write "+lower+"?")
			key = lower
		}
		return p.keyed(key)
	}
	return p.unknownLine()
}

// kindFollows reports whether the word behind the next is a device's kind.
func (p *parser) kindFollows() bool {
	first, second := p.peek(), p.peekAt(1)
	k, _ := kindOf(second.text)
	return second.kind == tokWord && k != circuit.NoKind && first.text != "plant" && first.text != "expect"
}

// keyed reads a line that begins with a word.
func (p *parser) keyed(key string) node {
	at := p.peek().at
	switch key {
	case "circuit", "station", "aim", "trap", "caution", "try", "say":
		return p.textLine(key)
	case "supply":
		return p.supply()
	case "plant":
		return p.plant()
	case "wire":
		return p.pin()
	case "script":
		return p.script()
	case "expect":
		return p.expect()
	case "end":
		return p.endLine()
	case "claim":
		p.notYet(at, "claim")
		return nil
	}
	return p.device()
}

// numbered tells a rung from an action: a rung's number is followed by a
// colon, or, where that was forgotten, the line holds an arrow.
func (p *parser) numbered() node {
	t := p.peek()
	if t.kind == tokNumber && p.peekAt(1).kind == tokColon {
		return p.rung()
	}
	if t.kind == tokNumber && p.arrow {
		end := diag.Range{Start: t.at.End, End: t.at.End}
		p.r.report(codeUnexpected, t.at, "a colon is missing behind the rung's number").
			Offer(end, ":", "write "+shorten(t.text)+":?")
		return p.rung()
	}
	return p.action()
}

// ofNewer says what becomes of what a newer version may have written.
const ofNewer = "If the text was written with a newer tarry, that one reads the line; here it has no effect and stays in the text."

// versionWords begin a line with which a newer version may say that it is one.
var versionWords = []string{"tarry", "version", "notation"}

func (p *parser) unknownLine() node {
	t := p.peek()
	d := p.r.report(codeUnknownLine, t.at, "no line begins with %s", p.name(t))
	if t.kind == tokWord {
		const usual = "A device is a tag and its kind, for example K1 relay. The other lines begin with %s, with a rung's number and a colon, or with the time of an action."
		d.Explain(usual, list(lineWords))
		if slices.Contains(versionWords, t.text) {
			d.Explain(ofNewer)
		} else if p.r.offerNearest(d, t.at, t.text, lineWords) == "" {
			d.Explain(usual+" "+ofNewer, list(lineWords))
		}
	}
	if t.kind == tokArrow || p.arrow {
		d.Explain("A rung begins with its number and a colon: 1: S1.no -> K1.")
	}
	p.skip()
	return nil
}

func (p *parser) notYet(at diag.Range, what string) {
	p.r.report(codeNotYet, at, "%s is not understood yet", what).
		Explain("The word is kept for a later version of tarry. The line has no effect; the rest of the text is read.")
	p.skip()
}

// textLine reads a keyword and a text in quotes.
func (p *parser) textLine(key string) node {
	n := &textNode{key: word{key, p.next().at}}
	t := p.peek()
	if t.kind != tokString {
		p.want("a text in quotes")
		return nil
	}
	p.next()
	n.text = t.text
	return n
}

// supply reads: supply 24 V dc [rails L+ L-].
func (p *parser) supply() node {
	n := &supplyNode{key: word{"supply", p.next().at}}
	t := p.peek()
	if t.kind != tokNumber {
		p.want("the voltage")
		return n
	}
	p.next()
	n.number, n.numberAt = t.text, t.at
	millivolts := p.millivolts(t)
	p.volt()
	i := p.wantOneOf("dc", "ac")
	n.ac = i == 1
	if i >= 0 {
		n.millivolts = millivolts
	}
	if i >= 0 && p.takeWord("rails") {
		for i := range n.rails {
			n.rails[i] = p.glued("the name of a rail")
		}
	}
	return n
}

func (p *parser) volt() {
	t := p.peek()
	if t.kind == tokWord && t.text == "V" {
		p.next()
		return
	}
	if t.kind == tokWord && isOneOf(strings.ToLower(t.text), []string{"v", "volt", "volts"}) {
		p.next()
		p.r.report(codeUnit, t.at, "the unit of voltage is V").Offer(t.at, "V", "write V?")
		return
	}
	last := p.toks[p.pos-1].at
	p.r.report(codeMissingUnit, last, "the voltage has no unit").
		Offer(diag.Range{Start: last.End, End: last.End}, " V", "write "+shorten(p.toks[p.pos-1].text)+" V?")
}

// millivolts works out a voltage exactly.
func (p *parser) millivolts(t token) int64 {
	v, state := scaled(t.text, 1000, 1_000_000_000)
	switch state {
	case tooFine:
		p.r.report(codeTooFine, t.at, "the voltage is finer than 1 mV")
	case tooLarge:
		p.r.report(codeBadNumber, t.at, "the voltage is absurd").
			Explain("At most 1 000 000 V is taken.")
	}
	return v
}

// glued takes a name of letters, digits, _, - and +: the tokens that touch
// each other.
func (p *parser) glued(what string) word {
	first := p.peek()
	at := first.at
	for t := first; p.isName(t); t = p.peek() {
		if t.at.Start != at.End && t != first {
			break
		}
		at.End = t.at.End
		p.next()
	}
	if p.peek() == first {
		p.want(what)
		return word{}
	}
	return word{p.text[at.Start:at.End], at}
}

func (p *parser) isName(t token) bool {
	switch t.kind {
	case tokNumber:
		return !strings.Contains(t.text, ".")
	case tokMinus:
		return t.text == "-"
	}
	return t.kind == tokWord
}

// pin reads: wire @name 12.
func (p *parser) pin() node {
	n := &pinNode{at: p.next().at}
	t := p.peek()
	if t.kind != tokNet {
		p.want("a named net such as @w6").Explain("A pin fixes the number of a named net: wire @w6 12.")
		return nil
	}
	p.next()
	n.net = word{t.text, t.at}
	if t = p.peek(); t.kind != tokNumber {
		p.want("the wire number")
		return nil
	}
	p.next()
	n.number = p.whole(t, "a wire number")
	return n
}

// whole returns the value of a whole number from 1 to 99999, or 0 for another.
func (p *parser) whole(t token, what string) int {
	n, err := strconv.Atoi(t.text)
	if err == nil && n >= 1 && n <= 99999 {
		return n
	}
	p.r.report(codeBadNumber, t.at, "%s is no number for %s", shorten(t.text), what).
		Explain("It is a whole number from 1 to 99999.")
	return 0
}

// plant reads: plant LS2 closes 4 s after M1 starts.
func (p *parser) plant() node {
	n := &plantNode{at: p.next().at}
	var ok bool
	if n.sensor, ok = p.wantTag("the tag of a sensor"); !ok {
		return nil
	}
	move := p.wantOneOf("closes", "opens")
	if move < 0 {
		return nil
	}
	n.closes = move == 0
	n.after = p.preset()
	if p.wantOneOf("after") < 0 {
		return nil
	}
	if n.load, ok = p.wantTag("the tag of a load"); !ok {
		return nil
	}
	edge := p.wantOneOf("starts", "stops")
	if edge < 0 {
		return nil
	}
	n.onStart = edge == 0
	return n
}
