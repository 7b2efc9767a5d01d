package tarry

import (
	"tarry/library"
)

// LibraryEntry is one built-in circuit.
type LibraryEntry struct {
	Number int
	Name   string // file name without its ending
	Title  string
	// Station is the place of the line that it belongs to.
	Station string
	Aim     string
	Text    []byte
}

// Library lists the built-in circuits by number.
func Library() (list []LibraryEntry, err error) {
	defer guard(Source{Name: "library"}, &err)
	for _, e := range library.All() {
		list = append(list, entry(e))
	}
	return list, nil
}

// LibraryFind returns the built-in circuit of a number or a name.
func LibraryFind(query string) (found LibraryEntry, err error) {
	defer guard(Source{Name: "library"}, &err)
	e, ok := library.Find(query)
	if !ok {
		return found, badInput("the library has no circuit %q; tarry library list shows what there is", query)
	}
	return entry(e), nil
}

func entry(e library.Entry) LibraryEntry {
	c, _ := read(Source{e.Name, e.Text})
	out := LibraryEntry{Number: e.Number, Name: e.Name, Title: c.Title, Station: c.Station, Text: e.Text}
	if aims := c.NotesOf("aim"); len(aims) > 0 {
		out.Aim = aims[0]
	}
	return out
}
