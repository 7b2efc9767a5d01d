package trace_test

import (
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// A trace may have more notices than fit into a record's value.
func TestVeryManyNotices(t *testing.T) {
	r := &trace.Trace{Circuit: &circuit.Circuit{}}
	r.Add(0, 0, circuit.NoDevice, trace.SupplyPart, 1)
	for i := range 150_000 {
		r.Notices = append(r.Notices, trace.Notice{At: time.Duration(i / 3), Step: i})
		r.Add(time.Duration(i/3), i, circuit.NoDevice, trace.NoticePart, i)
	}
	tail, _ := r.Tail(10_000)
	for _, x := range []*trace.Trace{r, tail} {
		for id := range x.Len() {
			if e := x.Event(trace.ID(id)); e.Part == trace.NoticePart && x.Notices[e.Value].Step != e.Step {
				t.Fatalf("event %d at %v is put down as notice %d", id, e.At, e.Value)
			}
		}
	}
	if len(tail.Notices) != 120_000 {
		t.Errorf("the tail has %d notices", len(tail.Notices))
	}
}

// The files of a trace that begins later begin with the state there.
func TestFilesOfATail(t *testing.T) {
	r := run(t, dabs)
	tail, place := r.Tail(3500 * time.Millisecond) // KT1 times out there
	csv := string(tail.CSV())
	want := `Two dabs,3.5,0,S1.no,open
Two dabs,3.5,0,KT1,off
Two dabs,3.5,0,KT1.noto,closed
Two dabs,3.5,0,H1,on
Two dabs,3.5,1,KT1.noto,open
Two dabs,3.5,2,H1,off
Two dabs,6,1,S1.no,closed
`
	if !strings.HasPrefix(csv, want) || tail.From != 3500*time.Millisecond {
		t.Errorf("from %v:\n%s\ninstead of\n%s", tail.From, csv, want)
	}
	vcd := string(tail.VCD())
	if !strings.Contains(vcd, "$enddefinitions $end\n#3500000000\n$dumpvars\n") || strings.Contains(vcd, "pulse_") ||
		strings.Contains(vcd, "#0\n") {
		t.Errorf("the dump is\n%s", vcd)
	}
	if place(trace.None) != trace.None || place(0) != 0 || place(trace.ID(r.Len()-1)) != trace.ID(tail.Len()-1) {
		t.Errorf("the first event is now %d, the last %d of %d", place(0), place(trace.ID(r.Len()-1)), tail.Len())
	}
}
