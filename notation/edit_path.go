package notation

import "tarry/diag"

// seat is the place of an item in a rung: in a path, which is the rung's own
// or a branch of the group in the seat up.
type seat struct {
	path   pathNode
	at     int
	up     *seat
	branch int // of the group up
	depth  int
}

func (s *seat) item() *itemNode { return &s.path[s.at] }

// samePath reports whether two seats stand in one path.
func samePath(a, b *seat) bool { return &a.path[0] == &b.path[0] }

// seats lists the seats of a rung's contacts in the order of
// RungSource.Contacts.
func (n *rungNode) seats() []*seat {
	var out []*seat
	var walk func(path pathNode, up *seat, branch, depth int)
	walk = func(path pathNode, up *seat, branch, depth int) {
		for i := range path {
			s := &seat{path, i, up, branch, depth}
			for b, inner := range path[i].branches {
				walk(inner, s, b, depth+1)
			}
			if path[i].branches == nil && path[i].net == "" {
				out = append(out, s)
			}
		}
	}
	walk(n.path, nil, 0, 0)
	walk(n.back, nil, 0, 0)
	return out
}

// contact finds a contact of a rung.
func (e *editor) contact(ch *Change, place int) (line int, n *rungNode, s *seat, err error) {
	line, n, err = e.soundRung(ch.Rung)
	if err != nil {
		return 0, nil, nil, err
	}
	seats := n.seats()
	if place < 0 || place >= len(seats) {
		return 0, nil, nil, refuse("rung %d has no such contact. The circuit may have changed meanwhile; choose the contact again", n.number)
	}
	return line, n, seats[place], nil
}

// holdArrow keeps the arrow of a rung in its column after the edits gathered
// since mark.
func (e *editor) holdArrow(line int, n *rungNode, mark int) {
	arrow, _ := e.first(line, tokArrow, 0)
	gap := diag.Range{Start: arrow.Start, End: arrow.Start}
	if len(n.path) > 0 {
		gap.Start = n.path[len(n.path)-1].at.End
	} else if colon, ok := e.first(line, tokColon, 0); ok {
		gap.Start = colon.End
	}
	for _, x := range e.edits[mark:] {
		if x.Start >= arrow.Start {
			return
		}
	}
	e.hold(line, gap, e.grown(mark), arrowAnchor)
}

// series puts a contact before or behind another one, or, for contact -1, at
// the end of the path.
func (e *editor) series(ch *Change) error {
	name, err := readContact(ch.New)
	if err != nil {
		return err
	}
	mark := len(e.edits)
	if ch.Contact == -1 {
		line, n, err := e.soundRung(ch.Rung)
		if err != nil {
			return err
		}
		e.append(line, n, name)
		e.holdArrow(line, n, mark)
		e.selected = name
		return nil
	}
	line, n, s, err := e.contact(ch, ch.Contact)
	if err != nil {
		return err
	}
	switch at := s.item().at; {
	case !ch.Before:
		e.replace(at.End, at.End, " "+name)
	case s.at == 0:
		e.replace(at.Start, at.Start, name+" ")
	default: // behind the one before, so that deleting it takes the same blank
		end := s.path[s.at-1].at.End
		text := " " + name
		if end == at.Start {
			text += " "
		}
		e.replace(end, end, text)
	}
	e.holdArrow(line, n, mark)
	e.selected = name
	return nil
}

// append puts a contact at the end of a rung's path, which may be empty.
func (e *editor) append(line int, n *rungNode, name string) {
	if len(n.path) > 0 {
		end := n.path[len(n.path)-1].at.End
		e.replace(end, end, " "+name)
		return
	}
	colon, _ := e.first(line, tokColon, 0)
	end := colon.End
	if arrow, ok := e.first(line, tokArrow, 0); ok && arrow.Start == end {
		name += " "
	}
	e.replace(end, end, " "+name)
}

// parallel puts a branch around a stretch of a path. Where the stretch is a
// group, or all of a branch, that group gets one branch more.
func (e *editor) parallel(ch *Change) error {
	name, err := readContact(ch.New)
	if err != nil {
		return err
	}
	line, n, from, err := e.contact(ch, ch.Contact)
	if err != nil {
		return err
	}
	_, _, to, err := e.contact(ch, max(ch.Contact, ch.Upto))
	if err != nil {
		return err
	}
	if from, to, err = stretch(from, to); err != nil {
		return err
	}
	mark := len(e.edits)
	start, end := from.item().at.Start, to.item().at.End
	if b := to.item().branches; from.at == to.at && len(b) > 1 {
		inner := b[len(b)-1]
		end = inner[len(inner)-1].at.End
		e.replace(end, end, " | "+name)
	} else if from.up != nil && len(from.up.item().branches) > 1 && from.at == 0 && to.at == len(to.path)-1 {
		e.replace(end, end, " | "+name)
	} else {
		e.replace(start, start, "(")
		e.replace(end, end, " | "+name+")")
	}
	e.holdArrow(line, n, mark)
	e.selected = name
	return nil
}

// stretch brings two seats into one path. A seat may stand for its group only
// if it is at the end of a branch, where the group's own end is.
func stretch(from, to *seat) (*seat, *seat, error) {
	for !samePath(from, to) {
		switch {
		case from.depth >= to.depth && from.up != nil && from.at == 0:
			from = from.up
		case to.depth > 0 && to.depth >= from.depth && to.at == len(to.path)-1:
			to = to.up
		default:
			return nil, nil, refuse("these contacts are not one stretch of the same path. Choose neighbours in series within one branch, or whole groups")
		}
	}
	if from.at > to.at {
		return nil, nil, refuse("the stretch ends before it begins. Choose its contacts from left to right")
	}
	return from, to, nil
}

// replaceContact writes another contact in the place of one.
func (e *editor) replaceContact(ch *Change) error {
	name, err := readContact(ch.New)
	if err != nil {
		return err
	}
	line, n, s, err := e.contact(ch, ch.Contact)
	if err != nil {
		return err
	}
	mark := len(e.edits)
	e.replace(s.item().at.Start, s.item().at.End, name)
	e.holdArrow(line, n, mark)
	e.selected = name
	return nil
}

// deleteContact takes a contact away, and what of brackets and branches it
// leaves without sense. A rung may be left without contacts: its load then
// stands between the rails.
func (e *editor) deleteContact(ch *Change) error {
	line, n, s, err := e.contact(ch, ch.Contact)
	if err != nil {
		return err
	}
	mark := len(e.edits)
	if err := e.take(n, s); err != nil {
		return err
	}
	e.holdArrow(line, n, mark)
	return nil
}

// take takes the item of a seat away.
func (e *editor) take(n *rungNode, s *seat) error {
	at := s.item().at
	switch {
	case len(s.path) > 1:
		if s.up != nil && len(s.up.item().branches) > 1 && contacts(s.path) == contacts(s.path[s.at:s.at+1]) {
			return s.wire(e)
		}
		if s.at > 0 {
			e.cut(s.path[s.at-1].at.End, at.End)
		} else {
			e.cut(at.Start, s.path[1].at.Start)
		}
	case s.up == nil && len(n.back) > 0 && &s.path[0] == &n.back[0]:
		e.cut(n.loads[len(n.loads)-1].at().End, at.End)
	case s.up == nil:
		e.cut(at.Start, at.End)
	default:
		return e.takeBranch(n, s)
	}
	return nil
}

// takeBranch takes away the branch that holds nothing but the seat's item.
func (e *editor) takeBranch(n *rungNode, s *seat) error {
	group := s.up.item()
	b := group.branches
	switch len(b) {
	case 1:
		return e.take(n, s.up)
	case 2:
		rest := b[1-s.branch]
		if contacts(rest) == 0 {
			return s.wire(e)
		}
		e.cut(group.at.Start, rest[0].at.Start)
		e.cut(rest[len(rest)-1].at.End, group.at.End)
		return nil
	}
	if s.branch > 0 {
		before := b[s.branch-1]
		e.cut(before[len(before)-1].at.End, s.item().at.End)
	} else {
		e.cut(s.item().at.Start, b[1][0].at.Start)
	}
	return nil
}

// wire refuses to leave a wire where contacts were.
func (s *seat) wire(e *editor) error {
	at := s.item().at
	return refuse("without %s only a named net would be left of its branch, a wire past the others. Change the branch in the text", e.text[at.Start:at.End])
}

// contacts counts the contacts of a path.
func contacts(path pathNode) int {
	count := 0
	path.each(func(*itemNode) { count++ })
	return count
}
