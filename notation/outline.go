package notation

import (
	"strconv"
	"strings"

	"tarry/circuit"
	"tarry/diag"
)

// Part is what a list of devices shows of one device, so that whoever shows it
// needs to know no rule of the notation.
type Part struct {
	Tag string `json:"tag"`
	// Words are its kind and settings as the line has them, "on-delay 5 s".
	Words string `json:"words"`
	// Kind and Function are words of the notation; Function is "" for what is
	// no timer.
	Kind     string `json:"kind"`
	Function string `json:"function,omitempty"`
	// What says what it is in a sentence: an on-delay timer.
	What  string `json:"what"`
	Label string `json:"label,omitempty"`
	// Presets are a timer's times, in the order of Change.Which.
	Presets []string `json:"presets,omitempty"`
	// Hand lists what a hand can do with it in a script: press and release;
	// turn; nil for what the circuit moves.
	Hand []string `json:"hand,omitempty"`
	// Positions are a selector's, the first at rest.
	Positions []string `json:"positions,omitempty"`
	// Contacts and Loads are written as in a rung: KT1.notc, K2.set.
	Contacts []string   `json:"contacts,omitempty"`
	Loads    []string   `json:"loads,omitempty"`
	At       diag.Range `json:"at"`    // its line
	TagAt    diag.Range `json:"tagAt"` // its tag there
}

// Outline lists the devices of a file that Read has made of the text, in the
// order of Circuit.Devices. Stand-ins for what was not understood are left
// out.
func Outline(file *File, text []byte) []Part {
	source := lineEnds(cut(text, &reporter{}))
	var parts []Part
	for i := range file.Circuit.Devices {
		d := &file.Circuit.Devices[i]
		at := file.Devices[i]
		if at.End > len(source) || source[at.Start:at.End] != d.Tag {
			continue
		}
		p := Part{Tag: d.Tag, Kind: d.Kind.String(), Function: d.Function.String(), What: article(d), Label: d.Label,
			Positions: d.Positions, Contacts: dotted(d.Tag, contactWords(d)), Loads: loadNames(d), TagAt: at}
		p.At = diag.Range{Start: at.Start, End: len(source)}
		if n := strings.IndexByte(source[at.Start:], '\n'); n >= 0 {
			p.At.End = at.Start + n
		}
		p.At.End = at.Start + len(strings.TrimRightFunc(source[p.At.Start:p.At.End], isSpace))
		line := parse(source[p.At.Start:p.At.End], &reporter{}).lines[0]
		if n, ok := line.node.(*deviceNode); ok {
			p.Words = n.cells().cells[1]
		}
		for k := range d.Function.Info().Times {
			p.Presets = append(p.Presets, circuit.FormatTime(d.Presets[k]))
		}
		for _, v := range d.Kind.Info().Verbs {
			if v != circuit.SetPreset {
				p.Hand = append(p.Hand, v.String())
			}
		}
		parts = append(parts, p)
	}
	return parts
}

// loadNames lists what a rung may feed of a device.
func loadNames(d *circuit.Device) []string {
	var names []string
	for p := circuit.Main; p <= circuit.Delta; p++ {
		if d.TakesLoad(p) {
			names = append(names, strings.TrimSuffix(d.Tag+"."+p.String(), "."))
		}
	}
	return names
}

// Choice is one kind of device for a picker.
type Choice struct {
	Word  string `json:"word"`
	About string `json:"about"`
	// Example is the word with settings to begin with, "on-delay 5 s".
	Example string `json:"example"`
	// Contacts and Loads are the words behind the dot; the load "" is the tag
	// alone.
	Contacts []string `json:"contacts,omitempty"`
	Loads    []string `json:"loads,omitempty"`
}

// abouts say what the kinds and functions are, and what settings a new device
// begins with.
var abouts = map[string][2]string{
	"switch":           {"stays where the hand leaves it"},
	"selector":         {"turned by hand from position to position", "off on"},
	"button":           {"works while it is held, and goes back"},
	"limit":            {"moved by a part of the machine"},
	"float":            {"moved by a level"},
	"pressure":         {"moved by a pressure"},
	"flow":             {"moved by a flow"},
	"photo":            {"moved when something stands in its light"},
	"proximity":        {"moved when something comes near"},
	"thermostat":       {"moved by a temperature"},
	"speed":            {"moved by a speed"},
	"overload":         {"trips when a motor draws too much, and is reset by hand"},
	"breaker":          {"trips on too much current, and is reset by hand"},
	"relay":            {"its contacts follow its coil"},
	"contactor":        {"a relay for motors; its contacts follow its coil"},
	"latching relay":   {"set by one coil, reset by another, and stays in between"},
	"stepping relay":   {"changes over each time its coil picks up"},
	"lamp":             {"lights while it is fed"},
	"horn":             {"sounds while it is fed"},
	"solenoid":         {"opens a valve or pulls a bolt while it is fed"},
	"motor":            {"runs while it is fed"},
	"heater":           {"heats while it is fed"},
	"brake":            {"acts while it is fed"},
	"counter":          {"operates after so many pick-ups, until it is reset", "5"},
	"on-delay":         {"operates a time after its coil picks up, and returns at once", "5 s"},
	"off-delay":        {"operates at once, and returns a time after its coil drops out", "5 s"},
	"on-off-delay":     {"waits both ways: to operate, and to return", "5 s, 5 s"},
	"interval":         {"operates at once, and returns after a time or when its coil drops out", "5 s"},
	"pulse":            {"operates for a time, however long its coil is on", "5 s"},
	"pulse-on-release": {"operates for a time when its coil drops out", "5 s"},
	"minimum-on":       {"stays operated for a time at least", "5 s"},
	"flasher":          {"goes on and off as long as its coil is on", "500 ms, 500 ms"},
	"accumulating":     {"adds up the times its coil is on, and operates at the sum", "5 s"},
	"watchdog":         {"returns when its coil has not picked up for a time", "5 s"},
	"star-delta":       {"star for a time, a gap, then delta", "5 s gap 50 ms"},
}

// Kinds lists what a device can be, in the order of the documentation: the
// kinds, then the functions of a timer.
func Kinds() []Choice {
	var list []Choice
	for _, w := range kindWords {
		about := abouts[w]
		c := Choice{Word: w, About: about[0], Example: strings.TrimSpace(w + " " + about[1])}
		file, _ := Read("", []byte("X "+c.Example+"\n"))
		d := &file.Circuit.Devices[0]
		c.Contacts = contactWords(d)
		for _, name := range loadNames(d) {
			c.Loads = append(c.Loads, strings.TrimPrefix(strings.TrimPrefix(name, "X"), "."))
		}
		list = append(list, c)
	}
	return list
}

// SuggestTag returns the next free tag for a new device of a kind, which is
// written as in a device's line; settings behind it don't count. An unknown
// kind gets a relay's letter.
func SuggestTag(c *circuit.Circuit, kind string) string {
	letters := lettersOf(kind)
	taken := map[string]bool{}
	for i := range c.Devices {
		taken[fold(c.Devices[i].Tag)] = true
	}
	for n := 1; ; n++ {
		if tag := letters + strconv.Itoa(n); !taken[fold(tag)] {
			return tag
		}
	}
}

// lettersOf returns the letters that a tag of a kind begins with, after IEC
// 81346 in the trade's older form (from memory).
func lettersOf(kind string) string {
	words := strings.Fields(kind)
	k := circuit.NoKind
	for n := min(2, len(words)); n > 0 && k == circuit.NoKind; n-- {
		k, _ = kindOf(strings.Join(words[:n], " "))
	}
	switch k {
	case circuit.Contactor, circuit.Motor:
		return "M"
	case circuit.Lamp, circuit.Horn:
		return "H"
	case circuit.Solenoid, circuit.Brake:
		return "Y"
	case circuit.Heater:
		return "E"
	case circuit.Counter:
		return "C"
	}
	switch k.Info().Class {
	case circuit.ByHand, circuit.WhileHeld:
		return "S"
	case circuit.BySensing:
		return "B"
	case circuit.ByTripping:
		return "F"
	case circuit.ByTime:
		return "KT"
	}
	return "K"
}
