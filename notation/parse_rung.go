package notation

import (
	"strings"
	"unicode"

	"tarry/diag"
)

// rung reads: number ":" path "->" loads ["->" path].
func (p *parser) rung() node {
	t := p.next()
	n := &rungNode{at: t.at, number: p.whole(t, "a rung")}
	p.take(tokColon)
	n.path = p.topPath()
	if p.quiet {
		return n
	}
	if !p.take(tokArrow) {
		p.noArrow(n)
		return n
	}
	if t := p.peek(); t.kind == tokNet {
		p.next()
		n.tie = word{t.text, t.at}
		return n
	}
	p.loads(n)
	if !p.quiet && p.take(tokArrow) {
		if p.peek().kind == tokEnd {
			p.want("a contact behind the second arrow").
				Explain("Behind the second arrow stand contacts between the load and the right rail, for example an overload: -> F1.nc.")
			return n
		}
		n.back = p.topPath()
	}
	return n
}

// noArrow reports a rung without an arrow. Bare tags at its end are most
// likely its loads.
func (p *parser) noArrow(n *rungNode) {
	t := p.peek()
	if t.kind == tokWord {
		at := diag.Range{Start: t.at.Start, End: t.at.Start}
		p.r.report(codeMissingArrow, t.at, "no arrow stands before %s", shorten(t.text)).
			Explain("A rung's loads stand behind an arrow: 1: S1.no -> K1.").
			Offer(at, "-> ", "write -> "+shorten(t.text)+"?")
		p.loads(n)
		return
	}
	p.r.report(codeMissingLoad, n.at, "rung %s feeds nothing", shorten(p.text[n.at.Start:n.at.End])).
		Explain("A rung ends with an arrow and its loads: 1: S1.no -> K1.")
	p.skip()
}

// loads reads: load {"," load}.
func (p *parser) loads(n *rungNode) {
	if k := p.peek().kind; k == tokEnd || k == tokArrow {
		p.r.report(codeMissingLoad, p.toks[p.pos-1].at, "nothing stands behind the arrow").
			Explain("A rung feeds one or more loads: -> K1, or -> M1, KT2.")
		p.skip()
		return
	}
	for !p.quiet {
		tag, ok := p.wantTag("the tag of a load")
		if !ok {
			return
		}
		load := loadNode{tag: tag}
		if p.take(tokDot) {
			if load.part, ok = p.wantTag("the name of a coil, such as reset,"); !ok {
				return
			}
		}
		n.loads = append(n.loads, load)
		if t := p.peek(); t.kind == tokWord {
			at := diag.Range{Start: t.at.Start - 1, End: t.at.Start}
			at.Start = p.toks[p.pos-1].at.End
			p.r.report(codeUnexpected, t.at, "a comma is missing before %s", shorten(t.text)).
				Explain("Loads side by side are written with commas between them.").
				Offer(at, ", ", "write a comma?")
		} else if !p.take(tokComma) {
			return
		}
	}
}

// topPath reads a whole path. Branches without brackets are reported and read
// as if the brackets stood around all of it.
func (p *parser) topPath() pathNode {
	start := p.peek().at
	path := p.path(0)
	if p.peek().kind == tokShut && !p.quiet {
		p.r.report(codeBracket, p.peek().at, "this bracket closes nothing")
		p.skip()
	}
	if p.peek().kind != tokBar || p.quiet {
		return path
	}
	first := p.peek().at
	branches := []pathNode{path}
	for p.take(tokBar) {
		branches = append(branches, p.path(0))
	}
	whole := diag.Range{Start: start.Start, End: p.toks[max(p.pos-1, 0)].at.End}
	if !p.quiet {
		p.r.report(codeBareBar, first, "these branches have no brackets").
			Explain("Branches side by side stand in brackets, so that it is plain what belongs to them: S0.nc (S1.no | K1.no).").
			Offer(whole, "("+p.text[whole.Start:whole.End]+")", "put brackets around all of the path?")
	}
	return pathNode{{at: whole, branches: branches}}
}

// path reads items in series up to an arrow, a bar, a closing bracket, the end
// of the line, or a bare tag on a rung without an arrow.
func (p *parser) path(depth int) pathNode {
	var path pathNode
	for !p.quiet {
		switch t := p.peek(); t.kind {
		case tokEnd, tokArrow, tokBar, tokShut:
			return path
		case tokNet:
			p.next()
			path = append(path, itemNode{at: t.at, net: t.text})
		case tokWord:
			if p.peekAt(1).kind != tokDot && depth == 0 && !p.arrow {
				return path
			}
			if item, ok := p.contact(); ok {
				path = append(path, item)
			}
		case tokOpen:
			if item, ok := p.group(depth + 1); ok {
				path = append(path, item)
			}
		default:
			p.strange()
		}
	}
	return path
}

// strange reports something that is no item of a path and passes on to the
// next item.
func (p *parser) strange() {
	t := p.peek()
	name := p.name(t)
	if !strings.ContainsFunc(name, unicode.IsLetter) {
		name = "the sign " + name
	}
	d := p.r.report(codeUnexpected, t.at, "%s should not stand in a path", name)
	switch {
	case t.kind == tokComma:
		d.Explain("Contacts in series are written side by side without commas, branches with | between them.")
	case t.text == "-" || t.text == ">":
		d.Explain("Between a path and what it feeds stands ->.")
	}
	for {
		switch p.next(); p.peek().kind {
		case tokEnd, tokArrow, tokBar, tokShut, tokNet, tokWord, tokOpen:
			return
		}
	}
}

// contact reads: tag "." part.
func (p *parser) contact() (itemNode, bool) {
	tag := p.next()
	item := itemNode{at: tag.at, tag: word{tag.text, tag.at}}
	if !p.take(tokDot) {
		end := diag.Range{Start: tag.at.End, End: tag.at.End}
		p.r.report(codeMissingContact, tag.at, "which contact of %s is meant", shorten(tag.text)).
			Explain("In a path a tag is followed by a dot and the contact: %s.no or %s.nc.", shorten(tag.text), shorten(tag.text)).
			Offer(end, ".no", "did you mean "+shorten(tag.text)+".no?")
		return item, false
	}
	part := p.peek()
	if part.kind != tokWord {
		d := p.r.report(codeMissingContact, tag.at.To(p.toks[p.pos-1].at), "which contact of %s is meant", shorten(tag.text))
		d.Explain("Behind the dot stands the contact's name: no, nc, a timed contact or a selector's position.")
		return item, false
	}
	p.next()
	item.part = word{part.text, part.at}
	item.at.End = part.at.End
	return item, true
}

// group reads: "(" path {"|" path} ")".
func (p *parser) group(depth int) (itemNode, bool) {
	open := p.peek().at
	item := itemNode{at: open}
	if depth > MaxDepth {
		p.r.report(codeTooDeep, open, "brackets are nested more than %d deep", MaxDepth).
			Explain("What stands inside was not read. Give the inner part a name with @ and wire it on a rung of its own.")
		p.skip()
		return item, false
	}
	for more := true; more; {
		before := p.r.faults
		p.next() // the bracket or the bar
		branch := p.path(depth)
		if p.quiet {
			return item, false
		}
		end := p.peek()
		if len(branch) > 0 {
			item.branches = append(item.branches, branch)
		} else if p.r.faults == before {
			p.emptyBranch(open, end)
		}
		more = end.kind == tokBar
	}
	last := p.toks[p.pos-1].at
	if t := p.peek(); !p.take(tokShut) {
		p.r.report(codeBracket, open, "this bracket is not closed").
			Offer(diag.Range{Start: last.End, End: last.End}, ")", "write ) before "+p.name(t)+"?")
		return item, len(item.branches) > 0
	}
	item.at.End = p.toks[p.pos-1].at.End
	return item, len(item.branches) > 0
}

func (p *parser) emptyBranch(open diag.Range, end token) {
	if end.kind == tokBar || end.kind == tokShut {
		p.r.report(codeEmptyGroup, open.To(end.at), "a branch is empty").
			Explain("An empty branch would be a wire past the others. Put a contact into it or take it away.")
	}
}
