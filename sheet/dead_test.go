package sheet_test

import (
	"fmt"
	"testing"

	"tarry/sheet"
)

func TestP(t *testing.T) {
	d := sheet.DeadTestOf(read(t, sealIn))
	for _, x := range d.Tests {
		fmt.Printf("%d|%s|%s|%s|%s|%s\n", x.Number, x.With, x.From, x.To, x.Expected, x.Shows)
	}
	fmt.Println(d.ByEye)
}
