package cases

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/rogpeppe/go-internal/txtar"

	"tarry/chart"
	"tarry/circuit"
	"tarry/diag"
	"tarry/engine"
	"tarry/internal/casetest"
	"tarry/notation"
	"tarry/trace"
	"tarry/why"
)

// A case's first section is the circuit. For each script follow its rows
// (NAME.csv) and its report (NAME.txt); what the checker says stands in
// checker.txt, if it says anything. The first comment of a circuit says what
// the case is there for.

func TestGoldenCases(t *testing.T) {
	casetest.Run(t, "../../testdata/cases/*.txtar", outputs)
}

func outputs(t *testing.T, name string, in []byte) []txtar.File {
	file, diagnostics := notation.Read(name, in)
	if diag.HasErrors(diagnostics) {
		t.Fatal(diag.Show(name, in, diagnostics))
	}
	c := file.Circuit
	if len(c.Scripts) == 0 {
		t.Fatal("the case has no script")
	}
	var out []txtar.File
	if len(diagnostics) > 0 {
		out = append(out, section("checker.txt", diag.Show(name, in, diagnostics)))
	}
	for i := range c.Scripts {
		s := &c.Scripts[i]
		r := engine.Run(c, s, engine.Options{})
		out = append(out, section(slug(s.Name)+".csv", string(r.CSV())), section(slug(s.Name)+".txt", report(t, r, s)))
	}
	return out
}

func section(name, text string) txtar.File {
	return txtar.File{Name: name, Data: []byte(strings.TrimSuffix(text, "\n") + "\n")}
}

// slug makes a script's name a file's name.
func slug(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return strings.Join(words, "-")
}

// report is everything that is said about a run.
func report(t *testing.T, r *trace.Trace, s *circuit.Script) string {
	var b strings.Builder
	story := why.Story(r)
	for _, in := range story {
		fmt.Fprintf(&b, "%s: %s\n", circuit.FormatTime(in.At), strings.Join(in.Sentences, " "))
	}
	b.WriteString("\n")
	states(&b, r, why.Tabulate(r, story))
	text, err := chart.Text(r, chart.TextOptions{Width: 72})
	if err != nil {
		t.Fatal(err)
	}
	b.WriteString("\n" + text)
	for _, n := range r.Notices {
		fmt.Fprintf(&b, "\nnotice at %s, step %d: %s", circuit.FormatTime(n.At), n.Step, why.Notice(r, n))
	}
	for _, v := range r.CheckAll(s) {
		fmt.Fprintf(&b, "\nexpected: %s%s", map[bool]string{true: "", false: "FAILS: "}[v.OK], why.Verdict(r, v))
	}
	fmt.Fprintf(&b, "\nends: %s at %s\n", r.Ending, circuit.FormatTime(r.End))
	return b.String()
}

// states writes the state table, a column as wide as its name.
func states(b *strings.Builder, r *trace.Trace, table why.Table) {
	line := "        "
	var names []string
	for _, s := range table.Columns {
		names = append(names, fmt.Sprintf("%-7s", r.Circuit.SignalName(s)))
		line += " " + names[len(names)-1]
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	for _, row := range table.Rows {
		line = fmt.Sprintf("%-8s", circuit.FormatTime(row.At))
		for i, s := range row.States {
			word := trace.ValueWord(table.Columns[i], s.On)
			if s.Changed {
				word += "*"
			}
			if s.Pulsed {
				word += "!"
			}
			line += fmt.Sprintf(" %-*s", len(names[i]), word)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}
