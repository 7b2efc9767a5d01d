package chart

import (
	"math/rand/v2"
	"testing"
	"time"
)

// The scale must keep the order of instants, stay within its room, and put the
// ticks at whole grid units.
func TestScaleHoldsItsPromises(t *testing.T) {
	for i := range uint64(3000) {
		r := rand.New(rand.NewPCG(3, i))
		end := time.Duration(r.Int64N(int64(1) << (5 + r.IntN(58))))
		var instants []time.Duration
		for range r.IntN(30) {
			instants = append(instants, time.Duration(r.Int64N(int64(end)+1)))
		}
		room := room{start: 100, width: int64(3000 + r.IntN(30000)), least: 1040, gap: 420, grid: 50, between: 850}
		s := newScale(instants, end, room, r.IntN(4) == 0)
		checkScale(t, i, s, distinct(append(instants, 0, end), end), room)
	}
}

func checkScale(t *testing.T, seed uint64, s *scale, instants []time.Duration, r room) {
	t.Helper()
	if s.end() > r.start+r.width || s.at(0) != r.start {
		t.Errorf("%d: reaches from %d to %d, room is %d to %d", seed, s.at(0), s.end(), r.start, r.start+r.width)
	}
	last := int64(-1)
	for _, at := range instants {
		x := s.at(at)
		if x < last {
			t.Errorf("%d: %v stands before an earlier instant", seed, at)
		}
		last = x
		if !s.shows(at) {
			t.Errorf("%d: %v is cut out", seed, at)
		}
	}
	if n := len(s.ticks()); n > 200 {
		t.Errorf("%d: %d ticks", seed, n)
	}
}

func (s *scale) shows(at time.Duration) bool {
	for _, p := range s.spans {
		if at >= p.from && at <= p.to {
			return true
		}
	}
	return at > s.spans[len(s.spans)-1].to // the end of a run of no length
}

func TestTickWords(t *testing.T) {
	for _, c := range []struct {
		end, step, at time.Duration
		words, unit   string
	}{
		{20 * time.Second, time.Second, 4 * time.Second, "4", "s"},
		{20 * time.Second, 500 * time.Millisecond, 4500 * time.Millisecond, "4.5", "s"},
		{time.Second, 50 * time.Millisecond, 150 * time.Millisecond, "150", "ms"},
		{35 * time.Minute, 5 * time.Second, 605 * time.Second, "10:05", "min:s"},
		{time.Hour, 5 * time.Minute, 15 * time.Minute, "15", "min"},
		{9 * time.Hour, 30 * time.Minute, 90 * time.Minute, "1:30", "h:min"},
		{90 * time.Hour, 12 * time.Hour, 36 * time.Hour, "36", "h"},
	} {
		s := &scale{spans: []shown{{0, c.end, 0, 1000}}, step: c.step}
		if s.tickWords(c.at) != c.words || s.unit() != c.unit {
			t.Errorf("%v by %v: %s %s, want %s %s", c.end, c.step, s.tickWords(c.at), s.unit(), c.words, c.unit)
		}
	}
}

func TestSpanWords(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "0 s", 20 * time.Millisecond: "20 ms", 500 * time.Millisecond: "0.5 s", 2500 * time.Millisecond: "2.5 s",
		90 * time.Second: "1 min 30 s", time.Hour: "1 h", 3*time.Hour + 1500*time.Millisecond: "3 h 1.5 s", -time.Second: "-1 s",
		1500 * time.Microsecond: "1.5 ms", time.Minute: "1 min",
	} {
		if got := span(d); got != want {
			t.Errorf("%d: %q, want %q", d, got, want)
		}
	}
	if got := share(2*time.Second, 4*time.Second) + ", " + share(50*time.Second, 2*time.Minute) + ", " + share(20*time.Millisecond, 50*time.Millisecond); got != "2 of 4 s, 50 s of 2 min, 20 ms of 50 ms" {
		t.Error(got)
	}
}
