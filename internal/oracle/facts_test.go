package oracle

import (
	"testing"

	"tarry/circuit"
)

// The circuits of this file are worked examples from published text-books and
// handbooks, with the times that are stated there or follow from them.

type example struct {
	name    string
	devices []circuit.Device
	rungs   []string
	script  []string
	end     float64
	want    map[string]string
}

func TestTextbookContacts(t *testing.T) {
	runAll(t, []example{
		{"E01 closes late", []circuit.Device{timer("KT", circuit.OnDelay, 5)},
			[]string{"S.no -> KT", "KT.notc -> H"}, []string{"S 2-20 30-33"}, 60, map[string]string{"H": "7-20"}},
		{"E02 opens late", []circuit.Device{timer("KT", circuit.OffDelay, 5)},
			[]string{"S.no -> KT", "KT.noto -> H"}, []string{"S 2-20 30-33 36-37"}, 60, map[string]string{"H": "2-25 30-42"}},
		{"E03 opens late on energising", []circuit.Device{timer("KT", circuit.OnDelay, 5)},
			[]string{"S.no -> KT", "KT.ncto -> H"}, []string{"S 2-20 30-33"}, 60, map[string]string{"H": "0-7 20-"}},
		{"E04 closes late on de-energising", []circuit.Device{timer("KT", circuit.OffDelay, 5)},
			[]string{"S.no -> KT", "KT.nctc -> H"}, []string{"S 2-20 30-33 36-37"}, 60, map[string]string{"H": "0-2 25-30 42-"}},
		{"E05 one shot", []circuit.Device{timer("KT", circuit.Pulse, 3)},
			[]string{"S.no -> KT", "KT.tno -> H"}, []string{"S 2-20"}, 60, map[string]string{"H": "2-5"}},
		{"E06 recycle", []circuit.Device{timer("KT", circuit.Flasher, 1, 1)},
			[]string{"S.no -> KT", "KT.tno -> H"}, []string{"S 2-8.5"}, 20, map[string]string{"H": "2-3 4-5 6-7 8-8.5"}},
		{"E07 watchdog from the last rising edge", []circuit.Device{timer("KT", circuit.Watchdog, 3)},
			[]string{"S.no -> KT", "KT.tno -> H"}, []string{"S 1-2 3-4 5-6 7-8"}, 20, map[string]string{"H": "1-10"}},
	})
}

func runAll(t *testing.T, list []example) {
	t.Helper()
	for _, x := range list {
		t.Run(x.name, func(t *testing.T) {
			c := build(x.devices, x.rungs...)
			check(t, c, script(c, x.end, x.script...), x.want)
		})
	}
}

func TestReversingStarters(t *testing.T) {
	hands := []string{"Sf 1-2 42-48 63-63.5", "Sr 10-11 23-24 27-28", "S0 20-21 40-41", "Sol 60-60.5"}
	want := map[string]string{"M1": "1-20 45-60 63-", "M2": "27-40"}
	timers := []circuit.Device{timer("TD1", circuit.OffDelay, 5), timer("TD2", circuit.OffDelay, 5)}
	runAll(t, []example{
		{"E08 with coast-down lock-out", timers, []string{
			"S0.nc @6 (Sf.no TD2.nctc | M1.no) M2.nc -> M1, TD1 -> Sol.nc",
			"@6 (Sr.no TD1.nctc | M2.no) M1.nc -> M2, TD2 -> Sol.nc"}, hands, 70, want},
		{"E09 simplified", timers, []string{
			"S0.nc @6 (Sf.no | M1.no) TD2.nctc -> M1, TD1 -> @3 Sol.nc",
			"@6 (Sr.no | M2.no) TD1.nctc -> M2, TD2 -> @3"}, hands, 70, want},
		{"E09 both at once", timers, []string{
			"S0.nc @6 (Sf.no | M1.no) TD2.nctc -> M1, TD1",
			"@6 (Sr.no | M2.no) TD1.nctc -> M2, TD2"},
			[]string{"Sf 1-2", "Sr 1-2 4-7"}, 20, map[string]string{"M1": "1-1", "M2": "1-1 6-"}},
	})
}

func TestMotorSequences(t *testing.T) {
	runAll(t, []example{
		{"E10 delayed start", []circuit.Device{timer("TD", circuit.OnDelay, 3)},
			[]string{"S.no -> TD", "TD.notc -> M"}, []string{"S 1-10 12-14"}, 20, map[string]string{"M": "4-10"}},
		{"E11 second motor later", []circuit.Device{timer("TR", circuit.OnDelay, 5)},
			[]string{"S0.nc (S1.no | M1.no) -> M1, TR -> Sol1.nc", "TR.notc -> M2 -> Sol2.nc"},
			[]string{"S1 1-1.5 30-30.5 40-40.5", "S0 20-20.5 33-33.5", "Sol2 50-55", "Sol1 60-61"}, 70,
			map[string]string{"M1": "1-20 30-33 40-60", "M2": "6-20 45-50 55-60"}},
		{"E12 second motor runs on", []circuit.Device{timer("TR", circuit.OffDelay, 5)},
			[]string{"S0.nc (S1.no | M1.no) -> M1, TR -> Sol1.nc", "TR.noto -> M2 -> Sol2.nc"},
			[]string{"S1 1-1.5 30-30.5 43-43.5", "S0 20-20.5 40-40.5", "Sol1 60-61"}, 70,
			map[string]string{"M1": "1-20 30-40 43-60", "M2": "1-25 30-65"}},
		{"E13 pump after the run", []circuit.Device{timer("TR", circuit.OffDelay, 30)},
			[]string{"S0.nc (S1.no | M1.no) -> M1, TR", "TR.noto TR.nc -> M2"},
			[]string{"S1 1-1.5 70-70.5 100-100.5", "S0 20-20.5 90-90.5"}, 110,
			map[string]string{"M1": "1-20 70-90 100-", "M2": "20-50 90-100"}},
		{"E31 star-delta from relays", []circuit.Device{timer("KT1", circuit.OnDelay, 6), timer("KT2", circuit.OnDelay, 0.05)},
			[]string{"S1.nc (S2.no | K1.no) -> K1", "K1.no -> KT1", "K1.no KT1.ncto KD.nc -> KS", "K1.no KT1.notc KS.nc -> KT2", "KT2.notc KS.nc -> KD"},
			[]string{"S2 1-2 40-41", "S1 30-31 44-45"}, 50,
			map[string]string{"K1": "1-30 40-44", "KS": "1-7 40-44", "KD": "7.05-30"}},
	})
}

func TestLightsAndFlashers(t *testing.T) {
	runAll(t, []example{
		{"E26a stair light, prolonged", []circuit.Device{timer("KT", circuit.OffDelay, 60)},
			[]string{"S.no -> KT", "KT.noto -> H"}, []string{"S 5-6 40-41"}, 120, map[string]string{"H": "5-101"}},
		{"E26b stair light, holding", []circuit.Device{timer("KT", circuit.OnDelay, 60)},
			[]string{"(S.no | K.no) KT.ncto -> K", "K.no -> KT", "K.no -> H"}, []string{"S 5-6 40-41 100-165"}, 230,
			map[string]string{"H": "5-65 100-160 160-220", "K": "5-65 100-160 160-220"}},
		{"E30 flasher from two relays", []circuit.Device{timer("TD1", circuit.OnDelay, 1), timer("TD2", circuit.OnDelay, 0.5)},
			[]string{"S.no TD2.ncto -> TD1", "TD1.notc -> TD2", "TD1.notc -> H1", "S.no TD1.ncto -> H2"}, []string{"S 1-6"}, 8,
			map[string]string{"H1": "2-2.5 3.5-4 5-5.5", "H2": "1-2 2.5-3.5 4-5 5.5-6", "TD1": "1-2.5 2.5-4 4-5.5 5.5-6"}},
		{"E33 no restart for a time", []circuit.Device{timer("TD", circuit.OffDelay, 180)},
			[]string{"S.no (TD.nctc | K.no) -> K", "K.no -> TD"}, []string{"S 10-100 150-400 700-705 720-730"}, 900,
			map[string]string{"K": "10-100 280-400 700-705"}},
		{"E19 alarm on the sum of times", []circuit.Device{timer("KT", circuit.Accumulating, 60)},
			[]string{"S.no -> KT", "S9.no -> KT.reset", "KT.tno -> H"}, []string{"S 0-25 40-60 70-90", "S9 95-96"}, 100,
			map[string]string{"H": "85-95"}},
	})
}
