package notation

import (
	"fmt"
	"strings"

	"tarry/diag"
)

// parser reads the tokens of one line. When something is missing it reports
// once and passes over the rest of the line or of the part; the next line
// starts afresh.
type parser struct {
	r    *reporter
	text string
	toks []token
	pos  int
	// quiet is set once the rest of the line can only bring follow-on faults.
	quiet bool
	arrow bool // the line holds an arrow
}

// parse builds the tree of a text.
func parse(text string, r *reporter) *tree {
	p := &parser{r: r, text: text}
	t := &tree{text: text}
	for start := 0; start < len(text); {
		end := len(text)
		next := end
		if i := strings.IndexByte(text[start:], '\n'); i >= 0 {
			end, next = start+i, start+i+1
		}
		t.lines = append(t.lines, p.line(start, end))
		start = next
	}
	return t
}

// line reads text[start:end].
func (p *parser) line(start, end int) line {
	end = start + len(strings.TrimRightFunc(p.text[start:end], isSpace))
	l := line{at: diag.Range{Start: start, End: end}}
	p.r.within = l.at
	before := p.r.faults
	p.toks, l.comment = scanLine(p.text, start, end, p.r, p.toks)
	p.pos, p.quiet, p.arrow = 0, false, false
	for _, t := range p.toks {
		p.arrow = p.arrow || t.kind == tokArrow
	}
	if p.peek().kind != tokEnd {
		l.node = p.statement()
		p.finish()
	}
	l.faulty = p.r.faults > before
	return l
}

func (p *parser) peek() token { return p.toks[p.pos] }

func (p *parser) peekAt(n int) token { return p.toks[min(p.pos+n, len(p.toks)-1)] }

func (p *parser) next() token {
	t := p.toks[p.pos]
	if t.kind != tokEnd {
		p.pos++
	}
	return t
}

// take takes the next token if it is of the kind.
func (p *parser) take(kind tokenKind) bool {
	if p.peek().kind != kind {
		return false
	}
	p.next()
	return true
}

// takeWord takes the next token if it is the word.
func (p *parser) takeWord(text string) bool {
	if t := p.peek(); t.kind != tokWord || t.text != text {
		return false
	}
	p.next()
	return true
}

// skip passes over the rest of the line in silence.
func (p *parser) skip() {
	p.pos, p.quiet = len(p.toks)-1, true
}

// finish reports what stands behind the end of a line's meaning.
func (p *parser) finish() {
	if t := p.peek(); t.kind != tokEnd && !p.quiet {
		rest := diag.Range{Start: t.at.Start, End: p.toks[len(p.toks)-2].at.End}
		p.r.report(codeTrailing, rest, "%s stands behind the end of what this line says", p.name(t)).
			Explain("A remark begins with #.")
	}
}

// name describes a token in a message.
func (p *parser) name(t token) string {
	switch t.kind {
	case tokEnd:
		return "the end of the line"
	case tokString:
		return "a text in quotes"
	case tokNet:
		return "the net @" + shorten(t.text)
	}
	return shorten(t.text)
}

// shorten keeps a long word of hostile text out of a message.
func shorten(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}

// want reports that something else was expected at the next token, and gives
// up the line.
func (p *parser) want(what string) *diag.Diagnostic {
	t := p.peek()
	var d *diag.Diagnostic
	if !p.quiet {
		d = p.r.report(codeUnexpected, t.at, "%s is missing here", what)
		if t.kind != tokEnd {
			if d != nil {
				d.Summary = fmt.Sprintf("%s should stand here, not %s", what, p.name(t))
			}
		}
	}
	p.skip()
	return d
}

// wantTag takes a word that names a device.
func (p *parser) wantTag(what string) (word, bool) {
	if t := p.peek(); t.kind == tokWord {
		p.next()
		return word{t.text, t.at}, true
	}
	p.want(what)
	return word{}, false
}

// wantOneOf takes one of the words and returns its place in the list, or -1.
func (p *parser) wantOneOf(words ...string) int {
	t := p.peek()
	for i, w := range words {
		if t.kind == tokWord && t.text == w {
			p.next()
			return i
		}
	}
	d := p.want(choice(words))
	if t.kind == tokWord {
		p.r.offerNearest(d, t.at, t.text, words)
	}
	return -1
}

// choice joins words as a sentence does: a, b or c.
func choice(words []string) string { return join(words, "or") }

// list joins words as a sentence does: a, b and c.
func list(words []string) string { return join(words, "and") }

func join(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " " + last + " " + words[n-1]
}
