// Package why puts a trace into an instructor's words: what happened at each
// instant and because of what, why a signal is as it is, and the table of
// states. It only words; every cause comes from the trace.
package why

import (
	"slices"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Sentences are built from four small vocabularies: what a hand does, what a
// coil or load does, what a contact does, and what a timer had to wait for.
// Each event of the trace becomes one clause; clauses of one instant follow
// each other in the order of the small steps.

// teller words the events of one trace. The label of a device is given the
// first time that the device is named.
type teller struct {
	t     *trace.Trace
	c     *circuit.Circuit
	named map[circuit.DeviceID]bool
	// contacts are the wired contacts of each device, each kind once.
	contacts [][]circuit.Contact
	// loads are the places of the coils and loads in Wiring.Loads, isTag the
	// names of all devices.
	loads map[circuit.Load]int
	isTag map[string]bool
}

func newTeller(t *trace.Trace) *teller {
	w := &teller{t, t.Circuit, map[circuit.DeviceID]bool{}, make([][]circuit.Contact, len(t.Circuit.Devices)),
		map[circuit.Load]int{}, map[string]bool{}}
	for i := range t.Circuit.Devices {
		w.isTag[t.Circuit.Devices[i].Tag] = true
	}
	for i, l := range t.Wiring.Loads {
		w.loads[l.Load] = i
	}
	for _, k := range t.Wiring.Contacts {
		if !slices.Contains(w.contacts[k.Device], k.Contact) {
			w.contacts[k.Device] = append(w.contacts[k.Device], k.Contact)
		}
	}
	return w
}

// name returns a device's tag, with its label behind it the first time.
func (w *teller) name(d circuit.DeviceID) string {
	dev := &w.c.Devices[d]
	if dev.Label == "" || w.named[d] {
		return dev.Tag
	}
	w.named[d] = true
	return dev.Tag + " (" + dev.Label + ")"
}

func seconds(d time.Duration) string { return circuit.FormatTime(d) }

// loadVerbs are what the kinds of coil and load do when energised and when
// de-energised.
var loadVerbs = map[circuit.Kind][2]string{
	circuit.Lamp:   {"lights", "goes out"},
	circuit.Horn:   {"sounds", "falls silent"},
	circuit.Motor:  {"starts", "stops"},
	circuit.Heater: {"starts to heat", "stops heating"},
}

// coilVerbs are the same for everything that pulls a moving part.
var coilVerbs = [2]string{"picks up", "drops out"}

// otherVerbs are the same for loads without a word of their own.
var otherVerbs = [2]string{"is energised", "is de-energised"}

// loadName names a coil or load in a sentence.
func (w *teller) loadName(d circuit.DeviceID, p circuit.LoadPart) string {
	switch p {
	case circuit.SetCoil:
		return "the set coil of " + w.name(d)
	case circuit.ResetCoil:
		return "the reset coil of " + w.name(d)
	case circuit.Star, circuit.Delta:
		return w.name(d) + " in " + p.String()
	}
	return w.name(d)
}

// loadClause says what a coil or load does: "K1 picks up".
func (w *teller) loadClause(d circuit.DeviceID, p circuit.LoadPart, on bool) string {
	kind := w.c.Devices[d].Kind
	verbs, own := loadVerbs[kind]
	switch {
	case p == circuit.Star || p == circuit.Delta:
		return w.name(d) + [2]string{" no longer runs in ", " runs in "}[b2i(on)] + p.String()
	case p == circuit.SetCoil || p == circuit.ResetCoil:
		verbs = otherVerbs
	case !own && kind.Info().Class == circuit.LoadOnly:
		verbs = otherVerbs
	case !own:
		verbs = coilVerbs
	}
	return w.loadName(d, p) + " " + verbs[b2i(!on)]
}

func b2i(on bool) int {
	if on {
		return 1
	}
	return 0
}

// actionClause says what a hand or the supply did: "S1 (Start) is pressed".
func (w *teller) actionClause(e trace.Event) string {
	if e.Part == trace.SupplyPart {
		return [2]string{"the supply fails", "the supply is back"}[e.Value]
	}
	d := &w.c.Devices[e.Device]
	name := w.name(e.Device)
	if e.Part == trace.PresetPart {
		return name + " is set to " + w.presets(e.Device, trace.After(e))
	}
	switch d.Kind {
	case circuit.Selector:
		if e.Value >= 0 {
			return name + " is in " + d.Positions[e.Value] + " now"
		}
		from := w.t.ValueAt(e.Device, e.Part, trace.Before(e))
		arrives := w.t.NextOf(e.Device, e.Part, trace.After(e))
		if arrives == trace.None { // the run broke off before
			return name + " is turned from " + d.Positions[from]
		}
		return name + " is turned from " + d.Positions[from] + " to " + d.Positions[w.t.Event(arrives).Value]
	case circuit.Button:
		return name + [2]string{" is let go", " is pressed"}[e.Value]
	case circuit.Switch:
		return name + [2]string{" is opened", " is closed"}[e.Value]
	case circuit.Overload, circuit.Breaker:
		return name + [2]string{" is reset", " trips"}[e.Value]
	}
	return name + [2]string{" returns", " operates"}[e.Value]
}

// pastClause says the same of something that is over: "S1 was let go". A
// sensor may have been moved by the plant.
func (w *teller) pastClause(e trace.Event) string {
	if e.Part == trace.SupplyPart {
		return [2]string{"the supply failed", "the supply came back"}[e.Value]
	}
	d := &w.c.Devices[e.Device]
	name := w.name(e.Device)
	if e.Part == trace.PresetPart {
		return name + " was set to " + w.presets(e.Device, trace.After(e))
	}
	switch d.Kind {
	case circuit.Selector:
		if e.Value < 0 {
			return name + " was turned"
		}
		return name + " was turned to " + d.Positions[e.Value]
	case circuit.Button:
		return name + [2]string{" was let go", " was pressed"}[e.Value]
	case circuit.Switch:
		return name + [2]string{" was opened", " was closed"}[e.Value]
	case circuit.Overload, circuit.Breaker:
		return name + [2]string{" was reset", " tripped"}[e.Value]
	}
	return name + [2]string{" returned", " operated"}[e.Value]
}

// presets names the settings of a timer at a moment.
func (w *teller) presets(d circuit.DeviceID, m trace.Moment) string {
	p := w.t.Preset(d, m)
	if p[1] == 0 {
		return seconds(p[0])
	}
	return seconds(p[0]) + " and " + seconds(p[1])
}

// moved says which of a device's wired contacts the event moves, apart those
// that close and those that open: "KT1.notc closes and KT1.ncto opens". It is
// empty for a device of which no such contact is wired.
func (w *teller) moved(e trace.Event) string {
	var closes, opens []string
	d := &w.c.Devices[e.Device]
	for _, k := range w.contacts[e.Device] {
		if trace.PartOf(d, k.Kind) != e.Part {
			continue
		}
		s := trace.ContactSignal(k)
		before, after := w.t.SignalAt(s, trace.Before(e)), w.t.SignalAt(s, trace.After(e))
		switch {
		case before == after:
		case after:
			closes = append(closes, w.c.ContactName(k))
		default:
			opens = append(opens, w.c.ContactName(k))
		}
	}
	return and(verbed(opens, "opens", "open"), verbed(closes, "closes", "close"))
}

// verbed joins names and a verb, empty for no names.
func verbed(names []string, one, many string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0] + " " + one
	}
	return list(names) + " " + many
}

// list joins names as in "a, b and c".
func list(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// and joins two clauses of which either may be empty.
func and(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " and " + b
}

// path words a path of contacts and the load that it feeds, if one is named:
// "S0 – S1 – K1.no – KT1".
func (w *teller) path(contacts []int32, load string) string {
	var names []string
	for _, i := range contacts {
		names = append(names, w.contactOnPath(w.t.Wiring.Contacts[i].Contact, len(contacts) == 1 && load == ""))
	}
	if load != "" {
		names = append(names, load)
	}
	return strings.Join(names, " – ")
}

// contactOnPath names a contact where it stands on a path. The tag alone will do
// for a hand or sensor of which one kind of contact is wired. What has a coil is
// named in full, so that a bare tag at the end is the load, never a contact, and
// KT1.no is never taken for KT1.noto; so is a contact that stands alone.
func (w *teller) contactOnPath(k circuit.Contact, alone bool) string {
	d := &w.c.Devices[k.Device]
	if alone || k.Kind == circuit.AtPosition || len(w.contacts[k.Device]) > 1 || len(d.Kind.Info().Loads) > 0 {
		return w.c.ContactName(k)
	}
	return d.Tag
}

// sentence makes a clause a sentence: a full stop behind, and a capital in
// front unless it begins with a tag, which is left as it is written.
func (w *teller) sentence(clause string) string {
	if clause == "" {
		return ""
	}
	first, _, _ := strings.Cut(clause, " ")
	if !w.isTag[first] && !strings.Contains(first, ".") {
		clause = strings.ToUpper(clause[:1]) + clause[1:]
	}
	if !strings.HasSuffix(clause, ".") {
		clause += "."
	}
	return clause
}
