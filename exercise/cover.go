package exercise

// Which items tell all pairs apart is the set cover problem: an item is the set of
// pairs that it tells apart. Items that another one outdoes are dropped. Then a
// number of items after another is tried, from below: a number for which the
// search ends without a cover is proved to be too small. The search always takes
// the pair that fewest items tell apart, since one of these must be chosen, and
// gives up where the best items left could not cover what is left. A last search
// of the same kind, bounded by length, finds the shortest cover of that number.

import (
	"math/bits"
	"sort"
)

type set []uint64

func newSet(n int) set       { return make(set, (n+63)/64) }
func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

func (s set) count() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

func (s set) in(t set) bool {
	for i, w := range s {
		if w&^t[i] != 0 {
			return false
		}
	}
	return true
}

// without returns s less t, written into room.
func (s set) without(t, room set) set {
	for i, w := range s {
		room[i] = w &^ t[i]
	}
	return room
}

// common counts what two sets share.
func (s set) common(t set) int {
	n := 0
	for i, w := range s {
		n += bits.OnesCount64(w & t[i])
	}
	return n
}

// choice is a candidate: what it covers, what it costs, and which it is.
type choice struct {
	covers set
	cost   int64
	id     int
}

// cover is the search.
type cover struct {
	list   []choice
	with   [][]int // of each pair, the choices that cover it
	budget int     // of looks at choices left
	room   []set   // what is left to cover, by depth
	gains  []int

	pick      []int // chosen so far
	best      []int
	bestCost  int64
	wholeCost bool // look for the cheapest, not for any
}

// found is a cover and what is proved of it.
type found struct {
	ids      []int
	exact    bool // no smaller one
	bound    int  // no cover has fewer
	cheapest bool // none of its size costs less
}

// fewest covers all that the choices can cover. The list is changed.
func fewest(list []choice, pairs, budget int) found {
	if len(list) == 0 || pairs == 0 {
		return found{exact: true, cheapest: true}
	}
	all := newSet(pairs)
	for _, x := range list {
		for i, w := range x.covers {
			all[i] |= w
		}
	}
	if all.count() == 0 {
		return found{exact: true, cheapest: true}
	}
	c := &cover{list: undone(list), budget: budget, with: make([][]int, pairs)}
	for i, x := range c.list {
		for p := range pairs {
			if x.covers.has(p) {
				c.with[p] = append(c.with[p], i)
			}
		}
	}
	greedy := c.greedy(all)
	c.best = greedy
	f := found{bound: 1, exact: true, cheapest: true}
	for ; f.bound < len(greedy); f.bound++ {
		c.begin(f.bound, pairs)
		any, whole := c.try(all, f.bound, 0)
		if any {
			break
		}
		if !whole {
			f.exact, f.cheapest = false, false
			break
		}
	}
	if f.exact { // now the cheapest of that number
		c.begin(f.bound, pairs)
		c.wholeCost, c.bestCost = true, c.costOf(c.best)
		if len(c.best) != f.bound {
			c.bestCost = 1 << 62
		}
		c.budget = budget
		_, f.cheapest = c.try(all, f.bound, 0)
	}
	for _, i := range c.best {
		f.ids = append(f.ids, c.list[i].id)
	}
	sort.Ints(f.ids)
	return f
}

func (c *cover) begin(depth, pairs int) {
	c.pick = c.pick[:0]
	for len(c.room) <= depth {
		c.room = append(c.room, newSet(pairs))
	}
}

func (c *cover) costOf(picks []int) int64 {
	sum := int64(0)
	for _, i := range picks {
		sum += c.list[i].cost
	}
	return sum
}

// undone drops the choices that another one outdoes: it covers no more, and costs
// no less.
func undone(list []choice) []choice {
	sort.SliceStable(list, func(i, j int) bool {
		a, b := list[i].covers.count(), list[j].covers.count()
		return a > b || a == b && list[i].cost < list[j].cost
	})
	var kept []choice
next:
	for _, x := range list {
		for _, k := range kept {
			if k.cost <= x.cost && x.covers.in(k.covers) {
				continue next
			}
		}
		kept = append(kept, x)
	}
	return kept
}

// greedy takes what covers most, again and again.
func (c *cover) greedy(all set) []int {
	left := append(set{}, all...)
	var picks []int
	for left.count() > 0 {
		best, most := 0, 0
		for i, x := range c.list {
			if n := left.common(x.covers); n > most {
				best, most = i, n
			}
		}
		picks = append(picks, best)
		left.without(c.list[best].covers, left)
	}
	return picks
}

// try looks for a cover of what is left by n more choices. It returns whether
// there is one, and whether it looked everywhere.
func (c *cover) try(left set, n int, cost int64) (any, whole bool) {
	missing := left.count()
	if missing == 0 {
		if !c.wholeCost || cost < c.bestCost {
			c.best, c.bestCost = append([]int{}, c.pick...), cost
		}
		return true, true
	}
	if n == 0 {
		return false, true
	}
	if c.budget -= len(c.list); c.budget < 0 {
		return false, false
	}
	if !c.enough(left, n, missing) {
		return false, true
	}
	whole = true
	for _, i := range c.with[c.hardest(left)] {
		x := &c.list[i]
		if c.wholeCost && cost+x.cost >= c.bestCost {
			continue
		}
		c.pick = append(c.pick, i)
		found, looked := c.try(left.without(x.covers, c.room[n]), n-1, cost+x.cost)
		c.pick = c.pick[:len(c.pick)-1]
		any, whole = any || found, whole && looked
		if found && !c.wholeCost {
			return true, true
		}
	}
	return any, whole
}

// enough reports whether the n best choices, each for itself, could cover what is
// left.
func (c *cover) enough(left set, n, missing int) bool {
	c.gains = c.gains[:0]
	for i := range c.list {
		c.gains = append(c.gains, left.common(c.list[i].covers))
	}
	sort.Sort(sort.Reverse(sort.IntSlice(c.gains)))
	sum := 0
	for _, g := range c.gains[:min(n, len(c.gains))] {
		sum += g
	}
	return sum >= missing
}

// hardest returns the pair left that fewest choices cover.
func (c *cover) hardest(left set) int {
	best := -1
	for p := range c.with {
		if left.has(p) && (best < 0 || len(c.with[p]) < len(c.with[best])) {
			best = p
		}
	}
	return best
}
