package session_test

import (
	"flag"
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/session"
	"tarry/trace"
)

// A failure prints the circuit, shrunk; rapid need not keep a file of its own.
func init() { flag.Set("rapid.nofailfile", "true") }

// source lets rapid choose the numbers that a random circuit is made from.
type source struct{ t *rapid.T }

func (s source) IntN(n int) int { return rapid.IntRange(0, n-1).Draw(s.t, "n") }

// told writes a trace's events from an instant on, with what caused them. The
// numbers of events, presets and notices are a trace's own, so they are left out.
func told(r *trace.Trace, from time.Duration) []string {
	var list []string
	for id := range r.Len() {
		e := r.Event(trace.ID(id))
		if e.At < from {
			continue
		}
		value := e.Value
		if e.Part == trace.PresetPart || e.Part == trace.NoticePart {
			value = 0
		}
		text := fmt.Sprintf("%v/%d %d %v %d %d", e.At, e.Step, e.Device, e.Part, value, e.Timing)
		for _, cause := range e.Because {
			b := r.Event(cause)
			if b.Part == trace.PresetPart {
				b.Value = 0
			}
			text += fmt.Sprintf(" because %d %v %d at %v/%d", b.Device, b.Part, b.Value, b.At, b.Step)
		}
		if e.Part == trace.NoticePart {
			text += fmt.Sprintf(" %+v", r.Notices[e.Value])
		}
		list = append(list, text)
	}
	return list
}

// likeAFreshRun fails unless the session has on record what its script does.
func likeAFreshRun(t *rapid.T, c *circuit.Circuit, s *session.Session) {
	t.Helper()
	script := s.Script("as done")
	if script.End < s.Known() {
		t.Fatalf("known up to %v, but the script ends at %v", s.Known(), script.End)
	}
	script.End = max(s.Known(), 1) // a run that ended at once is known up to 0 s
	r := engine.Run(c, script, engine.Options{})
	want, got := told(r, s.From()), told(s.Trace(), s.From())
	if !slices.Equal(want, got) {
		t.Fatalf("from %v to %v, on record is\n%q\ninstead of\n%q\n%s", s.From(), s.Known(), got, want, oracle.Describe(c, script))
	}
	if ended := s.Trace().Ending; r.Ending != trace.Finished && r.Ending != ended || r.Ending == trace.Finished && ended != trace.Running {
		t.Fatalf("ends %v instead of %v", ended, r.Ending)
	}
	if !slices.Equal(script.Timeline(), s.Actions()) {
		t.Fatalf("the script does %v instead of %v", script.Timeline(), s.Actions())
	}
}

// anyTime draws a time that often is one at which something happens.
func anyTime(t *rapid.T, s *session.Session, end time.Duration) time.Duration {
	switch rapid.IntRange(0, 3).Draw(t, "kind of time") {
	case 0:
		if at, any := s.Next(); any {
			return at
		}
	case 1:
		if at, any := s.Back(); any {
			return at
		}
	case 2:
		return s.Now() + time.Duration(rapid.IntRange(0, 20).Draw(t, "ms"))*time.Millisecond
	}
	return time.Duration(rapid.Int64Range(0, int64(end)).Draw(t, "to"))
}

// However one goes to and fro and acts: what is on record is what the same
// actions do as a script.
func TestASessionIsItsScript(t *testing.T) {
	dropped, late := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		c, script := oracle.Random(source{t})
		keep := rapid.SampledFrom([]int{0, 4, 8, 20}).Draw(t, "keep")
		var ahead []circuit.Action
		if rapid.Bool().Draw(t, "scripted") {
			ahead = script.Actions
		}
		s := session.New(c, ahead, session.Options{Keep: keep})
		for range rapid.IntRange(1, 12).Draw(t, "moves") {
			to := anyTime(t, s, script.End)
			if !s.Move(to) || s.Now() != to && s.Trace().Ending == trace.Running && to >= s.From() {
				t.Fatalf("asked to go to %v, the cursor stands at %v", to, s.Now())
			}
			if len(script.Actions) > 0 && rapid.Bool().Draw(t, "act") {
				n := rapid.IntRange(1, 2).Draw(t, "hands")
				acts := make([]circuit.Action, n)
				for i := range acts {
					acts[i] = rapid.SampledFrom(script.Actions).Draw(t, "action")
				}
				now := s.Now()
				s.Do(acts...)
				if s.Now() > now {
					late++
				}
			}
			if s.Known() == 0 {
				s.Move(1)
			}
			likeAFreshRun(t, c, s)
		}
		if s.From() > 0 {
			dropped++
		}
	})
	if dropped < 5 || late < 5 {
		t.Errorf("only %d sessions dropped something, and %d hands were late", dropped, late)
	}
}

// Acting undoes nothing that was seen, but for hands taken together.
func TestActingKeepsWhatFellDue(t *testing.T) {
	checked := 0
	rapid.Check(t, func(t *rapid.T) {
		c, script := oracle.Random(source{t})
		s := session.New(c, nil, session.Options{Keep: 20})
		for range rapid.IntRange(1, 12).Draw(t, "moves") {
			s.Move(anyTime(t, s, script.End))
			from, now := s.From(), s.Now()
			acted := slices.ContainsFunc(s.Actions(), func(a circuit.Action) bool { return a.At == now })
			before := told(s.Trace(), from)
			n := 0
			for id := range s.Trace().Len() {
				if at := s.Trace().Event(trace.ID(id)).At; at >= from && at <= now {
					n++
				}
			}
			acts := append(script.Actions, circuit.Action{Verb: circuit.SupplyOff, Device: circuit.NoDevice})
			if s.Do(rapid.SampledFrom(acts).Draw(t, "action")); acted || s.From() != from {
				continue
			}
			checked++
			if after := told(s.Trace(), from); !slices.Equal(before[:n], after[:min(n, len(after))]) {
				t.Fatalf("at %v, what was on record\n%q\nbecame\n%q\n%s", now, before[:n], after, oracle.Describe(c, script))
			}
		}
	})
	if checked < 100 {
		t.Errorf("only %d acts were looked at", checked)
	}
}

// Next goes through every instant, and Back through the same ones.
func TestNextAndBackVisitEveryInstant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, script := oracle.Random(source{t})
		s := session.New(c, script.Actions, session.Options{})
		seen := map[time.Duration]bool{0: true}
		for at, any := s.Next(); any && at <= script.End; at, any = s.Next() {
			if at <= s.Now() {
				t.Fatalf("after %v comes %v", s.Now(), at)
			}
			s.Move(at)
			seen[at] = true
		}
		s.Move(script.End)
		r := engine.Run(c, script, engine.Options{})
		var instants []time.Duration
		for id := range r.Len() {
			at := r.Event(trace.ID(id)).At
			if !seen[at] {
				t.Fatalf("%v was passed over\n%s", at, oracle.Describe(c, script))
			}
			if len(instants) == 0 || at > instants[len(instants)-1] {
				instants = append(instants, at)
			}
		}
		s.Move(script.End)
		for _, want := range slices.Backward(instants) {
			if want == s.Now() {
				continue
			}
			got, any := s.Back()
			if !any || got != want {
				t.Fatalf("before %v comes %v (%t) instead of %v", s.Now(), got, any, want)
			}
			s.Move(got)
		}
		if at, any := s.Back(); any || s.Now() != 0 {
			t.Fatalf("before %v comes %v", s.Now(), at)
		}
	})
}
