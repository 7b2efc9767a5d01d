package diag

import "sort"

// Tidy sorts ds by position and leaves out follow-on faults: where two
// diagnostics mark exactly the same bytes, the one that was reported first
// caused the other. It returns a new list.
func Tidy(ds []Diagnostic) []Diagnostic {
	sorted := append([]Diagnostic(nil), ds...)
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := sorted[i].At, sorted[j].At
		if a.Start != b.Start {
			return a.Start < b.Start
		}
		return a.End < b.End
	})
	var kept []Diagnostic
	for _, d := range sorted {
		if n := len(kept); n > 0 && kept[n-1].At == d.At {
			if d.Grade < kept[n-1].Grade {
				kept[n-1] = d
			}
			continue
		}
		kept = append(kept, d)
	}
	return kept
}
