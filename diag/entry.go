package diag

import (
	"fmt"
	"strings"
)

// Entry explains one code for the manual. Every package that reports
// diagnostics keeps a list of its entries.
type Entry struct {
	Code  string
	Grade Grade
	// Explanation is one paragraph: the rule, and the way out.
	Explanation string
	// Example is a small text that gets exactly this diagnostic. It is empty
	// where no small text can.
	Example string
}

// Manual writes the entries, in the order given, as the page
// docs/diagnostics.md. Language is the word behind the fence of an example.
func Manual(language string, entries []Entry) string {
	var b strings.Builder
	b.WriteString("# Diagnostics\n\n")
	b.WriteString("What tarry says about a text. An **error** stops a run, a **warning** doesn't, and a **notice**\n")
	b.WriteString("only asks you to look. The codes are stable: a code once given keeps its meaning.\n\n")
	b.WriteString("This page is written by `go test ./notation -run Manual -update`; do not edit it by hand.\n")
	for _, e := range entries {
		fmt.Fprintf(&b, "\n## %s\n\n*%s*\n\n", e.Code, e.Grade)
		for _, line := range fold(e.Explanation, 110) {
			b.WriteString(line + "\n")
		}
		if e.Example != "" {
			fmt.Fprintf(&b, "\n```%s\n%s```\n", language, e.Example)
		}
	}
	return b.String()
}
