package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"

	"tarry"
)

// maxInput is how much of a file is read; a little more than the notation
// takes, so that the notation can say that it is too much.
const maxInput = 2 << 20

// read opens a file; - is the standard input.
func (t *terminal) read(name string) (tarry.Source, error) {
	s := tarry.Source{Name: name}
	var err error
	if name == "-" {
		s.Name = "standard input"
		s.Text, err = io.ReadAll(io.LimitReader(t.in, maxInput))
	} else {
		s.Text, err = readFile(name)
	}
	if err != nil {
		return s, fmt.Errorf("cannot read %s: %w", s.Name, bare(err))
	}
	return s, nil
}

func readFile(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxInput))
}

// bare takes the operation and the name off an error of the file system: the
// message around it names the file that the user knows.
func bare(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// writeWhole writes a file whole or not at all: beside it first, then over it.
// A file that is there keeps its mode, a link is followed, and what is
// write-protected stays as it is.
func writeWhole(name string, data []byte) error {
	if err := replace(name, data); err != nil {
		return fmt.Errorf("cannot write %s: %w", name, bare(err))
	}
	return nil
}

func replace(name string, data []byte) error {
	info, err := os.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return replaceBy(name, data, nil)
	}
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return errors.New("it is no ordinary file")
	}
	if name, err = filepath.EvalSymlinks(name); err != nil {
		return err
	}
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	f.Close()
	return replaceBy(name, data, info)
}

// replaceBy writes data beside a file and moves it over the file. A new file
// (old is nil) gets the mode that the system gives new files.
func replaceBy(name string, data []byte, old fs.FileInfo) error {
	beside := filepath.Join(filepath.Dir(name), fmt.Sprintf(".tarry-%016x", rand.Uint64()))
	f, err := os.OpenFile(beside, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil && old != nil {
		err = f.Chmod(old.Mode().Perm())
	}
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(beside, name)
	}
	if err != nil {
		os.Remove(beside)
	}
	return err
}

// writeNew writes a file that is not there yet, whole or not at all. The name
// is taken before anything is written, so that nothing can come in between.
func writeNew(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already; move it away or copy into another folder", name)
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", name, bare(err))
	}
	f.Close()
	if err := writeWhole(name, data); err != nil {
		os.Remove(name)
		return err
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

// output remembers that writing failed, so that no command has to ask each
// time.
type output struct {
	to  io.Writer
	err error
}

func (o *output) Write(data []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.to.Write(data)
	o.err = err
	return n, err
}

// sameFile reports whether two names are one file, links followed.
func sameFile(a, b string) bool {
	x, errA := os.Stat(a)
	y, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(x, y)
}
