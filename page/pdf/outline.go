package pdf

import (
	"fmt"

	"tarry/page"
)

func checkOutline(list []Bookmark, pages int) error {
	for _, b := range list {
		if b.Page < 0 || b.Page >= pages {
			return fmt.Errorf("bookmark %q leads to page %d of %d", b.Title, b.Page+1, pages)
		}
		if err := checkOutline(b.Below, pages); err != nil {
			return err
		}
	}
	return nil
}

// outline writes the bookmarks, all of them folded out.
func (d *document) outline(pages []*page.Page) {
	list := d.opt.Outline
	if list == nil {
		for i, p := range pages {
			list = append(list, Bookmark{Title: p.Title, Page: i})
		}
	}
	d.bookmarks = d.reserve()
	first, last, count := d.bookmarkList(list, d.bookmarks)
	body := "<< /Type /Outlines"
	if count > 0 {
		body += fmt.Sprintf(" /First %d 0 R /Last %d 0 R /Count %d", first, last, count)
	}
	d.set(d.bookmarks, body+" >>")
}

// bookmarkList writes the bookmarks below a parent and returns the numbers of
// the first and the last, and how many there are with all those below them.
func (d *document) bookmarkList(list []Bookmark, parent int) (first, last, count int) {
	numbers := make([]int, len(list))
	for i := range list {
		numbers[i] = d.reserve()
	}
	for i, b := range list {
		title := b.Title
		if title == "" {
			title = fmt.Sprintf("Page %d", b.Page+1)
		}
		body := fmt.Sprintf("<< /Title %s /Parent %d 0 R /Dest [%d 0 R /Fit]", wordString(title), parent, d.kids[b.Page])
		if i > 0 {
			body += fmt.Sprintf(" /Prev %d 0 R", numbers[i-1])
		}
		if i+1 < len(list) {
			body += fmt.Sprintf(" /Next %d 0 R", numbers[i+1])
		}
		if f, l, n := d.bookmarkList(b.Below, numbers[i]); n > 0 {
			body += fmt.Sprintf(" /First %d 0 R /Last %d 0 R /Count %d", f, l, n)
			count += n
		}
		d.set(numbers[i], body+" >>")
	}
	if len(list) == 0 {
		return 0, 0, 0
	}
	return numbers[0], numbers[len(numbers)-1], count + len(list)
}
