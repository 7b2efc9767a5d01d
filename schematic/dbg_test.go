package schematic_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"tarry/circuit"
	"tarry/schematic"
)

func TestDbg(t *testing.T) {
	ways := waysToDraw()
	kinds := map[string]int{}
	best := map[string]*circuit.Circuit{}
	for i := range 1000 {
		c := randomCircuit(rand.New(rand.NewPCG(1, uint64(i))))
		opt := ways[i%len(ways)]
		func() {
			defer func() {
				if r := recover(); r != nil {
					k := fmt.Sprint(r)[:40]
					kinds[k]++
					if best[k] == nil || len(rungsOf(c)) < len(rungsOf(best[k])) { best[k] = c }
				}
			}()
			schematic.Draw(c, opt)
		}()
	}
	for k, n := range kinds { t.Log(k, n, "\n"+rungsOf(best[k])) }
}
