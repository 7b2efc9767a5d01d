// Package casetest is the harness of the project's golden tests: one flag,
// -update, writes every golden file anew.
package casetest

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// Update is set by -update: golden files are written instead of compared.
var Update = flag.Bool("update", false, "write golden files anew")

// Golden holds got against the golden file, or writes it.
func Golden(t *testing.T, name string, got []byte) {
	t.Helper()
	want, err := os.ReadFile(name)
	if *Update {
		if !bytes.Equal(want, got) {
			write(t, name, got)
		}
		return
	}
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	if !bytes.Equal(want, got) {
		t.Errorf("%s is not what comes out now:\n%s", name, firstDifference(want, got))
	}
}

// Run reads each txtar case that the pattern matches, calls outputs with its
// input (the file named in the case's first section) and holds what comes back
// against the sections of the same names.
func Run(t *testing.T, pattern string, outputs func(t *testing.T, name string, in []byte) []txtar.File) {
	names, err := filepath.Glob(pattern)
	if err != nil || len(names) == 0 {
		t.Fatalf("no case matches %s", pattern)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil || len(a.Files) == 0 {
				t.Fatalf("%s is no case: %v", name, err)
			}
			got := txtar.Archive{Comment: a.Comment, Files: a.Files[:1:1]}
			got.Files = append(got.Files, outputs(t, a.Files[0].Name, a.Files[0].Data)...)
			Golden(t, name, txtar.Format(&got))
		})
	}
}

func write(t *testing.T, name string, data []byte) {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// firstDifference shows the first line that differs.
func firstDifference(want, got []byte) string {
	w, g := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	for i := range max(len(w), len(g)) {
		a, b := line(w, i), line(g, i)
		if a != b {
			return "  want: " + a + "\n  got:  " + b
		}
	}
	return "  only the line ends differ"
}

func line(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "(nothing)"
}
