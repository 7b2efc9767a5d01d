// Package library holds the built-in circuits: one .tarry file each, numbered
// and named by its file, compiled into the program. It knows nothing of what
// the files say; package notation reads them.
package library

import (
	"cmp"
	"embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

//go:embed *.tarry
var files embed.FS

const suffix = ".tarry"

// Entry is one built-in circuit.
type Entry struct {
	// Number is the circuit's number in the library, from 1.
	Number int
	// Name is the file name without .tarry, number included:
	// "01-sizer-ready".
	Name string
	// Text is the file, to be read with notation.Read. It belongs to the
	// caller.
	Text []byte
}

// All returns every built-in circuit, sorted by number.
func All() []Entry {
	list, err := files.ReadDir(".")
	if err != nil {
		panic(fmt.Sprintf("library: the embedded folder cannot be read: %v", err))
	}
	var all []Entry
	for _, f := range list {
		all = append(all, read(f.Name()))
	}
	slices.SortStableFunc(all, func(a, b Entry) int { return cmp.Compare(a.Number, b.Number) })
	return all
}

// Find returns the circuit with the number ("1", "01") or the name
// ("01-sizer-ready"); false if there is none.
func Find(query string) (Entry, bool) {
	number, err := strconv.Atoi(query)
	if err != nil {
		number = -1
	}
	for _, e := range All() {
		if e.Name == query || e.Number == number {
			return e, true
		}
	}
	return Entry{}, false
}

// read makes the entry of one embedded file. The files are ours, so a name
// without a number is our mistake.
func read(file string) Entry {
	name := strings.TrimSuffix(file, suffix)
	digits, _, _ := strings.Cut(name, "-")
	number, err := strconv.Atoi(digits)
	if err != nil || number < 1 {
		panic(fmt.Sprintf("library: %s does not begin with its number", file))
	}
	text, err := files.ReadFile(file)
	if err != nil {
		panic(fmt.Sprintf("library: %s cannot be read: %v", file, err))
	}
	return Entry{Number: number, Name: name, Text: text}
}
