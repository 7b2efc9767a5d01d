package answer

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"tarry/circuit"
)

// Marked is an answer with its marks. Points are those of its signals together:
// see SignalMark.
type Marked struct {
	Learner, Item string
	Signals       []SignalMark // in the item's order
	Points, Of    int
	// NotAsked are the names of signals that were drawn and are not asked for.
	NotAsked []string
	// Problems are what could not be marked.
	Problems []Problem
	// Overrule is a human's mark for the whole answer, nil for none; Points has it.
	Overrule *Overrule

	tolerance Tolerance // that it was marked with
}

// Drawn reports whether a line of the answer could be marked.
func (m *Marked) Drawn() bool {
	return slices.ContainsFunc(m.Signals, func(s SignalMark) bool { return s.Given })
}

// Right reports whether nothing is wrong with the answer as it was drawn.
func (m *Marked) Right() bool {
	for i := range m.Signals {
		if m.Signals[i].Wrong {
			return false
		}
	}
	return true
}

// wrongLine reports whether something is wrong with a line that was drawn.
func (m *Marked) wrongLine() bool {
	for i := range m.Signals {
		if m.Signals[i].Given && m.Signals[i].Wrong {
			return true
		}
	}
	return false
}

// SignalMark is a signal's line with its marks.
//
// A right edge gives a point, and so does one that only follows a wrong one; an
// edge that has no business there takes one away, though never below zero. Of is
// how many edges the right line has. A line without any counts one point, for its
// start.
type SignalMark struct {
	Signal circuit.Signal
	Name   string
	Given  bool // the learner drew it
	Sure   Sure

	Edges      []EdgeMark // in order of time
	WrongStart bool
	// FirstWrong is the first difference, if Wrong says that there is one.
	Wrong      bool
	FirstWrong Wrong

	// How many edges of each kind. FollowOn are those of the others that only
	// follow, and they are not counted there.
	Right, Moved, Missing, Extra, FollowOn int
	// A pulse is two edges in a row.
	MissingPulses, ExtraPulses int

	Points, Of int
	// Overrule is a human's mark, nil for none; Points has it.
	Overrule *Overrule

	startFollows bool
}

// Mark marks an answer. Lines for signals that the item doesn't ask are listed
// under Problems; signals without a line are NotDrawn and have no points. An answer
// that was drawn in squares of its own is marked by those, if t has none.
func Mark(it *Item, a Answer, t Tolerance) Marked {
	m := Marked{Learner: a.Learner, Item: it.Name, Signals: make([]SignalMark, len(it.Signals)), tolerance: t}
	c := it.comparisonFor(a, t)
	given := it.linesOf(a, &m)
	for i := range it.Signals {
		s := &m.Signals[i]
		s.Signal, s.Name = it.Signals[i], it.Circuit.SignalName(it.Signals[i])
		s.Of = max(len(it.right[i].at), 1)
		if given[i] == nil {
			s.Wrong, s.FirstWrong = true, Wrong{Kind: NotDrawn}
			continue
		}
		s.Given, s.Sure = true, given[i].Sure
		right, drawn := it.right[i], c.read(given[i].Edges())
		s.FirstWrong, s.Wrong = c.first(right, drawn)
		r, g := c.alike(right, drawn)
		s.WrongStart = r.start != g.start
		s.Edges = c.align(r, g)
		if cut := len(right.at) - len(r.at); cut > 0 {
			s.shift(cut, right)
		}
	}
	c.follow(it, m.Signals)
	for i := range m.Signals {
		m.Signals[i].count(len(it.right[i].at))
		m.Points += m.Signals[i].Points
		m.Of += m.Signals[i].Of
	}
	return m
}

// FindSignal finds the signal that a learner's name for it means: as the circuit
// writes it, or else but for capitals, if only one is.
func FindSignal(c *circuit.Circuit, name string) (circuit.Signal, bool) {
	if s, known := c.FindSignal(name); known {
		return s, true
	}
	tag, part, dotted := strings.Cut(strings.TrimSpace(name), ".")
	var found []circuit.Signal
	for i := range c.Devices {
		d := &c.Devices[i]
		if !circuit.EqualTag(d.Tag, tag) {
			continue
		}
		if !dotted {
			if s, known := c.FindSignal(d.Tag); known {
				found = append(found, s)
			}
			continue
		}
		parts := append([]string{part, strings.ToLower(part)}, d.Positions...)
		for _, p := range parts {
			s, known := c.FindSignal(d.Tag + "." + p)
			if known && strings.EqualFold(p, part) && !slices.Contains(found, s) {
				found = append(found, s)
			}
		}
	}
	if len(found) != 1 {
		return circuit.Signal{}, false
	}
	return found[0], true
}

// linesOf finds the answer's line for each signal, nil for none.
func (it *Item) linesOf(a Answer, m *Marked) []*Line {
	lines := make([]*Line, len(it.Signals))
	for i := range a.Lines {
		l := &a.Lines[i]
		signal, known := FindSignal(it.Circuit, l.Signal)
		place := -1
		if known {
			place = slices.Index(it.Signals, signal)
		}
		switch {
		case l.Undrawn:
		case !known:
			m.NotAsked = append(m.NotAsked, quote(l.Signal))
			m.problem(l, "%s is no signal of this circuit. It was not marked.", quote(l.Signal))
		case place < 0:
			m.NotAsked = append(m.NotAsked, it.Circuit.SignalName(signal))
			m.problem(l, "%s is not asked for here. It was not marked.", quote(l.Signal))
		case lines[place] != nil:
			m.problem(l, "There is a second line for %s. The first was marked.", quote(l.Signal))
		default:
			lines[place] = l
		}
	}
	return lines
}

func (m *Marked) problem(l *Line, format string, values ...any) {
	m.Problems = append(m.Problems, Problem{Line: l.Number, Reason: fmt.Sprintf(format, values...)})
}

// Beyond takes the edges of an answer that lie behind the end of the run, where
// there is nothing to draw on, for its end, and says so of each line.
func (it *Item) Beyond(a Answer, t Tolerance) (Answer, []Problem) {
	c := it.comparisonFor(a, t)
	var found []Problem
	a.Lines = slices.Clone(a.Lines)
	for n := range a.Lines {
		l := &a.Lines[n]
		i := slices.IndexFunc(l.At, func(at time.Duration) bool { return at > c.end && !c.near(c.end, at) })
		if i < 0 {
			continue
		}
		found = append(found, Problem{Line: l.Number, Reason: fmt.Sprintf("%s lies behind the end of the run at %s, and was taken for the end in the line for %s. Write end for what lasts to the end.",
			circuit.FormatTime(l.At[i]), circuit.FormatTime(c.end), quote(l.Signal))})
		// What lies behind the end altogether is no line.
		l.At, l.Undrawn = l.At[:i:i], i == 0
	}
	return a, found
}

// shift puts back the first edge of the right line, which may stand before the
// start.
func (s *SignalMark) shift(by int, right level) {
	for i := range s.Edges {
		if s.Edges[i].edge >= 0 {
			s.Edges[i].edge += by
		}
	}
	first := EdgeMark{On: right.on(0), Right: right.at[0], Given: -1}
	s.Edges = append([]EdgeMark{first}, s.Edges...)
}

// follow finds the wrong edges that only follow others. A moved one follows if an
// edge that it follows from is moved as far; a missing one if such an edge is
// missing; an extra one if a signal that leads this one has an extra or a moved
// edge at the right distance. In an answer without any edge no missing one
// follows: what was never drawn shows no thought.
func (c comparison) follow(it *Item, signals []SignalMark) {
	find := func(at cause) *EdgeMark {
		for i := range signals[at.signal].Edges {
			if e := &signals[at.signal].Edges[i]; e.edge == at.edge {
				return e
			}
		}
		return nil
	}
	thought := drawn(signals)
	for i := range signals {
		for n := range signals[i].Edges {
			e := &signals[i].Edges[n]
			if e.Kind == 0 || e.Kind == Extra {
				continue
			}
			for _, at := range it.causes[i][e.edge] {
				led := find(at)
				if led == nil || led.Kind == 0 {
					continue
				}
				e.FollowOn = e.FollowOn || thought && e.Kind == Missing && led.Kind == Missing ||
					e.Moved() != 0 && led.Moved() != 0 && c.near(e.Right+led.Moved(), e.Given)
			}
		}
	}
	for _, l := range it.links {
		c.followLink(l, signals)
	}
}

// drawn reports whether an answer has an edge.
func drawn(signals []SignalMark) bool {
	return slices.ContainsFunc(signals, func(s SignalMark) bool {
		return slices.ContainsFunc(s.Edges, func(e EdgeMark) bool { return e.Given >= 0 })
	})
}

// followLink looks for extra edges that follow along a link.
func (c comparison) followLink(l link, signals []SignalMark) {
	from, to := &signals[l.from], &signals[l.to]
	if !from.Given || !to.Given {
		return
	}
	to.startFollows = to.startFollows || l.mirror && from.WrongStart
	for i := range to.Edges {
		e := &to.Edges[i]
		if e.Kind != Extra || e.FollowOn {
			continue
		}
		for _, led := range from.Edges {
			if led.Given < 0 || led.Kind == 0 || led.On != (e.On != l.turned) || led.FollowOn && led.leader == l.to {
				continue
			}
			if c.near(led.Given+l.after, e.Given) {
				e.FollowOn, e.leader = true, l.from
				break
			}
		}
	}
}

// count adds up, and gives the points.
func (s *SignalMark) count(edges int) {
	last := Kind(0)
	for _, e := range s.Edges {
		switch {
		case e.Kind == 0:
			s.Right++
		case e.FollowOn:
			s.FollowOn++
			if e.Kind != Extra {
				s.Points++
			}
		case e.Kind == Missing:
			s.Missing++
		case e.Kind == Extra:
			s.Extra++
		default:
			s.Moved++
		}
		switch pair := e.Kind == last; {
		case pair && e.Kind == Missing:
			s.MissingPulses++
			last = 0
		case pair && e.Kind == Extra:
			s.ExtraPulses++
			last = 0
		default:
			last = e.Kind
		}
	}
	s.Points += s.Right
	if edges == 0 && s.Given && (!s.WrongStart || s.startFollows) {
		s.Points++
	}
	s.Points = max(s.Points-s.Extra, 0)
}

// Sentence says in words how the points come about: "H1: 5 of 6 points: 4 right,
// 1 only following another, 1 moved."
func (s *SignalMark) Sentence() string {
	if !s.Given {
		return s.Name + " has no line yet."
	}
	text := fmt.Sprintf("%s: %s", s.Name, points(s.Points, s.Of))
	parts := []struct {
		n    int
		word string
	}{{s.Right, "right"}, {s.FollowOn, "only following another"}, {s.Moved, "moved"}, {s.Missing, "missing"}, {s.Extra, "too many"}}
	mark := ": "
	for _, p := range parts {
		if p.n > 0 {
			text += fmt.Sprintf("%s%d %s", mark, p.n, p.word)
			mark = ", "
		}
	}
	if s.WrongStart {
		text += mark + "wrong at the start"
	}
	if s.Overrule != nil {
		text += "; overruled"
		if s.Overrule.Note != "" {
			text += ": " + s.Overrule.Note
		}
	}
	return text + "."
}

func points(n, of int) string {
	if of == 1 {
		return fmt.Sprintf("%d of 1 point", n)
	}
	return fmt.Sprintf("%d of %d points", n, of)
}

// farthest returns how far the one wrong edge of an answer is moved, and false if
// not exactly one is wrong, or it isn't moved. Edges that only follow don't count,
// nor do lines that lack.
func (m *Marked) farthest() (time.Duration, bool) {
	far, n := time.Duration(0), 0
	for i := range m.Signals {
		s := &m.Signals[i]
		if !s.Given {
			continue
		}
		if s.WrongStart || s.Missing+s.Extra > 0 {
			return 0, false
		}
		for _, e := range s.Edges {
			if by := e.Moved(); by != 0 && !e.FollowOn {
				far, n = max(by, -by), n+1
			}
		}
	}
	return far, n == 1
}
