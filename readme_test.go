package tarry_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"tarry"
	"tarry/internal/casetest"
)

// README.md is held to the truth. Its circuits read without errors. In its sh
// blocks a line that begins with "$ " is a command, run where the first circuit
// lies as dab.tarry beside bin and library; the lines below it are what it
// prints, and a line that is only … stands for lines left out.

func readmeBlocks(t *testing.T, language string) (blocks []string) {
	t.Helper()
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile("(?sm)^```"+language+"\n(.*?)^```$").FindAllStringSubmatch(string(text), -1) {
		blocks = append(blocks, m[1])
	}
	if len(blocks) == 0 {
		t.Fatalf("README.md has no %s block", language)
	}
	return blocks
}

func TestReadmeCircuits(t *testing.T) {
	for _, text := range readmeBlocks(t, "tarry") {
		got, err := tarry.Check(tarry.Source{Name: "README.md", Text: []byte(text)})
		if err != nil || got.Errors {
			t.Errorf("%v\n%s", err, got.Listing)
		}
	}
}

func TestReadmeCommands(t *testing.T) {
	dir := t.TempDir()
	root, err := os.Getwd()
	if err == nil {
		err = os.Symlink(filepath.Join(root, "library"), filepath.Join(dir, "library"))
	}
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, "dab.tarry"), []byte(readmeBlocks(t, "tarry")[0]), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	build := exec.Command("go", "build", "-buildvcs=false", "-o", filepath.Join(dir, "bin", "tarry"), "./cmd/tarry")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, block := range readmeBlocks(t, "sh") {
		for _, session := range strings.Split("\n"+block, "\n$ ")[1:] {
			command, want, _ := strings.Cut(session, "\n")
			sh := exec.Command("sh", "-c", command)
			sh.Dir = dir
			got, _ := sh.CombinedOutput() // the exit code is shown by the command where it matters
			if !matches(strings.TrimSpace(want), strings.TrimSpace(string(got))) {
				t.Errorf("$ %s prints\n%s\nand not\n%s", command, got, want)
			}
		}
	}
}

// matches compares line by line; … in want stands for any lines.
func matches(want, got string) bool {
	want = regexp.QuoteMeta(want)
	want = regexp.MustCompile(`(?m)^…$`).ReplaceAllLiteralString(want, `(?s:.*)`)
	return regexp.MustCompile("^" + want + "$").MatchString(got)
}

// TestGoldenReadmeDrawings keeps the pictures of schematics up to date.
func TestGoldenReadmeDrawings(t *testing.T) {
	for i, d := range []struct{ name, symbols, layout, script, at string }{
		{"08-belt-start-warning", "international", "rungs", "", ""},
		{"08-belt-start-warning", "american", "rungs", "", ""},
		{"09-three-belts-start", "international", "paths", "", ""},
		{"14-fan-run-on", "international", "paths", "1", "3 s"},
	} {
		name := "library/" + d.name + ".tarry"
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out, err := tarry.Draw(tarry.DrawRequest{Source: tarry.Source{Name: name, Text: text},
			Style: tarry.Style{Symbols: d.symbols, Layout: d.layout}, Script: d.script, At: d.at})
		if err != nil {
			t.Fatal(err)
		}
		casetest.Golden(t, filepath.Join("docs", "drawing-"+strconv.Itoa(i+1)+".svg"), out.Files[0].Data)
	}
}

// TestGoldenReadmeChart keeps the picture up to date.
func TestGoldenReadmeChart(t *testing.T) {
	const name = "library/05-start-with-a-dab.tarry"
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	out, err := tarry.Chart(tarry.ChartRequest{Source: tarry.Source{Name: name, Text: text}, Script: "2"})
	if err != nil {
		t.Fatal(err)
	}
	casetest.Golden(t, filepath.Join("docs", "chart.svg"), out.SVG)
}
