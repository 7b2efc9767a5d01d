package tarry

import (
	"slices"
	"strings"

	"tarry/circuit"
	"tarry/page"
	"tarry/page/pdf"
	"tarry/sheet"
	"tarry/trace"
)

// Header is what a college writes into title blocks.
type Header = sheet.Header

// SheetRequest asks for printed sheets of a circuit.
type SheetRequest struct {
	Source
	Style
	sheet.Header
	// HeaderFile is the content of a small file with lines such as
	// college: Training Bay 7; what a field of Header says goes before it.
	HeaderFile []byte
	Parts      []string // names of sheet.PartNames; empty means all
	Paper      string   // "a4" or "letter"; empty is a4
	Script     string   // name or number; "all" for all; empty means the first
	PerPage    int      // frames of a storyboard on a page: 2, 4 or 6; 0 is 4
	Apart      bool     // a file for each part instead of one for all
}

// Sheets makes the printed set of a circuit as PDF.
func Sheets(r SheetRequest) (out Drawn, err error) {
	defer guard(r.Source, &err)
	set, title, err := r.set(&out)
	if err != nil {
		return out, err
	}
	var missing []rune
	for _, group := range grouped(set, r.Apart) {
		file, lacks, err := printed(group, r.Apart, title, r.Author)
		if err != nil {
			return out, err
		}
		out.Files = append(out.Files, file)
		missing = append(missing, lacks...)
	}
	slices.Sort(missing)
	out.Remark = missingWords(slices.Compact(missing))
	return out, nil
}

// set makes the parts of the printed set, and notes on out what reading and
// running said. The second result is the circuit's title.
func (r *SheetRequest) set(out *Drawn) ([]sheet.Part, string, error) {
	c, checked := read(r.Source)
	out.Checked = checked
	opt, traces, err := r.options(c, checked)
	if err != nil {
		return nil, "", err
	}
	r.Header = opt.Header
	for _, t := range traces {
		for i := range c.Scripts {
			if c.Scripts[i].Name == t.Script {
				out.Failed += failures(t, &c.Scripts[i])
			}
		}
	}
	set, err := sheet.Set(c, traces, opt)
	if err != nil {
		return nil, "", badInput("%s", strings.TrimPrefix(err.Error(), "sheet: "))
	}
	return set, c.Title, nil
}

// options turns the words of a request into choices and runs the scripts.
func (r *SheetRequest) options(c *circuit.Circuit, checked Checked) (opt sheet.Options, traces []*trace.Trace, err error) {
	style, err := r.Style.options()
	if err != nil {
		return opt, nil, err
	}
	paper, ok := pick(r.Paper, papers)
	if !ok {
		return opt, nil, badInput("there is no paper %q; %s", r.Paper, choice(r.Paper, papers, "papers"))
	}
	header, err := filledHeader(r.Header, r.HeaderFile)
	if err != nil {
		return opt, nil, err
	}
	name := r.Script
	switch name {
	case "":
		name = firstScript(c)
	case allScripts:
		name = ""
	}
	list, err := scripts(c, name)
	if err != nil {
		return opt, nil, err
	}
	for _, s := range list {
		t := runOne(c, s)
		if err := printable(t); err != nil {
			return opt, nil, err
		}
		traces = append(traces, t)
	}
	opt = sheet.Options{Header: header, Paper: sheet.Paper(paper), Symbols: style.Symbols, Layout: style.Layout,
		Parts: r.Parts, PerPage: r.PerPage, Faults: faultLines(checked)}
	return opt, traces, nil
}

// maxPrinted is how many events of a run can still be printed or drawn.
const maxPrinted = 5000

// printable says so when a run has too much in it for paper.
func printable(t *trace.Trace) error {
	if t.Len() <= maxPrinted {
		return nil
	}
	return badInput("script %q has %d events, more than %d: too many to draw; end it earlier, or write it with run --csv",
		t.Script, t.Len(), maxPrinted)
}

// allScripts asks for every script of a circuit.
const allScripts = "all"

// firstScript names the first script, or nothing where there is none.
func firstScript(c *circuit.Circuit) string {
	if len(c.Scripts) == 0 {
		return ""
	}
	return c.Scripts[0].Name
}

// grouped puts all parts into one file, or each into its own.
func grouped(set []sheet.Part, apart bool) [][]sheet.Part {
	if !apart {
		return [][]sheet.Part{set}
	}
	var groups [][]sheet.Part
	for _, p := range set {
		groups = append(groups, []sheet.Part{p})
	}
	return groups
}

// printed writes parts as one PDF with a bookmark for each.
func printed(parts []sheet.Part, apart bool, title, author string) (File, []rune, error) {
	var pages []*page.Page
	var outline []pdf.Bookmark
	for _, p := range parts {
		outline = append(outline, pdf.Bookmark{Title: p.Title, Page: len(pages)})
		pages = append(pages, p.Pages...)
	}
	suffix := ""
	if apart {
		suffix = "-" + parts[0].Name
	}
	r, err := pdf.Encode(pages, pdf.Options{Title: title, Author: author, Outline: outline})
	return File{suffix, r.Bytes}, r.Missing, err
}

// papers are the words for sheet.Paper, in its order.
var papers = []string{"a4", "letter"}

// headerWords are the lines that a header file may have.
var headerWords = []string{"college", "author", "date", "revision", "variant", "exercise"}

// filledHeader adds to a header what a header file says and the header leaves
// open. The file has lines such as "college: Training Bay 7"; a line that
// begins with # is a remark.
func filledHeader(h sheet.Header, file []byte) (sheet.Header, error) {
	fields := []*string{&h.College, &h.Author, &h.Date, &h.Revision, &h.Variant, &h.Exercise}
	for i, line := range strings.Split(strings.TrimPrefix(string(file), "\ufeff"), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		word, text, ok := strings.Cut(line, ":")
		if !ok {
			return h, badInput("line %d of the header file has no colon; it is written like college: Training Bay 7", i+1)
		}
		word = strings.ToLower(strings.TrimSpace(word))
		place := slices.Index(headerWords, word)
		if place < 0 {
			return h, badInput("line %d of the header file: there is no field %q; %s", i+1, word, choice(word, headerWords, "fields"))
		}
		if *fields[place] == "" {
			*fields[place] = strings.TrimSpace(text)
		}
	}
	return h, nil
}
