package exercise

import (
	"archive/zip"
	"bytes"
	"cmp"
	"encoding/xml"
	"path"
	"slices"
	"strings"
	"time"
)

// file is one of a package.
type file struct {
	name string
	data []byte
}

// packed writes files into a zip, in the order of their names, with one fixed date:
// the same files give the same bytes.
func packed(files []file) ([]byte, error) {
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b file) int { return cmp.Compare(a.name, b.name) })
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		h := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)}
		if strings.HasSuffix(f.name, ".png") {
			h.Method = zip.Store // it is packed already
		}
		part, err := w.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := part.Write(f.data); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// tree writes XML. Words pass through xml.EscapeText, which puts the replacement
// character for what XML can't hold.
type tree struct {
	bytes.Buffer
	within []string
}

func newTree() *tree {
	t := &tree{}
	t.WriteString(xml.Header)
	return t
}

func (t *tree) begin(name string, attrs []string) {
	t.WriteString(strings.Repeat(" ", len(t.within)) + "<" + name)
	for i := 0; i+1 < len(attrs); i += 2 {
		t.WriteString(" " + attrs[i] + `="`)
		t.words(attrs[i+1])
		t.WriteString(`"`)
	}
}

func (t *tree) words(words string) { _ = xml.EscapeText(&t.Buffer, []byte(words)) }

// open begins an element. Attributes are pairs of a name and a value.
func (t *tree) open(name string, attrs ...string) {
	t.begin(name, attrs)
	t.WriteString(">\n")
	t.within = append(t.within, name)
}

// shut ends the elements begun last.
func (t *tree) shut(n int) {
	for range n {
		last := len(t.within) - 1
		name := t.within[last]
		t.within = t.within[:last]
		t.WriteString(strings.Repeat(" ", last) + "</" + name + ">\n")
	}
}

// empty writes an element without content, leaf one with words.
func (t *tree) empty(name string, attrs ...string) {
	t.begin(name, attrs)
	t.WriteString("/>\n")
}

func (t *tree) leaf(name, words string, attrs ...string) {
	t.begin(name, attrs)
	t.WriteString(">")
	t.words(words)
	t.WriteString("</" + name + ">\n")
}

// typeOf is the media type of a picture's file.
func typeOf(name string) string {
	if path.Ext(name) == ".svg" {
		return "image/svg+xml"
	}
	return "image/png"
}
