package trace_test

import (
	"fmt"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

const sums = `S1  switch
S2  switch
KT1 accumulating 5 s
H1  lamp
1: S1.no   -> KT1
2: KT1.tno -> H1
3: S2.no   -> KT1.reset
script "Adds up"
  1 s close S1 for 2 s
  4 s set KT1 to 6 s
  5 s close S1 for 10 s
  12 s supply off for 1 s
  20 s close S2 for 1 s
  end 25 s
`

func TestElapsed(t *testing.T) {
	r := run(t, sums)
	kt := r.Circuit.Find("KT1")
	for at, want := range map[time.Duration]string{
		0: "0s false", second: "0s true", 2 * second: "1s true", 3 * second: "2s false", 4 * second: "2s false",
		5 * second: "2s true", 6500 * time.Millisecond: "3.5s true", 9 * second: "6s false", 12500 * time.Millisecond: "6s false",
		14 * second: "6s false", 20 * second: "0s false", 25 * second: "0s false",
	} {
		elapsed, running := r.Elapsed(kt, trace.Settled(at))
		if got := fmt.Sprint(elapsed, running); got != want {
			t.Errorf("at %v it has run %s, not %s", at, got, want)
		}
	}
	if before, after := r.Preset(kt, trace.Moment{At: 4 * second}), r.Preset(kt, trace.Settled(4*second)); before[0] != 5*second || after[0] != 6*second {
		t.Errorf("the preset is %v, then %v", before, after)
	}
	if id := r.TimingSince(kt, trace.Settled(8*second)); r.Event(id).At != second {
		t.Errorf("it was started at %v", r.Event(id).At)
	}
	if id := r.TimingSince(kt, trace.Moment{}); id != trace.None {
		t.Errorf("before the first start there is event %d", id)
	}
	for at, want := range map[time.Duration]bool{0: true, 12 * second: false, 12500 * time.Millisecond: false, 13 * second: true} {
		if r.Live(trace.Settled(at)) != want {
			t.Errorf("at %v the supply is on: %t", at, !want)
		}
	}
}

// crossed has two switches on each side of K1, so that current can run both
// ways through it.
const crossed = `SA switch
SB switch
SC switch
SD switch
K1 relay
1: SA.no @left  -> K1 -> @right
2: SB.no        -> @right
3: @left SC.no  -> @L-
4: @right SD.no -> @L-
script "Both ways"
  1 s close SA
  2 s close SD
  3 s open SA
  4 s open SD
  5 s close SB
  6 s close SC
  end 8 s
`

func TestFeedBothWays(t *testing.T) {
	r := run(t, crossed)
	for at, want := range map[time.Duration]string{
		0: "false [false false] ", second: "false [true false] SA.no ", 2 * second: "true [true true] SA.no SD.no ",
		3 * second: "false [false true] SD.no ", 6 * second: "true [true true] SB.no SC.no ",
	} {
		feed := r.FeedOf(0, trace.Settled(at))
		got := fmt.Sprint(feed.Energised, feed.Tied) + " "
		for _, i := range feed.Contacts {
			got += r.Circuit.ContactName(r.Wiring.Contacts[i].Contact) + " "
		}
		if got != want {
			t.Errorf("at %v: %q, not %q", at, got, want)
		}
	}
}

func TestSearchThroughOpen(t *testing.T) {
	r := run(t, crossed)
	g := r.Conduction(trace.Settled(0))
	left := r.Wiring.Loads[0].A
	cost := func(name string) func(int32) int {
		return func(i int32) int {
			if r.Circuit.ContactName(r.Wiring.Contacts[i].Contact) == name {
				return 9
			}
			return 1
		}
	}
	for _, dear := range []string{"SA.no", "SC.no"} {
		path, ok := g.SearchThroughOpen(left, circuit.LeftRail, cost(dear))
		if !ok || len(path) != 1 || r.Circuit.ContactName(r.Wiring.Contacts[path[0]].Contact) != "SA.no" {
			t.Errorf("with %s dear the way to the left rail is %v, %t", dear, path, ok)
		}
	}
	if path, ok := g.Search(left, circuit.LeftRail); ok {
		t.Errorf("there is a closed way %v", path)
	}
	if path, ok := g.Search(left, left); !ok || len(path) > 0 {
		t.Errorf("from a net to itself there is %v, %t", path, ok)
	}
}

// Moments stand behind small steps.
func TestMoments(t *testing.T) {
	r := run(t, blip)
	h1 := signal(t, r, "H1")
	on := r.Event(r.Edges(h1)[1].Event)
	for m, want := range map[trace.Moment]bool{trace.Before(on): false, trace.After(on): true, trace.Settled(on.At): false} {
		if r.SignalAt(h1, m) != want {
			t.Errorf("H1 is on at %v: %t", m, !want)
		}
	}
	if next := r.NextOf(h1.Device, trace.Coil, trace.After(on)); r.Event(next).Value != 0 || r.Event(next).At != on.At {
		t.Errorf("the next edge is %+v", r.Event(next))
	}
	if r.NextOf(h1.Device, trace.Coil, trace.Settled(on.At)) != trace.None || r.LastOf(h1.Device, trace.Coil, trace.Before(on)) != trace.None {
		t.Error("there are edges where there are none")
	}
}

// A trace that was cleared can be filled again without new room.
func TestClearKeepsRoom(t *testing.T) {
	var r trace.Trace
	r.Reserve(1000)
	fill := func() {
		r.Clear()
		for i := range 1000 {
			r.Add(time.Duration(i), 1, 0, trace.Coil, i%2)
			if i > 0 {
				r.Because(trace.ID(i - 1))
			}
		}
	}
	if n := testing.AllocsPerRun(10, fill); n > 0 {
		t.Errorf("%v allocations", n)
	}
	if e := r.Event(999); len(e.Because) != 1 || e.Because[0] != 998 || e.At != 999 || e.Value != 1 {
		t.Errorf("the last event is %+v", e)
	}
	if want := 1000*trace.RecordSize + 999*trace.CauseSize; r.Bytes() != want {
		t.Errorf("it takes %d bytes, not %d", r.Bytes(), want)
	}
}
