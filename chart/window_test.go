package chart

import (
	"math/rand/v2"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/trace"
)

// A window shows of every signal and every time what the whole run has there.
func TestWindowReadsWhatTheRunHas(t *testing.T) {
	for i := range uint64(200) {
		r := rand.New(rand.NewPCG(7, i))
		c, script := oracle.Random(r)
		tr := engine.Run(c, script, engine.Options{})
		if tr.End < 2 {
			continue
		}
		w := window{from: time.Duration(r.Int64N(int64(tr.End)))}
		w.to = w.from + 1 + time.Duration(r.Int64N(int64(tr.End-w.from)))
		if n := tr.Len(); r.IntN(2) == 0 { // at an edge, where it matters
			w.from = min(tr.Event(trace.ID(r.IntN(n))).At, w.to-1)
		}
		for _, s := range tr.Signals() {
			checkEdges(t, i, tr, s, w)
		}
		for d := range c.Devices {
			if c.Devices[d].Function != 0 {
				checkElapsed(t, i, tr, circuit.DeviceID(d), w)
			}
		}
	}
}

func checkEdges(t *testing.T, seed uint64, tr *trace.Trace, s circuit.Signal, w window) {
	t.Helper()
	start, steps := collapse(w.edgesIn(tr, s))
	allStart, all := collapse(tr.Edges(s))
	var want []step
	for _, x := range all {
		switch {
		case x.at < w.from:
			allStart = x.on
		case x.at <= w.to:
			want = append(want, x)
		}
	}
	if start != allStart || len(steps) != len(want) {
		t.Fatalf("circuit %d, %s in %v: %v %v, want %v %v", seed, tr.Circuit.SignalName(s), w, start, steps, allStart, want)
	}
	for i := range want {
		if steps[i] != want[i] {
			t.Errorf("circuit %d, %s in %v: %v, want %v", seed, tr.Circuit.SignalName(s), w, steps[i], want[i])
		}
	}
}

func checkElapsed(t *testing.T, seed uint64, tr *trace.Trace, d circuit.DeviceID, w window) {
	t.Helper()
	l := timelineOf(tr, d, w)
	for _, at := range []time.Duration{w.from, (w.from + w.to) / 2, w.to} {
		want, _ := tr.Elapsed(d, trace.Settled(at))
		if got := l.elapsedAt(at); got != want {
			t.Errorf("circuit %d, %s at %v in %v: %v, want %v", seed, tr.Circuit.Devices[d].Tag, at, w, got, want)
		}
	}
	for _, r := range l.runs {
		if r.to <= w.from || r.to > w.to {
			t.Errorf("circuit %d: a run from %v to %v in %v", seed, r.from, r.to, w)
		}
	}
}

// elapsedAt reads the elapsed time off a ramp as it is painted.
func (l *timeline) elapsedAt(at time.Duration) time.Duration {
	var now corner
	for _, c := range l.ramp {
		if c.at > at {
			if c.elapsed > now.elapsed {
				return now.elapsed + at - now.at
			}
			break
		}
		now = c
	}
	return now.elapsed
}

func TestSquareAsked(t *testing.T) {
	r := room{width: 20_000, grid: 50, between: 850}
	for _, c := range []struct{ to, square, want time.Duration }{
		{20 * time.Second, time.Second, time.Second},
		{20 * time.Second, 700 * time.Millisecond, 700 * time.Millisecond},
		{20 * time.Second, 15 * time.Second, 15 * time.Second},
		{20 * time.Second, time.Nanosecond, time.Second},
		{20 * time.Second, 30 * time.Second, time.Second},
		{latest, 1, latest / 20},
	} {
		s := scaleOf(nil, window{to: c.to}, c.square, r, true)
		if c.to != latest && s.step != c.want || s.end() > r.width || len(s.ticks()) > 201 {
			t.Errorf("a square of %v in %v: %v, %d ticks, reaches to %d", c.square, c.to, s.step, len(s.ticks()), s.end())
		}
	}
}
