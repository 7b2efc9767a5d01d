package tarry

import (
	"tarry/answer"
	"tarry/trace"
)

// Reveal holds a learner's lines against a script's run: the first difference
// of each, and the chart with the learner's line under the right one.
func (d *Desk) Reveal(r DeskChartRequest) (out DeskReveal, err error) {
	defer guard(d.source, &err)
	t, err := d.traceFor(max(r.Script, 0))
	if err != nil {
		return out, err
	}
	out.Rows = []DeskJudged{}
	var drawn []DeskLine
	for i := range r.Given {
		g := &r.Given[i]
		s, ok := d.file.Circuit.FindSignal(g.Row)
		if !ok {
			return out, badInput("%q is no signal of this circuit", g.Row)
		}
		if g.Undrawn {
			out.Rows = append(out.Rows, undrawn(g.Row, t.Edges(s)))
			continue
		}
		wrong, ok := answer.FirstWrong(t.Edges(s), g.levels(), t.End, max(r.Tolerance, 0))
		one := DeskJudged{Row: g.Row, Right: !ok, At: -1, Words: "As drawn."}
		if g.Wrong = -1; ok {
			one.At, one.Words = wrong.At, wrong.Sentence(d.file.Circuit, s)
			g.Wrong = wrong.At
		}
		out.Rows = append(out.Rows, one)
		drawn = append(drawn, *g)
	}
	r.Blank, r.Given = nil, drawn
	out.Chart, err = chartOf(t, r)
	return out, err
}

// undrawn judges a row that was left as it was: its first edge is what is missing.
func undrawn(row string, right []trace.Edge) DeskJudged {
	out := DeskJudged{Row: row, At: -1, Words: "Nothing was drawn here."}
	if len(right) > 1 {
		out.At = right[1].At
	}
	return out
}
