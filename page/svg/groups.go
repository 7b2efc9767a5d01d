package svg

import (
	"fmt"
	"strings"

	"tarry/page"
)

// Group is all that shows one thing, for a screen that replaces one group of a
// drawing and leaves the others.
type Group struct {
	// ID is the group's id in the document, with the prefix: the same for the
	// same Shows and different for others, whatever else is drawn. It is
	// empty for furniture.
	ID string
	// Class and Shows are what Encode writes as class and as data-shows, not
	// escaped: set them as attributes. Class is a valid class name, or empty.
	Class, Shows string
	// Body is the SVG inside the group, escaped.
	Body string
}

// Groups writes elements, which need not be those of a page, as one group for
// each thing shown. A group stands where the first of its elements does, so
// elements that something else must hide may not be apart from each other.
func Groups(elements []page.Element, opt Options) []Group {
	at := map[page.Shows]int{}
	var parts [][]page.Element
	var list []Group
	for _, e := range elements {
		i, ok := at[e.Shows]
		if !ok {
			i = len(list)
			at[e.Shows] = i
			list = append(list, groupOf(e.Shows, opt))
			parts = append(parts, nil)
		}
		parts[i] = append(parts[i], e)
	}
	w := &writer{opt: opt}
	for i := range list {
		w.Reset()
		w.run(parts[i])
		list[i].Body = w.String()
	}
	return list
}

// Runs writes a page's elements as Encode does, each run of elements that show the
// same thing as one group, in their order. A thing that is shown in several runs
// has several groups with ids of their own; furniture has groups too.
func Runs(p *page.Page, opt Options) []Group {
	w := &writer{opt: opt, used: map[string]bool{}}
	var list []Group
	for i := 0; i < len(p.Elements); {
		end := i + 1
		for end < len(p.Elements) && p.Elements[end].Shows == p.Elements[i].Shows {
			end++
		}
		s := p.Elements[i].Shows
		g := groupOf(s, opt)
		g.ID = w.id(s.ID + "_" + s.Class)
		w.Reset()
		w.run(p.Elements[i:end])
		g.Body = w.String()
		list = append(list, g)
		i = end
	}
	return list
}

func groupOf(s page.Shows, opt Options) Group {
	if s == (page.Shows{}) {
		return Group{}
	}
	g := Group{ID: exactly(opt.Prefix) + exactly(s.ID) + "_" + exactly(s.Class), Shows: page.Clean(s.ID)}
	if s.Class != "" {
		g.Class = name(s.Class)
	}
	return g
}

// exactly writes what a name does not allow as a number between underscores,
// so that no two texts come to the same id.
func exactly(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '-':
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}
