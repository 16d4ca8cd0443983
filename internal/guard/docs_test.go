package guard

import (
	"fmt"
	"go/ast"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// conventionWords have to be spoken about under the heading, if only to say
// that they do not apply.
var conventionWords = []string{"axes", "origin", "index", "normalisation", "sign", "side", "units", "sampling", "centring"}

// unsaid returns what the package comment of a doc.go leaves out.
func unsaid(s source) []string {
	if s.file.Doc == nil {
		return []string{s.name + ": has no package comment"}
	}
	_, after, found := strings.Cut(s.file.Doc.Text(), "\n# Conventions\n")
	if !found {
		return []string{s.name + ": has no heading \"# Conventions\""}
	}
	section, _, _ := strings.Cut(after, "\n# ")
	var faults []string
	for _, w := range conventionWords {
		if !strings.Contains(strings.ToLower(section), w) {
			faults = append(faults, fmt.Sprintf("%s: says nothing of %q under Conventions", s.name, w))
		}
	}
	return faults
}

func TestEveryPackageStatesItsConventions(t *testing.T) {
	for _, p := range all(t) {
		if !slices.Contains(p.GoFiles, "doc.go") {
			t.Errorf("%s: has no doc.go", room(p.ImportPath))
			continue
		}
		path := filepath.Join(p.Dir, "doc.go")
		report(t, unsaid(mustParse(t, relative(t, path), read(t, path))))
	}
}

func TestTheConventionRuleCanFail(t *testing.T) {
	doc := func(text string) []string { return unsaid(mustParse(t, "doc.go", text)) }
	wants(t, doc("package a\n"), "no package comment")
	wants(t, doc("// Package a is short.\npackage a\n"), "no heading")
	wants(t, doc("// Package a.\n//\n// # Conventions\n//\n// Axes, origin, index, normalisation, side, units, sampling, centring.\npackage a\n"), "sign")
}

// undocumented returns the exported identifiers without a comment. Fields of a
// struct may be told in the comment of their type.
func undocumented(s source) []string {
	var faults []string
	miss := func(n ast.Node, name string) {
		faults = append(faults, fmt.Sprintf("%s: %s is exported and has no comment", s.at(n), name))
	}
	for _, d := range s.file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if exportedFunc(d) && d.Doc == nil {
				miss(d, d.Name.Name)
			}
		case *ast.GenDecl:
			for _, sp := range d.Specs {
				if name, ok := bareSpec(d, sp); ok {
					miss(sp, name)
				}
			}
		}
	}
	return faults
}

// exportedFunc reports whether go doc would show the function or method.
func exportedFunc(d *ast.FuncDecl) bool {
	if !d.Name.IsExported() {
		return false
	}
	if d.Recv == nil {
		return true
	}
	return ast.IsExported(receiver(d.Recv.List[0].Type))
}

// receiver returns the name of a receiver's type.
func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.IndexListExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// bareSpec returns the exported name of a spec that has no comment anywhere. A
// group of constants or variables may share the comment above it.
func bareSpec(d *ast.GenDecl, sp ast.Spec) (string, bool) {
	switch sp := sp.(type) {
	case *ast.TypeSpec:
		return sp.Name.Name, sp.Name.IsExported() && d.Doc == nil && sp.Doc == nil
	case *ast.ValueSpec:
		if d.Tok == token.IMPORT || d.Doc != nil || sp.Doc != nil || sp.Comment != nil {
			return "", false
		}
		for _, n := range sp.Names {
			if n.IsExported() {
				return n.Name, true
			}
		}
	}
	return "", false
}

func TestEveryExportedIdentifierIsDocumented(t *testing.T) {
	for _, p := range all(t) {
		for _, s := range sources(t, p, false) {
			report(t, undocumented(s))
		}
	}
}

func TestTheDocumentationRuleCanFail(t *testing.T) {
	bad := mustParse(t, "a.go", `package a
type T struct{}
func (t *T) M() {}
func F() {}
const C = 1
// g is told.
var G = 2
func (h hidden[T]) M() {}
type hidden[T any] struct{}
`)
	wants(t, undocumented(bad), "T is exported", "M is exported", "F is exported", "C is exported")
}

// minExamples is how many stories with checked output each room tells.
const minExamples = 2

// fewExamples complains when the tests of a room hold too few examples whose
// output is compared.
func fewExamples(name string, tests []source) []string {
	n := 0
	for _, s := range tests {
		for _, d := range s.file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(f.Name.Name, "Example") && hasOutput(s, f) {
				n++
			}
		}
	}
	if n < minExamples {
		return []string{fmt.Sprintf("%s: has %d examples with output, want %d or more", name, n, minExamples)}
	}
	return nil
}

func hasOutput(s source, f *ast.FuncDecl) bool {
	for _, c := range s.file.Comments {
		text := strings.ToLower(c.Text())
		inside := c.Pos() > f.Body.Lbrace && c.End() <= f.Body.Rbrace
		if inside && (strings.HasPrefix(text, "output:") || strings.HasPrefix(text, "unordered output:")) {
			return true
		}
	}
	return false
}

func TestEveryRoomTellsTwoStories(t *testing.T) {
	for _, p := range all(t) {
		if name := room(p.ImportPath); p.Name != "main" && name != "guard" && name != "scenes" {
			report(t, fewExamples(name, sources(t, p, true)))
		}
	}
	one := mustParse(t, "a_test.go", "package a\nfunc ExampleA() {\n\t// Output: 1\n}\nfunc ExampleB() {}\n")
	wants(t, fewExamples("a", []source{one}), "has 1 examples")
}
