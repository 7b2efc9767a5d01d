package notation

import (
	"time"

	"tarry/circuit"
	"tarry/diag"
)

// tree is a text line by line. It never leaves this package.
type tree struct {
	text  string
	lines []line
}

// line is one line of the text.
type line struct {
	at      diag.Range // without the line end and the blanks before it
	node    node       // nil for a blank line, a comment, or nothing understood
	comment string     // with its #
	faulty  bool       // an error was found in it
}

// node is one of the pointer types below.
type node interface{}

// word is a name with its place; the zero word stands for one that is missing.
type word struct {
	text string
	at   diag.Range
}

// textNode is a line of a keyword and a text in quotes: circuit, station or
// one of the notes.
type textNode struct {
	key  word
	text string
}

type supplyNode struct {
	key        word
	number     string // volts as written, "" if missing
	numberAt   diag.Range
	millivolts int64 // 0 also if dc or ac is missing
	ac         bool
	rails      [2]word
}

type deviceNode struct {
	tag      word
	kind     circuit.Kind
	function circuit.Function
	kindAt   diag.Range
	params   []param
	label    string
	labelled bool
}

// paramKind is what a parameter of a device looks like.
type paramKind uint8

const (
	parTime paramKind = iota
	parTolerance
	parNumber // a bare number
	parWord   // a bare word: colour, position, air, electronic, forgetful
	parOperate
	parRelease
	parGap
	parStartingOff
)

type param struct {
	kind  paramKind
	at    diag.Range
	text  string // parWord and parNumber
	time  timeLit
	share int  // parTolerance in 1/100 %
	comma bool // a comma stands before it
}

// timeLit is a time as written. Value is 0 where the text was wrong.
type timeLit struct {
	at       diag.Range
	parts    []timePart
	negative bool
	value    time.Duration
}

type timePart struct {
	number, unit string
	end          int
}

type rungNode struct {
	at     diag.Range // its number
	number int
	path   pathNode
	loads  []loadNode
	tie    word
	back   pathNode
}

type pathNode []itemNode

// itemNode is a contact (tag and part), a named net, or a group.
type itemNode struct {
	at       diag.Range
	tag      word
	part     word
	net      string
	branches []pathNode
}

type loadNode struct {
	tag  word
	part word // zero for none
}

func (l loadNode) at() diag.Range {
	if l.part.text == "" {
		return l.tag.at
	}
	return l.tag.at.To(l.part.at)
}

type plantNode struct {
	at      diag.Range
	sensor  word
	closes  bool
	after   timeLit
	load    word
	onStart bool
}

type pinNode struct {
	at     diag.Range
	net    word
	number int
}

type scriptNode struct {
	at   diag.Range
	name word
}

type actionNode struct {
	at       timeLit
	verb     circuit.Verb
	verbAt   diag.Range
	device   word
	position word
	during   timeLit
	presets  []timeLit
}

// whole is the place of everything behind the time.
func (a *actionNode) whole() diag.Range {
	if a.device.text != "" {
		return a.verbAt.To(a.device.at)
	}
	return a.verbAt
}

type endNode struct {
	at   diag.Range
	time timeLit
}

type expectNode struct {
	at     diag.Range
	tag    word
	part   word
	state  string // on, off, closed, open, never, always
	spans  []spanNode
	within timeLit
	share  int
	// tolerance tells within and share apart.
	tolerance toleranceKind
}

type toleranceKind uint8

const (
	exact toleranceKind = iota
	byTime
	byShare
)

type spanNode struct {
	at       diag.Range
	from, to timeLit
	toEnd    bool
}
