package misread

import (
	"embed"

	"tarry/circuit"
	"tarry/notation"
)

// The circuits in which the readings give themselves away. What each line
// expects is the right answer.
//
//go:embed examples/*.tarry
var examples embed.FS

// Example is a small circuit, one of its scripts and the signals to ask about.
// The zero value is none.
type Example struct {
	File    string // in the folder examples, without .tarry
	Script  string
	Signals []string
}

// Text returns the example's circuit as text.
func (x Example) Text() string {
	text, err := examples.ReadFile("examples/" + x.File + ".tarry")
	if err != nil {
		panic("misread: there is no example " + x.File)
	}
	return string(text)
}

// Item returns the example ready to be run.
func (x Example) Item() (*circuit.Circuit, *circuit.Script, []circuit.Signal) {
	file, _ := notation.Read(x.File, []byte(x.Text()))
	c := file.Circuit
	for i := range c.Scripts {
		if c.Scripts[i].Name != x.Script {
			continue
		}
		var signals []circuit.Signal
		for _, name := range x.Signals {
			s, known := c.FindSignal(name)
			if !known {
				panic("misread: the example " + x.File + " has no " + name)
			}
			signals = append(signals, s)
		}
		return c, &c.Scripts[i], signals
	}
	panic("misread: the example " + x.File + " has no script " + x.Script)
}

// The scripts of the examples with one switch and one timer.
const (
	oneLong     = "One long press"
	oneShort    = "One short press"
	shortLong   = "A short press, then a long one"
	twoShort    = "Two short presses"
	twoLong     = "Two long presses"
	nobody      = "Nobody touches it"
	suppliesDip = "The supply comes back within the time"
)

func onDelayItem(script string) Example { return Example{"on-delay", script, []string{"H1"}} }

func offDelayItem(script string) Example { return Example{"off-delay", script, []string{"H1"}} }
