package chart_test

import (
	"fmt"
	"testing"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/page"
	"tarry/page/svg"
	"tarry/trace"
)

// flashers is a circuit of 50 rungs that never stands still: 25 flashers, each
// with a lamp.
func flashers() *circuit.Circuit {
	c := &circuit.Circuit{Title: "Training Bay 7, all lamps", Supply: circuit.Supply{Rails: [2]string{"L", "N"}}}
	for i := range 25 {
		times := [2]time.Duration{time.Duration(900+70*i) * ms, time.Duration(1100+30*i) * ms}
		kt, h := fmt.Sprintf("KT%d", i+1), fmt.Sprintf("H%d", i+1)
		c.Devices = append(c.Devices, circuit.Device{Tag: kt, Kind: circuit.Timer, Function: circuit.Flasher, Presets: times},
			circuit.Device{Tag: h, Kind: circuit.Lamp, Label: "Lamp at the gate"})
		c.Rungs = append(c.Rungs, circuit.Rung{Number: 2*i + 1, Loads: load(c, kt)},
			circuit.Rung{Number: 2*i + 2, Path: circuit.Path{contact(c, kt, circuit.TNO)}, Loads: load(c, h)})
	}
	return c
}

// underWay is the flashers' trace with so many events at least.
func underWay(events int) *trace.Trace {
	m := engine.New(flashers(), engine.Options{})
	m.Start()
	for at := s; m.Trace().Len() < events; at += s {
		m.Advance(at)
	}
	return m.Trace()
}

// BenchmarkWindow draws the last minute of a circuit under way, in 70 rows. The
// longer trace must not take longer.
func BenchmarkWindow(b *testing.B) {
	for _, events := range []int{2_000, 20_000, 200_000} {
		tr := underWay(events)
		now := tr.Event(trace.ID(tr.Len() - 1)).At
		for _, length := range []time.Duration{20 * s, 60 * s} {
			opt := chart.Options{Rows: chart.Rows(tr)[:70], From: now - length*9/10, To: now + length/10, Uncut: true, Bare: true, NoLegend: true}
			b.Run(fmt.Sprintf("%d events, %v", events, length), func(b *testing.B) {
				var p *page.Page
				for b.Loop() {
					p, _ = chart.Draw(tr, opt)
				}
				b.ReportMetric(float64(len(p.Elements)), "elements")
				b.ReportMetric(float64(len(svg.Encode(p, svg.Options{}))), "svg-bytes")
			})
		}
	}
}
