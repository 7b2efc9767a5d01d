package schematic_test

import (
	"fmt"
	"testing"

	"tarry/page/svg"
	"tarry/schematic"
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
