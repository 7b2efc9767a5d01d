package notation

// What may stand at the cursor follows from the tokens before it on its line,
// the word at the cursor left out. The devices are those of the whole text,
// the line in work included, as far as it is understood.

import (
	"sort"
	"strings"
	"unicode/utf8"

	"tarry/circuit"
)

// Completions are what may stand at a place of the text. An option's text
// takes the place of the bytes From up to To, the word at the cursor.
type Completions struct {
	From    int      `json:"from"`
	To      int      `json:"to"`
	Options []Option `json:"options"`
}

// Option is one of them. Kind is "tag", "contact", "kind", "word", "time" or
// "signal"; About says in a few words what it is, "" for nothing to say.
type Option struct {
	Text  string `json:"text"`
	Kind  string `json:"kind"`
	About string `json:"about,omitempty"`
}

// Complete says what may stand at a byte of the text, the best first, as far as
// it begins like the word before the cursor. Any place is allowed; one outside
// the text counts as its nearest end. In remarks and texts in quotes there is
// nothing to complete.
func Complete(text []byte, at int) Completions {
	at = min(max(at, 0), len(text))
	e := newEditor(text)
	if at > len(e.text) {
		return Completions{From: at, To: at, Options: []Option{}}
	}
	for at > 0 && at < len(e.text) && !utf8.RuneStart(e.text[at]) {
		at--
	}
	start := strings.LastIndexByte(e.text[:at], '\n') + 1
	from := start + len(strings.TrimRightFunc(e.text[start:at], isNameRune))
	for from < at && isDigit(rune(e.text[from])) {
		from++
	}
	if from > start && e.text[from-1] == '@' {
		from--
	}
	to := at
	if from < at || at < len(e.text) && e.text[at] != '-' {
		to += nameLength(e.text[at:])
	}
	r := &reporter{}
	toks, comment := scanLine(e.text, start, from, r, nil)
	out := Completions{From: from, To: to, Options: []Option{}}
	if comment != "" || r.has(codeUnclosed) {
		return out
	}
	c := &completer{e: e, toks: toks[:len(toks)-1], prefix: fold(e.text[from:at]), start: start, seen: map[string]bool{}}
	c.line()
	out.Options = append(out.Options, c.options...)
	return out
}

// has reports whether a code was reported.
func (r *reporter) has(code string) bool {
	for i := range r.list {
		if r.list[i].Code == code {
			return true
		}
	}
	return false
}

type completer struct {
	e       *editor
	toks    []token // of the line, before the word at the cursor
	prefix  string
	start   int // of the line
	options []Option
	seen    map[string]bool
}

// add offers an option if it begins with what is typed.
func (c *completer) add(kind, text, about string) {
	if strings.HasPrefix(fold(text), c.prefix) && !c.seen[text] {
		c.seen[text] = true
		c.options = append(c.options, Option{text, kind, about})
	}
}

func (c *completer) words(words ...string) {
	for _, w := range words {
		c.add("word", w, "")
	}
}

// back returns the n-th token from the end, the last one for 1.
func (c *completer) back(n int) token {
	if n > len(c.toks) {
		return token{}
	}
	return c.toks[len(c.toks)-n]
}

func (c *completer) count(kind tokenKind) int {
	n := 0
	for _, t := range c.toks {
		if t.kind == kind {
			n++
		}
	}
	return n
}

// line tells the lines apart by how they begin.
func (c *completer) line() {
	if len(c.toks) == 0 {
		c.lineStart()
		return
	}
	switch t := c.toks[0]; {
	case t.kind == tokNumber && c.count(tokColon) > 0:
		c.rung()
	case t.kind == tokNumber:
		c.action()
	case t.kind != tokWord:
	case t.text == "expect":
		c.expect()
	case t.text == "end":
		c.time()
	case t.text == "plant":
		c.plant()
	case t.text == "supply":
		c.supply()
	case t.text == "wire":
		if len(c.toks) == 1 {
			c.nets()
		}
	case !isOneOf(t.text, lineWords):
		c.device()
	}
}

// lineStart offers what begins a line.
func (c *completer) lineStart() {
	script := false
	for i := range c.e.tree.lines {
		if c.e.tree.lines[i].at.Start < c.start {
			script = staysInScript(&c.e.tree.lines[i], script)
		}
	}
	if script {
		c.add("time", "1 s", "when something is done")
		c.words("expect", "end", "script")
	}
	known := map[string]bool{}
	for i := range c.e.file.Circuit.Devices {
		known[c.e.file.Circuit.Devices[i].Tag] = true
	}
	c.e.words(func(i int, w word) { // used, but not declared
		if !known[w.text] && c.e.tree.lines[i].at.Start != c.start && !c.e.tree.lines[i].faulty {
			c.add("tag", w.text, "used, but not declared yet")
		}
	})
	if n := c.e.freeNumber(len(c.e.file.Rungs) - 1); n > 0 {
		c.add("word", itoaColon(n), "a new rung")
	}
	for _, w := range lineWords {
		if w != "claim" && (script || w != "expect" && w != "end") {
			c.words(w)
		}
	}
}

func itoaColon(n int) string { return (&rungNode{number: n}).cells().cells[0] }

// units offers the units of time behind a number, and reports whether one
// stands there.
func (c *completer) units() bool {
	if c.back(1).kind != tokNumber {
		return false
	}
	for _, u := range []string{"s", "ms", "min", "h"} {
		c.add("time", u, "")
	}
	return true
}

// time offers a time, or the unit behind its number.
func (c *completer) time() {
	if !c.units() && unit(c.back(1)) == "" {
		c.add("time", "5 s", "")
	}
}

// device offers kinds behind a tag, and settings behind a kind.
func (c *completer) device() {
	if c.back(1).kind == tokString {
		return
	}
	if len(c.toks) == 1 {
		for _, k := range Kinds() {
			c.add("kind", k.Word, k.About)
		}
		return
	}
	k, f := kindOf(c.toks[1].text)
	if len(c.toks) > 2 && k == circuit.NoKind {
		k, f = kindOf(c.toks[1].text + " " + c.toks[2].text)
	}
	if k == circuit.NoKind {
		for _, w := range kindWords {
			if rest, ok := strings.CutPrefix(w, c.toks[1].text+" "); ok && len(c.toks) == 2 {
				c.add("kind", rest, abouts[w][0])
			}
		}
		return
	}
	d := &circuit.Device{Kind: k, Function: f}
	if c.back(1).text == "starting" && f == circuit.Flasher {
		c.words("off")
		return
	}
	if k != circuit.Counter && c.units() {
		return
	}
	if f.Info().Times > c.count(tokNumber) && f != circuit.StarDelta || f == circuit.StarDelta && len(c.toks) == 2 ||
		isOneOf(c.back(1).text, []string{"operate", "release", "gap"}) {
		c.add("time", "5 s", "")
	}
	_, words := (&parameters{d: d}).takes()
	c.words(words...)
}

// devices offers the tags of devices, those that are better first.
func (c *completer) devices(kind string, fits func(d *circuit.Device) bool, better func(d *circuit.Device) bool) {
	list := c.e.file.Circuit.Devices
	var found []*circuit.Device
	for i := range list {
		if !strings.HasSuffix(list[i].Tag, "?") && fits(&list[i]) {
			found = append(found, &list[i])
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return better(found[i]) && !better(found[j]) })
	for _, d := range found {
		about := d.Label
		if about == "" {
			about = article(d)
		}
		c.add(kind, d.Tag, about)
	}
}

func anyDevice(*circuit.Device) bool { return true }

// dotted offers what stands behind the dot of a tag, and reports whether the
// cursor is there.
func (c *completer) dotted(contacts, loads bool) bool {
	if c.back(1).kind != tokDot {
		return false
	}
	id := c.e.file.Circuit.Find(c.back(2).text)
	if id == circuit.NoDevice {
		return true
	}
	d := &c.e.file.Circuit.Devices[id]
	if contacts {
		for _, w := range contactWords(d) {
			c.add("contact", w, contactAbout(d, w))
		}
	}
	for _, p := range []circuit.LoadPart{circuit.SetCoil, circuit.ResetCoil, circuit.Star, circuit.Delta} {
		if loads && d.TakesLoad(p) {
			c.add("word", p.String(), "")
		}
	}
	return true
}

// contactAbout says what a contact is.
func contactAbout(d *circuit.Device, word string) string {
	k, _ := fit(d, word)
	switch {
	case k.Kind == circuit.AtPosition:
		return "closed while it stands at " + word
	case timedMeanings[word] != "":
		return strings.TrimSuffix(strings.TrimPrefix(timedMeanings[word], word+" ("), ")")
	}
	about := "open at rest"
	if d.ClosedAtRest(k) {
		about = "closed at rest"
	}
	if d.Kind == circuit.Timer {
		about += ", follows the coil at once"
	}
	return about
}

// rung offers contacts in paths and loads behind the arrow.
func (c *completer) rung() {
	arrows := c.count(tokArrow)
	if c.dotted(arrows != 1, arrows == 1) {
		return
	}
	if arrows == 1 {
		if t := c.back(1).kind; t == tokArrow || t == tokComma {
			fed := map[string]bool{}
			for _, r := range c.e.file.Circuit.Rungs {
				for _, l := range r.Loads {
					fed[c.e.file.Circuit.Devices[l.Device].Tag] = true
				}
			}
			c.devices("tag", func(d *circuit.Device) bool { return len(loadNames(d)) > 0 },
				func(d *circuit.Device) bool { return !fed[d.Tag] })
			if t == tokArrow {
				c.nets()
			}
		} else {
			c.words("->")
		}
		return
	}
	c.devices("tag", func(d *circuit.Device) bool { return len(contactWords(d)) > 0 }, anyDevice)
	c.nets()
	if t := c.back(1).kind; arrows == 0 && (t == tokWord || t == tokNet || t == tokShut) {
		c.words("->")
	}
}

// nets offers the named nets.
func (c *completer) nets() {
	var walk func(p circuit.Path)
	walk = func(p circuit.Path) {
		for _, it := range p {
			if it.Net != "" {
				c.add("word", "@"+it.Net, "a named net")
			}
			for _, b := range it.Branches {
				walk(b)
			}
		}
	}
	for _, r := range c.e.file.Circuit.Rungs {
		walk(r.Path)
		walk(r.Return)
		if r.Tie != "" {
			c.add("word", "@"+r.Tie, "a named net")
		}
	}
	for _, rail := range c.e.file.Circuit.Supply.Rails {
		c.add("word", "@"+rail, "a rail")
	}
}
