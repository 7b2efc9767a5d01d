package sheet_test

import (
	"fmt"
	"os"
	"os/exec"
	"testing"

	"tarry/engine"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
	"tarry/page/svg"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
)

func TestLook(t *testing.T) {
	e, _ := library.Find(os.Getenv("LOOK"))
	file, _ := notation.Read(e.Name, e.Text)
	var trs []*trace.Trace
	for i := range file.Circuit.Scripts {
		trs = append(trs, engine.Run(file.Circuit, &file.Circuit.Scripts[i], engine.Options{}))
	}
	opt := sheet.Options{Header: sheet.Header{College: "Orchard Line College, Training Bay 7", Author: "M. Sample", Date: "12 March", Revision: "B", Variant: "V3", Exercise: "7"}}
	if os.Getenv("US") != "" {
		opt.Symbols = schematic.American
	}
	if os.Getenv("PATHS") != "" {
		opt.Layout = schematic.Paths
	}
	opt.Parts = []string{os.Getenv("PART")}
	if len(trs) > 1 && os.Getenv("ALL") == "" {
		opt.Scripts = []string{trs[0].Script}
	}
	set, err := sheet.Set(file.Circuit, trs, opt)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range set {
		for i, pg := range p.Pages {
			name := fmt.Sprintf("/tmp/sh/%s-%s-%d", os.Getenv("LOOK"), p.Name, i+1)
			os.WriteFile(name+".svg", svg.Encode(pg, svg.Options{}), 0o644)
			exec.Command("rsvg-convert", "-d", "110", "-p", "110", "-o", name+".png", name+".svg").Run()
			fmt.Println(name)
		}
	}
}

func TestLookMore(t *testing.T) {
	show := func(name string, pg *page.Page) {
		name = "/tmp/sh/" + name
		for _, f := range page.Faults(pg) {
			t.Log(name, f)
		}
		os.WriteFile(name+".svg", svg.Encode(pg, svg.Options{}), 0o644)
		exec.Command("rsvg-convert", "-d", "110", "-p", "110", "-o", name+".png", name+".svg").Run()
	}
	for _, n := range []string{"NOTC", "NC off-delay", "ncto", "delay on break"} {
		k, _ := sheet.DecodeName(n)
		show("dec-"+k.String(), sheet.Decoder(k))
	}
	for i, p := range sheet.SymbolPages(sheet.Options{}) {
		show(fmt.Sprintf("sym-%d", i+1), p)
	}
}
