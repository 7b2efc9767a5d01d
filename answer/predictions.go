package answer

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"tarry/notation"
)

// The file of predictions that the desk writes.
const (
	predictionsFormat  = "tarry predictions"
	predictionsVersion = 1
	maxPredictions     = 32 << 20 // bytes
)

// attempt is one prediction in the file: the latest stands at the top of it, the
// earlier ones in a list.
type attempt struct {
	Circuit, Text, Script, Learner string
	Tolerance                      string // seconds as a decimal
	Rows                           []json.RawMessage
}

type attemptRow struct {
	Row   string
	Start bool
	Edges []string // seconds as decimals
	Sure  string
	// Undrawn rows were left as they were: they are no lines.
	Undrawn bool
}

// ReadPredictions reads a file of predictions as the desk writes it. An answer's
// item is the circuit's name and the script's, "Sizer ready, One long turn"; of
// several tries of a learner at an item the first stays. What the desk said of
// them is not read: they are marked anew. Problems have no line, since the file
// is not written by hand.
func ReadPredictions(r io.Reader) ([]Answer, []Problem) {
	k := newCollector()
	text, err := io.ReadAll(io.LimitReader(r, maxPredictions+1))
	switch {
	case err != nil:
		k.problem(0, 0, "The file could not be read further: %v.", err)
		return k.result()
	case len(text) > maxPredictions:
		k.problem(0, 0, "The file is larger than %d MiB: that is no file of predictions from the desk.", maxPredictions>>20)
		return k.result()
	}
	var head struct {
		Format  string
		Version json.Number
		Earlier []json.RawMessage
	}
	if err := json.Unmarshal(text, &head); err != nil || head.Format != predictionsFormat {
		k.problem(0, 0, "This is no file of predictions from the desk. Save it there once more.")
		return k.result()
	}
	if head.Version != "1" {
		k.problem(0, 0, "The file has version %s of its format; up to %d can be read here. A newer tarry reads it.",
			quote(head.Version.String()), predictionsVersion)
		return k.result()
	}
	for i, a := range append(head.Earlier, text) {
		if !k.full {
			k.attempt(i+1, a)
		}
	}
	return k.result()
}

// attempt keeps one prediction.
func (k *collector) attempt(number int, text []byte) {
	var a attempt
	if err := json.Unmarshal(text, &a); err != nil {
		k.problem(0, 0, "Prediction %d is damaged and was left out.", number)
		return
	}
	item := strings.TrimSpace(a.Circuit)
	if a.Script != "" {
		item += ", " + a.Script
	}
	if known := k.at[[2]string{a.Learner, item}]; known != nil {
		k.problem(0, 0, "Prediction %d is a second one%s; the first stays.", number, of(a.Learner, item))
		return
	}
	for n, text := range a.Rows {
		var row attemptRow
		if err := json.Unmarshal(text, &row); err != nil {
			k.problem(0, 0, "Prediction %d: its row %d is damaged and was left out.", number, n+1)
			continue
		}
		if row.Undrawn {
			k.add(0, a.Learner, item, Line{Signal: row.Row, Undrawn: true}, false)
			continue
		}
		l, reason := row.line()
		if reason != "" {
			k.problem(0, 0, "Prediction %d, row %s: %s", number, quote(row.Row), reason)
			continue
		}
		k.add(0, a.Learner, item, l, false)
	}
	if kept := k.at[[2]string{a.Learner, item}]; kept != nil {
		if t, err := notation.ParseTime(a.Tolerance + " s"); err == nil && strings.Trim(a.Tolerance, "0123456789.") == "" {
			kept.Tolerance = t
		}
		kept.Circuit, kept.Script, kept.Text = a.Circuit, a.Script, a.Text
	}
}

// line reads a row, or says why it can't be.
func (row attemptRow) line() (Line, string) {
	l := Line{Signal: row.Row, Start: row.Start}
	l.Sure, _ = sureOf(row.Sure)
	last := time.Duration(-1)
	for _, text := range row.Edges {
		at, err := notation.ParseTime(text + " s")
		switch {
		case err != nil || strings.Trim(text, "0123456789.") != "":
			return l, fmt.Sprintf("%s is no time in seconds, and the row was left out.", quote(text))
		case at <= last:
			return l, fmt.Sprintf("the edge at %s s is not behind the one before it, and the row was left out.", quote(text))
		}
		l.At, last = append(l.At, at), at
	}
	if row.Row == "" {
		return l, "it names no signal, and was left out."
	}
	return l, ""
}
