package notation

import (
	"fmt"
	"strings"
	"unicode"

	"tarry/circuit"
	"tarry/diag"
)

// lowerer turns a tree into a circuit. Devices come first, then what names
// them, so that the order of the lines is free.
type lowerer struct {
	r    *reporter
	tree *tree
	file *File
	c    *circuit.Circuit
	// tags finds a device by its tag. A tag whose device was not understood is
	// there with NoDevice, so that its uses are no new faults.
	tags     map[string]circuit.DeviceID
	folded   map[string]word // by the tag in one case, to find near doubles
	unknown  map[string]bool // tags reported as unknown
	rungs    map[int]diag.Range
	fed      map[circuit.Load]diag.Range
	nets     map[string][]diag.Range // named in a rung: the first two places
	netOrder []string                // as first named
	contacts int
	scripts  map[string]diag.Range
	script   *scriptState
	// faultyWiring says that the wiring is not all there, so that what is
	// wrong with it as a whole may be a follow-on fault.
	faultyWiring bool
	standIns     map[string]circuit.DeviceID // open contacts for what is not understood
}

// lower makes the file of a tree and checks it.
func lower(name string, t *tree, r *reporter) *File {
	l := &lowerer{
		r:       r,
		tree:    t,
		c:       &circuit.Circuit{},
		tags:    map[string]circuit.DeviceID{},
		folded:  map[string]word{},
		unknown: map[string]bool{},
		rungs:   map[int]diag.Range{},
		fed:     map[circuit.Load]diag.Range{},
		nets:    map[string][]diag.Range{},
		scripts: map[string]diag.Range{},
	}
	l.file = &File{Name: name, Circuit: l.c}
	l.heads(t)
	l.devices(t)
	l.wiring(t)
	if !l.faultyWiring {
		check(l)
	}
	l.pins(t)
	l.runs(t)
	return l.file
}

// each calls do for every node of one type, with the reporter set to its line.
func each[N node](l *lowerer, t *tree, do func(line *line, n N)) {
	for i := range t.lines {
		if n, ok := t.lines[i].node.(N); ok {
			l.r.within = t.lines[i].at
			do(&t.lines[i], n)
		}
	}
}

// heads lowers the title, the station, the notes and the supply.
func (l *lowerer) heads(t *tree) {
	first := map[string]diag.Range{}
	once := func(key word) bool {
		at, double := first[key.text]
		if double {
			l.r.report(codeDoubleLine, key.at, "there is a second %s line", key.text).
				Explain("A text has one of these lines at most. The first one holds.").
				Also(at, "the first one")
			return false
		}
		first[key.text] = key.at
		return true
	}
	each(l, t, func(_ *line, n *textNode) {
		switch n.key.text {
		case "circuit":
			if once(n.key) {
				l.c.Title = n.text
			}
		case "station":
			if once(n.key) {
				l.c.Station = n.text
			}
		default:
			l.c.Notes = append(l.c.Notes, circuit.Note{Word: n.key.text, Text: n.text})
		}
	})
	l.c.Supply.Rails = [2]string{"L+", "L-"}
	each(l, t, func(_ *line, n *supplyNode) {
		if once(n.key) {
			l.supply(n)
		}
	})
}

func (l *lowerer) supply(n *supplyNode) {
	s := circuit.Supply{Millivolts: n.millivolts, AC: n.ac, Rails: [2]string{"L+", "L-"}}
	if n.ac {
		s.Rails = [2]string{"L", "N"}
	}
	if a, b := n.rails[0], n.rails[1]; a.text != "" && b.text != "" {
		if a.text == b.text {
			l.r.report(codeBadRails, b.at, "both rails are called %s", b.text).
				Explain("The two rails need two names, for example L+ and L-.")
		} else {
			s.Rails = [2]string{a.text, b.text}
		}
	}
	l.c.Supply = s
	if !s.ExtraLow() {
		l.r.report(codeNotExtraLow, n.numberAt, "%s is not extra-low voltage", s).
			Explain("The exercises are meant for a bench of extra-low voltage, at most 50 V ac or 120 V dc. Write the bench's supply, or leave it to licensed people under local codes.")
	}
}

// fold brings a tag to one case in the sense of strings.EqualFold: every
// letter becomes the least of those that differ from it by case only.
func fold(tag string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for f := unicode.SimpleFold(r); f != r; f = unicode.SimpleFold(f) {
			least = min(least, f)
		}
		return least
	}, tag)
}

// devices lowers the device lines.
func (l *lowerer) devices(t *tree) {
	count := 0
	each(l, t, func(line *line, n *deviceNode) {
		if count++; count > MaxDevices {
			if count == MaxDevices+1 {
				l.r.report(codeTooManyDevices, n.tag.at, "there are more than %d devices", MaxDevices).
					Explain("The devices from here on are left out.")
			}
			l.faultyWiring = true
			if _, known := l.tags[n.tag.text]; !known {
				l.tags[n.tag.text] = circuit.NoDevice
			}
			return
		}
		before := l.r.faults
		l.device(n)
		l.faultyWiring = l.faultyWiring || line.faulty || l.r.faults > before
	})
}

// device lowers one device.
func (l *lowerer) device(n *deviceNode) {
	key := fold(n.tag.text)
	if old, double := l.folded[key]; double {
		d := l.r.report(codeDoubleTag, n.tag.at, "%s is there already", n.tag.text).
			Explain("Every device has a tag of its own. The first one holds.").Also(old.at, old.text)
		if old.text != n.tag.text && d != nil {
			d.Summary = fmt.Sprintf("%s and %s differ only by case", old.text, n.tag.text)
			d.Detail = "Spoken, or on a drawing, they would be confused. Give one of them another tag."
		}
		l.faultyWiring = true
		if _, known := l.tags[n.tag.text]; !known {
			l.tags[n.tag.text] = circuit.NoDevice
		}
		return
	}
	l.folded[key] = n.tag
	if n.kind == circuit.NoKind {
		l.tags[n.tag.text] = circuit.NoDevice
		return
	}
	id := circuit.DeviceID(len(l.c.Devices))
	l.tags[n.tag.text] = id
	l.c.Devices = append(l.c.Devices, l.deviceOf(n))
	l.file.Devices = append(l.file.Devices, n.tag.at)
}

// find looks a tag up and reports one that nothing has.
func (l *lowerer) find(tag word) (circuit.DeviceID, bool) {
	id, known := l.tags[tag.text]
	if known {
		return id, id != circuit.NoDevice
	}
	if l.unknown[tag.text] {
		return circuit.NoDevice, false
	}
	l.unknown[tag.text] = true
	d := l.r.report(codeUnknownDevice, tag.at, "nothing is called %s", shorten(tag.text))
	if d == nil { // enough has been said: do not search for what nobody reads
		return circuit.NoDevice, false
	}
	if old, ok := l.folded[fold(tag.text)]; ok {
		d.Explain("The tag is written %s; case matters.", old.text).Offer(tag.at, old.text, "did you mean "+old.text+"?")
		return circuit.NoDevice, false
	}
	d.Explain("Every tag is declared on a line of its own, for example %s %s.", shorten(tag.text), likelyKind(tag.text))
	l.r.offerNearest(d, tag.at, tag.text, l.tagList())
	return circuit.NoDevice, false
}

// likelyKind guesses from a tag's letters what it may be.
func likelyKind(tag string) string {
	for _, guess := range [...][2]string{
		{"KT", "on-delay 4 s"}, {"S", "button"}, {"B", "limit"}, {"F", "overload"}, {"M", "contactor"}, {"H", "lamp"},
	} {
		if strings.HasPrefix(tag, guess[0]) {
			return guess[1]
		}
	}
	return "relay"
}

// tagList lists the tags in the order of the devices, none if there are too
// many to look through.
func (l *lowerer) tagList() []string {
	if l.r.searched > maxSearched {
		return nil
	}
	var tags []string
	for i := range l.c.Devices {
		tags = append(tags, l.c.Devices[i].Tag)
	}
	return tags
}

// what names a device and what it is: KT2 is an off-delay timer.
func what(d *circuit.Device) string { return d.Tag + " is " + article(d) }

// article names what a device is, with its article.
func article(d *circuit.Device) string {
	word := d.Kind.String()
	if d.Kind == circuit.Timer {
		word = d.Function.String() + " timer"
	}
	switch d.Kind {
	case circuit.Limit, circuit.Float, circuit.Pressure, circuit.Flow, circuit.Speed:
		word += " switch"
	case circuit.Photo:
		word += "-switch"
	case circuit.Proximity:
		word += " sensor"
	case circuit.Overload:
		word += " relay"
	}
	if strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}
