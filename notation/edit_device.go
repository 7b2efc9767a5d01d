package notation

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"tarry/circuit"
	"tarry/diag"
)

// addDevice adds a device's line.
func (e *editor) addDevice(ch *Change) error {
	if err := quotable(ch.Label); err != nil {
		return err
	}
	text := ch.Tag + " " + ch.Kind
	if ch.Label != "" {
		text += " " + quote(ch.Label)
	}
	e.selected = ch.Tag
	return e.declare(text)
}

// deleteDevice takes a device's line away if nothing names the device.
func (e *editor) deleteDevice(ch *Change) error {
	line, err := e.declared(ch.Tag)
	if err != nil {
		return err
	}
	if places := e.uses(ch.Tag, line); len(places) > 0 {
		return refuse("%s is still used: %s. Take it out there first", ch.Tag, list(places))
	}
	e.deleteLine(line)
	return nil
}

// uses names the places where a tag stands, but for one line.
func (e *editor) uses(tag string, but int) []string {
	var places []string
	e.words(func(i int, w word) {
		if i == but || w.text != tag {
			return
		}
		place := e.placeName(i)
		switch n := len(places); {
		case isOneOf(place, places) || n > 4:
		case n == 4:
			places = append(places, "more places")
		default:
			places = append(places, place)
		}
	})
	return places
}

// placeName says what line i is.
func (e *editor) placeName(i int) string {
	switch n := e.node(i).(type) {
	case *rungNode:
		return "rung " + strconv.Itoa(n.number)
	case *plantNode:
		return "a plant rule"
	case *actionNode, *expectNode:
		for k := i; k >= 0; k-- {
			if s, ok := e.node(k).(*scriptNode); ok {
				return "script " + quote(s.name.text)
			}
		}
	}
	return "line " + strconv.Itoa(i+1)
}

// rename gives a device another tag, everywhere.
func (e *editor) rename(ch *Change) error {
	if _, err := e.declared(ch.Tag); err != nil {
		return err
	}
	if err := e.freeTag(ch.New, ch.Tag); err != nil {
		return err
	}
	e.words(func(_ int, w word) {
		if w.text == ch.Tag {
			e.replace(w.at.Start, w.at.End, ch.New)
		}
	})
	e.selected = ch.New
	return nil
}

// freeTag reports why a word cannot be a new tag. The old tag of the same
// device is no hindrance.
func (e *editor) freeTag(tag, old string) error {
	r := &reporter{}
	toks, _ := scanLine(tag, 0, len(tag), r, nil)
	if len(toks) != 2 || toks[0].kind != tokWord || toks[0].text != tag {
		return refuse("%q is no tag. A tag is a letter followed by letters, digits, _ and -", shorten(tag))
	}
	(&parser{r: r, text: tag}).checkTag(toks[0])
	if len(r.list) > 0 {
		return sentence(&r.list[0])
	}
	taken := ""
	e.words(func(_ int, w word) {
		if w.text != old && fold(w.text) == fold(tag) {
			taken = w.text
		}
	})
	if taken != "" {
		return refuse("%s is in use already. Choose another tag", taken)
	}
	return nil
}

// label changes, adds or takes away a device's label.
func (e *editor) label(ch *Change) error {
	i, n, _, err := e.device(ch.Tag)
	if err != nil {
		return err
	}
	if err := quotable(ch.Text); err != nil {
		return err
	}
	e.selected = ch.Tag
	at, labelled := e.first(i, tokString, 0)
	switch {
	case labelled && ch.Text == "":
		e.replace(n.end(), at.End, "")
	case labelled:
		e.replace(at.Start, at.End, quote(ch.Text))
	case ch.Text != "":
		e.replace(n.end(), n.end(), e.labelGap(i, n)+quote(ch.Text))
	}
	return nil
}

// labelGap is the gap before a label that line i is to get, in the way of the
// nearest line that has one.
func (e *editor) labelGap(i int, n *deviceNode) string {
	for away := 1; away < len(e.tree.lines); away++ {
		for _, k := range [2]int{i - away, i + away} {
			like, ok := e.node(k).(*deviceNode)
			if !ok || !like.labelled || e.tree.lines[k].faulty {
				continue
			}
			at, _ := e.first(k, tokString, 0)
			return e.gapLike(k, diag.Range{Start: like.end(), End: at.Start}, e.text[e.start(i):n.end()])
		}
	}
	return "   "
}

// holdLabel keeps the label of line i in its column after the edits gathered
// since mark.
func (e *editor) holdLabel(i int, n *deviceNode, mark int) {
	at, labelled := e.first(i, tokString, 0)
	if !labelled {
		return
	}
	e.hold(i, diag.Range{Start: n.end(), End: at.Start}, e.grown(mark), labelAnchor)
}

// preset changes one of a timer's times.
func (e *editor) preset(ch *Change) error {
	i, n, d, err := e.device(ch.Tag)
	if err != nil {
		return err
	}
	times := d.Function.Info().Times
	if ch.Which < 0 || ch.Which >= times {
		return refuse("%s: it has no such time to set", what(d))
	}
	text, err := presetText(ch.Text)
	if err != nil {
		return err
	}
	mark := len(e.edits)
	at, found := n.presetAt(ch.Which, d.Function)
	switch {
	case found:
		e.replace(at.Start, at.End, text)
	case d.Function == circuit.StarDelta && ch.Which == 1:
		first, _ := n.presetAt(0, d.Function)
		end := max(n.kindAt.End, first.End)
		e.replace(end, end, " gap "+text)
	default:
		return refuse("the line of %s lacks a time before that one. Write it in the text first", d.Tag)
	}
	e.holdLabel(i, n, mark)
	e.selected = d.Tag
	return nil
}

// presetAt is where a timer's line gives one of its times.
func (n *deviceNode) presetAt(which int, f circuit.Function) (diag.Range, bool) {
	for i := range n.params {
		p := &n.params[i]
		gap := f == circuit.StarDelta && which == 1
		switch {
		case p.kind == parGap && gap:
			return p.time.at, true
		case p.kind == parTime && !gap && which == 0:
			return p.time.at, true
		case p.kind == parTime && !gap:
			which--
		}
	}
	return diag.Range{}, false
}

// presetText reads a time from outside the text and writes it as the notation
// does, with its own numbers and units. A number alone counts as seconds.
func presetText(text string) (string, error) {
	v, err := ParseTime(text)
	if err != nil {
		return "", err
	}
	if v == 0 {
		return "", refuse("a time of zero delays nothing. Give the time that the device really takes")
	}
	r := &reporter{}
	p := &parser{r: r, text: text}
	p.toks, _ = scanLine(text, 0, len(text), r, nil)
	lit := p.time()
	return lit.print(), nil
}

// kind makes a device another one. Timed contacts follow the function, and
// actions the kind, where the new one has a counterpart; where it hasn't, the
// reader refuses.
func (e *editor) kind(ch *Change) error {
	i, n, old, err := e.device(ch.Tag)
	if err != nil {
		return err
	}
	made, err := readOne(ch.Tag + " " + ch.Kind)
	if err != nil {
		return err
	}
	if m, ok := made.(*deviceNode); !ok || m.labelled {
		return refuse("%q is no kind of device with its settings, such as on-delay 5 s", shorten(ch.Kind))
	}
	text := ch.Tag + " " + ch.Kind
	file, ds := Read("", []byte(text))
	if diag.HasErrors(ds) {
		return sentence(&ds[0])
	}
	mark := len(e.edits)
	cells := made.(*deviceNode).cells().cells
	e.replace(n.kindAt.Start, n.end(), cells[1])
	e.holdLabel(i, n, mark)
	for k := range e.tree.lines {
		mark := len(e.edits)
		e.follow(e.tree.lines[k].node, old, &file.Circuit.Devices[0])
		if r, ok := e.node(k).(*rungNode); ok && !e.tree.lines[k].faulty && len(e.edits) > mark {
			e.holdArrow(k, r, mark)
		}
	}
	e.selected = ch.Tag
	return nil
}

// follow changes what a line says of a device that has become another.
func (e *editor) follow(n node, old, new *circuit.Device) {
	part := func(tag, part word) {
		if tag.text == old.Tag && part.text != "" {
			if text := counterpart(part.text, old, new); text != part.text {
				e.replace(part.at.Start, part.at.End, text)
			}
		}
	}
	switch n := n.(type) {
	case *rungNode:
		n.path.each(func(item *itemNode) { part(item.tag, item.part) })
		n.back.each(func(item *itemNode) { part(item.tag, item.part) })
	case *expectNode:
		part(n.tag, n.part)
	case *actionNode:
		was, is := old.Kind.Info().Verbs, new.Kind.Info().Verbs
		for i, v := range was {
			if n.device.text == old.Tag && n.verb == v && len(was) == len(is) && is[i] != v {
				e.replace(n.verbAt.Start, n.verbAt.End, is[i].String())
			}
		}
	}
}

// counterpart is the contact of the new device that stands for one of the old
// one: the timed contact with the same rest position. Without one it is the
// same word.
func counterpart(part string, old, new *circuit.Device) string {
	if _, ok := fit(new, part); ok || new.Kind != circuit.Timer {
		return part
	}
	k, _ := fit(old, part)
	timed := circuit.TNO
	switch k.Kind {
	case circuit.NOTC, circuit.NOTO, circuit.TNO:
	case circuit.NCTO, circuit.NCTC, circuit.TNC:
		timed = circuit.TNC
	default:
		return part
	}
	if is := new.Function.Fit(timed); is != circuit.NoContact {
		return is.String()
	}
	return part
}

// head changes, adds or takes away the title or the station.
func (e *editor) head(ch *Change) error {
	if ch.Word != "circuit" && ch.Word != "station" {
		return refuse("%q is no line of the head. It is circuit or station", shorten(ch.Word))
	}
	if err := quotable(ch.Text); err != nil {
		return err
	}
	above, like := e.topRemark(), -1
	for i := range e.tree.lines {
		n, ok := e.tree.lines[i].node.(*textNode)
		switch {
		case !ok || e.tree.lines[i].faulty:
		case n.key.text == ch.Word && ch.Text == "":
			e.deleteLine(i)
			return nil
		case n.key.text == ch.Word:
			at, _ := e.first(i, tokString, 0)
			e.replace(at.Start, at.End, quote(ch.Text))
			return nil
		case n.key.text == "circuit":
			above, like = i, i
		case like < 0:
			like = i
		}
	}
	if ch.Text != "" {
		e.insert(above, e.headLine(like, ch.Word)+quote(ch.Text))
	}
	return nil
}

// headLine begins a line of the head in the way of line i.
func (e *editor) headLine(i int, word string) string {
	n, ok := e.node(i).(*textNode)
	if !ok {
		return word + "  "
	}
	at, _ := e.first(i, tokString, 0)
	gap := e.text[n.key.at.End:at.Start]
	if pad := e.column(i, at.Start) - utf8.RuneCountInString(word); pad > 0 {
		return fmt.Sprint(word, strings.Repeat(" ", pad))
	}
	return word + gap
}
