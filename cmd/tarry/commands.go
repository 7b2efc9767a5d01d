package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tarry"
)

func (t *terminal) check() *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE...",
		Short: "Say what is wrong with circuits",
		Example: `  tarry check belt.tarry
  tarry check lesson/*.tarry`,
		Args:              oneOrMore("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) error {
			wrong := false
			for _, name := range names {
				s, err := t.read(name)
				if err != nil {
					fmt.Fprintf(t.errs, "tarry: %v\n", err)
					wrong = true
					continue
				}
				checked, err := tarry.Check(s)
				if err != nil {
					return err
				}
				fmt.Fprint(t.out, checked.Listing)
				if len(checked.Diagnostics) == 0 {
					fmt.Fprintf(t.errs, "%s: no faults found\n", s.Name)
				}
				wrong = wrong || checked.Errors
			}
			return result(wrong, 0)
		},
	}
}

func (t *terminal) runCommand() *cobra.Command {
	var r tarry.RunRequest
	var csv, vcd, json bool
	c := &cobra.Command{
		Use:   "run FILE",
		Short: "Run a circuit: state table, chart, notices, expectations",
		Example: `  tarry run belt.tarry
  tarry run belt.tarry --script "Start, run, stop"
  tarry run belt.tarry --csv > belt.csv
  tarry run belt.tarry --script 1 --vcd > belt.vcd`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			switch {
			case csv:
				r.Form = tarry.CSV
			case vcd:
				r.Form = tarry.VCD
			case json:
				r.Form = tarry.JSON
			}
			out, err := tarry.Run(r)
			t.say(out.Checked)
			if err != nil {
				return err
			}
			if _, err := t.out.Write(out.Output); err != nil {
				return err
			}
			if out.Remark != "" {
				fmt.Fprintln(t.errs, "tarry: "+out.Remark)
			}
			return result(out.Errors, out.Failed)
		},
	}
	c.Flags().StringVar(&r.Script, "script", "", "run only this script: its `NAME`, or its number from 1")
	c.Flags().BoolVar(&csv, "csv", false, "write a table for a spreadsheet (CSV)")
	c.Flags().BoolVar(&vcd, "vcd", false, "write one script for a waveform viewer (VCD, IEEE 1364)")
	c.Flags().BoolVar(&json, "json", false, "write everything for other programs (JSON)")
	c.Flags().IntVar(&r.Width, "width", 80, "the report's width in `COLUMNS`, at least 50")
	c.Flags().BoolVar(&r.Ascii, "ascii", false, "plain characters in place of lines and ticks")
	oneOf(c, "csv", "vcd", "json")
	return c
}

func (t *terminal) why() *cobra.Command {
	var r tarry.WhyRequest
	c := &cobra.Command{
		Use:   "why FILE --of SIGNAL --at TIME",
		Short: "Explain why a signal is on or off at an instant",
		Example: `  tarry why belt.tarry --of H1 --at 3.2s
  tarry why belt.tarry --of KT1.notc --at "1 min 30 s" --script 2`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			out, err := tarry.Why(r)
			t.say(out.Checked)
			if err != nil {
				return err
			}
			fmt.Fprint(t.out, out.Text)
			return result(out.Errors, 0)
		},
	}
	c.Flags().StringVar(&r.Of, "of", "", "the `SIGNAL`: a tag, or a contact such as KT1.notc")
	c.Flags().StringVar(&r.At, "at", "", "the `TIME`: 3.2s, 300ms, \"1 min 30 s\"")
	c.Flags().StringVar(&r.Script, "script", "", "the script's `NAME` or number; the first if left out")
	needs(c, "of SIGNAL", "at TIME")
	return c
}

func (t *terminal) chart() *cobra.Command {
	var r tarry.ChartRequest
	var output string
	c := &cobra.Command{
		Use:   "chart FILE -o OUT.svg",
		Short: "Draw the timing chart of a script",
		Example: `  tarry chart belt.tarry -o belt.svg
  tarry chart belt.tarry -o belt.svg --script 2 --rows S1.no,KT1,KT1.notc,H1`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if output != "-" && !strings.HasSuffix(strings.ToLower(output), ".svg") {
				return fmt.Errorf("-o %s: charts are drawn as SVG, so the name must end in .svg", output)
			}
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			out, err := tarry.Chart(r)
			t.say(out.Checked)
			if err != nil {
				return err
			}
			if err := t.deliver(output, out.SVG); err != nil {
				return err
			}
			return result(out.Errors, 0)
		},
	}
	c.Flags().StringVarP(&output, "output", "o", "", "the SVG `FILE` to write, - for the standard output")
	c.Flags().StringVar(&r.Script, "script", "", "the script's `NAME` or number; the first if left out")
	c.Flags().StringSliceVar(&r.Rows, "rows", nil, "the `ROWS` to draw, in this order")
	needs(c, "output OUT.svg")
	return c
}

// deliver writes a result to a file or to the standard output.
func (t *terminal) deliver(name string, data []byte) error {
	if name == "-" {
		_, err := t.out.Write(data)
		return err
	}
	return writeWhole(name, data)
}

func (t *terminal) format() *cobra.Command {
	var inPlace bool
	c := &cobra.Command{
		Use:   "fmt FILE",
		Short: "Lay a circuit's text out; comments and order stay",
		Example: `  tarry fmt belt.tarry
  tarry fmt -w belt.tarry`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) error {
			if inPlace && names[0] == "-" {
				return fmt.Errorf("-w needs a file, not the standard input")
			}
			s, err := t.read(names[0])
			if err != nil {
				return err
			}
			out, err := tarry.Format(s)
			t.say(out.Checked)
			if err != nil {
				return err
			}
			if !inPlace {
				_, err := t.out.Write(out.Text)
				return orExit(err, out.Errors)
			}
			if len(s.Text) == maxInput {
				return fmt.Errorf("%s is too large to be laid out; it stays as it is", names[0])
			}
			if bytes.Equal(out.Text, s.Text) {
				return result(out.Errors, 0)
			}
			return orExit(writeWhole(names[0], out.Text), out.Errors)
		},
	}
	c.Flags().BoolVarP(&inPlace, "write", "w", false, "write the file anew instead of printing")
	return c
}

func orExit(err error, errors bool) error {
	if err != nil {
		return err
	}
	return result(errors, 0)
}

// circuitFiles completes the names of circuits.
func circuitFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"tarry"}, cobra.ShellCompDirectiveFilterFileExt
}
