package main

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tarry"
)

func (t *terminal) sheet() *cobra.Command {
	var r tarry.SheetRequest
	var output, header string
	c := &cobra.Command{
		Use:   "sheet FILE -o OUT.pdf",
		Short: "Print the whole set for a lesson, or some parts of it",
		Long: `sheet prints the set for a lesson as PDF: drawing, chart-blank, chart-part,
chart-filled, table-blank, table-filled, storyboard, parts, wiring, dead-test,
lab and key, for the first script if none is named. --parts names those that
are wanted, --apart writes a file for each.

What stands in every title block comes from flags, or from a small file with
lines such as "college: Training Bay 7" (college, author, date, revision,
variant, exercise).`,
		Example: `  tarry sheet belt.tarry -o belt.pdf
  tarry sheet belt.tarry -o belt.pdf --parts drawing,chart-blank,key
  tarry sheet belt.tarry -o belt.pdf --apart --header college.txt`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if _, err = formOf(output, []string{"pdf"}); err != nil {
				return err
			}
			if r.HeaderFile, err = t.header(header); err != nil {
				return err
			}
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			out, err := tarry.Sheets(r)
			return t.drawn(output, out, err)
		},
	}
	f := c.Flags()
	f.StringVarP(&output, "output", "o", "", "the PDF `FILE` to write")
	f.StringSliceVar(&r.Parts, "parts", nil, "the `PARTS` wanted, in this order")
	f.BoolVar(&r.Apart, "apart", false, "a file for each part, named after it")
	f.StringVar(&r.Script, "script", "", "`NAME` or number of a script, or all; else the first")
	f.IntVar(&r.PerPage, "per-page", 0, "`FRAMES` of a storyboard on a page: 1, 2, 4 or 6")
	headerFlags(c, &header, &r.Header)
	f.StringVar(&r.Variant, "variant", "", "the variant's `CODE`")
	f.StringVar(&r.Exercise, "exercise", "", "the exercise's `NUMBER`")
	paperFlag(c, &r.Paper)
	styleFlags(c, &r.Style)
	needs(c, "output FILE")
	return c
}

// headerFlags are those of the title block that every sheet of a college has.
func headerFlags(c *cobra.Command, file *string, h *tarry.Header) {
	f := c.Flags()
	f.StringVar(file, "header", "", "`FILE` with the lines of the title block")
	f.StringVar(&h.College, "college", "", "the college's `LINE`")
	f.StringVar(&h.Author, "author", "", "the author's `NAME`")
	f.StringVar(&h.Date, "date", "", "the `DATE` as it is to stand there")
	f.StringVar(&h.Revision, "revision", "", "the `REVISION`")
}

// header reads the small file of a title block, which is short.
func (t *terminal) header(name string) ([]byte, error) {
	if name == "" {
		return nil, nil
	}
	s, err := t.read(name)
	return s.Text, err
}

// drawn writes the files of a drawing and says what there is to say.
func (t *terminal) drawn(output string, out tarry.Drawn, err error) error {
	t.say(out.Checked)
	if err != nil {
		return err
	}
	if err := t.deliverFiles(output, out.Files); err != nil {
		return err
	}
	return t.finish(out)
}

func paperFlag(c *cobra.Command, paper *string) {
	c.Flags().StringVar(paper, "paper", "", "`PAPER`: a4 (if left out) or letter")
	c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions([]string{"a4", "letter"}, cobra.ShellCompDirectiveNoFileComp))
}

func (t *terminal) story() *cobra.Command {
	var r tarry.StoryRequest
	var output, each, form string
	c := &cobra.Command{
		Use:   "story FILE -o OUT.pdf | --each DIR",
		Short: "Draw a run as a storyboard, or as slides",
		Example: `  tarry story belt.tarry -o belt.pdf --per-page 4
  tarry story belt.tarry --each slides --script 2
  tarry story belt.tarry --each slides --form svg --transparent`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(c *cobra.Command, names []string) (err error) {
			switch {
			case output == "" && each == "":
				return usage(c, "either -o OUT.pdf or --each DIR is needed")
			case output != "" && each != "":
				return usage(c, "-o and --each are given both; one is meant")
			}
			if output != "" {
				if _, err = formOf(output, []string{"pdf"}); err != nil {
					return err
				}
			}
			r.Each, r.Form = each != "", form
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			out, err := tarry.Story(r)
			if each == "" || err != nil {
				return t.drawn(output, out, err)
			}
			if err := os.MkdirAll(each, 0o755); err != nil {
				return err
			}
			name := strings.TrimSuffix(filepath.Base(names[0]), ".tarry")
			return t.drawn(filepath.Join(each, name+"."+form), out, nil)
		},
	}
	f := c.Flags()
	f.StringVarP(&output, "output", "o", "", "the PDF `FILE` to write")
	f.StringVar(&each, "each", "", "write each frame as a picture into this `DIR`")
	f.StringVar(&form, "form", "png", "`FORM` of the pictures: png or svg")
	r.Width = 1920
	pictureFlags(c, &r.Picture)
	f.StringVar(&r.Script, "script", "", "`NAME` or number of the script; else the first")
	f.IntVar(&r.PerPage, "per-page", 0, "`FRAMES` on a page: 1, 2, 4 or 6")
	paperFlag(c, &r.Paper)
	styleFlags(c, &r.Style)
	return c
}

func (t *terminal) contact() *cobra.Command {
	var picture tarry.Picture
	var output string
	c := &cobra.Command{
		Use:   "contact NAME -o OUT.svg|pdf|png",
		Short: "Explain a timed contact on one page",
		Example: `  tarry contact notc -o notc.pdf
  tarry contact "normally closed off-delay" -o nctc.png`,
		Args: exactly("NAME"),
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if picture.Form, err = formOf(output, forms); err != nil {
				return err
			}
			out, err := tarry.Contact(names[0], picture)
			return t.drawn(output, out, err)
		},
	}
	c.Flags().StringVarP(&output, "output", "o", "", "the `FILE` to write; its ending says how")
	pictureFlags(c, &picture)
	needs(c, "output FILE")
	return c
}

func (t *terminal) symbols() *cobra.Command {
	var picture tarry.Picture
	var output, paper string
	c := &cobra.Command{
		Use:     "symbols -o OUT.pdf",
		Short:   "Print every symbol in both traditions with its words",
		Example: `  tarry symbols -o symbols.pdf --paper letter`,
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) (err error) {
			if picture.Form, err = formOf(output, forms); err != nil {
				return err
			}
			out, err := tarry.Symbols(paper, picture)
			return t.drawn(output, out, err)
		},
	}
	c.Flags().StringVarP(&output, "output", "o", "", "the `FILE` to write; its ending says how")
	paperFlag(c, &paper)
	needs(c, "output FILE")
	return c
}
