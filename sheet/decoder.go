package sheet

import (
	"slices"
	"strings"
	"time"
	"unicode"

	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/page"
	"tarry/schematic"
	"tarry/trace"
)

// The decoder shows one timed contact in every form that a learner may meet:
// the symbols, the letters, the words, the other names, the chart. The chart is
// that of a tiny circuit which is really run; which movement is late is read
// off its trace.

// contactNames are the names by which a timed contact can be asked for, words
// apart by blanks (sources as for timedMeanings; "delay on make" and its like
// are common practice).
var contactNames = map[circuit.ContactKind][]string{
	circuit.NOTC: {"notc", "no tc", "normally open timed closed", "normally open timed closing", "normally open on delay", "no on delay",
		"tdc of tdpu", "tdc contact of a tdpu relay", "on delay", "delay on make", "delay on energise", "delay on energising", "delay on operate"},
	circuit.NCTO: {"ncto", "nc to", "normally closed timed open", "normally closed timed opening", "normally closed on delay", "nc on delay",
		"tdo of tdpu", "tdo contact of a tdpu relay"},
	circuit.NOTO: {"noto", "no to", "normally open timed open", "normally open timed opening", "normally open off delay", "no off delay",
		"tdo of tddo", "tdo contact of a tddo relay", "off delay", "delay on break", "delay on de energise", "delay on de energising", "delay on release"},
	circuit.NCTC: {"nctc", "nc tc", "normally closed timed closed", "normally closed timed closing", "normally closed off delay", "nc off delay",
		"tdc of tddo", "tdc contact of a tddo relay"},
}

// decodable are the contacts of the decoder in their usual order.
var decodable = []circuit.ContactKind{circuit.NOTC, circuit.NCTO, circuit.NOTO, circuit.NCTC}

// DecodeName returns the timed contact that a name means, in the letters and
// words of any custom and in any order: "NOTC", "TDC of TDPU", "on-delay NO",
// "normally open, timed closing". A function alone means its normally open
// contact.
func DecodeName(name string) (circuit.ContactKind, bool) {
	words := nameWords(name)
	for _, k := range decodable {
		for _, known := range contactNames[k] {
			if slices.Equal(words, nameWords(known)) {
				return k, true
			}
		}
	}
	return circuit.NoContact, false
}

// letterWords are the letters that stand for words about a contact.
var letterWords = map[string][]string{
	"notc": {"no", "tc"}, "ncto": {"nc", "to"}, "noto": {"no", "to"}, "nctc": {"nc", "tc"},
	"contact": {}, "of": {}, "a": {}, "an": {}, "the": {}, "relay": {}, "timer": {}, "and": {},
	"closing": {"closed"}, "closes": {"closed"}, "close": {"closed"}, "opening": {"open"}, "opens": {"open"}, "opened": {"open"},
}

// wordPairs are words that mean something only together, in the order in which
// they are looked for, and what is written for them.
var wordPairs = [][3]string{
	{"n", "o", "no"}, {"n", "c", "nc"}, {"t", "c", "tc"}, {"t", "o", "to"},
	{"normally", "open", "no"}, {"normally", "closed", "nc"}, {"timed", "closed", "tc"}, {"timed", "open", "to"},
	{"closed", "timed", "tc"}, {"open", "timed", "to"},
}

// nameWords brings a name into a form in which neither the order of its words
// nor its punctuation matters.
func nameWords(name string) []string {
	var words, list []string
	for _, w := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if other, ok := letterWords[w]; ok {
			words = append(words, other...)
			continue
		}
		words = append(words, w)
	}
	for len(words) > 0 {
		i := -1
		if len(words) > 1 {
			i = slices.IndexFunc(wordPairs, func(p [3]string) bool { return p[0] == words[0] && p[1] == words[1] })
		}
		if i < 0 {
			list, words = append(list, words[0]), words[1:]
			continue
		}
		list, words = append(list, wordPairs[i][2]), words[2:]
	}
	slices.Sort(list)
	return list
}

// DecoderNames lists the names that DecodeName knows of a contact.
func DecoderNames(k circuit.ContactKind) []string { return slices.Clone(contactNames[k]) }

// decoderCircuit is a timer, a switch for its coil and a lamp at its contact.
func decoderCircuit(kind circuit.ContactKind) *circuit.Circuit {
	function := circuit.OnDelay
	if kind == circuit.NOTO || kind == circuit.NCTC {
		function = circuit.OffDelay
	}
	const s = time.Second
	return &circuit.Circuit{
		Supply: circuit.Supply{Rails: [2]string{"L+", "L-"}},
		Devices: []circuit.Device{
			{Tag: "S1", Kind: circuit.Switch},
			{Tag: "KT1", Kind: circuit.Timer, Function: function, Presets: [2]time.Duration{5 * s}},
			{Tag: "H1", Kind: circuit.Lamp},
		},
		Rungs: []circuit.Rung{
			{Number: 1, Path: circuit.Path{{Contact: circuit.Contact{Device: 0, Kind: circuit.NO}}}, Loads: []circuit.Load{{Device: 1}}},
			{Number: 2, Path: circuit.Path{{Contact: circuit.Contact{Device: 1, Kind: kind}}}, Loads: []circuit.Load{{Device: 2}}},
		},
		Scripts: []circuit.Script{{Name: "A long pulse and a short one", End: 28 * s, Actions: []circuit.Action{
			{At: 2 * s, Verb: circuit.Close, Device: 0, For: 9 * s},
			{At: 18 * s, Verb: circuit.Close, Device: 0, For: 2 * s},
		}}},
	}
}

// movements are what a contact does when its coil goes on and off: how long
// after the coil's edge it moves, and whether it closes.
type movements struct {
	rest  bool             // closed at rest
	delay [2]time.Duration // after on, after off
	after [2]bool          // closed then
	short []trace.Edge     // what it does around the short pulse
	coil  []trace.Edge
}

// moves reads the movements of a contact off a run: the coil's edges come first
// and are matched with the contact's next edge after each.
func moves(t *trace.Trace, kind circuit.ContactKind) movements {
	coil, contact := t.Edges(circuit.Signal{Device: 1}), t.Edges(circuit.Signal{Device: 1, Contact: kind})
	m := movements{rest: contact[0].On, coil: coil}
	for i := range m.delay {
		for _, e := range contact[1:] {
			if e.At >= coil[i+1].At {
				m.delay[i], m.after[i] = e.At-coil[i+1].At, e.On
				break
			}
		}
	}
	for _, e := range contact[1:] {
		if e.At >= coil[3].At {
			m.short = append(m.short, e)
		}
	}
	return m
}

func closedWord(on bool) string {
	if on {
		return "closed"
	}
	return "open"
}

// moveWords says when a contact closes or opens after an edge of its coil.
func moveWords(closes bool, delay time.Duration) string {
	does := "opens"
	if closes {
		does = "closes"
	}
	if delay == 0 {
		return does + " at once"
	}
	return does + " " + circuit.FormatTime(delay) + " later"
}

// facts are the lines of the decoder's table: a question and what the run says.
func (m movements) facts() [][2]string {
	late, edge := "neither", ""
	for i, d := range m.delay {
		if d > 0 {
			late = [2]string{"opening", "closing"}[b2i(m.after[i])]
			edge = [2]string{", when the coil goes on", ", when the coil goes off"}[i]
		}
	}
	return [][2]string{
		{"Which edge is late?", late + edge},
		{"At rest", closedWord(m.rest)},
		{"Coil on", moveWords(m.after[0], m.delay[0])},
		{"Coil off", moveWords(m.after[1], m.delay[1])},
		{"Coil on for 2 s only", m.shortWords()},
	}
}

// shortWords says what the contact does around the short pulse of its coil.
func (m movements) shortWords() string {
	var did []string
	begin, end := m.coil[3].At, m.coil[4].At
	for _, e := range m.short {
		words := moveWords(e.On, e.At-begin)
		if e.At > end {
			words = strings.TrimSuffix(moveWords(e.On, e.At-end), " later") + " after its end"
		}
		did = append(did, words)
	}
	if len(did) == 0 {
		return "does not move"
	}
	return strings.Join(did, ", ")
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Size and places of the decoder's picture.
const (
	decoderWide page.Unit = 19000
	decoderEdge page.Unit = 1000
)

// Decoder draws all that a learner has to know of a timed contact: NOTC, NCTO,
// NOTO or NCTC; nil for any other kind.
func Decoder(kind circuit.ContactKind) *page.Page {
	if !slices.Contains(decodable, kind) {
		return nil
	}
	c := decoderCircuit(kind)
	t := engine.Run(c, &c.Scripts[0], engine.Options{})
	name, also, _ := strings.Cut(timedMeanings[kind].also, "; ")
	f := &frame{page: &page.Page{Width: decoderWide, Title: strings.ToUpper(kind.String()) + ": " + name}}
	left, right := decoderEdge, decoderWide-decoderEdge
	y := decoderEdge
	f.text(page.Text{At: page.Point{X: left, Y: y + page.Above(900)}, Size: 900, Bold: true, Words: strings.ToUpper(kind.String())}, "decoder-letters")
	x := left + page.Width(strings.ToUpper(kind.String()), 900, true) + 500
	f.text(page.Text{At: page.Point{X: x, Y: y + page.Above(900)}, Size: 440, Words: name}, "decoder-name")
	y += 1200
	f.line(page.Medium, page.Point{X: left, Y: y}, page.Point{X: right, Y: y})
	y += 400
	symbols := f.decoderSymbols(c, kind, page.Point{X: left, Y: y})
	facts := f.decoderFacts(moves(t, kind).facts(), page.Point{X: left + 8200, Y: y}, right)
	y = max(symbols, facts) + 300
	f.line(page.Hair, page.Point{X: left, Y: y}, page.Point{X: right, Y: y})
	y = f.decoderChart(t, kind, page.Point{X: left, Y: y + 300}, right-left) + 300
	f.line(page.Hair, page.Point{X: left, Y: y}, page.Point{X: right, Y: y})
	y = f.lines(page.Point{X: left, Y: y + 200}, page.Fold("Also called: "+strings.ReplaceAll(also, "; ", ", ")+delayWords[kind]+".", bodySize, false, right-left, 0), bodySize, false, "decoder-also").Y
	f.page.Height = y + decoderEdge - 200
	return f.page
}

// delayWords are further names that belong to a function's normally open
// contact more than to its other one (common practice).
var delayWords = map[circuit.ContactKind]string{
	circuit.NOTC: ", delay on make, delay on energising, delay on operate",
	circuit.NCTO: ", break contact of a relay with delay on energising",
	circuit.NOTO: ", delay on break, delay on de-energising, delay on release",
	circuit.NCTC: ", break contact of a relay with delay on de-energising",
}

// decoderSymbols draws the contact and its coil in both traditions, and returns
// where they end.
func (f *frame) decoderSymbols(c *circuit.Circuit, kind circuit.ContactKind, at page.Point) page.Unit {
	const percent, columns = 150, 3900
	end := at.Y
	for i, t := range []schematic.Tradition{schematic.International, schematic.American} {
		x := at.X + page.Unit(i)*columns
		f.lines(page.Point{X: x, Y: at.Y}, []string{[...]string{"IEC 60617", "IEEE 315"}[i]}, noteSize, false, "decoder-tradition")
		y := at.Y + 700
		f.place(schematic.ContactSymbol(c, circuit.Contact{Device: 1, Kind: kind}, t, schematic.Rungs), page.Point{X: x, Y: y}, percent)
		words := schematic.LateWords(c.Devices[1].Function, kind)
		f.lines(page.Point{X: x + 300, Y: y + 1900}, []string{words}, bodySize, true, "decoder-words")
		coil := schematic.LoadSymbol(c, circuit.Load{Device: 1}, t, schematic.Rungs)
		f.place(coil, page.Point{X: x, Y: y + 2600}, percent*2/3)
		f.lines(page.Point{X: x + 1600, Y: y + 2600 + coil.Height/3 - 150}, []string{"its coil"}, noteSize, false, "decoder-words")
		end = max(end, y+2600+coil.Height*percent*2/300)
	}
	return end
}

// decoderFacts writes the questions and answers, and returns where they end.
func (f *frame) decoderFacts(facts [][2]string, at page.Point, right page.Unit) page.Unit {
	y := at.Y
	for i, fact := range facts {
		if i > 0 {
			f.line(page.Hair, page.Point{X: at.X, Y: y}, page.Point{X: right, Y: y})
			y += 150
		}
		f.lines(page.Point{X: at.X, Y: y}, fact[:1], bodySize, false, "decoder-question")
		x := at.X + 3400
		y = f.lines(page.Point{X: x, Y: y}, page.Fold(fact[1], bodySize, true, right-x, 0), bodySize, true, "decoder-answer").Y + 200
	}
	return y
}

// decoderChart draws coil, elapsed time and contact, and returns where it ends.
func (f *frame) decoderChart(t *trace.Trace, kind circuit.ContactKind, at page.Point, width page.Unit) page.Unit {
	rows := []string{"KT1", "KT1.elapsed", "KT1." + kind.String()}
	p, err := chart.Draw(t, chart.Options{Width: width, Rows: rows, Bare: true, NoLegend: true, Uncut: true})
	if err != nil {
		panic(err) // the rows are the circuit's own
	}
	f.place(p, at, 100)
	f.page.Description = p.Description
	return at.Y + p.Height
}
