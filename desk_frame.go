package tarry

import (
	"sort"
	"strconv"
	"time"

	"tarry/circuit"
	"tarry/page/svg"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
	"tarry/why"
)

// maxHappened is how many instants a frame tells.
const maxHappened = 50

// frame says what the board shows now, and only what has changed where that is
// much.
func (d *Desk) frame() DeskFrame {
	t, now := d.session.Trace(), d.session.Now()
	f := DeskFrame{Now: now, Known: d.session.Known(), From: d.session.From(), Events: t.Len(), Next: -1, Back: -1}
	m := trace.Settled(now)
	if next, ok := d.session.Next(); ok {
		f.Next = next
	}
	if back, ok := d.session.Back(); ok {
		f.Back = back
	}
	if t.Ending != trace.Running && t.Ending != trace.Finished && now >= t.End {
		f.Ended = t.Ending.String()
	}
	if f.From > 0 {
		f.Dropped = "The record begins at " + circuit.FormatTime(f.From) + ": what was older has been dropped to save memory."
	}
	upTo := eventsUpTo(t, now)
	changed := !d.sent.marked || d.sent.trace != t || d.sent.events != upTo
	state := sheet.StateAt(t, m)
	if changed {
		f.Marks = d.marks(state)
		d.sent.words = why.Moment(t, m)
	}
	f.Words = d.sent.words
	f.Happened = d.happened(t, upTo)
	d.devices(&f, t, m, state)
	d.notices(&f, t, now)
	if !d.sent.logSent {
		f.Log = d.log()
	}
	d.sent.trace, d.sent.events, d.sent.now, d.sent.marked, d.sent.logSent = t, upTo, now, true, true
	return f
}

// eventsUpTo counts the events at or before an instant.
func eventsUpTo(t *trace.Trace, at time.Duration) int {
	return sort.Search(t.Len(), func(i int) bool { return t.Event(trace.ID(i)).At > at })
}

func (d *Desk) marks(state *schematic.State) []DeskMark {
	return d.unsent(svg.Groups(d.drawing.Marks(state)[0], embedded))
}

// mostBodies is how many groups are remembered as sent.
const mostBodies = 50_000

// unsent lists groups, without what they look like where the page has it already.
func (d *Desk) unsent(groups []svg.Group) []DeskMark {
	list := make([]DeskMark, 0, len(groups))
	if d.sent.bodies == nil || len(d.sent.bodies) > mostBodies {
		d.sent.bodies = map[string]string{}
	}
	for _, g := range groups {
		m := DeskMark{g.ID, g.Class, g.Shows, g.Body}
		if old, ok := d.sent.bodies[g.ID]; ok && old == g.Body {
			m.SVG = "" // the page has it
		}
		d.sent.bodies[g.ID] = g.Body
		list = append(list, m)
	}
	return list
}

// happened tells the instants since the last frame, if time ran on; the one at
// which it stood is told again if it went on.
func (d *Desk) happened(t *trace.Trace, upTo int) []DeskInstant {
	first := d.sent.events
	switch {
	case d.sent.trace == nil:
		first = 0
	case d.sent.trace != t: // built anew, or its oldest part dropped
		first = min(eventsUpTo(t, min(d.sent.now, d.session.Now())-1), upTo)
	}
	for first > 0 && first < upTo && t.Event(trace.ID(first-1)).At == t.Event(trace.ID(first)).At {
		first--
	}
	return instants(why.StoryOf(t, trace.ID(min(first, upTo)), trace.ID(upTo), maxHappened))
}

func instants(story []why.Instant) []DeskInstant {
	var out []DeskInstant
	for _, in := range story {
		out = append(out, DeskInstant{in.At, in.Sentences})
	}
	return out
}

// devices says what hands, coils and timers do.
func (d *Desk) devices(f *DeskFrame, t *trace.Trace, m trace.Moment, state *schematic.State) {
	c := d.file.Circuit
	f.Supply = !state.SupplyOff
	f.Hands, f.On, f.Clocks = make([]int, len(c.Devices)), make([]bool, len(c.Devices)), []DeskClock{}
	for i := range c.Devices {
		id, info := circuit.DeviceID(i), c.Devices[i].Kind.Info()
		if len(info.Loads) == 0 {
			f.Hands[i] = t.ValueAt(id, trace.Contacts, m)
		} else {
			f.On[i] = anyLoad(t, id, info.Loads, m)
		}
	}
	for _, k := range state.Timers {
		elapsed, running := t.Elapsed(k.Device, m)
		f.Clocks = append(f.Clocks, DeskClock{int(k.Device), elapsed, k.Preset, running})
	}
}

func anyLoad(t *trace.Trace, d circuit.DeviceID, parts []circuit.LoadPart, m trace.Moment) bool {
	for _, p := range parts {
		if t.ValueAt(d, trace.Part(p), m) == 1 {
			return true
		}
	}
	return false
}

// maxNotices is how many of the latest notices a frame tells.
const maxNotices = 20

func (d *Desk) notices(f *DeskFrame, t *trace.Trace, now time.Duration) {
	f.Notices = []DeskNotice{}
	n := sort.Search(len(t.Notices), func(i int) bool { return t.Notices[i].At > now })
	for _, x := range t.Notices[max(n-maxNotices, 0):n] {
		one := DeskNotice{x.At, x.Kind.String(), why.Notice(t, x), []int{}}
		for _, id := range x.Devices {
			one.Devices = append(one.Devices, int(id))
		}
		f.Notices = append(f.Notices, one)
	}
}

// log lists the session's actions.
func (d *Desk) log() []DeskAction {
	list := []DeskAction{}
	for _, a := range d.session.Actions() {
		one := DeskAction{At: a.At, Verb: a.Verb.String(), Device: int(a.Device), Position: a.Position, Presets: a.Presets}
		if a.Device != circuit.NoDevice {
			dev := &d.file.Circuit.Devices[a.Device]
			one.Tag = dev.Tag
			if a.Verb == circuit.Turn {
				one.To = dev.Positions[a.Position]
			}
		}
		list = append(list, one)
	}
	return list
}

// DeskTold is the steps so far, oldest first; More is how many older ones were
// left out.
type DeskTold struct {
	Instants []DeskInstant `json:"instants"`
	More     int           `json:"more"`
}

// Story tells the latest instants up to the cursor.
func (d *Desk) Story(limit int) (out DeskTold, err error) {
	defer guard(d.source, &err)
	t := d.session.Trace()
	all := instants(why.StoryOf(t, 0, trace.ID(eventsUpTo(t, d.session.Now())), max(limit, 1)))
	out.Instants = all
	if len(all) > 0 {
		out.More = max(eventsUpTo(t, all[0].At-1), 0)
	}
	return out, nil
}

// DeskWhy is why a signal is as it is.
type DeskWhy struct {
	Title  string   `json:"title"`
	Value  string   `json:"value"`
	Answer []string `json:"answer"`
	Story  []string `json:"story"`
}

// supplyName asks for the supply where a signal is asked for.
const supplyName = "supply"

// Why explains a signal at an instant on record, also what did not happen.
func (d *Desk) Why(of string, at time.Duration) (out DeskWhy, err error) {
	defer guard(d.source, &err)
	c, t := d.file.Circuit, d.session.Trace()
	if at < d.session.From() || at > d.session.Known() {
		return out, badInput("%s is not on record", circuit.FormatTime(at))
	}
	if of == supplyName {
		on, answer := why.Supply(t, at)
		return DeskWhy{Title: "Supply at " + circuit.FormatTime(at), Value: map[bool]string{true: "on", false: "off"}[on],
			Answer: []string{answer}, Story: []string{}}, nil
	}
	s, ok := c.FindSignal(of)
	if !ok {
		return out, badInput("%q is no signal of this circuit; %s", of, choice(of, signalNames(c), "signals"))
	}
	x := why.Explain(t, s, at)
	out.Value, out.Answer, out.Story = trace.ValueWord(s, x.On), x.Answer, x.Story
	out.Title = c.SignalName(s) + " at " + circuit.FormatTime(at)
	if out.Answer == nil {
		out.Answer = []string{}
	}
	if out.Story == nil {
		out.Story = []string{}
	}
	return out, nil
}

// partWords names a part of the drawing for a listener.
func partWords(c *circuit.Circuit, w *circuit.Wiring, q schematic.Part) string {
	rung := "rung " + strconv.Itoa(c.Rungs[q.Rung].Number)
	switch q.Kind {
	case schematic.ContactPart:
		k := w.Contacts[q.Contact].Contact
		return labelled(c, c.ContactName(k), k.Device) + ", " + schematic.ContactWords(c, k) + ", " + rung
	case schematic.LoadPart:
		l := w.Loads[q.Load].Load
		return labelled(c, c.LoadName(l), l.Device) + ", " + schematic.LoadWords(c, l) + ", " + rung
	}
	return rung
}

// labelled is a name with its device's label behind it.
func labelled(c *circuit.Circuit, name string, d circuit.DeviceID) string {
	if label := c.Devices[d].Label; label != "" {
		return name + " (" + label + ")"
	}
	return name
}
