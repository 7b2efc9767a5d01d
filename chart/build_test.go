package chart_test

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// The traces in these tests are written down by hand, event by event, so that
// they do not depend on the engine.

const (
	ms = time.Millisecond
	s  = time.Second
)

// event is one line of a trace; after is its timing.
type event struct {
	at     time.Duration
	tag    string
	part   trace.Part
	value  int
	timing trace.Timing
}

// play makes a trace of a circuit. What stands at time zero is start-up.
func play(c *circuit.Circuit, script string, end time.Duration, events ...event) *trace.Trace {
	t := &trace.Trace{Circuit: c, Wiring: circuit.Wire(c), Script: script, End: end, Ending: trace.Finished}
	t.Add(0, 0, circuit.NoDevice, trace.SupplyPart, 1)
	step, last := 0, time.Duration(0)
	for _, e := range events {
		step++
		if e.at != last {
			step, last = 0, e.at
		}
		if e.part == trace.PresetPart {
			e.value = t.AddPreset([2]time.Duration{time.Duration(e.value) * s})
		}
		t.Mark(t.Add(e.at, step, c.Find(e.tag), e.part, e.value), e.timing)
		if e.at == 0 {
			t.Startup = t.Len()
		}
	}
	t.Startup = max(t.Startup, 1)
	return t
}

func contact(c *circuit.Circuit, tag string, k circuit.ContactKind) circuit.Item {
	return circuit.Item{Contact: circuit.Contact{Device: c.Find(tag), Kind: k}}
}

func load(c *circuit.Circuit, tag string) []circuit.Load {
	return []circuit.Load{{Device: c.Find(tag)}}
}

// delays is a button, an on-delay and an off-delay timer, each with a lamp.
func delays() *circuit.Circuit {
	c := &circuit.Circuit{
		Title: "On-delay and off-delay", Station: "40 sizer",
		Supply: circuit.Supply{Rails: [2]string{"L+", "L-"}},
		Devices: []circuit.Device{
			{Tag: "S1", Kind: circuit.Button, Label: "Start"},
			{Tag: "KT1", Kind: circuit.Timer, Function: circuit.OnDelay, Presets: [2]time.Duration{4 * s}, Label: "Warning time"},
			{Tag: "KT2", Kind: circuit.Timer, Function: circuit.OffDelay, Presets: [2]time.Duration{2500 * ms}, Label: "After-glow"},
			{Tag: "H1", Kind: circuit.Lamp, Label: "Belt may start"},
			{Tag: "H2", Kind: circuit.Lamp, Label: "Aisle light"},
		},
	}
	c.Rungs = []circuit.Rung{
		{Number: 1, Path: circuit.Path{contact(c, "S1", circuit.NO)}, Loads: append(load(c, "KT1"), load(c, "KT2")...)},
		{Number: 2, Path: circuit.Path{contact(c, "KT1", circuit.NOTC)}, Loads: load(c, "H1")},
		{Number: 3, Path: circuit.Path{contact(c, "KT2", circuit.NOTO)}, Loads: load(c, "H2")},
	}
	return c
}

// pressed is a press of S1: what it switches at once.
func pressed(at time.Duration) []event {
	return []event{
		{at, "S1", trace.Contacts, 1, 0},
		{at, "KT1", trace.Coil, 1, trace.Started}, {at, "KT2", trace.Coil, 1, trace.Cleared}, {at, "KT2", trace.TimedOut, 1, 0},
		{at, "H2", trace.Coil, 1, 0},
	}
}

// released is the release of S1.
func released(at time.Duration) []event {
	return []event{
		{at, "S1", trace.Contacts, 0, 0},
		{at, "KT1", trace.Coil, 0, trace.Cleared}, {at, "KT2", trace.Coil, 0, trace.Started},
		{at, "KT1", trace.TimedOut, 0, 0}, {at, "H1", trace.Coil, 0, 0},
	}
}

// closes and opens are the timed contacts moving, each with its lamp.
func closes(at time.Duration) []event {
	return []event{{at, "KT1", trace.TimedOut, 1, trace.Held}, {at, "H1", trace.Coil, 1, 0}}
}

func opens(at time.Duration) []event {
	return []event{{at, "KT2", trace.TimedOut, 0, trace.Held}, {at, "H2", trace.Coil, 0, 0}}
}

func joined(lists ...[]event) []event {
	var all []event
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// cases are the traces that every chart is tried on.
func cases() map[string]*trace.Trace {
	c := delays()
	full := play(c, "Dabbed, then held", 16*s, joined(
		pressed(1*s), released(3*s), pressed(4*s), closes(8*s), released(9*s), opens(11500*ms))...)
	quiet := play(c, "Twice in an hour", time.Hour, joined(
		pressed(1*s), released(1300*ms), opens(3800*ms), pressed(50*time.Minute), closes(50*time.Minute+4*s))...)
	instant := play(c, "There and back at one instant", 6*s, joined(
		pressed(1*s), closes(5*s), []event{{5 * s, "KT1", trace.Coil, 0, trace.Cleared}, {5 * s, "KT1", trace.TimedOut, 0, 0},
			{5 * s, "H1", trace.Coil, 0, 0}, {5 * s, "KT1", trace.Coil, 1, trace.Started}})...)
	instant.Notices = []trace.Notice{{Kind: trace.Race, At: 5 * s, Devices: []circuit.DeviceID{1, 3}}, {Kind: trace.NoEffect, At: 5500 * ms}}
	tie := play(c, "Let go at the very instant", 8*s, joined(
		pressed(1*s), released(5*s), opens(7500*ms))...)
	tie.Notices = []trace.Notice{{Kind: trace.Tie, At: 5 * s, Devices: []circuit.DeviceID{0, 1}}}
	chatter := play(c, "Chatters at once", 0, event{0, "H1", trace.Coil, 1, 0}, event{0, "H1", trace.Coil, 0, 0})
	chatter.Ending, chatter.Notices = trace.Chattering, []trace.Notice{{Kind: trace.Chatter, Devices: []circuit.DeviceID{3}}}
	short := play(c, "Short", 2*s, pressed(2*s)...)
	short.Ending, short.Notices = trace.Shorted, []trace.Notice{{Kind: trace.Short, At: 2 * s}}
	set := play(c, "Set while it times, supply lost", 12*s, joined(pressed(1*s), []event{
		{3 * s, "KT1", trace.PresetPart, 6, 0}, {7 * s, "KT1", trace.TimedOut, 1, trace.Held}, {9 * s, "", trace.SupplyPart, 0, 0},
		{9 * s, "KT1", trace.Coil, 0, 0}, {9 * s, "KT1", trace.TimedOut, 0, trace.Cleared}, {9 * s, "KT2", trace.Coil, 0, trace.Started},
		{9 * s, "H2", trace.Coil, 0, 0}, {11500 * ms, "KT2", trace.TimedOut, 0, trace.Held}})...)
	return map[string]*trace.Trace{
		"dabbed-then-held": full, "long-quiet": quiet, "no-width": instant, "tie": tie, "chatter-at-zero": chatter,
		"short-at-the-end": short, "preset-and-supply": set, "nothing-happens": play(c, "Nothing", 5*s), "crowded": crowded(),
	}
}

// crowded is a flasher that runs from the start, far too fast for the paper.
func crowded() *trace.Trace {
	c := &circuit.Circuit{Title: "Fast flasher", Supply: circuit.Supply{Rails: [2]string{"L", "N"}}, Devices: []circuit.Device{
		{Tag: "KT1", Kind: circuit.Timer, Function: circuit.Flasher, Presets: [2]time.Duration{100 * ms, 150 * ms}},
		{Tag: "H1", Kind: circuit.Lamp, Label: "A label that is much too long for the column that it has to stand in, so it is folded and cut"},
	}}
	c.Rungs = []circuit.Rung{
		{Number: 1, Loads: load(c, "KT1")},
		{Number: 2, Path: circuit.Path{contact(c, "KT1", circuit.TNO)}, Loads: load(c, "H1")},
	}
	events := []event{{0, "KT1", trace.Coil, 1, trace.Started}, {0, "KT1", trace.TimedOut, 1, 0}, {0, "H1", trace.Coil, 1, 0}}
	on := 1
	for at := 100 * ms; at < 20*s; at += time.Duration(100+50*(1-on)) * ms {
		on = 1 - on
		events = append(events, event{at, "KT1", trace.TimedOut, on, trace.Started}, event{at, "H1", trace.Coil, on, 0})
	}
	t := play(c, "Runs by itself", 20*s, events...)
	for at := 1 * s; at < 20*s; at += 300 * ms {
		t.Notices = append(t.Notices, trace.Notice{Kind: trace.RaceSkip, At: at, Devices: []circuit.DeviceID{0, 1}})
	}
	return t
}
