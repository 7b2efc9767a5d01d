// Command tarry runs circuits with time-delay relays from a short text and
// says what happens, when and why.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"tarry"
)

// Exit codes.
const (
	exitFailed = 1 // an expectation failed
	exitInput  = 2 // bad input
	exitFault  = 3 // our fault
)

// exit is an error that only carries an exit code; what there was to say has
// been said.
type exit int

func (e exit) Error() string { return fmt.Sprintf("exit code %d", int(e)) }

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is main without the process around it.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	written := &output{to: out}
	t := &terminal{in, written, errs}
	root := t.root()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(written)
	root.SetErr(errs)
	strict(root) // knows the output from here
	err := execute(root, args)
	if written.err != nil {
		err = fmt.Errorf("cannot write the output: %w", bare(written.err))
	}
	return t.code(err)
}

// execute turns a panic outside the door into a fault like one inside.
func execute(root *cobra.Command, args []string) (err error) {
	defer func() {
		if r := recover(); r != nil {
			line := tarry.Source{Name: "command line", Text: []byte(strings.Join(args, " "))}
			err = &tarry.Fault{What: fmt.Sprint(r), Stack: string(debug.Stack()), Input: line}
		}
	}()
	return root.Execute()
}

// code says what went wrong and turns it into an exit code.
func (t *terminal) code(err error) int {
	var only exit
	var fault *tarry.Fault
	switch {
	case err == nil:
		return 0
	case errors.As(err, &only):
		return int(only)
	case errors.As(err, &fault):
		fmt.Fprintf(t.errs, "tarry: %v\nPlease report it with this text, %q (%d bytes):\n%s\n",
			err, fault.Input.Name, len(fault.Input.Text), fault.Stack)
		return exitFault
	}
	fmt.Fprintf(t.errs, "tarry: %s\n", strings.TrimSpace(err.Error()))
	return exitInput
}

// terminal is where the commands read and write.
type terminal struct {
	in        io.Reader
	out, errs io.Writer
}

func (t *terminal) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "tarry",
		Short: "Circuits with time-delay relays: what happens, when and why",
		Long: `tarry reads a circuit with time-delay relays from a short text and computes
exactly what it does: every contact and load at every instant, and why.

Teaching material for an extra-low-voltage bench. Work dead, isolated and
locked off. Ordinary timers are not safety devices. Local codes and a licensed
person decide.`,
		Example: `  tarry library list
  tarry library copy 8 .
  tarry run 08-belt-start-warning.tarry
  tarry why 08-belt-start-warning.tarry --of M1 --at 3.2s`,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(t.check(), t.runCommand(), t.why(), t.chart(), t.draw(), t.story(), t.sheet(),
		t.contact(), t.symbols(), t.format(), t.library(), t.app(), t.pack(),
		t.misread(), t.tell(), t.exercise(), t.mark(), t.class())
	return root
}
