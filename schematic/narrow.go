package schematic

import "tarry/page"

// A telephone shows a drawing about 90 mm wide at full size. What a sheet of
// paper spends on air would make the letters there too small to read, so a
// drawing for less than a usual page has smaller margins, folds its words and
// its rungs more, and may be as narrow as it was asked to be. The sizes of
// letters, symbols and strokes never change.

// measures are the lengths that depend on how wide the page is.
type measures struct {
	edge       page.Unit // around the drawing
	numberRoom page.Unit // at least, left of the left rail
	rightRoom  page.Unit // at least, right of the right rail
	wordFold   page.Unit // labels are folded to this width
	placesWide page.Unit // a line of rung numbers
	stub       page.Unit // least wire between a symbol and its cell's edge, on a rung
	numberStub page.Unit // and beside the widest number of a wire
	rowHigh    page.Unit // about what a row takes
	leastRows  int       // groups and loads are never parted into fewer
	leastCells int       // rungs are never folded shorter
	leastWide  page.Unit // of the page
}

// narrow reports whether less than a usual page was asked for.
func (o *Options) narrow() bool { return o.Width > 0 && o.Width < leastWide }

// measures returns the lengths for the width that was asked for.
func (o *Options) measures() measures {
	if !o.narrow() {
		return measures{edge, numberRoom, 600, wordFold, placesWide, rungStub, 150, usualRow, 3, leastCells, leastWide}
	}
	m := measures{140, 600, 400, 1700, 700, 300, 130, usualRow, 3, 1, o.Width}
	if o.Layout == Paths {
		m.rowHigh, m.leastRows = 3300, 1
	}
	return m
}
