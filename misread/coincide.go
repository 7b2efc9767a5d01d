package misread

import (
	"fmt"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/trace"
)

// Right stands for the right answer among the IDs of a Group.
const Right = "right"

// Group is a set of readings that give the same answer on an item.
type Group struct {
	// IDs are in the order asked for; Right comes first.
	IDs []string
	// Sentence says it for the screen.
	Sentence string
}

// Coincide sorts readings into groups that give the same answer: on one circuit
// and script, for the signals asked about. The first group has Right, and the
// readings that can't touch the circuit, with it. Pulses of no width don't count.
func Coincide(c *circuit.Circuit, s *circuit.Script, signals []circuit.Signal, ids []string) []Group {
	return NewRunner(c, engine.Options{NoCauses: true}).Coincide(s, signals, ids)
}

// Coincide is like the function Coincide, on the runner's circuit.
func (r *Runner) Coincide(s *circuit.Script, signals []circuit.Signal, ids []string) []Group {
	groups := []Group{{IDs: []string{Right}}}
	right := answerOf(r.Right(s), signals)
	at := map[string]int{right: 0}
	for _, id := range ids {
		given := right
		if p, err := r.Play(s, id); err == nil {
			given = answerOf(p, signals)
		}
		g, known := at[given]
		if !known {
			g = len(groups)
			at[given] = g
			groups = append(groups, Group{})
		}
		groups[g].IDs = append(groups[g].IDs, id)
	}
	for i := range groups {
		groups[i].Sentence = sentence(groups[i].IDs)
	}
	return groups
}

// sentence says which readings answer alike.
func sentence(ids []string) string {
	list := ids
	if ids[0] == Right {
		list = ids[1:]
	}
	names := strings.Join(list, ", ")
	if n := len(list); n > 1 {
		names = strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	switch {
	case ids[0] == Right && len(list) == 0:
		return "Only a right idea gives the right answer here."
	case ids[0] == Right:
		return fmt.Sprintf("The right answer here says nothing against %s: a learner who thinks so is right all the same.", names)
	case len(list) == 1:
		return names + " alone gives this wrong answer."
	}
	return fmt.Sprintf("%s give the same wrong answer here: it can't tell them apart.", names)
}

// answerOf writes the signals as levels, without pulses of no width.
func answerOf(p *Prediction, signals []circuit.Signal) string {
	var b strings.Builder
	for _, s := range signals {
		on, changes := levels(p.Edges(s), p.End)
		fmt.Fprint(&b, on)
		for _, at := range changes {
			fmt.Fprint(&b, " ", int64(at))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// levels returns what a line starts with, and when it changes, as far as a line on
// paper shows it.
func levels(edges []trace.Edge, end time.Duration) (start bool, changes []time.Duration) {
	now := false
	for i, e := range edges {
		switch {
		case i+1 < len(edges) && edges[i+1].At == e.At || e.At >= end && e.At > 0:
		case e.At == 0:
			start, now = e.On, e.On
		case e.On != now:
			changes, now = append(changes, e.At), e.On
		}
	}
	return start, changes
}
