package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tarry"
)

const markLong = `mark holds learners' lines against the run of a circuit's scripts. ANSWERS is a
table with the columns learner, item, signal and answer (and sure), a file of
predictions that the desk saved (.json), or typed lines (.txt). An item is a
script, by name or number; an answer is written as an expectation is: on 5 s ..
12 s, and stands in quotes if it has a comma in it. What cannot be marked is
listed with its line and the reason, and the rest is marked. A tolerance is a
time, 0.5s, or squares, "half a square" or "2 squares": those that an answer is
drawn in, or else the chart's.

A file of overrules holds your marks in place of these; it is read and never
written.`

func (t *terminal) mark() *cobra.Command {
	var r tarry.MarkRequest
	var answers, overrules, output string
	c := &cobra.Command{
		Use:   "mark FILE --answers ANSWERS.csv",
		Short: "Mark learners' answers, and say what may be behind them",
		Long:  markLong,
		Example: `  tarry mark belt.tarry --answers answers.csv
  tarry mark belt.tarry --answers answers.csv --tolerance 1s -o marks.pdf
  tarry mark belt.tarry --answers answers.csv --tolerance "half a square"
  tarry mark belt.tarry --answers answers.csv --overrules mine.json -o marks.csv`,
		Args:              exactly("FILE"),
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if output != "" {
				if r.Form, err = formOf(output, tarry.MarkForms); err != nil {
					return err
				}
			}
			if err := notOver(output, names[0], answers, overrules); err != nil {
				return err
			}
			if names[0] == "-" && answers == "-" {
				return errors.New("the circuit and the answers can't both come from the standard input; name a file for one of them")
			}
			if r.Source, err = t.read(names[0]); err != nil {
				return err
			}
			if r.Overrules, err = t.overrules(overrules); err != nil {
				return err
			}
			files, done, err := t.answerFiles([]string{answers})
			defer done()
			if err != nil {
				return err
			}
			r.Answers = files[0]
			out, err := tarry.Mark(r)
			t.sayMarks(out.Checked, out.LeftOut, out.Remark)
			if err != nil {
				return err
			}
			if output == "" {
				output = "-"
			}
			return orExit(t.deliver(output, out.Output), out.Errors)
		},
	}
	f := c.Flags()
	f.StringVar(&answers, "answers", "", "the `FILE` of answers, - for the standard input")
	f.StringVarP(&output, "output", "o", "", "write a report `FILE`: .pdf, .csv or .json")
	markFlags(c, &r.Rows, &r.Tolerance, &overrules)
	paperFlag(c, &r.Paper)
	columnFlags(c, &r.Columns)
	needs(c, "answers FILE")
	return c
}

// markFlags are the choices of marking.
func markFlags(c *cobra.Command, rows *[]string, tolerance, overrules *string) {
	c.Flags().StringSliceVar(rows, "rows", nil, "the asked `ROWS`; else those that half the answers draw")
	c.Flags().StringVar(tolerance, "tolerance", "", "edges may be off by `TIME` or squares, else 0.5s or less")
	c.Flags().StringVar(overrules, "overrules", "", "`FILE` with your marks in place of these")
}

func (t *terminal) class() *cobra.Command {
	var r tarry.ClassRequest
	var circuit, overrules, output string
	c := &cobra.Command{
		Use:   "class ANSWERS... -o REPORT.pdf",
		Short: "Show what a class thinks: misreadings ranked, items, learners",
		Long: `class marks all the answers of a class and prints what may be behind them: lines
that somebody was sure of and that are wrong, the misreadings by how many
learners they may explain, each item, each learner, and the first question for
the next lesson. ANSWERS are files or folders of them (.json, .csv, .txt).
Predictions that the desk saved bring their circuits; tables need --circuit.`,
		Example: `  tarry class answers/ -o class.pdf
  tarry class monday.csv tuesday.csv --circuit belt.tarry -o class.pdf
  tarry class answers/ -o class.pdf --no-names`,
		Args: oneOrMore("ANSWERS"),
		RunE: func(_ *cobra.Command, names []string) (err error) {
			if _, err = formOf(output, []string{"pdf"}); err != nil {
				return err
			}
			if err := notOver(output, append(slices.Clone(names), circuit, overrules)...); err != nil {
				return err
			}
			if circuit != "" {
				if r.Source, err = t.read(circuit); err != nil {
					return err
				}
				if r.Text == nil {
					r.Text = []byte{}
				}
			}
			if r.Overrules, err = t.overrules(overrules); err != nil {
				return err
			}
			if names, err = t.inFolders(names); err != nil {
				return err
			}
			files, done, err := t.answerFiles(names)
			defer done()
			if err != nil {
				return err
			}
			r.Answers = files
			out, err := tarry.Class(r)
			t.sayMarks(out.Checked, out.LeftOut, out.Remark)
			if err != nil {
				return err
			}
			return orExit(t.deliver(output, out.Output), out.Errors)
		},
	}
	f := c.Flags()
	f.StringVarP(&output, "output", "o", "", "the PDF `FILE` to write")
	f.StringVar(&circuit, "circuit", "", "the circuit's `FILE`, for answers that bring none")
	f.BoolVar(&r.NoNames, "no-names", false, "learners are L01, L02 and so on")
	f.StringVar(&r.Title, "title", "", "the report's `TITLE`, else the circuit's")
	markFlags(c, &r.Rows, &r.Tolerance, &overrules)
	paperFlag(c, &r.Paper)
	needs(c, "output FILE")
	return c
}

// sayMarks writes what could not be marked to the error output.
func (t *terminal) sayMarks(c tarry.Checked, leftOut []string, remark string) {
	t.say(c)
	for _, line := range leftOut {
		fmt.Fprintln(t.errs, "tarry: "+line)
	}
	if remark != "" {
		fmt.Fprintln(t.errs, "tarry: "+remark)
	}
}

// overrules reads a file of overrules. That there is none yet is no fault.
func (t *terminal) overrules(name string) ([]byte, error) {
	if name == "" {
		return nil, nil
	}
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		fmt.Fprintf(t.errs, "tarry: there are no overrules yet: %s is not there\n", name)
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, bare(err))
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostOverrules))
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, bare(err))
	}
	return text, nil
}

// mostOverrules is more than a file of overrules may hold: what is longer is read no
// further, and refused.
const mostOverrules = 17 << 20

// answerFiles opens files of answers, which are read as they are needed. Call done
// in any case.
func (t *terminal) answerFiles(names []string) (files []tarry.AnswerFile, done func(), err error) {
	var open []*os.File
	done = func() {
		for _, f := range open {
			f.Close()
		}
	}
	for _, name := range names {
		if name == "-" {
			files = append(files, tarry.AnswerFile{Name: "standard input", Content: t.in})
			continue
		}
		f, err := os.Open(name)
		if err != nil {
			return nil, done, fmt.Errorf("cannot read %s: %w", name, bare(err))
		}
		open = append(open, f)
		if info, err := f.Stat(); err == nil && info.IsDir() {
			return nil, done, fmt.Errorf("%s is a folder; name a file of answers", name)
		}
		files = append(files, tarry.AnswerFile{Name: name, Content: f})
	}
	return files, done, nil
}

// answerEndings are those of files of answers in a folder.
var answerEndings = []string{".json", ".csv", ".txt"}

// inFolders puts the files of answers in place of their folders, in order of their
// names.
func (t *terminal) inFolders(names []string) ([]string, error) {
	var list []string
	for _, name := range names {
		info, err := os.Stat(name)
		if err != nil || !info.IsDir() {
			list = append(list, name)
			continue
		}
		entries, err := os.ReadDir(name)
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w", name, bare(err))
		}
		before := len(list)
		for _, e := range entries {
			if !e.IsDir() && slices.Contains(answerEndings, strings.ToLower(filepath.Ext(e.Name()))) {
				list = append(list, filepath.Join(name, e.Name()))
			}
		}
		if len(list) == before {
			return nil, fmt.Errorf("there are no answers in the folder %s: files that end in %s are looked for", name, strings.Join(answerEndings, ", "))
		}
	}
	return list, nil
}

// notOver refuses to write a report over one of the files that it is made of.
func notOver(output string, inputs ...string) error {
	for _, in := range inputs {
		if in != "" && output != "" && sameFile(in, output) {
			return fmt.Errorf("-o %s is a file that the report is made of; give it another name", output)
		}
	}
	return nil
}
