package notation

import (
	"sort"
	"strconv"
	"strings"

	"tarry/diag"
)

// rung finds the line of rung i of the file.
func (e *editor) rung(i int) (int, *rungNode, error) {
	if i < 0 || i >= len(e.file.Rungs) {
		return 0, nil, refuse("there is no such rung. The circuit may have changed meanwhile; choose the rung again")
	}
	start := e.file.Rungs[i].At.Start
	l := sort.Search(len(e.tree.lines), func(k int) bool { return e.tree.lines[k].at.Start >= start })
	return l, e.tree.lines[l].node.(*rungNode), nil
}

// soundRung does the same for a change within the rung, which a fault in its
// line forbids.
func (e *editor) soundRung(i int) (int, *rungNode, error) {
	l, n, err := e.rung(i)
	if err == nil && e.tree.lines[l].faulty {
		err = refuse("the line of rung %d has a fault. Cure it in the text first", n.number)
	}
	if err == nil {
		e.selectRung(n)
	}
	return l, n, err
}

func (e *editor) selectRung(n *rungNode) { e.selected = "rung " + strconv.Itoa(n.number) }

// addRung writes a new rung in the way of the one that it follows.
func (e *editor) addRung(ch *Change) error {
	after, count := ch.After, len(e.file.Rungs)
	if after < -1 || after >= count {
		after = count - 1
	}
	made, err := readOne("1: " + ch.Path + " -> " + ch.Loads)
	if err != nil {
		return err
	}
	n, ok := made.(*rungNode)
	if !ok || len(n.loads) == 0 && n.tie.text == "" {
		return refuse("a rung needs a path and a load, for example S1.no and K1")
	}
	if n.number = e.freeNumber(after); n.number == 0 {
		return refuse("no number is left for a rung")
	}
	e.selectRung(n)
	if count == 0 {
		at := last[*deviceNode](e.tree)
		if at < 0 {
			at = e.headEnd()
		}
		e.insertBlock(at, e.rungLine(-1, n))
		return nil
	}
	if after < 0 {
		l, _, err := e.rung(0)
		if err == nil {
			e.insert(e.slot(l)-1, e.rungLine(l, n))
		}
		return err
	}
	l, _, err := e.rung(after)
	if err == nil {
		e.insert(l, e.rungLine(l, n))
	}
	return err
}

// freeNumber returns a number for a rung behind rung number after of the file,
// -1 for the first: one that fits in between, else one above the highest.
func (e *editor) freeNumber(after int) int {
	used, highest := map[int]bool{}, 0
	for i := range e.tree.lines {
		if n, ok := e.tree.lines[i].node.(*rungNode); ok {
			used[n.number] = true
			highest = max(highest, n.number)
		}
	}
	rungs := e.file.Circuit.Rungs
	low, high := 0, 0
	if after >= 0 {
		low = rungs[after].Number
	}
	if after+1 < len(rungs) {
		high = rungs[after+1].Number
	}
	if after < 0 && high > 1 {
		low = high - 2
	}
	if low+1 < high && !used[low+1] {
		return low + 1
	}
	if highest < 99999 {
		return highest + 1
	}
	for n := 1; n <= 99999; n++ {
		if !used[n] {
			return n
		}
	}
	return 0
}

// rungLine writes a rung in the way of line i, in the usual columns if i is -1.
func (e *editor) rungLine(i int, n *rungNode) string {
	cells := n.cells().cells
	like, _ := e.node(i).(*rungNode)
	if like == nil || e.tree.lines[i].faulty {
		return cells[0] + "  " + cells[1] + strings.Repeat(" ", 3*min(1, len(cells[1]))) + cells[2]
	}
	line := e.text[e.start(i):like.at.Start] + cells[0]
	arrow, _ := e.first(i, tokArrow, 0)
	colon, _ := e.first(i, tokColon, 0)
	path := diag.Range{Start: colon.End, End: arrow.Start}
	if len(like.path) > 0 {
		path = diag.Range{Start: like.path[0].at.Start, End: like.path[len(like.path)-1].at.End}
	}
	tail := e.text[arrow.Start:arrow.End] + strings.TrimPrefix(cells[2], "->")
	if cells[1] != "" {
		line += e.gapLike(i, diag.Range{Start: colon.End, End: path.Start}, line) + cells[1]
	}
	return line + e.gapLike(i, diag.Range{Start: path.End, End: arrow.Start}, line) + tail
}

// slot returns the first of the remark lines that stand directly above line l,
// or l.
func (e *editor) slot(l int) int {
	for l > 0 && e.isRemark(l-1) {
		l--
	}
	return l
}

// moveRung moves a rung, with the remarks directly above it, to another place
// in the order. The rungs in between move up or down by one; what stands
// between rungs stays.
func (e *editor) moveRung(ch *Change) error {
	l, n, err := e.rung(ch.Rung)
	if err != nil {
		return err
	}
	if _, _, err := e.rung(ch.To); err != nil {
		return refuse("there is no place %d among the rungs", ch.To+1)
	}
	e.selectRung(n)
	step := 1
	if ch.To < ch.Rung {
		step = -1
	}
	moved := e.slotText(l)
	for i := ch.Rung; i != ch.To; i += step {
		here, _, _ := e.rung(i)
		there, _, _ := e.rung(i + step)
		e.replace(e.start(e.slot(here)), e.tree.lines[here].at.End, e.slotText(there))
	}
	there, _, _ := e.rung(ch.To)
	if ch.To != ch.Rung {
		e.replace(e.start(e.slot(there)), e.tree.lines[there].at.End, moved)
	}
	return nil
}

// slotText is a rung's line with the remarks directly above it, without the
// last line end.
func (e *editor) slotText(l int) string {
	text := e.text[e.start(e.slot(l)):e.tree.lines[l].at.End]
	if e.nl == "\r" {
		return strings.ReplaceAll(text, "\n", "\r")
	}
	return text
}

// deleteRung takes a rung's line away with its remark; lines above stay.
func (e *editor) deleteRung(ch *Change) error {
	l, _, err := e.rung(ch.Rung)
	if err == nil {
		e.deleteLine(l)
	}
	return err
}

// readLoad reads a load from outside the text.
func readLoad(text string) (string, error) {
	toks, err := scanWord(text, "load", "a tag such as K1, or with the part, K2.reset")
	return toks, err
}

// readContact reads a contact from outside the text.
func readContact(text string) (string, error) {
	name, err := scanWord(text, "contact", "a tag, a dot and the contact, for example S1.no")
	if err == nil && !strings.Contains(name, ".") {
		err = refuse("which contact of %s is meant? Write it behind a dot, for example %s.no", name, name)
	}
	return name, err
}

// scanWord reads a tag, perhaps with a dot and a word.
func scanWord(text, what, how string) (string, error) {
	r := &reporter{}
	toks, comment := scanLine(text, 0, len(text), r, nil)
	kinds := make([]tokenKind, 0, 4)
	for _, t := range toks {
		kinds = append(kinds, t.kind)
	}
	alone := len(kinds) == 2 && kinds[0] == tokWord
	dotted := len(kinds) == 4 && kinds[0] == tokWord && kinds[1] == tokDot && kinds[2] == tokWord
	if r.faults > 0 || comment != "" || !alone && !dotted {
		return "", refuse("%q is no %s. Write %s", shorten(text), what, how)
	}
	if alone {
		return toks[0].text, nil
	}
	return toks[0].text + "." + toks[2].text, nil
}

// load finds a load of a rung: its place in the tree.
func (e *editor) load(ch *Change) (n *rungNode, place int, err error) {
	_, n, err = e.soundRung(ch.Rung)
	if err != nil {
		return nil, 0, err
	}
	places := e.file.Rungs[ch.Rung].Loads
	if ch.Load < 0 || ch.Load >= len(places) {
		return nil, 0, refuse("rung %d has no such load. The circuit may have changed meanwhile; choose the load again", n.number)
	}
	for i, load := range n.loads {
		if load.at() == places[ch.Load] {
			place = i
		}
	}
	return n, place, nil
}

// addLoad puts a load behind the others of a rung.
func (e *editor) addLoad(ch *Change) error {
	_, n, err := e.soundRung(ch.Rung)
	if err != nil {
		return err
	}
	name, err := readLoad(ch.New)
	if err != nil {
		return err
	}
	if len(n.loads) == 0 {
		return refuse("rung %d joins two nets and feeds nothing. Put the load on a rung of its own", n.number)
	}
	end := n.loads[len(n.loads)-1].at().End
	e.replace(end, end, ", "+name)
	e.selected = name
	return nil
}

// replaceLoad writes another load in the place of one.
func (e *editor) replaceLoad(ch *Change) error {
	n, i, err := e.load(ch)
	if err != nil {
		return err
	}
	name, err := readLoad(ch.New)
	if err != nil {
		return err
	}
	at := n.loads[i].at()
	e.replace(at.Start, at.End, name)
	e.selected = name
	return nil
}

// deleteLoad takes a load away, but not the last one.
func (e *editor) deleteLoad(ch *Change) error {
	n, i, err := e.load(ch)
	switch {
	case err != nil:
		return err
	case len(n.loads) == 1:
		return refuse("%s is the only load of rung %d, and a rung must feed something. Delete the rung instead",
			e.text[n.loads[0].at().Start:n.loads[0].at().End], n.number)
	case i > 0:
		e.replace(n.loads[i-1].at().End, n.loads[i].at().End, "")
	default:
		e.replace(n.loads[0].at().Start, n.loads[1].at().Start, "")
	}
	return nil
}
