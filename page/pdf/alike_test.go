package pdf_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	imagepng "image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"tarry/page"
	"tarry/page/pdf"
	"tarry/page/png"
	"tarry/page/svg"
)

const dpi = 100

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
			paper := pictureOfSVG(t, env, white)
			alike(t, "pdf and svg", pictureOfPDF(t, encode(t, pdf.Options{}, p).Bytes), paper)
			alike(t, "png and svg", pictureOfPNG(t, p, png.Options{DPI: dpi}), pictureOfSVG(t, env, tinted))
			alike(t, "png and pdf in black", pictureOfPNG(t, p, png.Options{DPI: dpi, Mono: true}),
				pictureOfPDF(t, encode(t, pdf.Options{Mono: true}, p).Bytes))
		})
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

func pictureOfSVG(t *testing.T, env []string, file []byte) image.Image {
	name := saved(t, "page.svg", file)
	return decoded(t, tool(t, env, "rsvg-convert", "-d", fmt.Sprint(dpi), "-p", fmt.Sprint(dpi), name))
}

func pictureOfPDF(t *testing.T, file []byte) image.Image {
	name := saved(t, "page.pdf", file)
	return decoded(t, tool(t, nil, "pdftoppm", "-r", fmt.Sprint(dpi), "-png", "-singlefile", "-thinlinemode", "shape", name))
}

func pictureOfPNG(t *testing.T, p *page.Page, opt png.Options) image.Image {
	t.Helper()
	r, err := png.Encode(p, opt)
	if err != nil {
		t.Fatal(err)
	}
	return decoded(t, r.Bytes)
}

func decoded(t *testing.T, file []byte) image.Image {
	t.Helper()
	m, err := imagepng.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// block is the side of the squares in which the ink of two pictures is
// compared, 4 mm: a line that another program moves to the nearest pixel stays
// within, a word that is missing shows.
const block = 16

func alike(t *testing.T, what string, a, b image.Image) {
	t.Helper()
	w, h := a.Bounds().Dx(), a.Bounds().Dy()
	if dx, dy := w-b.Bounds().Dx(), h-b.Bounds().Dy(); dx < -1 || dx > 1 || dy < -1 || dy > 1 {
		t.Fatalf("%s: %v and %v", what, a.Bounds(), b.Bounds())
	}
	var sum, worst float64
	var where image.Point
	for y := 0; y+block <= h; y += block {
		for x := 0; x+block <= w; x += block {
			difference, ink := compared(a, b, x, y)
			sum += difference
			if ink > worst {
				worst, where = ink, image.Pt(x, y)
			}
		}
	}
	mean := sum / float64((w/block)*(h/block))
	t.Logf("%s: mean %.2f, worst %.1f at %v", what, mean, worst, where)
	if dir := os.Getenv("LOOK"); dir != "" {
		for i, m := range []image.Image{a, b} {
			var buf bytes.Buffer
			imagepng.Encode(&buf, m)
			os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s %s %d.png", strings.ReplaceAll(t.Name(), "/", "_"), what, i)), buf.Bytes(), 0o644)
		}
	}
}

// compared returns how far the pixels of a block differ on average, and how
// far its averages do, out of 255.
func compared(a, b image.Image, x, y int) (difference, ink float64) {
	for j := y; j < y+block; j++ {
		for i := x; i < x+block; i++ {
			d := grey(a, i, j) - grey(b, i, j)
			ink += d
			difference += max(d, -d)
		}
	}
	return difference / (block * block), max(ink, -ink) / (block * block)
}

func grey(m image.Image, x, y int) float64 {
	return float64(color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y)
}
