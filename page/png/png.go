// Package png paints a page as a PNG picture.
package png

// Everything is turned into outlines in pixels and then into coverage: the
// share of each pixel that lies inside an outline. The fonts are Go Regular
// and Go Bold, the ones that page.Width was measured from, set letter by
// letter as page.Width counts. Same page, same options, same bytes.
//
// png.go sizes and encodes, canvas.go paints elements, outline.go turns lines
// into outlines, text.go words.

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math"

	"tarry/page"
)

// Options are the choices that a caller has. The zero value is right for a
// picture in colour with 150 pixels to the inch.
type Options struct {
	// DPI is the number of pixels to the inch; 0 is 150.
	DPI int
	// Width is the picture's width in pixels, whatever the DPI; 0 leaves it to
	// the DPI.
	Width int
	// Transparent leaves the ground transparent. What knocks out other things
	// stays a patch of paper.
	Transparent bool
	// White draws on white instead of the tint of paper.
	White bool
	// Mono draws in black and grey on white.
	Mono bool
}

// Result is a finished picture.
type Result struct {
	Bytes         []byte
	Width, Height int // in pixels
	// Missing are the characters that the fonts have no glyph for, each once,
	// in order. A box stands in the place of each.
	Missing []rune
}

// The limits of a picture: its sides, and its pixels in all, of which each
// takes four bytes while it is painted.
const (
	maxSide   = 20_000
	maxPixels = 100_000_000
	usualDPI  = 150
)

// inch is an inch in 1/100 mm.
const inch = 2540

// Encode returns the page as a PNG file. Errors: a page without an area, a
// resolution or width below zero, a picture of more than 20,000 pixels a side
// or 100 million in all.
func Encode(p *page.Page, opt Options) (Result, error) {
	scale, width, height, err := size(p, opt)
	if err != nil {
		return Result{}, err
	}
	c := newCanvas(width, height, scale, opt)
	for _, e := range p.Elements {
		c.element(e)
	}
	file, err := encode(c.picture(), scale)
	if err != nil {
		return Result{}, fmt.Errorf("png: %w", err)
	}
	return Result{Bytes: file, Width: width, Height: height, Missing: c.missingRunes()}, nil
}

// size returns how many pixels there are to 1/100 mm, and in all.
func size(p *page.Page, opt Options) (scale float64, width, height int, err error) {
	dpi := opt.DPI
	switch {
	case p.Width <= 0 || p.Height <= 0:
		return 0, 0, 0, fmt.Errorf("the page has no area: %v by %v mm", p.Width, p.Height)
	case opt.DPI < 0 || opt.Width < 0:
		return 0, 0, 0, fmt.Errorf("a picture can't have %d pixels to the inch and a width of %d", opt.DPI, opt.Width)
	case dpi == 0:
		dpi = usualDPI
	}
	scale = float64(dpi) / inch
	if opt.Width > 0 {
		scale = float64(opt.Width) / float64(p.Width)
	}
	w := max(1, math.Round(float64(p.Width)*scale))
	h := max(1, math.Round(float64(p.Height)*scale))
	if w > maxSide || h > maxSide || w*h > maxPixels {
		return 0, 0, 0, fmt.Errorf("the picture would be %.0f by %.0f pixels; a side has at most %d and a picture %d million: lower the DPI or the width",
			w, h, maxSide, maxPixels/1_000_000)
	}
	return scale, int(w), int(h), nil
}

// encode writes the picture, and behind its head how large it is on paper.
func encode(m image.Image, scale float64) ([]byte, error) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.DefaultCompression}
	if err := e.Encode(&b, m); err != nil {
		return nil, err
	}
	const head = 8 + 4 + 4 + 13 + 4 // the signature, then length, name, content and sum of the first chunk
	file := bytes.Clone(b.Bytes()[:head])
	return append(append(file, resolution(scale)...), b.Bytes()[head:]...), nil
}

// resolution is the chunk that says how many pixels there are to the metre
// (PNG specification, third edition, 11.3.4.3).
func resolution(scale float64) []byte {
	perMetre := uint32(math.Round(scale * 100_000))
	chunk := []byte("\x00\x00\x00\x09pHYs")
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

// ink returns the colour of a role. What is live or timing is heavy or hatched
// already, so that it loses nothing in black.
func ink(k page.Ink, opt Options) color.RGBA {
	if k == page.Paper && opt.White {
		return color.RGBA{0xff, 0xff, 0xff, 0xff}
	}
	if opt.Mono {
		v := [...]uint8{page.Black: 0, page.Live: 0, page.Timing: 0, page.Faint: 0x73, page.Paper: 0xff}[k]
		return color.RGBA{v, v, v, 0xff}
	}
	r, g, b := k.RGB()
	return color.RGBA{r, g, b, 0xff}
}
