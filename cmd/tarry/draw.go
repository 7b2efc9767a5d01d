package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tarry"
)

// forms are the endings that a drawing's name may have.
var forms = []string{"svg", "pdf", "png"}

// formOf tells a drawing's form by the name that it is to have.
func formOf(name string, allowed []string) (string, error) {
	form := strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
	if name == "" || !slices.Contains(allowed, form) {
		return "", fmt.Errorf("-o %s: the name must end in .%s", name, strings.Join(allowed, ", ."))
	}
	return form, nil
}

// deliverFiles writes one file under the name given, or several with their
// suffixes before its ending.
func (t *terminal) deliverFiles(name string, files []tarry.File) error {
	ext := filepath.Ext(name)
	base := strings.TrimSuffix(name, ext)
	for _, f := range files {
		if err := t.deliver(base+f.Suffix+ext, f.Data); err != nil {
			return err
		}
		if len(files) > 1 {
			fmt.Fprintln(t.out, base+f.Suffix+ext)
		}
	}
	return nil
}

// finish says what a drawing could not show and returns the exit code.
func (t *terminal) finish(out tarry.Drawn) error {
	if out.Remark != "" {
		fmt.Fprintln(t.errs, "tarry: "+out.Remark)
	}
	if out.Failed > 0 {
		fmt.Fprintf(t.errs, "tarry: %d of the expectations did not come true; tarry run shows them\n", out.Failed)
	}
	return result(out.Errors, out.Failed)
}

// pictureFlags are the choices of a drawing that may be a picture.
func pictureFlags(c *cobra.Command, p *tarry.Picture) {
	c.Flags().IntVar(&p.Width, "width", p.Width, "`PIXELS` of a PNG's width, not --dpi")
	c.Flags().IntVar(&p.DPI, "dpi", 0, "`PIXELS` to the inch of a PNG; 0 is 150")
	c.Flags().BoolVar(&p.Transparent, "transparent", false, "no paper behind a PNG or SVG")
	c.Flags().BoolVar(&p.White, "white", false, "white paper instead of tinted")
}

// styleFlags are the choices of every drawing of a circuit.
func styleFlags(c *cobra.Command, s *tarry.Style) {
	c.Flags().StringVar(&s.Symbols, "symbols", "", "`TRADITION`: international (if left out) or american")
	c.Flags().StringVar(&s.Layout, "layout", "", "`LAYOUT`: rungs (if left out) or paths")
	c.RegisterFlagCompletionFunc("symbols", cobra.FixedCompletions([]string{"international", "american"}, cobra.ShellCompDirectiveNoFileComp))
	c.RegisterFlagCompletionFunc("layout", cobra.FixedCompletions([]string{"rungs", "paths"}, cobra.ShellCompDirectiveNoFileComp))
}

func (t *terminal) draw() *cobra.Command {
	var r tarry.DrawRequest
	var output string
	c := &cobra.Command{
		Use:   "draw FILE -o OUT.svg|pdf|png",
		Short: "Draw the schematic, at rest or at an instant",
		Example: `  tarry draw belt.tarry -o belt.pdf
  tarry draw belt.tarry -o belt.svg --symbols american --layout paths
  tarry draw belt.tarry -o belt.png --script 1 --at 3.2s`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if r.Form, err = formOf(output, forms); err != nil {
				return err
			}
			switch {
			case r.Script != "" && r.At == "":
				return errors.New("--script needs --at TIME: the instant to draw")
			case (r.Width != 0 || r.DPI != 0) && r.Form != "png":
				return errors.New("--width and --dpi are for a PNG: SVG and PDF are drawn to scale")
			case (r.Transparent || r.White) && r.Form == "pdf":
				return errors.New("--transparent and --white are for a PNG or SVG: a PDF has no paper of its own")
			}
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			out, err := tarry.Draw(r)
			return t.drawn(output, out, err)
		},
	}
	c.Flags().StringVarP(&output, "output", "o", "", "the `FILE` to write; its ending says how")
	c.Flags().StringVar(&r.Script, "script", "", "the script's `NAME` or number, for --at")
	c.Flags().StringVar(&r.At, "at", "", "mark what is so at this `TIME` of the script")
	pictureFlags(c, &r.Picture)
	styleFlags(c, &r.Style)
	needs(c, "output FILE")
	return c
}
