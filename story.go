package tarry

import (
	"fmt"
	"slices"

	"tarry/circuit"
	"tarry/page"
	"tarry/sheet"
)

// StoryRequest asks for the storyboard of one script: pages to print as PDF,
// or with Each a picture for each frame, to show.
type StoryRequest struct {
	Source
	Style
	Picture        // of the frames of Each
	Script  string // name or number; empty means the first
	PerPage int    // 2, 4 or 6; 0 lets the drawing decide
	Paper   string // "a4" or "letter"
	Each    bool
}

// Story draws the storyboard of a run.
func Story(r StoryRequest) (out Drawn, err error) {
	if !r.Each {
		return Sheets(SheetRequest{Source: r.Source, Style: r.Style, Paper: r.Paper, Script: r.Script,
			PerPage: r.PerPage, Parts: []string{"storyboard"}})
	}
	defer guard(r.Source, &err)
	c, checked := read(r.Source)
	out.Checked = checked
	style, err := r.Style.options()
	if err != nil {
		return out, err
	}
	if r.Script == allScripts {
		return out, badInput("slides show one script; name it with its number or name")
	}
	list, err := scripts(c, r.Script)
	if err != nil {
		return out, err
	}
	t := runOne(c, list[0])
	if err := printable(t); err != nil {
		return out, err
	}
	frames := sheet.Frames(t, sheet.Options{Symbols: style.Symbols, Layout: style.Layout})
	stamp(frames, faultLines(checked))
	files, missing, err := r.Picture.encoded(frames, c.Title, "", nil)
	for i := range files {
		files[i].Suffix = fmt.Sprintf("-%d-%02d", scriptNumber(c, list[0]), i+1)
	}
	out.Files, out.Remark = files, missingWords(missing)
	return out, err
}

// scriptNumber counts a script from 1.
func scriptNumber(c *circuit.Circuit, s *circuit.Script) int {
	for i := range c.Scripts {
		if &c.Scripts[i] == s {
			return i + 1
		}
	}
	return 1
}

// Contact draws the page that explains one timed contact, by any of its names.
func Contact(name string, picture Picture) (out Drawn, err error) {
	source := Source{Name: name}
	defer guard(source, &err)
	kind, ok := sheet.DecodeName(name)
	if !ok {
		return out, badInput("%q is no timed contact; the four are notc, ncto, noto and nctc, and their other names are understood", name)
	}
	p := sheet.Decoder(kind)
	files, missing, err := picture.encoded([]*page.Page{p}, p.Title, "", nil)
	out.Files, out.Remark = files, missingWords(missing)
	return out, err
}

// Symbols draws every symbol in both traditions, with its words.
func Symbols(paper string, picture Picture) (out Drawn, err error) {
	defer guard(Source{Name: "symbols"}, &err)
	place, ok := pick(paper, papers)
	if !ok {
		return out, badInput("there is no paper %q; %s", paper, choice(paper, papers, "papers"))
	}
	pages := sheet.SymbolPages(sheet.Options{Paper: sheet.Paper(place)})
	files, missing, err := picture.encoded(pages, "Symbols", "", nil)
	out.Files, out.Remark = files, missingWords(slices.Compact(missing))
	return out, err
}
