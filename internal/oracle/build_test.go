package oracle

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
)

// builder makes a circuit from rungs written shortly. Tags that begin with S
// are switches, with H lamps, with M contactors, with K relays, unless they
// are given as devices.
type builder struct {
	c      *circuit.Circuit
	tokens []string
}

func build(devices []circuit.Device, rungs ...string) *circuit.Circuit {
	b := &builder{c: &circuit.Circuit{Supply: circuit.Supply{Rails: [2]string{"L", "N"}}}}
	b.c.Devices = append(b.c.Devices, devices...)
	for i, text := range rungs {
		r := circuit.Rung{Number: i + 1}
		sides := strings.Split(text, "->")
		r.Path = b.read(sides[0])
		for _, word := range strings.Fields(strings.ReplaceAll(sides[1], ",", " ")) {
			if word[0] == '@' {
				r.Tie = word[1:]
				continue
			}
			r.Loads = append(r.Loads, b.load(word))
		}
		if len(sides) > 2 {
			r.Return = b.read(sides[2])
		}
		b.c.Rungs = append(b.c.Rungs, r)
	}
	return b.c
}

func (b *builder) read(text string) circuit.Path {
	for _, mark := range []string{"(", ")", "|"} {
		text = strings.ReplaceAll(text, mark, " "+mark+" ")
	}
	b.tokens = strings.Fields(text)
	return b.path()
}

func (b *builder) path() circuit.Path {
	var p circuit.Path
	for len(b.tokens) > 0 && b.tokens[0] != ")" && b.tokens[0] != "|" {
		word := b.tokens[0]
		b.tokens = b.tokens[1:]
		switch word[0] {
		case '(':
			p = append(p, b.group())
		case '@':
			p = append(p, circuit.Item{Net: word[1:]})
		default:
			p = append(p, circuit.Item{Contact: b.contact(word)})
		}
	}
	return p
}

func (b *builder) group() circuit.Item {
	var it circuit.Item
	for {
		it.Branches = append(it.Branches, b.path())
		mark := b.tokens[0]
		b.tokens = b.tokens[1:]
		if mark == ")" {
			return it
		}
	}
}

func (b *builder) contact(word string) circuit.Contact {
	tag, kind, _ := strings.Cut(word, ".")
	id := b.device(tag)
	for i, p := range b.c.Devices[id].Positions {
		if p == kind {
			return circuit.Contact{Device: id, Kind: circuit.AtPosition, Position: i}
		}
	}
	return circuit.Contact{Device: id, Kind: circuit.ContactKindOf(kind)}
}

func (b *builder) load(word string) circuit.Load {
	tag, part, _ := strings.Cut(word, ".")
	for p := circuit.Main; p <= circuit.Delta; p++ {
		if p.String() == part {
			return circuit.Load{Device: b.device(tag), Part: p}
		}
	}
	panic("no such part: " + word)
}

func (b *builder) device(tag string) circuit.DeviceID {
	if id := b.c.Find(tag); id != circuit.NoDevice {
		return id
	}
	kind := map[byte]circuit.Kind{'S': circuit.Switch, 'H': circuit.Lamp, 'M': circuit.Contactor, 'K': circuit.Relay}[tag[0]]
	b.c.Devices = append(b.c.Devices, circuit.Device{Tag: tag, Kind: kind})
	return circuit.DeviceID(len(b.c.Devices) - 1)
}

// timer is a device with one or two times in seconds.
func timer(tag string, f circuit.Function, times ...float64) circuit.Device {
	d := circuit.Device{Tag: tag, Kind: circuit.Timer, Function: f}
	for i, t := range times {
		d.Presets[i] = seconds(t)
	}
	return d
}

func seconds(t float64) time.Duration {
	return time.Duration(math.Round(t*1000)) * time.Millisecond
}

// script reads lines such as "S1 2-20 30-33", when a switch is closed and
// opened, and "2 supply off", "3 set KT 5".
func script(c *circuit.Circuit, end float64, lines ...string) *circuit.Script {
	s := &circuit.Script{End: seconds(end)}
	for _, text := range lines {
		words := strings.Fields(text)
		id := c.Find(words[0])
		if id == circuit.NoDevice {
			s.Actions = append(s.Actions, special(c, words))
			continue
		}
		for _, span := range words[1:] {
			from, to := ends(span)
			s.Actions = append(s.Actions, circuit.Action{At: from, Verb: circuit.Close, Device: id})
			if to > 0 {
				s.Actions = append(s.Actions, circuit.Action{At: to, Verb: circuit.Open, Device: id})
			}
		}
	}
	return s
}

func special(c *circuit.Circuit, words []string) circuit.Action {
	at, _ := ends(words[0])
	switch words[1] + words[2] {
	case "supplyoff":
		return circuit.Action{At: at, Verb: circuit.SupplyOff, Device: circuit.NoDevice}
	case "supplyon":
		return circuit.Action{At: at, Verb: circuit.SupplyOn, Device: circuit.NoDevice}
	}
	a := circuit.Action{At: at, Verb: circuit.Turn, Device: c.Find(words[2])}
	if words[1] == "set" {
		a.Verb = circuit.SetPreset
		a.Presets[0], _ = ends(words[3])
		return a
	}
	for i, p := range c.Devices[a.Device].Positions {
		if p == words[3] {
			a.Position = i
		}
	}
	return a
}

func ends(span string) (from, to time.Duration) {
	var a, b float64
	if n, _ := fmt.Sscanf(span, "%f-%f", &a, &b); n == 0 {
		panic("no span: " + span)
	}
	return seconds(a), seconds(b)
}

// spans writes when a signal is on: "2-2.5 7-". A pulse of no width is "3-3".
func spans(r Result, c *circuit.Circuit, name string) string {
	for _, s := range r.Signals {
		if c.SignalName(s) != name {
			continue
		}
		var words []string
		for _, e := range r.Edges[s] {
			at := fmt.Sprint(float64(e.At) / 1000)
			if e.On {
				words = append(words, at+"-")
			} else if len(words) > 0 {
				words[len(words)-1] += at
			}
		}
		return strings.Join(words, " ")
	}
	return "no such signal"
}

func check(t *testing.T, c *circuit.Circuit, s *circuit.Script, want map[string]string) {
	t.Helper()
	r := Run(c, s)
	if r.Ending != Finished {
		t.Errorf("ended with %v at %d ms\n%s", r.Ending, r.End, Describe(c, s))
	}
	for name, w := range want {
		if got := spans(r, c, name); got != w {
			t.Errorf("%s is on %q, want %q\n%s", name, got, w, Describe(c, s))
		}
	}
}
