package sheet

import (
	"fmt"
	"slices"
	"strings"

	"tarry/circuit"
	"tarry/page"
	"tarry/schematic"
	"tarry/trace"
)

// Part is one part of a printed set.
type Part struct {
	Name  string // as in Options.Parts: chart-blank
	Title string // for a list of contents: "Timing chart, blank"
	Pages []*page.Page
}

// setter makes the parts of one set.
type setter struct {
	circuit *circuit.Circuit
	wiring  *circuit.Wiring
	numbers *schematic.Numbering
	places  [][]schematic.Place // where the contacts of each device stand
	traces  []*trace.Trace      // of the scripts that were asked for
	opt     Options
	// anySymbols says that the sheets show the symbols of both traditions.
	anySymbols bool
}

// parts are all parts in the order of a full set.
var parts = []struct {
	name, title string
	pages       func(*setter) []*page.Page
}{
	{"drawing", "Drawing", (*setter).drawingPages},
	{"chart-blank", "Timing chart, blank", (*setter).chartBlankPages},
	{"chart-part", "Timing chart, part filled", (*setter).chartPartPages},
	{"chart-filled", "Timing chart, key", (*setter).chartFilledPages},
	{"table-blank", "State table, blank", (*setter).tableBlankPages},
	{"table-filled", "State table, key", (*setter).tableFilledPages},
	{"storyboard", "Storyboard", (*setter).storyPages},
	{"parts", "Contacts and parts", (*setter).partsPages},
	{"wiring", "Wiring list", (*setter).wiringPages},
	{"dead-test", "Dead test", (*setter).deadPages},
	{"lab", "Lab sheet", (*setter).labPages},
	{"key", "Answer key", (*setter).keyPages},
}

// PartNames lists the names that Options.Parts may hold, in the order of a full
// set.
func PartNames() []string {
	var names []string
	for _, p := range parts {
		names = append(names, p.name)
	}
	return names
}

// PartTitle returns the title of a part by its name, empty for none of that
// name.
func PartTitle(name string) string {
	for _, p := range parts {
		if p.name == name {
			return p.title
		}
	}
	return ""
}

// Set makes the printed sheets of a circuit from the traces of its scripts. The
// pages of all parts are numbered through. The only errors are a part or a
// script that there is none of, and a number of storyboard frames that does not
// fit; each lists the choices.
func Set(c *circuit.Circuit, traces []*trace.Trace, opt Options) ([]Part, error) {
	s, err := newSetter(c, traces, opt)
	if err != nil {
		return nil, err
	}
	names := opt.Parts
	if len(names) == 0 {
		names = PartNames()
	}
	var set []Part
	for _, name := range names {
		i := slices.Index(PartNames(), strings.TrimSpace(name))
		if i < 0 {
			return nil, fmt.Errorf("sheet: there is no part %q; the parts are %s", name, strings.Join(PartNames(), ", "))
		}
		set = append(set, Part{parts[i].name, parts[i].title, parts[i].pages(s)})
	}
	numberAll(set)
	return set, nil
}

func newSetter(c *circuit.Circuit, traces []*trace.Trace, opt Options) (*setter, error) {
	if !slices.Contains([]int{0, 1, 2, 4, 6}, opt.PerPage) {
		return nil, fmt.Errorf("sheet: a storyboard has 1, 2, 4 or 6 frames to a page, not %d", opt.PerPage)
	}
	chosen, err := chooseScripts(traces, opt.Scripts)
	if err != nil {
		return nil, err
	}
	w := circuit.Wire(c)
	return &setter{circuit: c, wiring: w, numbers: schematic.Number(c, w), places: schematic.Places(c, w), traces: chosen, opt: opt}, nil
}

// chooseScripts returns the traces of the scripts with the names, in order.
func chooseScripts(traces []*trace.Trace, names []string) ([]*trace.Trace, error) {
	if len(names) == 0 {
		return traces, nil
	}
	var chosen []*trace.Trace
	for _, name := range names {
		i := slices.IndexFunc(traces, func(t *trace.Trace) bool { return t.Script == strings.TrimSpace(name) })
		if i < 0 {
			var all []string
			for _, t := range traces {
				all = append(all, fmt.Sprintf("%q", t.Script))
			}
			return nil, fmt.Errorf("sheet: there is no script %q; the scripts are %s", name, strings.Join(all, ", "))
		}
		chosen = append(chosen, traces[i])
	}
	return chosen, nil
}

// numberAll writes the page numbers.
func numberAll(set []Part) {
	total, n := 0, 0
	for _, p := range set {
		total += len(p.Pages)
	}
	for _, p := range set {
		for _, sheet := range p.Pages {
			n++
			number(sheet, fmt.Sprintf("%d of %d", n, total))
		}
	}
}
