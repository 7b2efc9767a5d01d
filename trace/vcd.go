package trace

// Value change dump, IEEE 1364-2005 clause 18 (from memory): a header that
// declares variables in scopes, then times and changes. Each device is a scope;
// its coil is the variable "coil", a load without contacts "load", a contact
// bears its own name. Several changes of one variable at one time cannot be
// told apart in this format, so only the last one is written; a pulse of no
// width is an event variable "pulse_…" that fires.

import (
	"bytes"
	"fmt"
	"strings"

	"tarry/circuit"
)

// VCD returns the trace as a value change dump with a time unit of 1 ns.
func (t *Trace) VCD() []byte {
	w := vcdWriter{t: t, signals: t.Signals()}
	w.header()
	w.changes()
	return w.out.Bytes()
}

type vcdWriter struct {
	t       *Trace
	signals []circuit.Signal
	out     bytes.Buffer
}

// vcdCode is the short name of a variable: digits of base 94 from '!' on.
func vcdCode(i int) string {
	code := ""
	for {
		code += string(rune('!' + i%94))
		if i /= 94; i == 0 {
			return code
		}
	}
}

// vcdName is a signal's name within its device's scope.
func vcdName(c *circuit.Circuit, s circuit.Signal) string {
	name := c.SignalName(s)
	if _, after, dotted := strings.Cut(name, "."); dotted {
		return after
	}
	if c.Devices[s.Device].Kind.Info().Class == circuit.LoadOnly {
		return "load"
	}
	return "coil"
}

func (w *vcdWriter) header() {
	c := w.t.Circuit
	fmt.Fprintf(&w.out, "$comment %s $end\n$timescale 1 ns $end\n$scope module tarry $end\n", vcdText(c.Title+": "+w.t.Script))
	for d := range c.Devices {
		opened := false
		for i, s := range w.signals {
			if int(s.Device) != d {
				continue
			}
			if !opened {
				fmt.Fprintf(&w.out, "$scope module %s $end\n", c.Devices[d].Tag)
				opened = true
			}
			name := vcdName(c, s)
			fmt.Fprintf(&w.out, "$var wire 1 %s %s $end\n", vcdCode(2*i), name)
			if w.pulses(s) {
				fmt.Fprintf(&w.out, "$var event 1 %s pulse_%s $end\n", vcdCode(2*i+1), name)
			}
		}
		if opened {
			w.out.WriteString("$upscope $end\n")
		}
	}
	w.out.WriteString("$upscope $end\n$enddefinitions $end\n")
}

// pulses reports whether the signal has a pulse or drop-out of no width.
func (w *vcdWriter) pulses(s circuit.Signal) bool {
	edges := w.t.Edges(s)
	for i := 1; i < len(edges); i++ {
		if edges[i].At == edges[i-1].At && (i > 1 || edges[i].At > w.t.From) {
			return true
		}
	}
	return false
}

// vcdText keeps a text from ending its comment.
func vcdText(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "$", "")), " ")
}

func (w *vcdWriter) changes() {
	place := map[circuit.Signal]int{}
	for i, s := range w.signals {
		place[s] = i
	}
	rows := w.t.Rows()
	now := w.t.From
	fmt.Fprintf(&w.out, "#%d\n$dumpvars\n", now.Nanoseconds())
	for i, r := range rows[:len(w.signals)] {
		fmt.Fprintf(&w.out, "%c%s\n", '0'+b2i(r.On), vcdCode(2*i))
	}
	w.out.WriteString("$end\n")
	for rest := rows[len(w.signals):]; len(rest) > 0; {
		n := 1
		for n < len(rest) && rest[n].At == rest[0].At {
			n++
		}
		if rest[0].At != now {
			now = rest[0].At
			fmt.Fprintf(&w.out, "#%d\n", now.Nanoseconds())
		}
		w.instant(rest[:n], place)
		rest = rest[n:]
	}
	if w.t.End > now {
		fmt.Fprintf(&w.out, "#%d\n", w.t.End.Nanoseconds())
	}
}

// instant writes the last change of each signal at one time, and the pulses.
func (w *vcdWriter) instant(rows []Row, place map[circuit.Signal]int) {
	count, last := map[circuit.Signal]int{}, map[circuit.Signal]int{}
	for i, r := range rows {
		count[r.Signal]++
		last[r.Signal] = i
	}
	for i, r := range rows {
		if last[r.Signal] != i {
			continue
		}
		code := 2 * place[r.Signal]
		if count[r.Signal]%2 == 1 {
			fmt.Fprintf(&w.out, "%c%s\n", '0'+b2i(r.On), vcdCode(code))
		}
		if count[r.Signal] > 1 {
			fmt.Fprintf(&w.out, "1%s\n", vcdCode(code+1))
		}
	}
}

func b2i(on bool) int {
	if on {
		return 1
	}
	return 0
}
