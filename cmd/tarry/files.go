package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"tarry"
)

// maxInput is how much of a file is read; a little more than the notation
// takes, so that the notation can say that it is too much.
const maxInput = 2 << 20

// read opens a file; - is the standard input.
func (t *terminal) read(name string) (tarry.Source, error) {
	if name == "-" {
		text, err := io.ReadAll(io.LimitReader(t.in, maxInput))
		return tarry.Source{Name: "standard input", Text: text}, err
	}
	f, err := os.Open(name)
	if err != nil {
		return tarry.Source{}, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxInput))
	return tarry.Source{Name: name, Text: text}, err
}

// writeWhole writes a file whole or not at all: beside it first, then over it.
func writeWhole(name string, data []byte, mode os.FileMode) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".tarry-*")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", name, err)
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(mode)
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("cannot write %s: %w", name, err)
	}
	return nil
}

// say writes the diagnostics of a text to the error output.
func (t *terminal) say(c tarry.Checked) { fmt.Fprint(t.errs, c.Listing) }

// result turns what a command found into its exit code.
func result(errors bool, failed int) error {
	switch {
	case errors:
		return exit(exitInput)
	case failed > 0:
		return exit(exitFailed)
	}
	return nil
}
