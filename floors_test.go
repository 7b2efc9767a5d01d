package tarry_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The floors of the house, as the table in docs/ARCHITECTURE.md lists them. A
// package imports from lower floors only. Every source file is opened here,
// those of other systems and build tags included.

// floorRow matches a row of the table: | 3 | `engine` | … |
var floorRow = regexp.MustCompile("^\\| *(\\d+) *\\| *((?:`[^`]+` *)+)\\|")

func readFloors(t *testing.T) map[string]int {
	t.Helper()
	text, err := os.ReadFile("docs/ARCHITECTURE.md")
	if err != nil {
		t.Fatal(err)
	}
	floors := map[string]int{}
	for _, line := range strings.Split(string(text), "\n") {
		m := floorRow.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		floor, _ := strconv.Atoi(m[1])
		for _, name := range strings.Fields(strings.ReplaceAll(m[2], "`", " ")) {
			floors[name] = floor
		}
	}
	if len(floors) < 10 {
		t.Fatalf("the table of floors has only %d packages", len(floors))
	}
	return floors
}

// goFiles calls visit for every Go file, with its folder; the root's folder is
// ".".
func goFiles(t *testing.T, visit func(folder, name string, file *ast.File, set *token.FileSet)) {
	t.Helper()
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") {
			return nil
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		visit(filepath.ToSlash(filepath.Dir(name)), filepath.ToSlash(name), file, set)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// packageOf names a folder as the table does.
func packageOf(folder string) string {
	if folder == "." {
		return "tarry"
	}
	return folder
}

func TestFloors(t *testing.T) {
	floors := readFloors(t)
	seen := map[string]bool{}
	goFiles(t, func(folder, name string, file *ast.File, _ *token.FileSet) {
		if strings.HasSuffix(name, "_test.go") || strings.HasPrefix(folder, "internal/") {
			return
		}
		own, ok := floors[packageOf(folder)]
		if !ok {
			t.Errorf("%s: package %s has no floor in docs/ARCHITECTURE.md", name, folder)
		}
		seen[packageOf(folder)] = true
		for _, imp := range file.Imports {
			target, _ := strconv.Unquote(imp.Path.Value)
			if target != "tarry" && !strings.HasPrefix(target, "tarry/") {
				continue
			}
			short := strings.TrimPrefix(target, "tarry/")
			floor, ok := floors[short]
			if !ok || floor >= own {
				t.Errorf("%s: floor %d imports %s of floor %d", name, own, short, floor)
			}
		}
	})
	for name := range floors {
		if !seen[name] {
			t.Errorf("docs/ARCHITECTURE.md names a package %s that is not there", name)
		}
	}
}

// Limits on length. A longer function needs a reason here.
const (
	maxFunctionLines = 60
	maxTestLines     = 80 // a table of cases is long and flat
	maxFileLines     = 600
)

var longFunctions = map[string]string{
	"engine/react.go reactTimer": "a flat switch over the timer functions",
}

func TestLengths(t *testing.T) {
	goFiles(t, func(_, name string, file *ast.File, set *token.FileSet) {
		if lines := set.Position(file.End()).Line; lines > maxFileLines {
			t.Errorf("%s has %d lines, more than %d", name, lines, maxFileLines)
		}
		for _, decl := range file.Decls {
			f, ok := decl.(*ast.FuncDecl)
			if !ok {
				continue
			}
			lines := set.Position(f.End()).Line - set.Position(f.Pos()).Line + 1
			limit := maxFunctionLines
			if strings.HasSuffix(name, "_test.go") {
				limit = maxTestLines
			}
			if _, allowed := longFunctions[name+" "+f.Name.Name]; lines > limit && !allowed {
				t.Errorf("%s: %s has %d lines, more than %d", name, f.Name.Name, lines, limit)
			}
		}
	})
}

// TestComments asks for a comment on every exported name.
func TestComments(t *testing.T) {
	goFiles(t, func(folder, name string, file *ast.File, _ *token.FileSet) {
		if strings.HasSuffix(name, "_test.go") || strings.HasPrefix(folder, "internal/") {
			return
		}
		for _, decl := range file.Decls {
			switch d := decl.(type) {
			case *ast.FuncDecl:
				if d.Name.IsExported() && d.Doc == nil && !isMethodOfHidden(d) {
					t.Errorf("%s: %s has no comment", name, d.Name.Name)
				}
			case *ast.GenDecl:
				checkGenDecl(t, name, d)
			}
		}
	})
}

func isMethodOfHidden(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return false
	}
	kind := f.Recv.List[0].Type
	if star, ok := kind.(*ast.StarExpr); ok {
		kind = star.X
	}
	id, ok := kind.(*ast.Ident)
	return ok && !id.IsExported()
}

func checkGenDecl(t *testing.T, name string, d *ast.GenDecl) {
	for _, spec := range d.Specs {
		switch s := spec.(type) {
		case *ast.TypeSpec:
			if s.Name.IsExported() && d.Doc == nil && s.Doc == nil {
				t.Errorf("%s: type %s has no comment", name, s.Name.Name)
			}
		case *ast.ValueSpec:
			if s.Names[0].IsExported() && d.Doc == nil && s.Doc == nil && s.Comment == nil {
				t.Errorf("%s: %s has no comment", name, s.Names[0].Name)
			}
		}
	}
}

// TestNoAddresses keeps paths of this machine and of package hosts out of the
// project's own files.
func TestNoAddresses(t *testing.T) {
	hosts := regexp.MustCompile(`proxy\.golang\.org|registry\.npmjs\.org|deb\.debian\.org|/work/(main|shared)`)
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if err == nil && d.Name() != "." && (d.Name() == ".git" || d.Name() == "bin" || d.Name() == "node_modules") {
				return filepath.SkipDir
			}
			return err
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if at := hosts.FindIndex(text); at != nil && path.Base(name) != "floors_test.go" {
			t.Errorf("%s names %s", name, text[at[0]:at[1]])
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
