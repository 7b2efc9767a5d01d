package schematic

import (
	"slices"
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/page"
)

// Sizes of words in 1/100 mm.
const (
	tagSize    page.Unit = 290
	wordSize   page.Unit = 220
	numberSize page.Unit = 190
	wordFold   page.Unit = 2400 // labels are folded to this width
	lineGap    page.Unit = 50
	wireClear  page.Unit = 70 // words stand below a wire as below a symbol this deep
)

// words is a line of text at a symbol.
type words struct {
	text string
	size page.Unit
	bold bool
}

func (w words) width() page.Unit  { return page.Width(w.text, w.size, w.bold) }
func (w words) height() page.Unit { return page.Above(w.size) + page.Below(w.size) + lineGap }

// block is the words at one symbol: the tag, and what stands below it.
type block struct {
	tag   words
	lines []words
}

func (b block) width() page.Unit {
	w := b.tag.width()
	for _, l := range b.lines {
		w = max(w, l.width())
	}
	return w
}

func (b block) height() page.Unit { return b.tag.height() + b.below() }

// below is the height of the lines without the tag.
func (b block) below() page.Unit {
	h := page.Unit(0)
	for _, l := range b.lines {
		h += l.height()
	}
	return h
}

// label folds words that stand at a symbol, its lines about equally long.
func (l *layout) label(text string) []words {
	if list, ok := l.faces.labels[text]; ok {
		return list
	}
	fold := l.wordFold
	for _, word := range strings.Fields(text) { // on a narrow page a long word need not be cut yet
		fold = min(max(fold, page.Width(word, wordSize, false)), wordFold)
	}
	lines := page.Fold(text, wordSize, false, fold, 0)
	for width := fold - 100; len(lines) > 1 && width > fold/2; width -= 100 {
		next := page.Fold(text, wordSize, false, width, 0)
		if len(next) > len(lines) || strings.Count(strings.Join(next, ""), "…") > strings.Count(strings.Join(lines, ""), "…") {
			break
		}
		lines = next
	}
	var list []words
	for _, line := range lines {
		list = append(list, words{line, wordSize, false})
	}
	l.faces.labels[text] = list
	return list
}

// contactBlock is what is written at a contact: the tag; for a hand or a
// sensor its label, for a selector the position, for a late contact which
// movement is late.
func (l *layout) contactBlock(k circuit.Contact) block {
	d := &l.circuit.Devices[k.Device]
	b := block{tag: words{d.Tag, tagSize, true}}
	switch {
	case k.Kind == circuit.AtPosition:
		b.tag.text += " " + d.Positions[k.Position]
		b.lines = l.label(d.Label)
	case d.Kind.Info().Loads == nil:
		b.lines = l.label(d.Label)
	case !l.opt.NoWords:
		b.lines = l.label(LateWords(d.Function, k.Kind))
	}
	return b
}

// LateWords says in plain words which movement of a contact is late, or which
// output it is; empty for a contact that moves with its coil.
func LateWords(f circuit.Function, k circuit.ContactKind) string {
	switch k {
	case circuit.NOTC:
		return "closes late"
	case circuit.NCTO:
		return "opens late"
	case circuit.NOTO:
		return "opens late"
	case circuit.NCTC:
		return "closes late"
	case circuit.StarOut:
		return "star"
	case circuit.DeltaOut:
		return "delta"
	case circuit.TNO, circuit.TNC:
		if f == circuit.OnOffDelay {
			return "moves late both ways"
		}
		return f.String()
	}
	return ""
}

// loadBlock is what is written at a coil or load: tag, label, function and
// settings.
func (l *layout) loadBlock(k circuit.Load) block {
	d := &l.circuit.Devices[k.Device]
	b := block{tag: words{l.circuit.LoadName(k), tagSize, true}, lines: slices.Clone(l.label(d.Label))}
	about := d.Kind.String()
	switch {
	case k.Part == circuit.ResetCoil: // its tag says what it does
		about = ""
	case d.Kind == circuit.Timer:
		about = ""
		for _, line := range functionLines(l.setTo(k.Device), l.wordFold) {
			b.lines = append(b.lines, l.label(line)...)
		}
	case d.Colour != "":
		about = d.Colour
	case d.Kind == circuit.Lamp, d.Kind == circuit.Relay, d.Kind == circuit.Contactor:
		about = ""
	}
	b.lines = append(b.lines, l.label(about)...)
	return b
}

// FunctionWords writes a timer's function and settings in one line:
// "on-delay 4 s", "star-delta 6 s, gap 50 ms".
func FunctionWords(d *circuit.Device) string { return strings.Join(settings(d), ", ") }

// settings writes a timer's function with its first setting, then its second
// one.
func settings(d *circuit.Device) []string {
	lines := []string{d.Function.String() + " " + circuit.FormatTime(d.Presets[0])}
	if d.Presets[1] != 0 {
		second := map[circuit.Function]string{circuit.StarDelta: "gap ", circuit.Flasher: "off ", circuit.OnOffDelay: "return "}[d.Function]
		lines = append(lines, second+circuit.FormatTime(d.Presets[1]))
	}
	if d.StartingOff {
		lines = append(lines, "starting off")
	}
	return lines
}

// functionLines writes a timer's settings and what else its times rest on: the
// declared tolerance, and what it does without supply.
func functionLines(d *circuit.Device, fold page.Unit) []string {
	lines := settings(d)
	if d.Tolerance > 0 {
		lines[0] += " ±" + strconv.FormatFloat(float64(d.Tolerance)/100, 'f', -1, 64) + " %"
	}
	rest := ""
	switch {
	case d.Forgetful:
		rest = "forgetful"
	case d.Function == circuit.OffDelay && d.Stored() == circuit.Air, d.Storage == circuit.Air:
		rest = "air"
	case d.Storage == circuit.Electronic:
		rest = "electronic"
	default:
		return lines
	}
	if whole := lines[0] + ", " + rest; len(lines) == 1 && page.Width(whole, wordSize, false) <= fold {
		return []string{whole}
	}
	return append(lines, rest)
}

// width is that of the widest number of a wire or terminal.
func (n *Numbering) width() page.Unit {
	widest := page.Width("A2", numberSize, false)
	for _, s := range n.Wires[min(len(n.Wires), 2):] {
		widest = max(widest, page.Width(s, numberSize, false))
	}
	for _, marks := range n.Contacts {
		widest = max(widest, page.Width(marks[1], numberSize, false))
	}
	return widest
}

// stub is the wire between a symbol and its cell's edge on a rung: room for a
// wire number.
func (l *layout) stub() page.Unit { return max(l.measures.stub, l.numberWide+l.numberStub) }
