package chart

import (
	"math/bits"
	"sort"
	"time"
)

// A chart is to scale, with one exception: where the shortest stretch would
// become too small to see, long quiet stretches are cut out, and the chart says
// so. Which stretches: the lengths between neighbouring instants at which
// anything happens are capped, with the largest round cap under which the
// shortest stretch still gets its least width. A stretch that is not a few times
// as long as the cap stays whole. The tick is a round time, and the
// space between two ticks a whole number of grid units, so that a ruler laid on
// the paper reads it.

// scale turns times into places, counted in whatever the caller counts in.
type scale struct {
	spans  []shown
	step   time.Duration // between two ticks
	per    int64         // places between two ticks
	cutOut time.Duration // what is not drawn, in all
}

// shown is a stretch of time that is drawn, and where.
type shown struct {
	from, to   time.Duration
	start, end int64
}

// room is what a scale has to fit into.
type room struct {
	start, width int64
	least        int64 // width wanted for the shortest stretch, in eighths of a place
	gap          int64 // width of a break mark
	grid         int64 // the space between ticks is a multiple of it
	between      int64 // least space between ticks
}

// newScale fits the time from 0 to end; instants are when something happens.
func newScale(instants []time.Duration, end time.Duration, r room, uncut bool) *scale {
	return scaleOf(instants, window{to: end}, 0, r, uncut)
}

// scaleOf fits a window's time. A square, if there is one, is the tick that is
// asked for.
func scaleOf(instants []time.Duration, w window, square time.Duration, r room, uncut bool) *scale {
	from, end := w.from, w.to
	if end <= from {
		end = from + time.Second // a run that ended as it began
	}
	instants = within(append([]time.Duration{from, end}, instants...), from, end)
	parts := [][2]time.Duration{{from, end}}
	if !uncut {
		parts = cut(instants, r)
	}
	s := &scale{}
	var total time.Duration
	for _, p := range parts {
		total += p[1] - p[0]
	}
	s.cutOut = end - from - total
	width := r.width - int64(len(parts)-1)*r.gap
	s.step, s.per = tickFor(total, width, r)
	if square > 0 && square <= total {
		if per := places(square, width, total); per >= leastTick {
			s.step, s.per = square, max(per/r.grid*r.grid, leastTick)
		}
	}
	at := r.start
	for _, p := range parts {
		w := s.length(p[1] - p[0])
		s.spans = append(s.spans, shown{p[0], p[1], at, at + w})
		at += w + r.gap
	}
	return s
}

// leastTick is the least space between ticks that are asked for, in places.
const leastTick = 100

// distinct sorts times, drops doubles and what lies outside 0 to end.
func distinct(times []time.Duration, end time.Duration) []time.Duration {
	return within(times, 0, end)
}

// within does the same for any stretch.
func within(times []time.Duration, from, end time.Duration) []time.Duration {
	times = append([]time.Duration(nil), times...)
	sort.Slice(times, func(i, j int) bool { return times[i] < times[j] })
	out := times[:0]
	for _, t := range times {
		if t >= from && t <= end && (len(out) == 0 || out[len(out)-1] != t) {
			out = append(out, t)
		}
	}
	return out
}

// cut returns the stretches to draw: one if nothing needs to be cut.
func cut(instants []time.Duration, r room) [][2]time.Duration {
	last := len(instants) - 1
	begin, end := instants[0], instants[last]
	shortest, longest := end-begin, time.Duration(0)
	for i := 0; i < last; i++ {
		shortest = min(shortest, instants[i+1]-instants[i])
		longest = max(longest, instants[i+1]-instants[i])
	}
	if shortest >= time.Duration(places(end-begin, r.least, time.Duration(8*r.width))) || longest < (end-begin)/5 {
		return [][2]time.Duration{{begin, end}}
	}
	wanted := time.Duration(places(shortest, 8*r.width, time.Duration(r.least)))
	limit := capFor(instants, wanted, longest, r)
	var parts [][2]time.Duration
	from := begin
	for i := 0; i < last; i++ {
		a, b := instants[i], instants[i+1]
		if b-a <= limit*worthCutting {
			continue
		}
		grain := grainOf(limit)
		stop := (a + limit/2 + grain - 1) / grain * grain
		resume := (b - limit/2) / grain * grain
		parts = append(parts, [2]time.Duration{from, stop})
		from = resume
	}
	return append(parts, [2]time.Duration{from, end})
}

// grainOf returns the round time that the ends of a cut are multiples of.
func grainOf(limit time.Duration) time.Duration {
	grain := roundTimes[0]
	for _, t := range roundTimes {
		if t <= limit/5 {
			grain = t
		}
	}
	return grain
}

// worthCutting is how many times the cap a stretch must last to be cut.
const worthCutting = 3

// capFor returns the largest round cap under which all stretches together are
// no longer than wanted; the smallest that is worth drawing if none is.
func capFor(instants []time.Duration, wanted, longest time.Duration, r room) time.Duration {
	least := longest/worthCutting + 1
	for i := len(roundTimes) - 1; i >= 0; i-- {
		c := roundTimes[i]
		if c >= longest/worthCutting {
			continue
		}
		var total time.Duration
		breaks := int64(0)
		for j := 1; j < len(instants); j++ {
			g := instants[j] - instants[j-1]
			if g > c*worthCutting {
				g = c
				breaks++
			}
			total += g
		}
		if breaks > 6 {
			break
		}
		least = c
		if total <= wanted || c <= wanted/8 {
			break
		}
	}
	return least
}

// roundTimes are the times that a tick may stand for.
var roundTimes = func() []time.Duration {
	var list []time.Duration
	for _, u := range []struct {
		unit    time.Duration
		factors []time.Duration
	}{
		{time.Nanosecond, []time.Duration{1, 2, 5, 10, 20, 50, 100, 200, 500}},
		{time.Microsecond, []time.Duration{1, 2, 5, 10, 20, 50, 100, 200, 500}},
		{time.Millisecond, []time.Duration{1, 2, 5, 10, 20, 50, 100, 200, 500}},
		{time.Second, []time.Duration{1, 2, 5, 10, 15, 30}},
		{time.Minute, []time.Duration{1, 2, 5, 10, 15, 30}},
		{time.Hour, []time.Duration{1, 2, 3, 6, 12, 24, 48, 120, 240, 720, 2400, 8760, 24_000, 87_600, 200_000, 500_000, 1_000_000}},
	} {
		for _, f := range u.factors {
			list = append(list, f*u.unit)
		}
	}
	return list
}()

// tickFor chooses a tick that uses the width well among those that stand
// neither too close nor too far apart: a coarser one must gain a twentieth.
func tickFor(total time.Duration, width int64, r room) (step time.Duration, per int64) {
	var best int64
	for _, s := range roundTimes {
		p := places(s, width, total) / r.grid * r.grid
		if p < r.between || p > 3*r.between {
			continue
		}
		if used := places(total, p, s); used > best*21/20 {
			best, step, per = used, s, p
		}
	}
	if step == 0 { // narrower than a single tick
		for _, s := range roundTimes {
			if step = s; s >= total {
				break
			}
		}
		per = max(places(step, width, total), 1)
	}
	return step, per
}

// places returns t*width/total, rounded down, for times that are not negative;
// the product may be longer than 64 bits.
func places(t time.Duration, width int64, total time.Duration) int64 {
	whole := int64(t/total) * width
	high, low := bits.Mul64(uint64(t%total), uint64(width))
	part, _ := bits.Div64(high, low, uint64(total))
	return whole + int64(part)
}

func (s *scale) length(d time.Duration) int64 { return places(d, s.per, s.step) }

// at returns the place of an instant; one that is cut out stands in the break.
func (s *scale) at(t time.Duration) int64 {
	for i := len(s.spans) - 1; i >= 0; i-- {
		p := s.spans[i]
		if t < p.from {
			continue
		}
		if t > p.to {
			if i+1 < len(s.spans) {
				return (p.end + s.spans[i+1].start) / 2
			}
			return p.end
		}
		return p.start + s.length(t-p.from)
	}
	return s.spans[0].start
}

// end returns the place of the last instant.
func (s *scale) end() int64 { return s.spans[len(s.spans)-1].end }

// ticks returns the times of all ticks that are drawn.
func (s *scale) ticks() []time.Duration {
	var list []time.Duration
	for _, p := range s.spans {
		first := (p.from + s.step - 1) / s.step * s.step
		for t := first; t <= p.to; t += s.step {
			list = append(list, t)
		}
	}
	return list
}

// labelled returns the ticks whose times are written: all that are multiples of one
// round time, the shortest at which the words of no stretch run into each other.
// The function tells what a tick's words take. A stretch that no multiple falls in
// gets its first tick; words that run into those before a break are left out.
func (s *scale) labelled(room func(time.Duration) (from, to int64)) []time.Duration {
	var list []time.Duration
	for _, stride := range s.strides() {
		var fit bool
		if list, fit = s.every(stride, room); fit {
			break
		}
	}
	return list
}

// strides lists the times that may stand between two labels, shortest first.
func (s *scale) strides() []time.Duration {
	end := s.spans[len(s.spans)-1].to
	list := []time.Duration{s.step}
	for _, t := range roundTimes {
		if t > s.step && t%s.step == 0 && t <= end {
			list = append(list, t)
		}
	}
	if len(list) > 1 {
		return list
	}
	for n := s.step; n <= end/10; n *= 10 { // a tick that is asked for may be of any length
		list = append(list, 2*n, 5*n, 10*n)
	}
	return list
}

// every returns the ticks that are multiples of a stride, the first tick of each
// stretch that has none, and whether all words within stretches have room. Those
// that have none are left out.
func (s *scale) every(stride time.Duration, room func(time.Duration) (from, to int64)) (list []time.Duration, fit bool) {
	fit = true
	taken := int64(0)
	for _, p := range s.spans {
		first := (p.from + stride - 1) / stride * stride
		if first > p.to {
			first = (p.from + s.step - 1) / s.step * s.step // alone: the next is beyond
		}
		for t := first; t <= p.to; t += stride {
			from, to := room(t)
			if from >= taken {
				list = append(list, t)
				taken = to
			} else {
				fit = fit && t == first
			}
		}
	}
	return list, fit
}

// tickWords writes a tick's time, and unit what the axis counts in.
func (s *scale) tickWords(t time.Duration) string {
	switch s.unit() {
	case "h":
		return decimal(int64(t)/int64(time.Hour/1000), 3)
	case "h:min":
		return decimal(int64(t/time.Hour), 0) + ":" + twoDigits(int64(t%time.Hour/time.Minute))
	case "min":
		return decimal(int64(t)/int64(time.Minute/1000), 3)
	case "min:s":
		return decimal(int64(t/time.Minute), 0) + ":" + twoDigits(int64(t%time.Minute/time.Second))
	case "ms":
		return decimal(int64(t), 6)
	}
	return seconds(t)
}

func twoDigits(n int64) string { return string([]byte{byte('0' + n/10), byte('0' + n%10)}) }

func (s *scale) unit() string {
	end := s.spans[len(s.spans)-1].to
	switch {
	case s.step >= time.Hour:
		return "h"
	case s.step >= time.Minute && end > 3*time.Hour:
		return "h:min"
	case s.step >= time.Minute:
		return "min"
	case s.step >= time.Second && end > 5*time.Minute:
		return "min:s"
	case s.step < 100*time.Millisecond && end < 2*time.Second:
		return "ms"
	}
	return "s"
}
