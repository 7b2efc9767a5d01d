package tarry

import (
	"strings"

	"tarry/chart"
	"tarry/page"
	"tarry/page/svg"
)

// ChartRequest asks for a timing chart of one script, by name or by number
// from 1; empty means the first.
type ChartRequest struct {
	Source
	Script string
	Rows   []string // signal names in the order wanted; empty for the usual ones
}

// ChartResponse is the chart as a self-contained SVG file.
type ChartResponse struct {
	Checked
	SVG []byte
}

// Chart draws a timing chart.
func Chart(r ChartRequest) (out ChartResponse, err error) {
	defer guard(r.Source, &err)
	c, checked := read(r.Source)
	out.Checked = checked
	list, err := scripts(c, r.Script)
	if err != nil {
		return out, err
	}
	t := runOne(c, list[0])
	if err := printable(t); err != nil {
		return out, err
	}
	p, err := chart.Draw(t, chart.Options{Rows: r.Rows})
	if err != nil {
		return out, badInput("%s", strings.TrimPrefix(err.Error(), "chart: "))
	}
	stamp([]*page.Page{p}, faultLines(checked))
	out.SVG = svg.Encode(p, svg.Options{})
	return out, nil
}
