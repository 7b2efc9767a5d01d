package why

import (
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// Table is the state table of a run: a row for time zero and for each instant
// at which something happened, a column for each coil, timed contact and load.
type Table struct {
	Columns []circuit.Signal
	Rows    []Row
}

// Row is the state when everything at its time is over.
type Row struct {
	Number int // 0 is time zero
	At     time.Duration
	Acts   []string // what hands and the supply did
	Why    []string // sentences: what changed and because of what
	States []State  // one for each column
}

// State is a signal's value, whether it changed in the row's instant, and
// whether it moved to and fro in it.
type State struct {
	On, Changed, Pulsed bool
}

// Tabulate makes the state table of a run from its story.
func Tabulate(t *trace.Trace, story []Instant) Table {
	table := Table{Columns: columns(t)}
	for i, in := range story {
		table.Rows = append(table.Rows, Row{Number: i, At: in.At, Acts: in.Acts, Why: in.Sentences})
	}
	for _, s := range table.Columns {
		table.fill(t.Edges(s), story)
	}
	return table
}

// fill adds a signal's states to all rows.
func (table *Table) fill(edges []trace.Edge, story []Instant) {
	next := 0
	for i, in := range story {
		from := next
		for next < len(edges) && edges[next].At <= in.At {
			next++
		}
		state := State{On: edges[next-1].On}
		if moves := next - from; i > 0 {
			state.Changed = moves%2 == 1
			state.Pulsed = moves > b2i(state.Changed)
		} else { // the first edge is the value at time zero
			state.Pulsed = moves > 2
		}
		table.Rows[i].States = append(table.Rows[i].States, state)
	}
}

// columns are the coils and loads and the timed contacts, in order of cause.
func columns(t *trace.Trace) []circuit.Signal {
	var list []circuit.Signal
	for _, s := range t.Signals() {
		if s.Contact == circuit.NoContact || s.Contact.Group() != circuit.Instant {
			list = append(list, s)
		}
	}
	return list
}
