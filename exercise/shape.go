package exercise

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Shape is how hard an exercise is: two with the same shape have as much to draw,
// and as much to mind. Times have no part in it. Shapes are compared with ==.
type Shape struct {
	Rows  int // asked
	Edges int // on all asked rows together
	// PerRow lists the edges of each asked row, fewest first.
	PerRow string
	// Hands is how often a hand or the supply does something.
	Hands int
	// Runs is how often a timer's time ran to its end, Cut how often its coil cut
	// it short by going off, Again how often by coming on.
	Runs, Cut, Again int
	// Timers and Contacts list functions and timed contacts with their numbers:
	// "1 off-delay, 1 on-delay", "1 ncto, 2 notc".
	Timers, Contacts string
}

// shapeOf reads the shape of an exercise off its run. If the run is not fit for
// one, it says why: trouble of any kind, an asked row without an edge, or two
// things for reasons of their own within less than a time of each other.
func shapeOf(t *trace.Trace, asked []circuit.Signal, apart time.Duration) (Shape, string) {
	sh := Shape{Rows: len(asked)}
	switch {
	case t.Ending != trace.Finished:
		return sh, "its run breaks off"
	case len(t.Notices) > 0:
		return sh, "its run has something to notice at " + circuit.FormatTime(t.Notices[0].At)
	case len(asked) == 0:
		return sh, "no row is asked"
	}
	var rows []int
	for _, s := range asked {
		n := len(lineOf(t.Edges(s), t.End).at)
		if n == 0 {
			return sh, t.Circuit.SignalName(s) + " has no edge"
		}
		rows = append(rows, n)
		sh.Edges += n
	}
	slices.Sort(rows)
	sh.PerRow = strings.Trim(fmt.Sprint(rows), "[]")
	if reason := sh.readTimers(t, apart); reason != "" {
		return sh, reason
	}
	return sh, sh.readRoots(t, apart)
}

// readTimers counts what became of the timers' runs, and the timers themselves.
func (sh *Shape) readTimers(t *trace.Trace, apart time.Duration) string {
	functions, contacts := map[string]int{}, map[string]int{}
	for i := range t.Circuit.Devices {
		id, d := circuit.DeviceID(i), &t.Circuit.Devices[i]
		if d.Kind != circuit.Timer {
			continue
		}
		functions[d.Function.String()]++
		for _, n := range t.EventsOf(id) {
			e := t.Event(n)
			elapsed, running := t.Elapsed(id, trace.Before(e))
			switch {
			case !running || e.Timing == trace.Untouched:
			case e.Part == trace.TimedOut || e.Part == trace.SecondOut || e.Part == trace.Clock:
				sh.Runs++
			default:
				for _, p := range t.Preset(id, trace.Before(e)) {
					if p > 0 && max(p-elapsed, elapsed-p) < apart {
						return fmt.Sprintf("%s is cut short within %s of its time at %s", d.Tag, circuit.FormatTime(apart), circuit.FormatTime(e.At))
					}
				}
				if e.Value == 1 {
					sh.Again++
				} else {
					sh.Cut++
				}
			}
		}
	}
	for _, k := range t.Wiring.Contacts {
		if k.Kind.Group() != circuit.Instant {
			contacts[k.Kind.String()]++
		}
	}
	sh.Timers, sh.Contacts = counted(functions), counted(contacts)
	return ""
}

// readRoots counts what hands do, and looks whether anything but one thing begins
// at an instant: hands apart from each other don't matter, time-outs do. What a
// timer does within less than the time follows at once: that is what its setting
// is for.
func (sh *Shape) readRoots(t *trace.Trace, apart time.Duration) string {
	type root struct {
		at   time.Duration
		hand bool
	}
	var last *root
	for i := range t.Len() {
		e := t.Event(trace.ID(i))
		hand := e.ByHand()
		if !hand && (len(e.Because) == 0 || e.At-t.Event(e.Because[len(e.Because)-1]).At < apart) {
			continue // start-up, or it follows at once from something else
		}
		if hand {
			sh.Hands++
		}
		if last != nil && e.At-last.at < apart && !(hand && last.hand) {
			return fmt.Sprintf("two things happen within %s of each other at %s", circuit.FormatTime(apart), circuit.FormatTime(e.At))
		}
		last = &root{e.At, hand}
	}
	if last != nil && t.End-last.at < apart {
		return "something happens at its very end"
	}
	return ""
}

// counted writes what there is how often, in the order of the alphabet.
func counted(of map[string]int) string {
	var words []string
	for _, name := range slices.Sorted(maps.Keys(of)) {
		words = append(words, fmt.Sprintf("%d %s", of[name], name))
	}
	return strings.Join(words, ", ")
}
