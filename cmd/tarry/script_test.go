package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"

	"tarry/internal/casetest"
)

// The cases of the command line: testdata/script/*.txtar, category first.

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"tarry": main})
}

func TestScript(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *casetest.Update,
		RequireUniqueNames:  true,
		RequireExplicitExec: false,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"code":    code,
			"variant": variant,
			"make":    makeFile,
			"narrow":  narrow,
			"names":   names,
			"perm":    perm,
			"age":     age,
			"smaller": smaller,
		},
	})
}

// code N COMMAND... holds a command to its exit code.
func code(ts *testscript.TestScript, _ bool, args []string) {
	got := 0
	var failed *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &failed) {
		got = failed.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit code %d", got)
	}
}

// variants are other ways to save a text that says the same.
var variants = map[string]func(string) string{
	"crlf":  func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
	"bom":   func(s string) string { return "\ufeff" + s },
	"tabs":  func(s string) string { return strings.ReplaceAll(s, "  ", "\t") },
	"noend": func(s string) string { return strings.TrimRight(s, "\n") },
	"all":   func(s string) string { return "\ufeff" + strings.ReplaceAll(strings.TrimSpace(s), "\n", "\t\r\n") },
}

// variant KIND FROM TO
func variant(ts *testscript.TestScript, _ bool, args []string) {
	text := variants[args[0]](ts.ReadFile(args[1]))
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), []byte(text), 0o644))
}

// make writes a file that is too large to stand in a case: make garbage SIZE
// FILE, make brackets DEPTH FILE, make remarks SIZE FILE, make latin1 - FILE.
func makeFile(ts *testscript.TestScript, _ bool, args []string) {
	n, _ := strconv.Atoi(args[1])
	var text []byte
	switch args[0] {
	case "garbage":
		text = make([]byte, n)
		rand.NewChaCha8([32]byte{7}).Read(text)
	case "brackets":
		text = fmt.Appendf(nil, "S1  button\nH1  lamp\nH2  lamp\n1:  %sS1.no%s -> H1\n2:  -> H2\n",
			strings.Repeat("(", n), strings.Repeat(")", n))
	case "remarks":
		text = append([]byte("H1 lamp\n1: -> H1\n"), bytes.Repeat([]byte("# nothing\n"), n/10)...)
	case "latin1":
		text = []byte("H1  lamp \"Gef\xe4hrlich\"\nH2  lamp \"Ready\"\n1:  -> H2\n")
	default:
		ts.Fatalf("make: what is %s?", args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), text, 0o644))
}

// narrow FILE holds the lines of a text to 80 columns.
func narrow(ts *testscript.TestScript, _ bool, args []string) {
	for _, line := range strings.Split(ts.ReadFile(args[0]), "\n") {
		if n := utf8.RuneCountInString(line); n > 80 {
			ts.Fatalf("%d columns: %s", n, line)
		}
	}
}

// names DIR NAME... holds a folder to these names, hidden ones included.
func names(ts *testscript.TestScript, _ bool, args []string) {
	list, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var got []string
	for _, e := range list {
		got = append(got, e.Name())
	}
	if !slices.Equal(got, args[1:]) {
		ts.Fatalf("%s holds %q", args[0], got)
	}
}

// perm MODE FILE holds a file to its mode.
func perm(ts *testscript.TestScript, _ bool, args []string) {
	info, err := os.Stat(ts.MkAbs(args[1]))
	ts.Check(err)
	if got := fmt.Sprintf("%o", info.Mode().Perm()); got != args[0] {
		ts.Fatalf("%s has the mode %s", args[1], got)
	}
}

// age FILE makes a file old; age was FILE fails if it has been written since.
func age(ts *testscript.TestScript, neg bool, args []string) {
	old := time.Date(2001, 2, 3, 4, 5, 6, 0, time.UTC)
	if args[0] != "was" {
		ts.Check(os.Chtimes(ts.MkAbs(args[0]), old, old))
		return
	}
	info, err := os.Stat(ts.MkAbs(args[1]))
	ts.Check(err)
	if same := info.ModTime().Equal(old); same == neg {
		ts.Fatalf("%s was last written %v", args[1], info.ModTime())
	}
}

// smaller BYTES FILE holds a text below a size.
func smaller(ts *testscript.TestScript, _ bool, args []string) {
	limit, err := strconv.Atoi(args[0])
	ts.Check(err)
	if n := len(ts.ReadFile(args[1])); n >= limit {
		ts.Fatalf("%s has %d bytes", args[1], n)
	}
}
