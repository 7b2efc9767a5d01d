package pdf_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	imagepng "image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"tarry/page"
	"tarry/page/pdf"
	"tarry/page/png"
	"tarry/page/svg"
)

// The pictures have 100 pixels to the inch. pdftoppm moves lines and letters to
// whole pixels, so it paints finer ones, and these are averaged.
const (
	dpi   = 100
	finer = 4
)

// TestAlike holds the three formats of one page against each other: the SVG as
// rsvg-convert shows it, the PDF as pdftoppm does, and our own PNG.
func TestAlike(t *testing.T) {
	env := goFonts(t)
	pages := map[string]*page.Page{"sample": sample()}
	for _, query := range charts {
		pages["chart "+query] = chartPage(t, query)
	}
	for name, p := range pages {
		t.Run(name, func(t *testing.T) {
			tinted := svg.Encode(p, svg.Options{})
			white := bytes.ReplaceAll(tinted, []byte("#fcfaf5"), []byte("#ffffff"))
			check := func(what string, a, b *image.Gray, most, mostInk float64) {
				mean, ink, where := difference(a, b)
				if t.Logf("%s: on average %.2f apart, at most %.2f at %v", what, mean, ink, where); mean > most || ink > mostInk {
					t.Errorf("%s are not alike; %.1f and %.1f are right", what, most, mostInk)
				}
			}
			ours := pictureOfPNG(t, p, png.Options{DPI: dpi})
			check("png and svg", ours, pictureOfSVG(t, env, tinted), 0.4, 2.5)
			check("pdf and svg", pictureOfPDF(t, encode(t, pdf.Options{}, p).Bytes), pictureOfSVG(t, env, white), 2, 7)
			check("png and pdf in black", pictureOfPNG(t, p, png.Options{DPI: dpi, Mono: true}),
				pictureOfPDF(t, encode(t, pdf.Options{Mono: true}, p).Bytes), 2, 7)
		})
	}
}

// TestDifferenceShows takes elements of a page away, one at a time: the
// comparison sees that they are gone, but for a few that others lie over.
func TestDifferenceShows(t *testing.T) {
	p := chartPage(t, "05")
	whole := pictureOfPNG(t, p, png.Options{DPI: dpi})
	tried, seen := 0, 0
	for i := 0; i < len(p.Elements); i += 4 {
		tried++
		less := *p
		less.Elements = slices.Delete(slices.Clone(p.Elements), i, i+1)
		if _, ink, _ := difference(whole, pictureOfPNG(t, &less, png.Options{DPI: dpi})); ink > 2.5 {
			seen++
		}
	}
	if seen < tried*8/10 {
		t.Errorf("of %d elements, %d could be left out without a difference", tried, tried-seen)
	}
}

// goFonts lets the reader of SVG files find the fonts that they ask for.
func goFonts(t *testing.T) (env []string) {
	t.Helper()
	dir := t.TempDir()
	conf := fmt.Sprintf("<?xml version=\"1.0\"?>\n<!DOCTYPE fontconfig SYSTEM \"fonts.dtd\">\n"+
		"<fontconfig><dir>%s</dir><cachedir>%s/cache</cachedir></fontconfig>\n", dir, dir)
	for name, data := range map[string][]byte{"regular.ttf": goregular.TTF, "bold.ttf": gobold.TTF, "fonts.conf": []byte(conf)} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return []string{"FONTCONFIG_FILE=" + filepath.Join(dir, "fonts.conf")}
}

func pictureOfSVG(t *testing.T, env []string, file []byte) *image.Gray {
	name := saved(t, "page.svg", file)
	return decoded(t, tool(t, env, "rsvg-convert", "-d", fmt.Sprint(dpi), "-p", fmt.Sprint(dpi), name))
}

func pictureOfPDF(t *testing.T, file []byte) *image.Gray {
	name := saved(t, "page.pdf", file)
	fine := decoded(t, tool(t, nil, "pdftoppm", "-r", fmt.Sprint(dpi*finer), "-singlefile", "-png", "-thinlinemode", "shape", name))
	m := image.NewGray(image.Rect(0, 0, fine.Bounds().Dx()/finer, fine.Bounds().Dy()/finer))
	for y := range m.Rect.Max.Y {
		for x := range m.Rect.Max.X {
			m.SetGray(x, y, color.Gray{Y: uint8(average(fine, x*finer, y*finer, finer))})
		}
	}
	return m
}

func pictureOfPNG(t *testing.T, p *page.Page, opt png.Options) *image.Gray {
	t.Helper()
	r, err := png.Encode(p, opt)
	if err != nil {
		t.Fatal(err)
	}
	return decoded(t, r.Bytes)
}

// decoded returns a picture's greys.
func decoded(t *testing.T, file []byte) *image.Gray {
	t.Helper()
	m, err := imagepng.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	g := image.NewGray(image.Rect(0, 0, m.Bounds().Dx(), m.Bounds().Dy()))
	draw.Draw(g, g.Rect, m, m.Bounds().Min, draw.Src)
	return g
}

// block is the side of the squares in which the ink of two pictures is
// compared, 4 mm: a line that is moved by a part of a pixel stays within, a
// word or a line that is missing shows.
const block = 16

// difference returns how far two pictures are apart on average, and how much
// more or less ink the worst block has than its counterpart, out of 255. A hair
// line through a block is 6.
func difference(a, b *image.Gray) (mean, ink float64, where image.Point) {
	size := a.Rect.Intersect(b.Rect).Size()
	if off := a.Rect.Size().Sub(b.Rect.Size()); off.X < -1 || off.X > 1 || off.Y < -1 || off.Y > 1 {
		return 255, 255, off // not even of one size
	}
	for y := 0; y+block <= size.Y; y += block {
		for x := 0; x+block <= size.X; x += block {
			mean += apart(a, b, x, y)
			if more := math.Abs(average(a, x, y, block) - average(b, x, y, block)); more > ink {
				ink, where = more, image.Pt(x, y)
			}
		}
	}
	return mean / float64((size.X/block)*(size.Y/block)), ink, where
}

// apart returns how far the pixels of a block differ on average.
func apart(a, b *image.Gray, x, y int) (sum float64) {
	for j := y; j < y+block; j++ {
		for i := x; i < x+block; i++ {
			sum += math.Abs(grey(a, i, j) - grey(b, i, j))
		}
	}
	return sum / (block * block)
}

func average(m *image.Gray, x, y, side int) (sum float64) {
	for j := y; j < y+side; j++ {
		for i := x; i < x+side; i++ {
			sum += grey(m, i, j)
		}
	}
	return sum / float64(side*side)
}

func grey(m *image.Gray, x, y int) float64 {
	return float64(m.GrayAt(x, y).Y)
}
