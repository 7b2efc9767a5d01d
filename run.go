package tarry

import (
	"bytes"
	"fmt"

	"tarry/circuit"
	"tarry/trace"
)

// Form is how a run is written.
type Form uint8

// The forms. Text is the report for a terminal.
const (
	Text Form = iota
	CSV
	VCD
	JSON
)

// RunRequest asks for a run of one script, by name or by number from 1, or of
// all scripts if Script is empty.
type RunRequest struct {
	Source
	Script string
	Form   Form
	Width  int  // of the text report in columns, 50 or more; 0 is 80
	Ascii  bool // no box characters in the text report
}

// RunResponse is a run, written out.
type RunResponse struct {
	Checked
	Output []byte
	Failed int // expectations that did not come true
	// Remark says which runs ended before their time; the text report says so
	// itself.
	Remark string
}

// remark notes that a run ended before its time.
func (out *RunResponse) remark(t *trace.Trace) {
	if t.Ending == trace.Finished {
		return
	}
	if out.Remark != "" {
		out.Remark += "; "
	}
	out.Remark += fmt.Sprintf("script %q ended at %s: %s", t.Script, circuit.FormatTime(t.End), t.Ending)
}

// Run runs scripts and reports what happened. A value change dump holds one
// run only: the first, if none is named.
func Run(r RunRequest) (out RunResponse, err error) {
	defer guard(r.Source, &err)
	if r.Width != 0 && r.Width < minWidth {
		return out, badInput("a report needs %d columns, not %d", minWidth, r.Width)
	}
	c, checked := read(r.Source)
	out.Checked = checked
	list, err := scripts(c, r.Script)
	if err != nil {
		return out, err
	}
	switch r.Form {
	case CSV:
		out.csv(c, list)
	case VCD:
		t := runOne(c, list[0])
		out.Output, out.Failed = t.VCD(), failures(t, list[0])
		if len(list) > 1 {
			out.Remark = fmt.Sprintf("a value change dump holds one run: this is %q; --script names another", t.Script)
		}
		out.remark(t)
	case JSON:
		out.json(c, list)
	default:
		out.text(r, c, list)
	}
	return out, nil
}

func failures(t *trace.Trace, s *circuit.Script) int {
	n := 0
	for _, v := range t.CheckAll(s) {
		if !v.OK {
			n++
		}
	}
	return n
}

func (out *RunResponse) csv(c *circuit.Circuit, list []*circuit.Script) {
	var b bytes.Buffer
	b.WriteString(trace.CSVHeader)
	for _, s := range list {
		t := runOne(c, s)
		b.Write(t.CSV())
		out.remark(t)
		out.Failed += failures(t, s)
	}
	out.Output = b.Bytes()
}

func (out *RunResponse) text(r RunRequest, c *circuit.Circuit, list []*circuit.Script) {
	w := newReport(r.Width, r.Ascii)
	w.title(c)
	w.faults(out.Diagnostics)
	for i, s := range list {
		if i > 0 {
			w.WriteString("\n")
		}
		out.Failed += w.script(runOne(c, s), s)
	}
	w.assumptions(c)
	out.Output = []byte(w.String())
}
