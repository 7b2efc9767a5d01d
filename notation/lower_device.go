package notation

import (
	"strings"
	"time"

	"tarry/circuit"
	"tarry/diag"
)

// defaultGap is a star-delta timer's gap if the text gives none.
const defaultGap = 50 * time.Millisecond

// maxPositions is how many positions a selector may have.
const maxPositions = 24

var colours = []string{"amber", "white", "red", "green", "blue", "clear", "yellow", "orange"}

// deviceOf lowers a device's line.
func (l *lowerer) deviceOf(n *deviceNode) circuit.Device {
	d := circuit.Device{Tag: n.tag.text, Kind: n.kind, Function: n.function, Label: n.label}
	p := &parameters{l: l, n: n, d: &d, before: l.r.faults}
	for i := range n.params {
		p.take(&n.params[i])
	}
	p.finish()
	return d
}

// parameters takes the parameters of one device, one by one.
type parameters struct {
	l     *lowerer
	n     *deviceNode
	d     *circuit.Device
	times []param
	seen  [16]bool // kinds of parameter that may stand once
	// double says that the parameter in work stands for the second time.
	double bool
	before int // the faults before the first parameter
}

// The places in parameters.seen of what is no paramKind of its own.
const (
	seenColour = iota + 8
	seenStorage
	seenForgetful
)

// take takes one parameter, if the kind has it.
func (p *parameters) take(par *param) {
	d := p.d
	timer := d.Kind == circuit.Timer
	travels := d.Kind == circuit.Relay || d.Kind == circuit.Contactor
	switch {
	case par.kind == parWord:
		p.word(par)
	case par.kind == parTime && timer:
		p.times = append(p.times, *par)
	case par.kind == parTolerance && timer && p.once(int(par.kind)):
		d.Tolerance = par.share
	case par.kind == parNumber && d.Kind == circuit.Counter && p.once(int(par.kind)):
		d.Count = p.count(par)
	case par.kind == parOperate && travels && p.once(int(par.kind)):
		d.Operate = par.time.value
	case par.kind == parRelease && travels && p.once(int(par.kind)):
		d.Release = par.time.value
	case par.kind == parGap && d.Function == circuit.StarDelta && p.once(int(par.kind)):
		d.Presets[1] = par.time.value
	case par.kind == parStartingOff && d.Function == circuit.Flasher && p.once(int(par.kind)):
		d.StartingOff = true
	default:
		p.wrong(par)
	}
}

// once reports whether a parameter stands for the first time. The second one
// is then no case of its switch, and wrong reports it.
func (p *parameters) once(kind int) bool {
	p.double = p.seen[kind]
	p.seen[kind] = true
	return !p.double
}

func (p *parameters) word(par *param) {
	d := p.d
	switch {
	case d.Kind == circuit.Selector:
		p.position(par)
	case d.Kind == circuit.Lamp && isOneOf(par.text, colours) && p.once(seenColour):
		d.Colour = par.text
	case d.Kind == circuit.Timer && par.text == "air" && p.once(seenStorage):
		d.Storage = circuit.Air
	case d.Kind == circuit.Timer && par.text == "electronic" && p.once(seenStorage):
		d.Storage = circuit.Electronic
	case d.Function == circuit.Accumulating && par.text == "forgetful" && p.once(seenForgetful):
		d.Forgetful = true
	default:
		p.wrong(par)
	}
}

func (p *parameters) position(par *param) {
	bad := func(summary string, args ...any) {
		p.l.r.report(codeBadPosition, par.at, summary, args...).
			Explain("A selector has from 2 to %d positions with different names, the first of them at rest: %s selector off auto hand.", maxPositions, p.d.Tag)
	}
	switch n := len(p.d.Positions); {
	case n == maxPositions:
		bad("there are more than %d positions", maxPositions)
		return
	case n > maxPositions:
		return
	case circuit.ContactKindOf(par.text) != circuit.NoContact:
		bad("a position cannot be called %s, which is a contact's name", par.text)
		return
	}
	for _, name := range p.d.Positions {
		if circuit.EqualTag(name, par.text) {
			bad("two positions are called %s", par.text)
			return
		}
	}
	p.d.Positions = append(p.d.Positions, par.text)
}

func (p *parameters) count(par *param) int {
	for _, r := range par.text {
		if r == '.' || len(par.text) > 6 {
			p.l.r.report(codeBadNumber, par.at, "%s is no number to count to", shorten(par.text)).
				Explain("A counter counts to a whole number from 1 to 999999.")
			return 1
		}
	}
	n := 0
	for _, r := range par.text {
		n = n*10 + int(r-'0')
	}
	if n == 0 {
		p.l.r.report(codeBadNumber, par.at, "a counter cannot count to 0").
			Explain("A counter counts to a whole number from 1 to 999999.")
	}
	return max(n, 1)
}

// wrong reports a parameter that the kind doesn't take, or not twice.
func (p *parameters) wrong(par *param) {
	text := p.l.tree.text[par.at.Start:par.at.End]
	d := p.l.r.report(codeWrongParameter, par.at, "%s: it does not take %s", what(p.d), shorten(text))
	if d == nil {
		return
	}
	if p.double {
		p.double = false
		d.Summary = shorten(text) + " is one too many for " + p.d.Tag
	}
	takes, words := p.takes()
	switch {
	case takes == "":
		d.Explain("It takes no parameters, only a label in quotes.")
	case strings.Contains(takes, ","):
		d.Explain("It takes %s, each once at most, and a label in quotes.", takes)
	default:
		d.Explain("It takes %s and a label in quotes.", takes)
	}
	if par.kind == parWord {
		p.l.r.offerNearest(d, par.at, par.text, words)
	}
}

// takes says what the kind takes, and lists the words among it.
func (p *parameters) takes() (string, []string) {
	info := p.d.Function.Info()
	times := "a time"
	if info.Times == 2 {
		times = "two times"
	}
	switch {
	case p.d.Function == circuit.StarDelta:
		return "a time, a gap such as gap 50 ms, air or electronic, a tolerance such as +-5%", []string{"air", "electronic", "gap"}
	case p.d.Function == circuit.Flasher:
		return "two times (on and off), starting off, air or electronic, a tolerance such as +-5%", []string{"air", "electronic", "starting"}
	case p.d.Function == circuit.Accumulating:
		return "a time, forgetful, air or electronic, a tolerance such as +-5%", []string{"air", "electronic", "forgetful"}
	case p.d.Kind == circuit.Timer:
		return times + ", air or electronic, a tolerance such as +-5%", []string{"air", "electronic"}
	case p.d.Kind == circuit.Relay, p.d.Kind == circuit.Contactor:
		return "an operate time and a release time, such as operate 20 ms release 10 ms", []string{"operate", "release"}
	case p.d.Kind == circuit.Lamp:
		return "a colour (" + strings.Join(colours, " ") + ")", colours
	case p.d.Kind == circuit.Counter:
		return "the number to count to", nil
	case p.d.Kind == circuit.Selector:
		return "the names of its positions, which begin with a letter,", nil
	}
	return "", nil
}

// finish checks what must be there and fills in what the trade takes for
// granted. What is missing is not reported where something else was wrong.
func (p *parameters) finish() {
	d := p.d
	sound := p.l.r.faults == p.before
	switch d.Kind {
	case circuit.Timer:
		p.presets(sound)
	case circuit.Counter:
		if d.Count == 0 && sound {
			p.l.r.report(codeMissingCount, p.n.kindAt, "%s has no number to count to", d.Tag).
				Explain("Say how many pick-ups it counts before its contacts operate: %s counter 5.", d.Tag)
		}
		d.Count = max(d.Count, 1)
	case circuit.Selector:
		if len(d.Positions) >= 2 {
			return
		}
		if len(p.n.params) > 0 && sound {
			p.l.r.report(codeBadPosition, p.n.kindAt, "%s has fewer than two positions", d.Tag).
				Explain("Name them from the rest position on, for example %s selector off auto hand; without names they are off and on.", d.Tag)
		}
		d.Positions = []string{"off", "on"}
	}
}

// presets sorts the times of a timer.
func (p *parameters) presets(sound bool) {
	d, wanted := p.d, p.d.Function.Info().Times
	if d.Function == circuit.StarDelta {
		wanted = 1
		if d.Presets[1] == 0 {
			d.Presets[1] = defaultGap
		}
	}
	for i := range p.times {
		if i >= wanted {
			p.wrong(&p.times[i])
			continue
		}
		d.Presets[i] = p.times[i].time.value
	}
	if len(p.times) < wanted && sound {
		p.missing(wanted)
	}
}

// missing reports that a timer has too few times. Two times that were read as
// one, like 2 s 300 ms, get a comma offered.
func (p *parameters) missing(wanted int) {
	d := p.l.r.report(codeMissingTime, p.n.kindAt, "%s has no time", p.d.Tag).
		Explain("Give the preset with its unit: %s %s 4 s.", p.d.Tag, p.d.Function)
	if wanted < 2 || d == nil {
		return
	}
	d.Summary = p.d.Tag + " needs two times"
	d.Explain("Give both with their units: %s %s 2 s, 1 s.", p.d.Tag, p.d.Function)
	if len(p.times) == 1 && len(p.times[0].time.parts) > 1 {
		end := p.times[0].time.parts[0].end
		d.Explain("%s is read as one time. Put a comma between two times.", p.l.tree.text[p.times[0].at.Start:p.times[0].at.End]).
			Offer(diag.Range{Start: end, End: end}, ",", "put a comma between them?")
	}
}
