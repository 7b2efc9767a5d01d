package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"tarry"
)

func TestExitCodes(t *testing.T) {
	fault := &tarry.Fault{What: "index out of range", Stack: "where it was", Input: tarry.Source{Name: "belt.tarry", Text: []byte("H1 lamp\n")}}
	for _, c := range []struct {
		err  error
		code int
		says string
	}{
		{nil, 0, ""},
		{exit(exitFailed), 1, ""},
		{exit(exitInput), 2, ""},
		{errors.New("what now"), 2, "tarry: what now\n"},
		{tarry.ErrInput, 2, "tarry: bad input\n"},
		{fault, 3, "tarry: a fault in tarry itself, not in your text: index out of range\n" +
			"Please report it with this text, \"belt.tarry\" (8 bytes):\nwhere it was\n"},
		{fmt.Errorf("run: %w", fault), 3, "tarry: run: a fault in tarry itself, not in your text: index out of range\n" +
			"Please report it with this text, \"belt.tarry\" (8 bytes):\nwhere it was\n"},
	} {
		var errs bytes.Buffer
		term := &terminal{errs: &errs}
		if got := term.code(c.err); got != c.code {
			t.Errorf("%v gives the exit code %d, not %d", c.err, got, c.code)
		}
		if errs.String() != c.says {
			t.Errorf("%v says %q", c.err, errs.String())
		}
	}
}

// TestPanicInCommand lets a command panic outside the door.
func TestPanicInCommand(t *testing.T) {
	bad := &cobra.Command{Use: "bad", SilenceUsage: true, RunE: func(*cobra.Command, []string) error { panic("oh") }}
	bad.SetArgs([]string{})
	err := execute(bad, []string{"bad"})
	var fault *tarry.Fault
	if !errors.As(err, &fault) || fault.What != "oh" || fault.Stack == "" {
		t.Errorf("a panic in a command gives %v", err)
	}
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestOutputCannotBeWritten(t *testing.T) {
	const text = "K1 relay\nH1 lamp\n1: -> H1\n"
	for _, args := range []string{"check -", "run -", "run - --csv", "run - --json", "why - --of H1 --at 1s", "chart - -o -", "fmt -",
		"library list", "library show 1", "help", "completion bash"} {
		var errs bytes.Buffer
		got := run(strings.Fields(args), strings.NewReader(text), full{}, &errs)
		if got != exitInput || !strings.HasSuffix(errs.String(), "tarry: cannot write the output: no space left\n") {
			t.Errorf("tarry %s on a full disk: exit code %d, %s", args, got, errs.String())
		}
	}
}

func TestInputCannotBeRead(t *testing.T) {
	var out, errs bytes.Buffer
	if got := run([]string{"check", "-"}, unreadable{}, &out, &errs); got != exitInput {
		t.Errorf("exit code %d", got)
	}
	if errs.String() != "tarry: cannot read standard input: the line is dead\n" {
		t.Errorf("says %q", errs.String())
	}
}

type unreadable struct{}

func (unreadable) Read([]byte) (int, error) { return 0, errors.New("the line is dead") }

// TestWriteWholeOrNot lets the last step of writing fail: a folder has taken
// the file's name.
func TestWriteWholeOrNot(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "belt.svg")
	if err := os.MkdirAll(filepath.Join(name, "full"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := replaceBy(name, []byte("drawing"), nil); err == nil {
		t.Error("a file was written over a folder")
	}
	if err := writeNew(name, []byte("drawing")); err == nil {
		t.Error("a new file was written over a folder")
	}
	list, err := os.ReadDir(dir)
	if err != nil || len(list) != 1 {
		t.Errorf("%d things are left: %v", len(list), err)
	}
}
