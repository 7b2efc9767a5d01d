package chart

import (
	"fmt"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// rowKind is what a row shows.
type rowKind uint8

const (
	supplyRow rowKind = iota
	handRow
	coilRow
	elapsedRow
	contactRow // of a relay or a timer
	loadRow
)

// class is the row's class on a page.
func (r *row) class() string {
	switch {
	case r.kind == contactRow && r.signal.Contact.Group() != circuit.Instant:
		return "timed-contact"
	case r.kind == elapsedRow:
		return "elapsed-time"
	}
	return [...]string{"supply", "hand", "coil", "", "contact", "load"}[r.kind]
}

// row is one line of a chart.
type row struct {
	kind   rowKind
	name   string // as in Options.Rows
	signal circuit.Signal
	device *circuit.Device // nil for the supply
	start  bool            // on (closed) before the first step
	steps  []step
}

// step is a change of a row at an instant, or a pulse of no width, or both.
type step struct {
	at    time.Duration
	on    bool // afterwards
	pulse bool // it moved there and back within the instant
}

// supplyName and elapsedSuffix name the rows that are no signals.
const (
	supplyName    = "supply"
	elapsedSuffix = ".elapsed"
)

// allRows returns every row that a chart of t can have, in order of cause.
func allRows(t *trace.Trace) []row {
	rows := []row{{kind: supplyRow, name: supplyName}}
	for _, s := range t.Signals() {
		d := &t.Circuit.Devices[s.Device]
		rows = append(rows, row{kind: kindOf(d, s), name: t.Circuit.SignalName(s), signal: s, device: d})
		if d.Kind == circuit.Timer && s.Contact == circuit.NoContact && s.Load == circuit.Main {
			rows = append(rows, row{kind: elapsedRow, name: d.Tag + elapsedSuffix, signal: s, device: d})
		}
	}
	return rows
}

func kindOf(d *circuit.Device, s circuit.Signal) rowKind {
	info := d.Kind.Info()
	switch {
	case info.Loads == nil:
		return handRow
	case s.Contact != circuit.NoContact:
		return contactRow
	case info.Class == circuit.LoadOnly:
		return loadRow
	}
	return coilRow
}

// chosenRows returns the rows with the names, or those that a chart shows when
// nothing is asked for, with their steps filled in.
func chosenRows(t *trace.Trace, names []string, w window) ([]row, error) {
	all := allRows(t)
	var rows []row
	if len(names) == 0 {
		rows = usualRows(t, all)
	}
	for _, name := range names {
		i := find(all, strings.TrimSpace(name))
		if i < 0 {
			return nil, fmt.Errorf("chart: no row is called %q; the rows are %s", name, nameList(all))
		}
		rows = append(rows, all[i])
	}
	for i := range rows {
		switch r := &rows[i]; r.kind {
		case elapsedRow:
		case supplyRow:
			r.start, r.steps = collapse(w.supplyIn(t))
		default:
			r.start, r.steps = collapse(w.edgesIn(t, r.signal))
		}
	}
	return rows, nil
}

func find(rows []row, name string) int {
	for i := range rows {
		if rows[i].name == name {
			return i
		}
	}
	return -1
}

func nameList(rows []row) string {
	names := make([]string, len(rows))
	for i := range rows {
		names[i] = rows[i].name
	}
	return strings.Join(names, ", ")
}

// usualRows leaves out the supply if it never changes, and of the signals that
// move together all but the first: a relay's own contacts say nothing that its
// coil does not.
func usualRows(t *trace.Trace, all []row) []row {
	type mover struct {
		device circuit.DeviceID
		part   trace.Part
	}
	seen := map[mover]bool{}
	var rows []row
	for _, r := range all {
		switch r.kind {
		case supplyRow:
			if len(wholeOf(t).supplyIn(t)) > 1 {
				rows = append(rows, r)
			}
			continue
		case elapsedRow:
			rows = append(rows, r)
			continue
		}
		m := mover{r.signal.Device, trace.PartOfLoad(r.device, r.signal.Load)}
		if r.signal.Contact != circuit.NoContact {
			m.part = trace.PartOf(r.device, r.signal.Contact)
		}
		apart := r.signal.Contact == circuit.AtPosition || r.signal.Contact.Group() != circuit.Instant
		if !seen[m] || apart {
			rows = append(rows, r)
		}
		seen[m] = true
	}
	return rows
}

// collapse makes one step of all the edges of an instant.
func collapse(edges []trace.Edge) (start bool, steps []step) {
	start = edges[0].On
	now := start
	for i := 1; i < len(edges); {
		s := step{at: edges[i].At, on: now}
		moves := 0
		for ; i < len(edges) && edges[i].At == s.at; i++ {
			s.on = edges[i].On
			moves++
		}
		s.pulse = moves > 1
		now = s.on
		steps = append(steps, s)
	}
	return start, steps
}

// word is what the row is called while on or off.
func (r *row) word(on bool) string {
	contact := r.kind == handRow || r.kind == contactRow
	switch {
	case contact && on:
		return "closed"
	case contact:
		return "open"
	case on:
		return "on"
	}
	return "off"
}

// ends returns the row's state before and after all its steps.
func (r *row) ends() (first, last bool) {
	if n := len(r.steps); n > 0 {
		return r.start, r.steps[n-1].on
	}
	return r.start, r.start
}

// tag is the name of what the row belongs to.
func (r *row) tag() string {
	if r.device == nil {
		return "Supply"
	}
	return r.device.Tag
}

// about says in a few words what of the device the row shows.
func (r *row) about(long bool) string {
	switch r.kind {
	case supplyRow:
		return ""
	case elapsedRow:
		return pick(long, "elapsed time", "time")
	case loadRow:
		return strings.TrimSpace(pick(long, r.device.Kind.String(), "") + " " + r.signal.Load.String())
	case coilRow:
		return coilWords(r.device, r.signal.Load, long)
	}
	return contactWords(r, long)
}

func pick(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

func coilWords(d *circuit.Device, p circuit.LoadPart, long bool) string {
	switch {
	case p != circuit.Main:
		return p.String() + pick(long, " coil", "")
	case d.Kind == circuit.LatchingRelay:
		return pick(long, "position", "pos.")
	case d.Kind == circuit.Timer && long:
		return d.Function.String() + " coil"
	}
	return "coil"
}

// handWord is what a hand or the plant moves; the notation leaves out "switch".
func handWord(k circuit.Kind) string {
	switch k {
	case circuit.Limit, circuit.Float, circuit.Pressure, circuit.Flow, circuit.Proximity, circuit.Speed:
		return k.String() + " switch"
	case circuit.Photo:
		return k.String() + " sensor"
	}
	return k.String()
}

// contactWords names a contact as the trade does, and in the long form says
// which of its movements is late.
func contactWords(r *row, long bool) string {
	k := r.signal.Contact
	kind := strings.ToUpper(k.String())
	words := ""
	switch k {
	case circuit.AtPosition:
		return pick(long, "turned to ", "") + r.device.Positions[r.signal.Position]
	case circuit.NO, circuit.NC:
		words = kind + " contact"
		if r.kind == handRow {
			words = handWord(r.device.Kind) + ", " + kind
		}
	case circuit.NOTC, circuit.NCTC:
		words = kind + ", closes late"
	case circuit.NOTO, circuit.NCTO:
		words = kind + ", opens late"
	case circuit.TNO, circuit.TNC:
		words = "timed " + kind[1:]
	case circuit.StarOut, circuit.DeltaOut:
		kind = k.String()
		words = kind + " contact"
	}
	return pick(long, words, kind)
}

// Rows returns the names of the rows that a chart of t shows when nothing is
// asked for, as Options.Rows takes them.
func Rows(t *trace.Trace) []string {
	rows, err := chosenRows(t, nil, wholeOf(t))
	if err != nil {
		panic(err) // only a name can be wrong
	}
	names := make([]string, len(rows))
	for i := range rows {
		names[i] = rows[i].name
	}
	return names
}
