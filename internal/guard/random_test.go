package guard

import (
	"fmt"
	"go/ast"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// makers are the names of math/rand/v2 that take a seed or a source; all others
// draw from a generator that is seeded anew in every run.
var makers = []string{"New", "NewPCG", "NewChaCha8", "NewZipf", "Rand", "Source", "PCG", "ChaCha8", "Zipf"}

// unseeded returns the uses of chance that cannot be repeated: the first
// version of math/rand, a generator without a seed, and a seed from the clock.
func unseeded(s source) []string {
	var faults []string
	randName, timeName := "", ""
	for _, imp := range s.file.Imports {
		switch path, _ := strconv.Unquote(imp.Path.Value); path {
		case "math/rand":
			faults = append(faults, s.at(imp)+": imports math/rand; use math/rand/v2 with a seed")
		case "math/rand/v2":
			randName = local(imp, "rand")
		case "time":
			timeName = local(imp, "time")
		}
	}
	ast.Inspect(s.file, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if randName != "" && isIdent(sel.X, randName) && !slices.Contains(makers, sel.Sel.Name) {
			faults = append(faults, fmt.Sprintf("%s: rand.%s draws without a seed", s.at(sel), sel.Sel.Name))
		}
		if timeName != "" && isNow(sel.X, timeName) && clockNumber(sel.Sel.Name) {
			faults = append(faults, fmt.Sprintf("%s: time.Now().%s is a number from the clock; seeds are written down", s.at(sel), sel.Sel.Name))
		}
		return true
	})
	return faults
}

// local returns the name under which an import is used in the file.
func local(imp *ast.ImportSpec, usual string) string {
	if imp.Name != nil {
		return imp.Name.Name
	}
	return usual
}

func isIdent(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name
}

// isNow reports whether e is the call time.Now().
func isNow(e ast.Expr, timeName string) bool {
	call, ok := e.(*ast.CallExpr)
	if !ok {
		return false
	}
	sel, ok := call.Fun.(*ast.SelectorExpr)
	return ok && sel.Sel.Name == "Now" && isIdent(sel.X, timeName)
}

func clockNumber(method string) bool {
	return strings.HasPrefix(method, "Unix") || method == "Nanosecond"
}

func TestAllChanceIsSeeded(t *testing.T) {
	for _, p := range all(t) {
		for _, s := range sources(t, p, true) {
			report(t, unseeded(s))
		}
	}
}

func TestTheSeedRuleCanFail(t *testing.T) {
	bad := func(text string) []string { return unseeded(mustParse(t, "a_test.go", "package a\n"+text)) }
	wants(t, bad(`import "math/rand"`), "use math/rand/v2")
	wants(t, bad("import r \"math/rand/v2\"\nvar x = r.IntN(3)\n"), "without a seed")
	wants(t, bad("import \"time\"\nvar x = time.Now().UnixNano()\n"), "from the clock")
	wants(t, bad("import \"math/rand/v2\"\nvar x = rand.New(rand.NewPCG(1, 1)).IntN(3)\n"))
	wants(t, bad("import \"time\"\nvar x = time.Now()\n"))
}
