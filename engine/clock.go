package engine

import "time"

// clocks is the queue of what is due: a heap of four branches that knows where
// each clock stands, so that a clock can be stopped without a search. Clock
// numbers are devices first, then plant rules.
type clocks struct {
	heap  []due
	place []int32 // of each clock in heap, -1 if stopped
}

type due struct {
	at    time.Duration
	clock int32
}

func newClocks(n int) clocks {
	c := clocks{make([]due, 0, n), make([]int32, n)}
	for i := range c.place {
		c.place[i] = -1
	}
	return c
}

func (c *clocks) running(clock int32) bool { return c.place[clock] >= 0 }

// next returns the earliest time that is due.
func (c *clocks) next() (time.Duration, bool) {
	if len(c.heap) == 0 {
		return 0, false
	}
	return c.heap[0].at, true
}

// start sets the clock, running or not, to fall due at a time.
func (c *clocks) start(clock int32, at time.Duration) {
	i := c.place[clock]
	if i < 0 {
		c.heap = append(c.heap, due{})
		c.up(int32(len(c.heap)-1), due{at, clock})
		return
	}
	if at < c.heap[i].at {
		c.up(i, due{at, clock})
	} else {
		c.down(i, due{at, clock})
	}
}

// stop takes the clock out of the queue; a stopped one stays stopped.
func (c *clocks) stop(clock int32) {
	i := c.place[clock]
	if i < 0 {
		return
	}
	c.place[clock] = -1
	n := int32(len(c.heap) - 1)
	last := c.heap[n]
	c.heap = c.heap[:n]
	if i == n {
		return
	}
	if i > 0 && last.at < c.heap[(i-1)/4].at {
		c.up(i, last)
	} else {
		c.down(i, last)
	}
}

// up puts d at place i or as far above as it belongs.
func (c *clocks) up(i int32, d due) {
	for i > 0 {
		parent := (i - 1) / 4
		if c.heap[parent].at <= d.at {
			break
		}
		c.heap[i] = c.heap[parent]
		c.place[c.heap[i].clock] = i
		i = parent
	}
	c.heap[i] = d
	c.place[d.clock] = i
}

// down puts d at place i or as far below as it belongs.
func (c *clocks) down(i int32, d due) {
	n := int32(len(c.heap))
	for {
		first := 4*i + 1
		if first >= n {
			break
		}
		best := first
		for k := first + 1; k < min(first+4, n); k++ {
			if c.heap[k].at < c.heap[best].at {
				best = k
			}
		}
		if c.heap[best].at >= d.at {
			break
		}
		c.heap[i] = c.heap[best]
		c.place[c.heap[i].clock] = i
		i = best
	}
	c.heap[i] = d
	c.place[d.clock] = i
}

// copyFrom makes c equal to o without allocating where it has the room.
func (c *clocks) copyFrom(o *clocks) {
	c.heap = append(c.heap[:0], o.heap...)
	c.place = append(c.place[:0], o.place...)
}

// dueAt returns when a clock is due, -1 for a stopped one.
func (c *clocks) dueAt(clock int32) time.Duration {
	if i := c.place[clock]; i >= 0 {
		return c.heap[i].at
	}
	return -1
}

// appendDue appends the clocks that are due at exactly at, in no special
// order.
func (c *clocks) appendDue(list []int32, at time.Duration) []int32 {
	stack := [64]int32{}
	n := 1
	for n > 0 {
		n--
		i := stack[n]
		if int(i) >= len(c.heap) || c.heap[i].at != at {
			continue
		}
		list = append(list, c.heap[i].clock)
		for k := 4*i + 1; k <= 4*i+4 && n < len(stack); k++ {
			stack[n] = k
			n++
		}
	}
	return list
}
