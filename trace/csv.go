package trace

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"sort"
	"strconv"
	"strings"
	"time"

	"tarry/circuit"
)

// CSVHeader is the first line of the table that CSV writes.
const CSVHeader = "script,time_s,step,signal,value\n"

// Row is an edge of one signal in a list of all signals' edges.
type Row struct {
	Signal circuit.Signal
	Edge
}

// Rows returns the edges of all signals in order of time and small step, those
// of one step in the order of Signals. The first len(Signals()) rows are the
// values at time zero, or at Trace.From.
func (t *Trace) Rows() []Row {
	var first, rest []Row
	for _, s := range t.Signals() {
		edges := t.Edges(s)
		first = append(first, Row{s, edges[0]})
		for _, e := range edges[1:] {
			rest = append(rest, Row{s, e})
		}
	}
	sort.SliceStable(rest, func(i, j int) bool {
		a, b := rest[i], rest[j]
		return a.At < b.At || a.At == b.At && a.Step < b.Step
	})
	return append(first, rest...)
}

// CSV returns the trace as rows of comma-separated values (RFC 4180, with plain
// line ends) under CSVHeader, without the header itself, so that the tables of
// several scripts can stand behind one another.
func (t *Trace) CSV() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	for _, r := range t.Rows() {
		w.Write([]string{t.Script, Seconds(r.At), strconv.Itoa(r.Step), t.Circuit.SignalName(r.Signal), ValueWord(r.Signal, r.On)})
	}
	w.Flush() // a bytes.Buffer takes everything
	return b.Bytes()
}

// ValueWord is the trade's word for a signal's value: closed or open for a
// contact, on or off for a coil or load.
func ValueWord(s circuit.Signal, on bool) string {
	switch {
	case s.Contact != circuit.NoContact && on:
		return "closed"
	case s.Contact != circuit.NoContact:
		return "open"
	case on:
		return "on"
	}
	return "off"
}

// Seconds writes a time as exact decimal seconds without needless zeros.
func Seconds(d time.Duration) string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	whole, part := d/time.Second, d%time.Second
	if part == 0 {
		return fmt.Sprintf("%s%d", sign, whole)
	}
	return sign + fmt.Sprintf("%d.", whole) + strings.TrimRight(fmt.Sprintf("%09d", part), "0")
}
