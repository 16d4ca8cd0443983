package guard

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// module is the name in go.mod; rooms are named without it.
const module = "simview"

// pkg is what go list says of one package.
type pkg struct {
	ImportPath   string
	Dir          string
	Name         string
	Imports      []string
	GoFiles      []string
	TestGoFiles  []string
	XTestGoFiles []string
}

// room returns the short name of a package: "psf" for simview/internal/psf,
// "cmd/simview" for simview/cmd/simview.
func room(importPath string) string {
	return strings.TrimPrefix(strings.TrimPrefix(importPath, module+"/"), "internal/")
}

// source is one parsed file.
type source struct {
	name string // path from the top of the repository
	test bool
	fset *token.FileSet
	file *ast.File
	n    int // lines
}

// parse reads one file from text; name decides whether it is a test.
func parse(name, text string) (source, error) {
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, name, text, parser.ParseComments)
	if err != nil {
		return source{}, err
	}
	return source{name, strings.HasSuffix(name, "_test.go"), fset, f, strings.Count(text, "\n")}, nil
}

// mustParse is parse for the small broken sources of the tests.
func mustParse(t *testing.T, name, text string) source {
	t.Helper()
	s, err := parse(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func (s source) at(n ast.Node) string {
	return fmt.Sprintf("%s:%d", s.name, s.fset.Position(n.Pos()).Line)
}

// top is the top of the repository, where go.mod lies.
const top = "../.."

var packages = sync.OnceValues(func() ([]pkg, error) {
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Dir,Name,Imports,GoFiles,TestGoFiles,XTestGoFiles", "./...")
	cmd.Dir = top
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	return decode(out)
})

func decode(out []byte) ([]pkg, error) {
	var all []pkg
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
}

// all returns every package of the repository.
func all(t *testing.T) []pkg {
	t.Helper()
	p, err := packages()
	if err != nil {
		t.Fatal(err)
	}
	if len(p) == 0 {
		t.Fatal("go list found no package")
	}
	return p
}

// sources parses the files of a package, tests included when asked for.
func sources(t *testing.T, p pkg, tests bool) []source {
	t.Helper()
	names := append([]string(nil), p.GoFiles...)
	if tests {
		names = append(append(names, p.TestGoFiles...), p.XTestGoFiles...)
	}
	var out []source
	for _, n := range names {
		path := filepath.Join(p.Dir, n)
		out = append(out, mustParse(t, relative(t, path), read(t, path)))
	}
	return out
}

// report fails with every broken rule, one a line.
func report(t *testing.T, faults []string) {
	t.Helper()
	for _, f := range faults {
		t.Error(f)
	}
}

// wants checks that a rule shown a broken source says so, in the words wanted,
// and that it keeps silent where nothing is wanted.
func wants(t *testing.T, faults []string, words ...string) {
	t.Helper()
	if len(faults) != len(words) {
		t.Fatalf("the rule found %d faults, want %d: %q", len(faults), len(words), faults)
	}
	for i, w := range words {
		if !strings.Contains(faults[i], w) {
			t.Errorf("fault %d = %q, want it to contain %q", i, faults[i], w)
		}
	}
}
