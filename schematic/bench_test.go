package schematic_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"tarry/engine"
	"tarry/notation"
	"tarry/page/svg"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
)

// BenchmarkLargestOfLibrary lays the circuit with the most rungs out and writes
// it as SVG.
func BenchmarkLargestOfLibrary(b *testing.B) {
	list := libraryCircuits(b)
	largest := list[0]
	for _, e := range list {
		if len(e.circuit.Rungs) > len(largest.circuit.Rungs) {
			largest = e
		}
	}
	for b.Loop() {
		for _, p := range schematic.Draw(largest.circuit, schematic.Options{}) {
			svg.Encode(p, svg.Options{})
		}
	}
}

// BenchmarkLadder lays long circuits out on pages of A4.
func BenchmarkLadder(b *testing.B) {
	for _, layout := range []schematic.Layout{schematic.Rungs, schematic.Paths} {
		for _, rungs := range []int{250, 500, 1000, 2000} {
			b.Run(fmt.Sprintf("layout%d-%d", layout, rungs), func(b *testing.B) {
				c := ladder(rungs)
				for b.Loop() {
					schematic.Draw(c, schematic.Options{Layout: layout, Width: 17800, Height: 22000})
				}
			})
		}
	}
}

// BenchmarkMarks asks for the marks of one state after another of 50 rungs.
func BenchmarkMarks(b *testing.B) {
	tr, moments := longRun()
	d := schematic.Prepare(tr.Circuit, schematic.Options{Bare: true})
	var states []*schematic.State
	for _, m := range moments {
		states = append(states, sheet.StateAt(tr, m))
	}
	i := 0
	b.ReportAllocs()
	for b.Loop() {
		d.Marks(states[i%len(states)])
		i++
	}
}

// BenchmarkStateAt works the states out themselves, of a trace of 100 000
// events.
func BenchmarkStateAt(b *testing.B) {
	tr, moments := longRun()
	i := 0
	b.ReportAllocs()
	for b.Loop() {
		sheet.StateAt(tr, moments[i%len(moments)])
		i++
	}
}

// longRun is a run of 50 rungs with flashers, and a thousand moments of it.
func longRun() (*trace.Trace, []trace.Moment) {
	var b strings.Builder
	b.WriteString("S1 switch\nS2 switch\n")
	for i := range 50 {
		fmt.Fprintf(&b, "KT%d flasher %d ms, %d ms\n", i, 700+i, 900+i)
	}
	for i := range 50 {
		fmt.Fprintf(&b, "%d: S1.no (S2.nc | KT%d.tno KT%d.tnc) -> KT%d\n", i+1, (i+1)%50, (i+2)%50, i)
	}
	b.WriteString("script \"Long\"\n 1 s close S1\n 2 s open S2\n end 2000 s\n")
	f, _ := notation.Read("long.tarry", []byte(b.String()))
	tr := engine.Run(f.Circuit, &f.Circuit.Scripts[0], engine.Options{})
	var list []trace.Moment
	for i := range 1000 {
		list = append(list, trace.Settled(tr.End*time.Duration(i)/1000))
	}
	return tr, list
}
