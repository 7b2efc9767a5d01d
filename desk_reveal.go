package tarry

import "tarry/answer"

// Reveal holds a learner's lines against a script's run: the first difference
// of each, and the chart with the learner's line under the right one.
func (d *Desk) Reveal(r DeskChartRequest) (out DeskReveal, err error) {
	defer guard(d.source, &err)
	t, err := d.traceFor(max(r.Script, 0))
	if err != nil {
		return out, err
	}
	out.Rows = []DeskJudged{}
	for i := range r.Given {
		g := &r.Given[i]
		s, ok := d.file.Circuit.FindSignal(g.Row)
		if !ok {
			return out, badInput("%q is no signal of this circuit", g.Row)
		}
		wrong, ok := answer.FirstWrong(t.Edges(s), g.levels(), t.End, max(r.Tolerance, 0))
		one := DeskJudged{Row: g.Row, Right: !ok, At: -1, Words: "As drawn."}
		if g.Wrong = -1; ok {
			one.At, one.Words = wrong.At, wrong.Sentence(d.file.Circuit, s)
			g.Wrong = wrong.At
		}
		out.Rows = append(out.Rows, one)
	}
	r.Blank = nil
	out.Chart, err = chartOf(t, r)
	return out, err
}
