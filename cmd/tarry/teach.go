package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tarry"
)

// The commands for teaching: misreadings, telling presses, exercises, marking.

func (t *terminal) misread() *cobra.Command {
	c := &cobra.Command{
		Use:   "misread",
		Short: "Wrong mental models of timers, ready to be run",
		Long: `misread knows what learners take timers and circuits to do. Each misreading can
be run: it predicts a definite wrong answer. They are hypotheses from teaching
experience, so what fits an answer is a hint and never a verdict.`,
		Example: `  tarry misread list
  tarry misread show M05
  tarry misread run belt.tarry --as M05 --script 1`,
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error { return t.laid(tarry.MisreadList()) },
	}
	var k tarry.Columns
	show := &cobra.Command{
		Use: "show M05", Short: "What a misreading is, what shows it false, and an example", Args: exactly("ID"),
		ValidArgsFunction: misreadings,
		RunE:              func(_ *cobra.Command, args []string) error { return t.laid(tarry.MisreadShow(args[0], k)) },
	}
	columnFlags(show, &k)
	c.AddCommand(&cobra.Command{
		Use: "list", Short: "List the misreadings", Args: exactly(),
		RunE: func(*cobra.Command, []string) error { return t.laid(tarry.MisreadList()) },
	}, show, t.misreadRun())
	return c
}

func (t *terminal) misreadRun() *cobra.Command {
	var r tarry.MisreadRequest
	c := &cobra.Command{
		Use:   "run FILE --as M05",
		Short: "Run a circuit as a learner thinks it, beside the right run",
		Example: `  tarry misread run belt.tarry --as M05
  tarry misread run belt.tarry --as M02,M09 --script 2`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			return t.laid(tarry.MisreadRun(r))
		},
	}
	c.Flags().StringSliceVar(&r.As, "as", nil, "the `ID`, or several of a single timed contact")
	c.Flags().StringVar(&r.Script, "script", "", "only this script: its `NAME`, or its number from 1")
	c.RegisterFlagCompletionFunc("as", misreadings)
	columnFlags(c, &r.Columns)
	needs(c, "as ID")
	return c
}

func (t *terminal) tell() *cobra.Command {
	var r tarry.TellRequest
	c := &cobra.Command{
		Use:   "tell FILE",
		Short: "Say what a circuit's scripts let pass; find better presses",
		Long: `tell plays each script under every misreading and lists those that give the
right answer all the same. Then it looks for the fewest items, a row and
presses, that tell the misreadings from the right answer and from each other,
and names the pairs that none of the presses tried tells apart. Two answers
differ if they do so for two fifths of the longest preset, or for --margin.

Rows asked for are timed contacts, lamps, contactors and motors, or --rows.
Misreadings of controllers are in play only if --among names them.`,
		Example: `  tarry tell belt.tarry
  tarry tell belt.tarry --among M01,M05,M06 --margin 2s
  tarry tell belt.tarry --rows KT1.notc,H1 --items 3`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			return t.laid(tarry.Tell(r))
		},
	}
	f := c.Flags()
	f.StringSliceVar(&r.Among, "among", nil, "only these `IDS`; else all that it can show")
	f.StringSliceVar(&r.Rows, "rows", nil, "the `ROWS` to ask for; else contacts and loads")
	f.StringVar(&r.Margin, "margin", "", "`TIME` by which answers must differ at least")
	f.StringVar(&r.Step, "step", "", "presses stand at whole `TIMES`; else half a preset")
	f.IntVar(&r.Items, "items", 0, "the most `ITEMS` to show; else as many as it takes")
	c.RegisterFlagCompletionFunc("among", misreadings)
	columnFlags(c, &r.Columns)
	return c
}

// laid prints a text that is laid out.
func (t *terminal) laid(out tarry.Laid, err error) error {
	t.say(out.Checked)
	if err != nil {
		return err
	}
	if _, err := t.out.Write(out.Output); err != nil {
		return err
	}
	return result(out.Errors, 0)
}

func columnFlags(c *cobra.Command, k *tarry.Columns) {
	c.Flags().IntVar(&k.Width, "width", 80, "the text's width in `COLUMNS`, at least 50")
	c.Flags().BoolVar(&k.Ascii, "ascii", false, "plain characters in place of lines and ticks")
}

// misreadings completes the IDs of misreadings.
func misreadings(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	var list []string
	for _, r := range tarry.MisreadIDs() {
		list = append(list, r[0]+"\t"+r[1])
	}
	return list, cobra.ShellCompDirectiveNoFileComp
}

func (t *terminal) exercise() *cobra.Command {
	var r tarry.ExerciseRequest
	var dir, header string
	var replace bool
	c := &cobra.Command{
		Use:   "exercise LEVEL|FILE --variant SPRING-07 -o DIR",
		Short: "Make exercises of one difficulty, with their keys",
		Long: `exercise makes as many exercises as are asked for, all equally hard: of a level,
or variants of a circuit of yours with other presets and other presses. The same
level, count and variant code give the same files everywhere. The levels:

` + levelLines() + `
The forms: pdf has a sheet for each exercise and the keys at the end; lesson is
one HTML file in which learners predict; qti21 and qti12 are packages for test
systems, with a page that says what should be seen after import.`,
		Example: `  tarry exercise chain --count 30 --variant SPRING-07 -o exercises
  tarry exercise belt.tarry --count 12 --variant B2 -o exercises --asked H1
  tarry exercise timers --count 10 --variant B -o exercises --format qti21`,
		Args: exactly("LEVEL or FILE"),
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if err = t.exerciseOf(&r, names[0]); err != nil {
				return err
			}
			if r.HeaderFile, err = t.header(header); err != nil {
				return err
			}
			if r.Form == "lesson" {
				if r.Desk, err = deskPage(); err != nil {
					return err
				}
			}
			out, err := tarry.MakeExercises(r)
			t.say(out.Checked)
			if err != nil {
				return err
			}
			err = t.writeInto(dir, out.Files, replace)
			if err == nil && out.Remark != "" {
				fmt.Fprintln(t.errs, "tarry: "+out.Remark)
			}
			return cmp.Or(err, result(out.Errors, 0))
		},
	}
	f := c.Flags()
	f.IntVar(&r.Count, "count", 10, "how `MANY`")
	f.StringVar(&r.Variant, "variant", "", "the `CODE` that makes the same ones again")
	f.StringVarP(&dir, "output", "o", "", "the `DIR` to write into")
	f.StringVar(&r.Form, "format", "pdf", "`FORM`: pdf, lesson, qti21 or qti12")
	f.StringVar(&r.Script, "script", "", "of a FILE: its script's `NAME` or number")
	f.StringSliceVar(&r.Asked, "asked", nil, "of a FILE: the `ROWS` to be drawn; else what it drives")
	f.BoolVar(&r.Faded, "faded", false, "pdf: five sheets of each, from much given to nothing")
	f.BoolVar(&replace, "replace", false, "write over files that hold something else")
	headerFlags(c, &header, &r.Header)
	paperFlag(c, &r.Paper)
	styleFlags(c, &r.Style)
	c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(tarry.ExerciseForms, cobra.ShellCompDirectiveNoFileComp))
	needs(c, "variant CODE", "output DIR")
	return c
}

func levelLines() string {
	text := ""
	for _, l := range tarry.ExerciseLevels() {
		about := l[1]
		if at := strings.LastIndex(about, ", "); len(about) > 66 && at > 0 {
			about = about[:at+1] + "\n            " + about[at+2:]
		}
		text += fmt.Sprintf("  %-9s %s\n", l[0], about)
	}
	return text
}

// exerciseOf takes a word for a level, or for the file of that name.
func (t *terminal) exerciseOf(r *tarry.ExerciseRequest, name string) error {
	var levels []string
	for _, l := range tarry.ExerciseLevels() {
		if strings.EqualFold(l[0], name) {
			r.Level = l[0]
			return nil
		}
		levels = append(levels, l[0])
	}
	var err error
	if r.Source, err = t.read(name); err != nil {
		return fmt.Errorf("%w; nor is there such a level: the levels are %s", err, strings.Join(levels, ", "))
	}
	return nil
}

// writeInto writes files into a folder. A file that is there already and holds
// something else stays, and then nothing is written.
func (t *terminal) writeInto(dir string, files []tarry.NamedFile, replace bool) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("cannot make the folder %s: %w", dir, bare(err))
	}
	same := make([]bool, len(files))
	for i, f := range files {
		name := filepath.Join(dir, f.Name)
		old, err := os.ReadFile(name)
		same[i] = err == nil && bytes.Equal(old, f.Data)
		if errors.Is(err, fs.ErrNotExist) || same[i] || replace {
			continue
		}
		return fmt.Errorf("%s is there already and holds something else; nothing was written. Move it away, take another folder, or add --replace", name)
	}
	for i, f := range files {
		name := filepath.Join(dir, f.Name)
		if same[i] {
			fmt.Fprintln(t.out, name+" (unchanged)")
			continue
		}
		if err := writeWhole(name, f.Data); err != nil {
			return err
		}
		fmt.Fprintln(t.out, name)
	}
	return nil
}
