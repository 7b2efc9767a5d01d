package notation

import (
	"errors"
	"time"
)

// ParseTime reads a single time as the notation writes it: 3.2 s, 300 ms,
// 1 min 30 s. A number alone counts as seconds. The error is a sentence for
// the user.
func ParseTime(text string) (time.Duration, error) {
	r := &reporter{}
	p := &parser{r: r, text: text}
	p.toks, _ = scanLine(text, 0, len(text), r, nil)
	lit := p.time()
	if len(r.list) == 1 && r.list[0].Code == codeMissingUnit && p.peek().kind == tokEnd {
		return lit.value, nil
	}
	switch {
	case len(r.list) > 0 && r.list[0].Code != codeMissingTime && r.list[0].Code != codeUnexpected:
		return 0, errors.New(r.list[0].Summary)
	case len(r.list) > 0 || p.peek().kind != tokEnd:
		return 0, errors.New("a time is written like 3.2 s, 300 ms or 1 min 30 s")
	}
	return lit.value, nil
}
