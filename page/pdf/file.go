package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"hash/fnv"
	"strconv"
	"strings"
	"unicode/utf16"

	"tarry/page"
)

// file holds the objects of a PDF file. Their numbers count from 1.
type file struct {
	objects [][]byte
}

// reserve returns the number of an object that is set later.
func (f *file) reserve() int {
	f.objects = append(f.objects, nil)
	return len(f.objects)
}

func (f *file) set(n int, body string) { f.objects[n-1] = []byte(body) }

func (f *file) add(body string) int {
	n := f.reserve()
	f.set(n, body)
	return n
}

// setStream sets an object to compressed data, with more entries in its
// dictionary.
func (f *file) setStream(n int, entries string, data []byte) {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	z.Write(data) // a Buffer takes everything
	z.Close()
	var b bytes.Buffer
	fmt.Fprintf(&b, "<< /Length %d /Filter /FlateDecode%s >>\nstream\n", packed.Len(), entries)
	b.Write(packed.Bytes())
	b.WriteString("\nendstream")
	f.objects[n-1] = b.Bytes()
}

func (f *file) addStream(entries string, data []byte) int {
	n := f.reserve()
	f.setStream(n, entries, data)
	return n
}

// bytes writes the objects, the table of their places and the trailer. Each
// line of the table is 20 bytes long. The file's identity is a sum over its
// objects.
func (f *file) bytes(catalog, info int) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	places := make([]int, len(f.objects))
	for i, body := range f.objects {
		places[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, body)
	}
	sum := fnv.New128a() // the file's name for itself, not a proof of anything
	sum.Write(b.Bytes())
	id := fmt.Sprintf("%X", sum.Sum(nil))
	table := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(f.objects)+1)
	for _, at := range places {
		fmt.Fprintf(&b, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R /ID [<%s> <%s>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(f.objects)+1, catalog, info, id, id, table)
	return b.Bytes()
}

// maxTitle is how many characters of a title are kept.
const maxTitle = 250

// wordString returns words for a reader's eyes as a string object: UTF-16 in
// hexadecimal, so that nothing in them can end it.
func wordString(words string) string {
	runes := []rune(strings.TrimSpace(page.Clean(words)))
	if len(runes) > maxTitle {
		runes = append(runes[:maxTitle-1], '…')
	}
	return "<FEFF" + utf16Hex(runes...) + ">"
}

func utf16Hex(runes ...rune) string {
	var b strings.Builder
	for _, u := range utf16.Encode(runes) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String()
}

// number writes a number with at most so many decimals, none of them a
// trailing zero.
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
