package oracle

import (
	"fmt"
	"strings"
	"time"

	"tarry/circuit"
)

// Describe writes a circuit and a script much as the notation does, for the
// message of a failed comparison.
func Describe(c *circuit.Circuit, s *circuit.Script) string {
	var b strings.Builder
	used := usedDevices(c, s)
	for i := range c.Devices {
		if used[circuit.DeviceID(i)] {
			fmt.Fprintf(&b, "%s\n", describeDevice(&c.Devices[i]))
		}
	}
	for i := range c.Rungs {
		fmt.Fprintf(&b, "%s\n", describeRung(c, &c.Rungs[i]))
	}
	for _, p := range c.Plants {
		fmt.Fprintf(&b, "plant %s %s %v after %s %s\n", c.Devices[p.Sensor].Tag, choose(p.Closes, "closes", "opens"),
			p.After, c.Devices[p.Load].Tag, choose(p.OnStart, "starts", "stops"))
	}
	b.WriteString("script\n")
	for _, a := range s.Actions {
		fmt.Fprintf(&b, "  %s\n", describeAction(c, a))
	}
	fmt.Fprintf(&b, "  end %v\n", s.End)
	return b.String()
}

func choose(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// usedDevices returns the devices that a rung, a rule or an action names.
func usedDevices(c *circuit.Circuit, s *circuit.Script) map[circuit.DeviceID]bool {
	used := map[circuit.DeviceID]bool{}
	add := func(k circuit.Contact) { used[k.Device] = true }
	for _, r := range c.Rungs {
		r.Path.Contacts(add)
		r.Return.Contacts(add)
		for _, l := range r.Loads {
			used[l.Device] = true
		}
	}
	for _, p := range c.Plants {
		used[p.Sensor], used[p.Load] = true, true
	}
	for _, a := range s.Actions {
		used[a.Device] = true
	}
	return used
}

func describeDevice(d *circuit.Device) string {
	words := []string{d.Tag, d.Kind.String()}
	if d.Kind == circuit.Timer {
		words[1] = d.Function.String()
	}
	add := func(given bool, word string) {
		if given {
			words = append(words, word)
		}
	}
	add(d.Presets[0] > 0, d.Presets[0].String())
	add(d.Function == circuit.StarDelta, "gap")
	add(d.Presets[1] > 0, d.Presets[1].String())
	add(d.StartingOff, "starting off")
	add(d.Storage == circuit.Air, "air")
	add(d.Storage == circuit.Electronic, "electronic")
	add(d.Forgetful, "forgetful")
	add(d.Operate > 0, "operate "+d.Operate.String())
	add(d.Release > 0, "release "+d.Release.String())
	add(d.Count > 0, fmt.Sprint(d.Count))
	return strings.Join(append(words, d.Positions...), " ")
}

func describeRung(c *circuit.Circuit, r *circuit.Rung) string {
	to := "@" + r.Tie
	if r.Tie == "" {
		var loads []string
		for _, l := range r.Loads {
			loads = append(loads, c.LoadName(l))
		}
		to = strings.Join(loads, ", ")
	}
	line := fmt.Sprintf("%d: %s -> %s", r.Number, describePath(c, r.Path), to)
	if len(r.Return) > 0 {
		line += " -> " + describePath(c, r.Return)
	}
	return line
}

func describePath(c *circuit.Circuit, p circuit.Path) string {
	var words []string
	for _, it := range p {
		switch {
		case it.Net != "":
			words = append(words, "@"+it.Net)
		case it.Contact.Kind != circuit.NoContact:
			words = append(words, c.ContactName(it.Contact))
		default:
			var branches []string
			for _, b := range it.Branches {
				branches = append(branches, describePath(c, b))
			}
			words = append(words, "("+strings.Join(branches, " | ")+")")
		}
	}
	return strings.Join(words, " ")
}

func describeAction(c *circuit.Circuit, a circuit.Action) string {
	words := []string{a.At.String(), a.Verb.String()}
	if a.Device != circuit.NoDevice {
		words = append(words, c.Devices[a.Device].Tag)
	}
	switch a.Verb {
	case circuit.Turn:
		words = append(words, "to", c.Devices[a.Device].Positions[a.Position])
	case circuit.SetPreset:
		words = append(words, "to", describePresets(a.Presets))
	}
	if a.For > 0 {
		words = append(words, "for", a.For.String())
	}
	return strings.Join(words, " ")
}

func describePresets(p [2]time.Duration) string {
	return fmt.Sprintf("%v %v", p[0], p[1])
}
