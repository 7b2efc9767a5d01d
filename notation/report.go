package notation

import (
	"fmt"

	"tarry/diag"
)

// Storage and search are limited so that hostile text stays cheap.
const (
	maxStored   = 200
	maxSearched = 300_000
)

// reporter collects the diagnostics of all stages.
type reporter struct {
	list     []diag.Diagnostic
	within   diag.Range // the line in work
	faults   int        // errors so far, stored or not
	dropped  int
	searched int  // candidates looked at for near-misses
	notUTF8  bool // has been said
}

// report adds a diagnostic and returns it for more to be said, or nil if
// enough has been said. Its grade is the catalogue's.
func (r *reporter) report(code string, at diag.Range, summary string, args ...any) *diag.Diagnostic {
	grade := gradeOf(code)
	if grade == diag.Error {
		r.faults++
	}
	if len(r.list) >= maxStored {
		r.dropped++
		return nil
	}
	within := r.within
	if !within.Contains(at) {
		within = at
	}
	r.list = append(r.list, diag.Diagnostic{Code: code, Grade: grade,
		Summary: fmt.Sprintf(summary, args...), At: at, Within: within})
	return &r.list[len(r.list)-1]
}

// result returns the diagnostics in order, with a last one for those that were
// not stored.
func (r *reporter) result(end int) []diag.Diagnostic {
	list := diag.Tidy(r.list)
	if r.dropped > 0 {
		at := diag.Range{Start: end, End: end}
		list = append(list, diag.Diagnostic{
			Code: codeTooMany, Grade: diag.Error, At: at, Within: at,
			Summary: fmt.Sprintf("%d more faults are not listed", r.dropped),
			Detail:  "Cure the first ones and read the text again.",
		})
	}
	return list
}

// offerNearest offers to replace the text at a range by the candidate nearest
// to it, and returns that candidate, "" for none.
func (r *reporter) offerNearest(d *diag.Diagnostic, at diag.Range, word string, candidates []string) string {
	if d == nil || r.searched > maxSearched {
		return ""
	}
	r.searched += len(candidates)
	near := diag.Nearest(word, candidates)
	if near != "" {
		d.Offer(at, near, "did you mean "+near+"?")
	}
	return near
}
