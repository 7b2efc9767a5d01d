package tarry

import (
	"fmt"
	"slices"
	"strings"

	"tarry/page"
	"tarry/page/pdf"
	"tarry/page/png"
	"tarry/page/svg"
	"tarry/schematic"
)

// File is a finished drawing. Suffix belongs between the name that the user
// gave and its ending: it is empty for a single file and "-2" for the second
// of several.
type File struct {
	Suffix string
	Data   []byte
}

// Picture says how drawings are written. The zero value is SVG.
type Picture struct {
	Form        string // "svg", "pdf" or "png"; empty is svg
	Width       int    // of a PNG in pixels, whatever the DPI; 0 leaves it to the DPI
	DPI         int    // of a PNG, pixels to the inch; 0 is 150
	Transparent bool   // PNG and SVG: no paper behind the drawing
	White       bool   // PNG and SVG: white paper instead of tinted
}

// encoded writes pages as files: one PDF, or an SVG or PNG for each page. The
// second result names characters that the fonts lack.
func (f Picture) encoded(pages []*page.Page, title, author string, outline []pdf.Bookmark) ([]File, []rune, error) {
	if f.Width < 0 || f.DPI < 0 {
		return nil, nil, badInput("a picture cannot have %d pixels of width and %d to the inch", f.Width, f.DPI)
	}
	if f.Form == "pdf" {
		r, err := pdf.Encode(pages, pdf.Options{Title: title, Author: author, Outline: outline})
		if err != nil {
			return nil, nil, badInput("%s; tarry sheet breaks a large drawing over pages", strings.TrimPrefix(err.Error(), "pdf: "))
		}
		return []File{{"", r.Bytes}}, r.Missing, nil
	}
	var files []File
	var missing []rune
	for i, p := range pages {
		suffix := ""
		if len(pages) > 1 {
			suffix = fmt.Sprintf("-%0*d", len(fmt.Sprint(len(pages))), i+1)
		}
		switch f.Form {
		case "", "svg":
			files = append(files, File{suffix, svg.Encode(p, svg.Options{NoPaper: f.Transparent, White: f.White})})
		case "png":
			r, err := png.Encode(p, png.Options{Width: f.Width, DPI: f.DPI, Transparent: f.Transparent, White: f.White})
			if err != nil {
				return nil, nil, badInput("%s", strings.TrimPrefix(err.Error(), "png: "))
			}
			files = append(files, File{suffix, r.Bytes})
			missing = append(missing, r.Missing...)
		default:
			return nil, nil, badInput("drawings are written as svg, pdf or png, not %q", f.Form)
		}
	}
	slices.Sort(missing)
	return files, slices.Compact(missing), nil
}

// missingWords says which characters could not be drawn, empty for none.
func missingWords(missing []rune) string {
	if len(missing) == 0 {
		return ""
	}
	var list []string
	for _, r := range missing[:min(len(missing), maxChoice)] {
		list = append(list, fmt.Sprintf("%q", r))
	}
	return "the font has no sign for " + strings.Join(list, ", ") + "; a box stands in its place"
}

// Style is the choice of symbols and layout by their words; empty means
// international symbols on level rungs.
type Style struct {
	Symbols string // "international" or "american"
	Layout  string // "rungs" or "paths"
}

// The words for schematic.Tradition and schematic.Layout, in their order.
var (
	traditions = []string{"international", "american"}
	layouts    = []string{"rungs", "paths"}
)

func (s Style) options() (schematic.Options, error) {
	var opt schematic.Options
	symbols, ok := pick(s.Symbols, traditions)
	if !ok {
		return opt, badInput("there are no %q symbols; %s", s.Symbols, choice(s.Symbols, traditions, "traditions"))
	}
	layout, ok := pick(s.Layout, layouts)
	if !ok {
		return opt, badInput("there is no layout %q; %s", s.Layout, choice(s.Layout, layouts, "layouts"))
	}
	opt.Symbols, opt.Layout = schematic.Tradition(symbols), schematic.Layout(layout)
	return opt, nil
}

// pick returns the place of a word among the choices, the first for none.
func pick(word string, choices []string) (int, bool) {
	if word == "" {
		return 0, true
	}
	i := slices.Index(choices, strings.ToLower(word))
	return max(i, 0), i >= 0
}
