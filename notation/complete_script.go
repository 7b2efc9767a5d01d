package notation

import "tarry/circuit"

// canDo reports whether a script may use a verb on a device.
func canDo(d *circuit.Device, v circuit.Verb) bool {
	for _, w := range d.Kind.Info().Verbs {
		if w == v {
			return true
		}
	}
	return false
}

// action offers what is done, to what, and how.
func (c *completer) action() {
	verb := c.verbPlace()
	if verb < 0 {
		c.actionStart()
		return
	}
	rest := c.toks[verb+1:]
	v := verbOf(c.toks[verb].text)
	switch {
	case c.toks[verb].text == "supply":
		switch {
		case len(rest) == 0:
			c.words("off", "on")
		case len(rest) == 1 && rest[0].text == "off":
			c.words("for")
		case len(rest) > 1:
			c.time()
		}
	case len(rest) == 0:
		c.devices("tag", func(d *circuit.Device) bool { return canDo(d, v) }, anyDevice)
	case len(rest) == 1 && (v == circuit.Turn || v == circuit.SetPreset):
		c.words("to")
	case len(rest) == 1 && v.Undo() != circuit.NoVerb:
		c.words("for")
	case len(rest) > 1 && v != circuit.Turn:
		c.time()
	case len(rest) == 2:
		if id := c.e.file.Circuit.Find(rest[0].text); id != circuit.NoDevice {
			for _, p := range c.e.file.Circuit.Devices[id].Positions {
				c.add("word", p, "a position")
			}
		}
	}
}

// verbPlace returns the place of the first word that is no unit of time, or
// -1.
func (c *completer) verbPlace() int {
	for i, t := range c.toks {
		if t.kind == tokWord && unit(t) == "" {
			return i
		}
	}
	return -1
}

// actionStart offers the verbs that some device knows behind the time, and the
// unit or a rung's colon behind a number.
func (c *completer) actionStart() {
	if c.units() {
		if len(c.toks) == 1 {
			c.words(":")
		}
		return
	}
	for v := circuit.Close; v <= circuit.SetPreset; v++ {
		for i := range c.e.file.Circuit.Devices {
			if canDo(&c.e.file.Circuit.Devices[i], v) {
				c.words(v.String())
			}
		}
	}
	c.words("supply")
}

// expect offers signals, states and what stands in stretches of time.
func (c *completer) expect() {
	if c.dotted(true, true) {
		return
	}
	switch t := c.back(1); {
	case len(c.toks) == 1:
		loads := func(d *circuit.Device) bool { return d.TakesLoad(circuit.Main) || d.Kind == circuit.LatchingRelay }
		c.devices("signal", func(d *circuit.Device) bool { return len(contactWords(d)) > 0 || loads(d) }, loads)
	case len(c.toks) == 2 || len(c.toks) == 4 && c.toks[2].kind == tokDot:
		c.words(states...)
	case c.units():
	case t.kind == tokDots:
		c.words("end")
		c.add("time", "5 s", "")
	case t.kind == tokComma || isOneOf(t.text, []string{"on", "off", "open", "closed"}):
		c.add("time", "5 s", "")
	case unit(t) != "" && c.count(tokDots) <= c.count(tokComma):
		c.words("..")
	}
}

// plant offers the words of a plant rule.
func (c *completer) plant() {
	switch t := c.back(1); {
	case len(c.toks) == 1:
		c.devices("tag", func(d *circuit.Device) bool { return d.Kind.Info().Class == circuit.BySensing }, anyDevice)
	case len(c.toks) == 2:
		c.words("closes", "opens")
	case c.units():
	case len(c.toks) == 3:
		c.add("time", "5 s", "")
	case t.text == "after":
		c.devices("tag", func(d *circuit.Device) bool { return d.TakesLoad(circuit.Main) }, anyDevice)
	case c.back(2).text == "after":
		c.words("starts", "stops")
	case unit(t) != "":
		c.words("after")
	}
}

// supply offers the words of the supply's line.
func (c *completer) supply() {
	switch len(c.toks) {
	case 1:
		c.words("24 V dc", "24 V ac")
	case 2:
		c.words("V")
	case 3:
		c.words("dc", "ac")
	case 4:
		c.words("rails")
	}
}
