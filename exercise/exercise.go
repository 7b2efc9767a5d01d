// Package exercise makes what learners work on: telling presses, which show what
// somebody believes (Tell); variants of one difficulty, made from a code (Make,
// Vary); charts to choose from, each wrong one the answer of a misreading
// (Choices); and packages of such questions for other people's test systems
// (QTI21, QTI12).
//
//	list, err := exercise.Make("chain", "SPRING-07", 12)
//	q, err := exercise.Choices(&list[0], exercise.ChoiceOptions{})
package exercise

// Everything is worked out by the plain engine and by package misread on it, so
// no answer stands in a table here. What is drawn by lot comes from a generator
// of our own (lot.go) that counts in whole numbers only: the same code gives the
// same exercises on every machine.
//
//	line.go    lines as levels, and by how much two differ
//	grid.go    scripts of presses on round times
//	tell.go    which presses tell readings apart; cover.go finds the fewest
//	blind.go   what a script lets pass
//	lot.go     variant codes and the generator
//	level.go   the five levels: circuits with open times
//	make.go    variants of a level; vary.go variants of a circuit
//	squares.go the squares of a circuit's exercises, and what can't be drawn on them
//	shape.go   what makes two exercises equally hard, and what is refused
//	fade.go    one exercise in five steps, from nearly all given to nothing given
//	choice.go  charts to choose from
//	qti*.go    packages; zip.go packs them

import (
	"slices"
	"time"

	"tarry/chart"
	"tarry/circuit"
	"tarry/engine"
	"tarry/trace"
)

// Exercise is one circuit, one script, and the rows to be drawn.
type Exercise struct {
	// Code and Number, from 1, make the same exercise again. Level is the level's
	// name, or the circuit's title where the exercise was made from a circuit.
	Code   string
	Number int
	Level  string
	// Title and Station are those of the circuit.
	Title, Station string
	// Text is the circuit in the notation, with the script and what it must give.
	Text []byte
	// Circuit is what Text says, Script its script that is asked about.
	Circuit *circuit.Circuit
	Script  *circuit.Script
	// Asked are the rows to be drawn and Given the rows that are there, in the
	// chart's order, named as in chart.Options.Rows.
	Asked, Given []string
	// Square is the time between two ticks. The times of a level are whole squares; so
	// are those of a circuit, but for times under a second, which stay as they are.
	Square time.Duration
	// Shape is how hard it is.
	Shape Shape
}

// Trace plays the exercise's script on its circuit.
func (e *Exercise) Trace() *trace.Trace { return engine.Run(e.Circuit, e.Script, engine.Options{}) }

// Rows returns the given rows and then the asked ones.
func (e *Exercise) Rows() []string { return append(append([]string{}, e.Given...), e.Asked...) }

// ChartOptions returns what chart.Draw needs for the sheet that a learner gets:
// asked rows are blank. Where a timer's coil is drawn, the chart is a compact one:
// dimensions above the coil would show when its time is up.
func (e *Exercise) ChartOptions() chart.Options {
	return chart.Options{Rows: e.Rows(), Blank: e.Asked, Square: e.Square, Uncut: true, Compact: e.drawsTimer(e.Given)}
}

// drawsTimer reports whether the coil of a timer is among rows.
func (e *Exercise) drawsTimer(rows []string) bool {
	return slices.ContainsFunc(rows, func(name string) bool {
		s, known := e.Circuit.FindSignal(name)
		return known && s.Contact == circuit.NoContact && e.Circuit.Devices[s.Device].Kind == circuit.Timer
	})
}

// KeyOptions returns what chart.Draw needs for the key.
func (e *Exercise) KeyOptions() chart.Options {
	return chart.Options{Rows: e.keyRows(), Square: e.Square, Uncut: true}
}

// Key returns the right answer in words, a sentence for each asked row.
func (e *Exercise) Key() []string {
	t := e.Trace()
	var key []string
	for _, name := range e.Asked {
		s, _ := e.Circuit.FindSignal(name)
		key = append(key, lineOf(t.Edges(s), t.End).words(name, s, t.End))
	}
	return key
}

// signals returns the asked rows as signals.
func (e *Exercise) signals() []circuit.Signal {
	list := make([]circuit.Signal, len(e.Asked))
	for i, name := range e.Asked {
		list[i], _ = e.Circuit.FindSignal(name)
	}
	return list
}
