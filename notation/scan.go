package notation

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"tarry/diag"
)

type tokenKind uint8

const (
	tokEnd    tokenKind = iota // of the line
	tokWord                    // tags, kinds, names
	tokNumber                  // 12 or 0.5
	tokString
	tokNet // @name, the @ included
	tokArrow
	tokDot
	tokDots // ..
	tokColon
	tokComma
	tokOpen
	tokShut
	tokBar
	tokPlusMinus
	tokMinus
	tokPercent
	tokBad // reported; never reaches the parser
)

// token is one word or sign. Text is its value: of a string what stands
// between the quotes, of a net the name without @.
type token struct {
	kind tokenKind
	at   diag.Range
	text string
}

// scanner cuts one line into tokens.
type scanner struct {
	text    string
	pos     int
	end     int
	r       *reporter
	tokens  []token
	comment string
	afterNo bool // the token before touches this place and is a number
}

// scanLine cuts text[start:end], which holds no line end, into tokens, the
// last of them tokEnd. A comment is returned apart, with its #.
func scanLine(text string, start, end int, r *reporter, buffer []token) (tokens []token, comment string) {
	s := &scanner{text: text, pos: start, end: end, r: r, tokens: buffer[:0]}
	for s.space(); s.pos < s.end; s.space() {
		if s.text[s.pos] == '#' {
			s.comment = strings.TrimRightFunc(s.text[s.pos:s.end], isSpace)
			s.checkComment()
			break
		}
		s.token()
	}
	last := diag.Range{Start: s.pos, End: s.pos}
	if n := len(s.tokens); n > 0 {
		last = diag.Range{Start: s.tokens[n-1].at.End, End: s.tokens[n-1].at.End}
	}
	return append(s.tokens, token{kind: tokEnd, at: last}), s.comment
}

func isSpace(r rune) bool { return unicode.IsSpace(r) || r == '\ufeff' }

func (s *scanner) space() {
	for s.pos < s.end {
		r, n := utf8.DecodeRuneInString(s.text[s.pos:s.end])
		if !isSpace(r) {
			return
		}
		s.pos += n
		s.afterNo = false
	}
}

func (s *scanner) add(kind tokenKind, length int) {
	at := diag.Range{Start: s.pos, End: s.pos + length}
	s.tokens = append(s.tokens, token{kind, at, s.text[at.Start:at.End]})
	s.pos = at.End
	s.afterNo = kind == tokNumber
}

var signs = []struct {
	text string
	kind tokenKind
}{
	{"->", tokArrow}, {"→", tokArrow}, {"..", tokDots}, {"+-", tokPlusMinus}, {"±", tokPlusMinus},
	{".", tokDot}, {":", tokColon}, {",", tokComma}, {"(", tokOpen}, {")", tokShut}, {"|", tokBar},
	{"-", tokMinus}, {"−", tokMinus}, {"%", tokPercent},
}

// token scans one token at a place that is neither space nor comment.
func (s *scanner) token() {
	rest := s.text[s.pos:s.end]
	r, _ := utf8.DecodeRuneInString(rest)
	switch {
	case r == '"' || isCurly(r):
		s.quoted(r)
	case r == '@':
		s.net()
	case isDigit(r):
		s.add(tokNumber, numberLength(rest))
	case unicode.IsLetter(r):
		s.word(rest)
	default:
		for _, sign := range signs {
			if strings.HasPrefix(rest, sign.text) {
				s.add(sign.kind, len(sign.text))
				return
			}
		}
		s.bad()
	}
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// isCurly reports whether r is a quotation mark that a phone puts in the place
// of a straight one.
func isCurly(r rune) bool { return r == '“' || r == '”' || r == '„' }

func numberLength(s string) int {
	n := 0
	for n < len(s) && isDigit(rune(s[n])) {
		n++
	}
	if n+1 < len(s) && s[n] == '.' && isDigit(rune(s[n+1])) {
		for n++; n < len(s) && isDigit(rune(s[n])); n++ {
		}
	}
	return n
}

// word scans a word. One that touches a number takes letters only, so that
// 1min30s is four tokens.
func (s *scanner) word(rest string) {
	if !s.afterNo {
		s.add(tokWord, nameLength(rest))
		return
	}
	n := strings.IndexFunc(rest, func(r rune) bool { return !unicode.IsLetter(r) })
	if n < 0 {
		n = len(rest)
	}
	s.add(tokWord, n)
}

// nameLength is the length of a run of letters, digits, _, - and +, without
// the - of an arrow and the + of a +-.
func nameLength(s string) int {
	for i, r := range s {
		switch {
		case unicode.IsLetter(r), isDigit(r), r == '_':
		case r == '-' && !strings.HasPrefix(s[i+1:], ">"):
		case r == '+' && (strings.HasPrefix(s[i+1:], "->") || !strings.HasPrefix(s[i+1:], "-")):
		default:
			return i
		}
	}
	return len(s)
}

func (s *scanner) net() {
	n := nameLength(s.text[s.pos+1 : s.end])
	if n == 0 {
		s.r.report(codeUnexpected, diag.Range{Start: s.pos, End: s.pos + 1}, "@ without a name").
			Explain("A named net is written @ and the name without a space, for example @w6.")
		s.pos++
		return
	}
	s.add(tokNet, n+1)
	last := &s.tokens[len(s.tokens)-1]
	last.text = last.text[1:]
}

// quoted scans a string. A straight quote ends at the next straight one, a
// curly quote at the next of any form.
func (s *scanner) quoted(quote rune) {
	start := s.pos
	from := start + utf8.RuneLen(quote)
	for i, r := range s.text[from:s.end] {
		if r == '"' || (quote != '"' && isCurly(r)) {
			to := from + i
			s.str(start, from, to, to+utf8.RuneLen(r))
			return
		}
	}
	to := from + len(strings.TrimRightFunc(s.text[from:s.end], isSpace))
	s.r.report(codeUnclosed, diag.Range{Start: start, End: to}, "the text in quotes has no end").
		Explain("A text in quotes ends on the line on which it begins.").
		Offer(diag.Range{Start: to, End: to}, `"`, `write " at the end?`)
	s.str(start, from, to, s.end)
}

func (s *scanner) str(start, from, to, end int) {
	value := s.text[from:to]
	s.tokens = append(s.tokens, token{tokString, diag.Range{Start: start, End: end}, value})
	s.pos, s.afterNo = end, false
	for i, r := range value {
		size := utf8.RuneLen(r)
		if r == utf8.RuneError {
			_, size = utf8.DecodeRuneInString(value[i:])
		}
		at := diag.Range{Start: from + i, End: from + i + size}
		switch {
		case r == utf8.RuneError && size == 1:
			s.invalid(at)
			return
		case isControl(r):
			s.r.report(codeControl, at, "a control character stands in the text in quotes").
				Explain("A drawing cannot show it. Tabs and line ends count as control characters.").
				Offer(at, " ", "write a space instead?")
			return
		}
	}
}

// isControl also tells the characters that turn the direction of writing, and
// those that some programs take for a line end.
func isControl(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' ||
		(r >= '\u202a' && r <= '\u202e') || (r >= '\u2066' && r <= '\u2069')
}

func (s *scanner) invalid(at diag.Range) {
	if s.r.notUTF8 { // an old encoding shows at every accented letter
		s.r.faults++
		return
	}
	s.r.notUTF8 = true
	s.r.report(codeNotUTF8, at, "the text is not UTF-8 here").
		Explain("Save the file as UTF-8. In other encodings accented letters and signs are lost.")
}

func (s *scanner) checkComment() {
	if !utf8.ValidString(s.comment) {
		bad := strings.IndexRune(s.comment, utf8.RuneError)
		s.invalid(diag.Range{Start: s.pos + bad, End: s.pos + bad + 1})
	}
}

// bad reports a run of characters that mean nothing and leaves it out.
func (s *scanner) bad() {
	start, invalid := s.pos, false
	for s.pos < s.end {
		r, n := utf8.DecodeRuneInString(s.text[s.pos:s.end])
		invalid = invalid || (r == utf8.RuneError && n == 1)
		if r != utf8.RuneError && (isSpace(r) || s.known(r)) {
			break
		}
		s.pos += n
	}
	s.afterNo = false
	at := diag.Range{Start: start, End: s.pos}
	if invalid {
		s.invalid(at)
		return
	}
	r, _ := utf8.DecodeRuneInString(s.text[start:s.pos])
	s.r.report(codeBadCharacter, at, "%s has no meaning here", runeName(r))
}

// runeName writes a character so that it can be seen.
func runeName(r rune) string {
	if unicode.IsGraphic(r) {
		return string(r)
	}
	return fmt.Sprintf("the character U+%04X", r)
}

// known reports whether a token can begin with r.
func (s *scanner) known(r rune) bool {
	if r == '#' || r == '"' || r == '@' || isCurly(r) || isDigit(r) || unicode.IsLetter(r) {
		return true
	}
	return strings.ContainsRune("→±.:,()|−-%", r)
}
