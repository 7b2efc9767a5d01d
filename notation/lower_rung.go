package notation

import (
	"fmt"
	"strings"

	"tarry/circuit"
	"tarry/diag"
)

// wiring lowers the rungs and the plant rules.
func (l *lowerer) wiring(t *tree) {
	each(l, t, func(line *line, n *rungNode) {
		before := l.r.faults
		l.rung(line, n)
		l.faultyWiring = l.faultyWiring || line.faulty || l.r.faults > before
	})
	each(l, t, func(line *line, n *plantNode) { l.plant(line, n) })
	for i := range t.lines {
		// A faulty line without a node may have been a rung or a device.
		l.faultyWiring = l.faultyWiring || (t.lines[i].faulty && t.lines[i].node == nil)
	}
}

func (l *lowerer) rung(line *line, n *rungNode) {
	if old, double := l.rungs[n.number]; double && n.number > 0 {
		l.r.report(codeDoubleRung, n.at, "there is a second rung %d", n.number).
			Explain("Every rung has a number of its own. Numbers need not be consecutive.").
			Also(old, "the first one")
	} else {
		l.rungs[n.number] = n.at
	}
	source := RungSource{At: line.at}
	rung := circuit.Rung{Number: n.number, Tie: n.tie.text}
	rung.Path = l.path(n.path, &source)
	for _, load := range n.loads {
		if out, ok := l.load(load); ok {
			rung.Loads = append(rung.Loads, out)
			source.Loads = append(source.Loads, load.at())
		}
	}
	rung.Return = l.path(n.back, &source)
	if n.tie.text != "" {
		l.nameNet(n.tie)
	}
	if len(rung.Loads) == 0 && rung.Tie == "" {
		return
	}
	l.c.Rungs = append(l.c.Rungs, rung)
	l.file.Rungs = append(l.file.Rungs, source)
}

// nameNet notes that a rung names a net.
func (l *lowerer) nameNet(net word) {
	places := l.nets[net.text]
	if len(places) == 0 {
		l.netOrder = append(l.netOrder, net.text)
	}
	if len(places) < 2 {
		l.nets[net.text] = append(places, net.at)
	}
}

// loneNets reports nets that only one place names. It keeps silent once there
// are faults, of which a lone net may be the cause or the consequence.
func (l *lowerer) loneNets(pinned map[string]bool) {
	if l.r.faults > 0 {
		return
	}
	for _, net := range l.netOrder {
		if len(l.nets[net]) > 1 || pinned[net] || isOneOf(net, l.c.Supply.Rails[:]) {
			continue
		}
		at := l.nets[net][0]
		l.r.within = at
		d := l.r.report(codeLoneNet, at, "the net @%s is named only here", shorten(net)).
			Explain("A name joins the places where it stands. One place alone joins nothing.")
		l.r.offerNearest(d, at, "@"+net, l.otherNets(net))
	}
}

// otherNets lists the names of nets, as written, but for one.
func (l *lowerer) otherNets(net string) []string {
	var names []string
	for _, other := range l.netOrder {
		if other != net && l.r.searched < maxSearched {
			names = append(names, "@"+other)
		}
	}
	return names
}

// path lowers a path. A contact that is not understood is replaced by a
// stand-in that never closes: left out, it would be a wire.
func (l *lowerer) path(n pathNode, source *RungSource) circuit.Path {
	var path circuit.Path
	for i := range n {
		item := &n[i]
		switch {
		case item.net != "":
			l.nameNet(word{item.net, item.at})
			path = append(path, circuit.Item{Net: item.net})
		case item.branches != nil:
			path = append(path, l.group(item, source)...)
		default:
			k, ok := l.contact(item.tag, item.part)
			if !ok || !l.room(item.at) {
				k = l.standIn(item.tag)
			}
			path = append(path, circuit.Item{Contact: k})
			source.Contacts = append(source.Contacts, item.at)
		}
	}
	return path
}

// group lowers the branches of a group. One branch alone is a part of the
// path around it.
func (l *lowerer) group(item *itemNode, source *RungSource) circuit.Path {
	var branches []circuit.Path
	for _, b := range item.branches {
		if path := l.path(b, source); len(path) > 0 {
			branches = append(branches, path)
		}
	}
	switch len(branches) {
	case 0:
		source.Contacts = append(source.Contacts, item.at)
		return circuit.Path{{Contact: l.standIn(word{at: item.at})}}
	case 1:
		return branches[0]
	}
	return circuit.Path{{Branches: branches}}
}

// maxStandIns is how many stand-ins get a name of their own.
const maxStandIns = 100

// standIn returns an open contact in place of one that is not understood, of a
// device that nothing moves; its tag is the one written, with a question mark.
func (l *lowerer) standIn(tag word) circuit.Contact {
	name := shorten(tag.text) + "?"
	if len(l.standIns) >= maxStandIns {
		name = "?"
	}
	id, known := l.standIns[name]
	if !known {
		id = circuit.DeviceID(len(l.c.Devices))
		if l.standIns == nil {
			l.standIns = map[string]circuit.DeviceID{}
		}
		l.standIns[name] = id
		l.c.Devices = append(l.c.Devices, circuit.Device{Tag: name, Kind: circuit.Switch, Label: "not understood"})
		l.file.Devices = append(l.file.Devices, tag.at)
	}
	return circuit.Contact{Device: id, Kind: circuit.NO}
}

// room counts the contacts and reports when there are too many.
func (l *lowerer) room(at diag.Range) bool {
	l.contacts++
	if l.contacts == MaxContacts+1 {
		l.r.report(codeTooManyContacts, at, "there are more than %d contacts", MaxContacts).
			Explain("The contacts from here on are left out.")
	}
	return l.contacts <= MaxContacts
}

// contact looks a contact up.
func (l *lowerer) contact(tag, part word) (circuit.Contact, bool) {
	id, ok := l.find(tag)
	if !ok {
		return circuit.Contact{}, false
	}
	k, ok := fit(&l.c.Devices[id], part.text)
	k.Device = id
	if !ok {
		l.wrongContact(tag, part, &l.c.Devices[id])
	}
	return k, ok
}

// fit returns the contact of d that a word names, without its device.
func fit(d *circuit.Device, part string) (circuit.Contact, bool) {
	if d.Kind == circuit.Selector {
		for i, name := range d.Positions {
			if name == part {
				return circuit.Contact{Kind: circuit.AtPosition, Position: i}, true
			}
		}
		return circuit.Contact{}, false
	}
	k := circuit.ContactKindOf(part)
	switch {
	case d.Kind == circuit.Timer:
		k = d.Function.Fit(k)
	case !d.Kind.Info().Plain || (k != circuit.NO && k != circuit.NC):
		k = circuit.NoContact
	}
	return circuit.Contact{Kind: k}, k != circuit.NoContact
}

// contactWords lists the contacts of d as they are written.
func contactWords(d *circuit.Device) []string {
	if d.Kind == circuit.Selector {
		return d.Positions
	}
	if !d.Kind.Info().Plain {
		return nil
	}
	words := []string{"no", "nc"}
	for _, k := range d.Function.Info().Contacts {
		words = append(words, k.String())
	}
	return words
}

// timedMeanings says what the trade's names of timed contacts mean.
var timedMeanings = map[string]string{
	"notc": "notc (closes late)", "ncto": "ncto (opens late)",
	"noto": "noto (opens late)", "nctc": "nctc (closes late)",
	"tno": "tno (open at rest)", "tnc": "tnc (closed at rest)",
}

// owners says whose timed contact a word is.
var owners = map[string]string{
	"notc": "an on-delay timer", "ncto": "an on-delay timer",
	"noto": "an off-delay timer", "nctc": "an off-delay timer",
	"tno": "a timer", "tnc": "a timer",
	"star": "a star-delta timer", "delta": "a star-delta timer",
}

// twins are the contacts with the same rest position in the other function.
var twins = map[string]string{"notc": "noto", "noto": "notc", "ncto": "nctc", "nctc": "ncto"}

// wrongContact reports a contact that a device doesn't have.
func (l *lowerer) wrongContact(tag, part word, d *circuit.Device) {
	words := contactWords(d)
	if d.Kind == circuit.Selector && circuit.ContactKindOf(part.text) == circuit.NoContact {
		l.unknownPosition(tag.at.To(part.at), part, d)
		return
	}
	out := l.r.report(codeWrongContact, tag.at.To(part.at), "%s: it has no %s contact", what(d), shorten(part.text))
	if out == nil {
		return
	}
	var detail strings.Builder
	switch {
	case len(words) == 0:
		detail.WriteString("It has no contacts at all.")
	case d.Kind == circuit.Selector:
		detail.WriteString("A selector has one contact for each position: " + list(dotted(d.Tag, words)) + ".")
	case d.Kind == circuit.Timer:
		detail.WriteString("Its timed contacts are " + list(meanings(words[2:])) + "; no and nc follow its coil at once.")
	default:
		detail.WriteString("Its contacts are no and nc.")
	}
	if owner := owners[part.text]; owner != "" && d.Kind != circuit.Selector {
		fmt.Fprintf(&detail, " %s belongs to %s.", part.text, owner)
	}
	out.Explain("%s", detail.String())
	if twin := twins[part.text]; isOneOf(twin, words) {
		out.Offer(part.at, twin, "did you mean "+d.Tag+"."+twin+"?")
		return
	}
	if near := l.r.offerNearest(out, part.at, part.text, words); near != "" {
		out.Fix.Label = "did you mean " + d.Tag + "." + near + "?"
	}
}

func dotted(tag string, words []string) []string {
	var out []string
	for _, w := range words {
		out = append(out, tag+"."+w)
	}
	return out
}

func meanings(words []string) []string {
	var out []string
	for _, w := range words {
		if m := timedMeanings[w]; m != "" {
			w = m
		}
		out = append(out, w)
	}
	return out
}

func (l *lowerer) unknownPosition(at diag.Range, name word, d *circuit.Device) {
	out := l.r.report(codeUnknownPosition, at, "%s has no position %s", d.Tag, shorten(name.text)).
		Explain("Its positions are %s.", list(d.Positions))
	l.r.offerNearest(out, name.at, name.text, d.Positions)
}

// partOf returns the load part that a word names.
func partOf(text string) (circuit.LoadPart, bool) {
	for p := circuit.Main; p <= circuit.Delta; p++ {
		if p.String() == text {
			return p, true
		}
	}
	return circuit.Main, false
}

// load looks a load up.
func (l *lowerer) load(n loadNode) (circuit.Load, bool) {
	id, ok := l.find(n.tag)
	if !ok {
		return circuit.Load{}, false
	}
	d := &l.c.Devices[id]
	part, ok := partOf(n.part.text)
	if !ok || !d.TakesLoad(part) {
		l.wrongLoad(n, d)
		return circuit.Load{}, false
	}
	load := circuit.Load{Device: id, Part: part}
	if old, double := l.fed[load]; double {
		l.r.report(codeFedTwice, n.at(), "%s is fed twice", l.c.LoadName(load)).
			Explain("A coil or load stands on one rung. Bring the paths together in a group: (S1.no | S2.no) -> %s.", d.Tag).
			Also(old, "fed here first")
		return circuit.Load{}, false
	}
	l.fed[load] = n.at()
	return load, true
}

// wrongLoad reports something that no rung can feed.
func (l *lowerer) wrongLoad(n loadNode, d *circuit.Device) {
	var names []string
	for p := circuit.Main; p <= circuit.Delta; p++ {
		if d.TakesLoad(p) {
			names = append(names, strings.TrimSuffix(d.Tag+"."+p.String(), "."))
		}
	}
	if len(names) == 0 {
		l.r.report(codeWrongLoad, n.at(), "%s, which is no load", what(d)).
			Explain("Behind the arrow stand coils and loads; contacts stand before it.")
		return
	}
	if k, ok := fit(d, n.part.text); ok && k.Kind != circuit.NoContact {
		l.r.report(codeWrongLoad, n.at(), "%s.%s is a contact, not a load", d.Tag, n.part.text).
			Explain("Behind the arrow stand coils and loads; contacts stand before it. Of %s a rung may feed %s.", d.Tag, list(names))
		return
	}
	l.r.report(codeWrongLoad, n.at(), "%s: a rung cannot feed %s", what(d), strings.TrimSuffix(d.Tag+"."+shorten(n.part.text), ".")).
		Explain("Write %s.", choice(names))
}

// plant lowers a plant rule.
func (l *lowerer) plant(line *line, n *plantNode) {
	sensor, ok1 := l.find(n.sensor)
	load, ok2 := l.find(n.load)
	if !ok1 || !ok2 {
		return
	}
	if d := &l.c.Devices[sensor]; d.Kind.Info().Class != circuit.BySensing {
		l.r.report(codeWrongPlant, n.sensor.at, "%s, which the plant cannot move", what(d)).
			Explain("A plant rule moves what senses the plant: limit, float, pressure, flow, photo, proximity, thermostat or speed. Hands are moved by a script.")
		return
	}
	if d := &l.c.Devices[load]; !d.TakesLoad(circuit.Main) {
		l.r.report(codeWrongPlant, n.load.at, "%s, which does not start or stop", what(d)).
			Explain("A plant rule waits for a load or coil, such as a contactor or a motor.")
		return
	}
	l.c.Plants = append(l.c.Plants, circuit.Plant{
		Sensor: sensor, Closes: n.closes, After: n.after.value, Load: load, OnStart: n.onStart,
	})
	l.file.Plants = append(l.file.Plants, line.at)
}

// pins lowers the wire lines.
func (l *lowerer) pins(t *tree) {
	nets, numbers := map[string]bool{}, map[int]bool{}
	each(l, t, func(_ *line, n *pinNode) {
		rail := isOneOf(n.net.text, l.c.Supply.Rails[:])
		switch {
		case n.number == 0:
		case nets[n.net.text]:
			l.r.report(codeBadPin, n.net.at, "the net @%s has a number already", shorten(n.net.text))
		case numbers[n.number]:
			l.r.report(codeBadPin, n.net.at, "another net has the wire number %d", n.number)
		case len(l.nets[n.net.text]) == 0 && !rail:
			d := l.r.report(codeBadPin, n.net.at, "no rung names the net @%s", shorten(n.net.text)).
				Explain("A wire line numbers a net that a rung names with @.")
			if l.faultyWiring && d != nil {
				d.Detail += " Perhaps the faulty line does."
			}
		default:
			nets[n.net.text], numbers[n.number] = true, true
			l.c.Pins = append(l.c.Pins, circuit.Pin{Net: n.net.text, Number: n.number})
		}
	})
	l.loneNets(nets)
}
