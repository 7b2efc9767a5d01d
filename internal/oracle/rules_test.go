package oracle

import (
	"testing"

	"tarry/circuit"
)

func stored(d circuit.Device, s circuit.Storage) circuit.Device {
	d.Storage = s
	return d
}

func TestTimerRules(t *testing.T) {
	one := func(d circuit.Device, hands string, want string) example {
		return example{d.Function.String() + " " + hands, []circuit.Device{d},
			[]string{"S.no -> KT", "KT.tno -> H"}, []string{hands}, 40, map[string]string{"H": want}}
	}
	off := timer("KT", circuit.Flasher, 1, 2)
	off.StartingOff = true
	runAll(t, []example{
		one(timer("KT", circuit.OnOffDelay, 2, 3), "S 1-2 5-10 12-20 21-30", "7-33"),
		one(timer("KT", circuit.Interval, 3), "S 1-3 5-20", "1-3 5-8"),
		one(timer("KT", circuit.Pulse, 3), "S 1-2 3-10 12-20", "1-4 12-15"),
		one(timer("KT", circuit.PulseOnRelease, 3), "S 1-2 3-4 10-20", "2-7 20-23"),
		one(timer("KT", circuit.MinimumOn, 3), "S 1-2 3-5 10-20 25-26 27-30", "1-5 10-20 25-30"),
		one(off, "S 1-6", "3-4"),
		one(timer("KT", circuit.Watchdog, 3), "S 1-2 3-20 22-23", "1-6 22-25"),
	})
	runAll(t, []example{
		{"on-delay cut at its very end", []circuit.Device{timer("KT", circuit.OnDelay, 3)},
			[]string{"S.no -> KT", "KT.notc -> H"}, []string{"S 1-4"}, 10, map[string]string{"H": ""}},
		{"star-delta", []circuit.Device{timer("KT", circuit.StarDelta, 3, 1)},
			[]string{"S.no -> KT", "KT.star -> H1", "KT.delta -> H2"}, []string{"S 1-10 11-14.5"}, 20,
			map[string]string{"H1": "1-4 11-14", "H2": "5-10"}},
		{"accumulating with reset", []circuit.Device{timer("KT", circuit.Accumulating, 3)},
			[]string{"S.no -> KT", "S9.no -> KT.reset", "KT.tno -> H"}, []string{"S 1-3 4-15", "S9 7-8"}, 20,
			map[string]string{"H": "5-7 11-"}},
	})
}

func TestSupplyFailure(t *testing.T) {
	off := timer("KT", circuit.OffDelay, 5)
	sum := timer("KT", circuit.Accumulating, 5)
	forgetful := sum
	forgetful.Forgetful = true
	probe := func(name string, d circuit.Device, kind, want string, script ...string) example {
		return example{name, []circuit.Device{d}, []string{"S.no -> KT", "KT." + kind + " -> H"},
			script, 30, map[string]string{"KT." + kind: want}}
	}
	runAll(t, []example{
		probe("air finishes", off, "noto", "1-8", "S 1-20", "3 supply off", "25 supply on"),
		probe("electronic returns", stored(off, circuit.Electronic), "noto", "1-3 10-25", "S 1-20", "3 supply off", "10 supply on"),
		probe("sum is kept", sum, "tno", "13-", "S 1-20", "3 supply off", "10 supply on"),
		probe("sum is lost", forgetful, "tno", "15-", "S 1-20", "3 supply off", "10 supply on"),
	})
}

func TestPresetChanged(t *testing.T) {
	rungs := []string{"S.no -> KT", "KT.notc -> H"}
	kt := []circuit.Device{timer("KT", circuit.OnDelay, 5)}
	runAll(t, []example{
		{"longer", kt, rungs, []string{"S 1-20", "3 set KT 7"}, 30, map[string]string{"H": "8-20"}},
		{"shorter", kt, rungs, []string{"S 1-20", "3 set KT 3"}, 30, map[string]string{"H": "4-20"}},
		{"already over", kt, rungs, []string{"S 1-20", "4 set KT 2"}, 30, map[string]string{"H": "4-20"}},
	})
}

func TestRelays(t *testing.T) {
	slow := circuit.Device{Tag: "K1", Kind: circuit.Relay, Operate: seconds(0.02), Release: seconds(0.01)}
	runAll(t, []example{
		{"travel", []circuit.Device{slow}, []string{"S.no -> K1", "K1.no -> H"}, []string{"S 1-2 3-3.01 4-4.02 5-5.5 5.505-6"}, 10,
			map[string]string{"H": "1.02-2.01 5.02-6.01"}},
		{"buzzer", []circuit.Device{slow}, []string{"S.no K1.nc -> K1"}, []string{"S 1-1.06"}, 2,
			map[string]string{"K1": "1-1.02 1.03-1.05"}},
		{"latching", []circuit.Device{{Tag: "K1", Kind: circuit.LatchingRelay}}, []string{"S1.no -> K1.set", "S2.no -> K1.reset", "K1.no -> H"},
			[]string{"S1 1-2 4-7", "S2 3-3.5 5-6"}, 10, map[string]string{"H": "1-3 4-5 6-"}},
		{"stepping", []circuit.Device{{Tag: "K1", Kind: circuit.SteppingRelay}}, []string{"S1.no -> K1", "K1.no -> H"},
			[]string{"S1 1-2 3-4 5-6", "5.5 supply off", "7 supply on"}, 10, map[string]string{"H": "1-3 5-5.5 7-"}},
		{"counter", []circuit.Device{{Tag: "P1", Kind: circuit.Counter, Count: 2}}, []string{"S1.no -> P1", "S2.no -> P1.reset", "P1.no -> H"},
			[]string{"S1 1-2 3-4 5-7 8-9 10-11", "S2 6-6.5"}, 12, map[string]string{"H": "3-6 10-"}},
		{"selector", []circuit.Device{{Tag: "S2", Kind: circuit.Selector, Positions: []string{"off", "on"}}},
			[]string{"(S2.off | S2.on) -> H1", "S2.on -> H2"}, []string{"1 turn S2 on", "2 turn S2 on", "3 turn S2 off"}, 10,
			map[string]string{"H1": "0-1 1-3 3-", "H2": "1-3"}},
		{"sneak path", nil, []string{"S1.no @a S2.no -> H1", "S3.no @b S4.no -> H2", "@a S5.no -> @b"},
			[]string{"S1 1-2", "S5 1-5", "S4 1-5", "S3 3-4", "S2 1-5"}, 6, map[string]string{"H1": "1-2 3-4", "H2": "1-2 3-4"}},
	})
}

func TestPlantRules(t *testing.T) {
	c := build([]circuit.Device{{Tag: "B", Kind: circuit.Limit}}, "S.no -> M", "B.no -> H")
	b, m := c.Find("B"), c.Find("M")
	c.Plants = []circuit.Plant{{Sensor: b, Closes: true, After: seconds(2), Load: m, OnStart: true}, {Sensor: b, After: seconds(1), Load: m}}
	check(t, c, script(c, 20, "S 1-2 3-6 6.5-8"), map[string]string{"H": "5-9"})
}

func TestBadEnds(t *testing.T) {
	c := build(nil, "S.no K1.nc -> K1")
	if r := Run(c, script(c, 5, "S 2-3")); r.Ending != Chatter || r.End != 2000 {
		t.Errorf("a relay that drops itself out ended %v at %d ms", r.Ending, r.End)
	}
	c = build(nil, "S.no -> H", "S1.no -> @N")
	if r := Run(c, script(c, 5, "S1 2-3")); r.Ending != Short || r.End != 2000 {
		t.Errorf("joined rails ended %v at %d ms", r.Ending, r.End)
	}
}

func TestStartUp(t *testing.T) {
	runAll(t, []example{
		{"fed at start", []circuit.Device{timer("KT", circuit.Pulse, 3)}, []string{"S.nc -> KT", "KT.tno -> H"}, nil, 10, map[string]string{"H": "0-3"}},
		{"no fall at start", []circuit.Device{timer("KT", circuit.PulseOnRelease, 3)}, []string{"S.no -> KT", "KT.tno -> H"}, nil, 10, map[string]string{"H": ""}},
		{"to and fro", nil, []string{"S.nc -> K", "K.nc -> H"}, nil, 10, map[string]string{"H": "0-0"}},
	})
}
