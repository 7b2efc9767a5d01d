package circuit

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

// What a "for" ends comes before what the text begins at the same instant;
// else the order of the text holds.
func TestTimeline(t *testing.T) {
	s := Script{Actions: []Action{
		{At: 1, Verb: Press, Device: 0, For: 4},
		{At: 5, Verb: Close, Device: 1},
		{At: 5, Verb: Trip, Device: 2, For: 1},
		{At: 5, Verb: SupplyOff, Device: NoDevice, For: 2},
	}}
	got := ""
	for _, a := range s.Timeline() {
		got += fmt.Sprintf("%d %v %d; ", a.At, a.Verb, a.Device)
		if a.For != 0 {
			t.Errorf("%+v still has an end of its own", a)
		}
	}
	if want := "1 press 0; 5 release 0; 5 close 1; 5 trip 2; 5 supply off -1; 6 reset 2; 7 supply on -1; "; got != want {
		t.Errorf("the line is %s", got)
	}
	if s.Actions[0].For != 4 {
		t.Error("the script was changed")
	}
}

func TestFit(t *testing.T) {
	for _, f := range Functions() {
		for k := NO; k < AtPosition; k++ {
			own := slices.Contains(f.Contacts, k)
			got := f.Function.Fit(k)
			switch {
			case k == NO || k == NC || own:
				if got != k {
					t.Errorf("%v of %v becomes %v", k, f.Function, got)
				}
			case k == TNO && f.Function != StarDelta:
				if got != f.Contacts[0] {
					t.Errorf("tno of %v becomes %v", f.Function, got)
				}
			case k == TNC && f.Function != StarDelta:
				if got != f.Contacts[1] {
					t.Errorf("tnc of %v becomes %v", f.Function, got)
				}
			case got != NoContact:
				t.Errorf("%v of %v becomes %v", k, f.Function, got)
			}
		}
	}
}

// A timed contact that is closed at rest goes with one that is open at rest
// (facts 1.1); the star-delta timer has two that are open.
func TestTimedContactsAtRest(t *testing.T) {
	for _, f := range Functions() {
		open, closed := f.Contacts[0], f.Contacts[1]
		if open.ClosedAtRest() || closed.ClosedAtRest() != (f.Function != StarDelta) {
			t.Errorf("%v: %v is closed at rest: %t, %v: %t", f.Function, open, open.ClosedAtRest(), closed, closed.ClosedAtRest())
		}
		if open.Group() != Timed || closed.Group() == Instant {
			t.Errorf("%v: the groups are %v and %v", f.Function, open.Group(), closed.Group())
		}
	}
}

func TestStored(t *testing.T) {
	for _, f := range Functions() {
		d := Device{Kind: Timer, Function: f.Function}
		if want := f.Function == OffDelay; (d.Stored() == Air) != want {
			t.Errorf("%v is an air timer: %t", f.Function, !want)
		}
		for _, s := range []Storage{Air, Electronic} {
			if d.Storage = s; d.Stored() != s {
				t.Errorf("%v declared %v is %v", f.Function, s, d.Stored())
			}
		}
	}
}

// The catalogue of kinds agrees with itself.
func TestKinds(t *testing.T) {
	for i, k := range Kinds() {
		if int(k.Kind) != i+1 || k.Kind.Info().Word != k.Word || k.Kind.String() != k.Word {
			t.Errorf("kind %d is %v, called %s", i+1, k.Kind, k.Word)
		}
		if moved := len(k.Verbs) > 0 && k.Kind != Timer; moved && len(k.Loads) > 0 {
			t.Errorf("a %s is moved by hand and by a coil", k.Word)
		}
		d := Device{Kind: k.Kind}
		for p := Main; p <= Delta; p++ {
			if d.TakesLoad(p) != slices.Contains(k.Loads, p) {
				t.Errorf("a %s takes part %q: %t", k.Word, p, d.TakesLoad(p))
			}
		}
	}
	if NoKind.Info().Word != "" || Kind(200).Info().Word != "" || NoFunction.String() != "" {
		t.Error("no kind has a word")
	}
}

func TestResetCoils(t *testing.T) {
	for _, f := range Functions() {
		d := Device{Kind: Timer, Function: f.Function}
		if want := f.Function == Accumulating; d.HasReset() != want || d.TakesLoad(ResetCoil) != want || !d.TakesLoad(Main) {
			t.Errorf("%v has a reset coil: %t, takes it: %t", f.Function, d.HasReset(), d.TakesLoad(ResetCoil))
		}
	}
}

func TestVerbsAreUndone(t *testing.T) {
	for v, want := range map[Verb]Verb{Press: Release, Close: Open, Trip: Reset, SupplyOff: SupplyOn, Release: NoVerb, Turn: NoVerb, SetPreset: NoVerb} {
		if v.Undo() != want {
			t.Errorf("%v is undone by %v", v, v.Undo())
		}
	}
}

func TestContactWords(t *testing.T) {
	for k := NO; k < AtPosition; k++ {
		if ContactKindOf(k.String()) != k {
			t.Errorf("%v is read as %v", k, ContactKindOf(k.String()))
		}
	}
	for _, word := range []string{"", "position", "NO", "tn"} {
		if ContactKindOf(word) != NoContact {
			t.Errorf("%q is a contact", word)
		}
	}
}

func TestTolerant(t *testing.T) {
	for _, x := range []Expect{{Within: time.Millisecond}, {Percent: 1}} {
		if !x.Tolerant() {
			t.Errorf("%+v is exact", x)
		}
	}
	if x := (Expect{}); x.Tolerant() {
		t.Error("nothing allows for something")
	}
}
