// Package pdf writes pages as one vector PDF file with its fonts in it.
package pdf

// The file is written from nothing but the pages and the options: no wall
// clock, no map order, so the same input gives the same bytes. A page's content
// keeps the page's own coordinates, whole 1/100 mm with Y running down; one
// transformation at its head turns them into points. The fonts are Go Regular
// and Go Bold, the ones that page.Width was measured from, cut down to the
// glyphs in use. A character of a text is written under a number of its own
// (its CID), which leads to its glyph, to the width that page.Width gives it,
// and back to the character, so that words can be found and copied.
//
// pdf.go checks and puts together, paper.go places a page on a sheet, paint.go
// draws, font.go numbers the characters, subset.go cuts the fonts down,
// outline.go writes the bookmarks, file.go the objects and their table.

import (
	"errors"
	"fmt"
	"time"

	"tarry/page"
)

// Options are the choices that a caller has. The zero value is right for a
// file of pages of their own size, in colour, with a bookmark for each.
type Options struct {
	// Title and Author are the document's; an empty one is left out.
	Title, Author string
	// Date is said to be when the file was made and last changed. The zero
	// value is DefaultDate.
	Date time.Time
	// Paper is the sheet that each page is placed on. The zero value is a
	// sheet of the page's own size.
	Paper Paper
	// Mono draws in black and grey only.
	Mono bool
	// Outline are the bookmarks; nil is one for each page, by its title.
	Outline []Bookmark
}

// DefaultDate is the date of a file for which none is given.
var DefaultDate = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// Bookmark is an entry of the list beside the pages that leads to one of them.
type Bookmark struct {
	Title string
	Page  int // counted from 0
	Below []Bookmark
}

// Result is a finished file.
type Result struct {
	Bytes []byte
	// Missing are the characters that the fonts have no glyph for, each once,
	// in order. A box stands in the place of each; searching finds it all the
	// same.
	Missing []rune
	// Scale is that of the page that was scaled down most to fit its sheet; 1
	// if none was. What a page says about its own scale only holds at 1.
	Scale float64
}

// maxSide is the longest side that a PDF page may have (ISO 32000-1, annex C:
// 14,400 points) in 1/100 mm.
const maxSide = 508000

// Encode returns the pages as a PDF file, one sheet for each. Errors: no page
// at all, a page or sheet without an area or with a side of more than 5080 mm,
// a bookmark of a page that there is not.
func Encode(pages []*page.Page, opt Options) (Result, error) {
	if err := check(pages, opt); err != nil {
		return Result{}, err
	}
	d := newDocument(opt)
	for _, p := range pages {
		d.addPage(p)
	}
	d.outline(pages)
	resources, missing := d.fonts.write(&d.file)
	d.set(d.resources, fmt.Sprintf("<< /Font << %s >> >>", resources))
	d.head()
	return Result{Bytes: d.bytes(d.catalog, d.info), Missing: missing, Scale: d.scale}, nil
}

func check(pages []*page.Page, opt Options) error {
	if len(pages) == 0 {
		return errors.New("a PDF file needs at least one page")
	}
	for i, p := range pages {
		switch {
		case p.Width <= 0 || p.Height <= 0:
			return fmt.Errorf("page %d has no area: %v by %v mm", i+1, p.Width, p.Height)
		case opt.Paper == Own && (p.Width > maxSide || p.Height > maxSide):
			return fmt.Errorf("page %d is %v by %v mm; a PDF page has sides of at most 5080 mm", i+1, p.Width, p.Height)
		}
	}
	if opt.Paper > Letter {
		return fmt.Errorf("there is no paper number %d", opt.Paper)
	}
	return checkOutline(opt.Outline, len(pages))
}

// document is a file in the making.
type document struct {
	file
	opt   Options
	fonts *fonts
	kids  []int   // the object numbers of the pages
	scale float64 // the smallest
	// The numbers of the objects that others point to.
	catalog, tree, info, resources, bookmarks int
}

func newDocument(opt Options) *document {
	d := &document{opt: opt, fonts: newFonts(), scale: 1}
	d.catalog, d.tree, d.info, d.resources = d.reserve(), d.reserve(), d.reserve(), d.reserve()
	return d
}

// addPage writes one page's content and the sheet that it stands on.
func (d *document) addPage(p *page.Page) {
	place := d.opt.Paper.place(p)
	d.scale = min(d.scale, place.scale)
	w := newPainter(d.fonts, d.opt.Mono)
	w.begin(place)
	for _, e := range p.Elements {
		w.element(e)
	}
	content := d.reserve()
	d.setStream(content, "", w.Bytes())
	n := d.reserve()
	d.set(n, fmt.Sprintf("<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Resources %d 0 R /Contents %d 0 R >>",
		d.tree, number(points(place.width), 3), number(points(place.height), 3), d.resources, content))
	d.kids = append(d.kids, n)
}

// head writes what stands at the head of the document: the list of its pages,
// what it is called, and where all that is found.
func (d *document) head() {
	kids := ""
	for _, n := range d.kids {
		kids += fmt.Sprintf("%d 0 R ", n)
	}
	d.set(d.tree, fmt.Sprintf("<< /Type /Pages /Count %d /Kids [%s] >>", len(d.kids), kids))
	d.set(d.catalog, fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R /Outlines %d 0 R /PageMode /UseOutlines"+
		" /ViewerPreferences << /DisplayDocTitle true >> >>", d.tree, d.bookmarks))
	date := d.opt.Date
	if date.IsZero() {
		date = DefaultDate
	}
	stamp := date.UTC().Format("(D:20060102150405Z)")
	info := ""
	if d.opt.Title != "" {
		info += " /Title " + wordString(d.opt.Title)
	}
	if d.opt.Author != "" {
		info += " /Author " + wordString(d.opt.Author)
	}
	d.set(d.info, fmt.Sprintf("<<%s /Producer (tarry) /CreationDate %s /ModDate %s >>", info, stamp, stamp))
}
