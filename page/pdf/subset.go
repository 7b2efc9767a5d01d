package pdf

import (
	"encoding/binary"
	"maps"
	"slices"
)

// A TrueType font is a list of named tables. The cut-down font keeps the
// numbers of its glyphs; the outlines and metrics of glyphs that are not used
// are left empty, and the tables that a PDF reader never asks for are left out.
// No glyph of the two fonts is composed of others, which a test holds, so none
// needs more than itself. (OpenType specification, chapters "glyf", "loca",
// "hmtx"; ISO 32000-1, 9.9.)

func be16(data []byte, at int) uint16 { return binary.BigEndian.Uint16(data[at:]) }

// table returns a table of a font.
func table(source []byte, name string) []byte {
	for i := range int(be16(source, 4)) {
		entry := source[12+16*i:]
		if string(entry[:4]) == name {
			at := binary.BigEndian.Uint32(entry[8:])
			return source[at : at+binary.BigEndian.Uint32(entry[12:])]
		}
	}
	panic("pdf: the built-in font has no table " + name)
}

// subset returns a font with only the glyphs asked for, and glyph 0.
func subset(source []byte, wanted map[int]bool) []byte {
	glyf, loca := table(source, "glyf"), table(source, "loca")
	keep := maps.Clone(wanted)
	keep[0] = true
	count := int(be16(table(source, "maxp"), 4))
	var newGlyf, newLoca []byte
	for glyph := range count {
		newLoca = binary.BigEndian.AppendUint32(newLoca, uint32(len(newGlyf)))
		if keep[glyph] {
			newGlyf = append(newGlyf, outline(glyf, loca, glyph)...)
			newGlyf = append(newGlyf, make([]byte, -len(newGlyf)&3)...)
		}
	}
	newLoca = binary.BigEndian.AppendUint32(newLoca, uint32(len(newGlyf)))
	head := slices.Clone(table(source, "head"))
	binary.BigEndian.PutUint32(head[8:], 0)
	binary.BigEndian.PutUint16(head[50:], 1) // four bytes for each place
	return assemble(map[string][]byte{
		"cvt ": table(source, "cvt "), "fpgm": table(source, "fpgm"), "prep": table(source, "prep"),
		"glyf": newGlyf, "loca": newLoca, "head": head, "hhea": table(source, "hhea"),
		"hmtx": keptMetrics(source, keep), "maxp": table(source, "maxp"),
	})
}

// outline returns the data of a glyph. The two fonts have places of two bytes,
// counted in pairs.
func outline(glyf, loca []byte, glyph int) []byte {
	return glyf[2*int(be16(loca, 2*glyph)) : 2*int(be16(loca, 2*glyph+2))]
}

// keptMetrics returns the advance widths, those of glyphs left out as zeros.
func keptMetrics(source []byte, keep map[int]bool) []byte {
	hmtx := slices.Clone(table(source, "hmtx"))
	full := int(be16(table(source, "hhea"), 34)) // how many have a width of their own
	for glyph := range full - 1 {
		if !keep[glyph] {
			clear(hmtx[4*glyph : 4*glyph+4])
		}
	}
	return hmtx
}

// assemble writes tables as a font file, with their sums.
func assemble(tables map[string][]byte) []byte {
	names := make([]string, 0, len(tables))
	for name := range tables {
		names = append(names, name)
	}
	slices.Sort(names)
	power := 0
	for 2<<power <= len(names) {
		power++
	}
	out := []byte{0, 1, 0, 0}
	for _, v := range []int{len(names), 16 << power, power, 16*len(names) - 16<<power} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	at, headAt := 12+16*len(names), 0
	for _, name := range names {
		if name == "head" {
			headAt = at
		}
		out = append(out, name...)
		out = binary.BigEndian.AppendUint32(out, sum(tables[name]))
		out = binary.BigEndian.AppendUint32(out, uint32(at))
		out = binary.BigEndian.AppendUint32(out, uint32(len(tables[name])))
		at += (len(tables[name]) + 3) &^ 3
	}
	for _, name := range names {
		out = append(out, tables[name]...)
		out = append(out, make([]byte, -len(out)&3)...)
	}
	binary.BigEndian.PutUint32(out[headAt+8:], 0xB1B0AFBA-sum(out))
	return out
}

// sum adds up the data as numbers of four bytes.
func sum(data []byte) (total uint32) {
	for ; len(data) >= 4; data = data[4:] {
		total += binary.BigEndian.Uint32(data)
	}
	var rest [4]byte
	copy(rest[:], data)
	return total + binary.BigEndian.Uint32(rest[:])
}
