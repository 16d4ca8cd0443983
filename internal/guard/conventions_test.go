package guard

import (
	"fmt"
	"go/ast"
	"path"
	"strings"
	"testing"
)

// signed are the rooms in which a turned sign or a wrong side would still give
// a plausible picture, and what could be turned there.
var signed = map[string]string{
	"zernike":    "turn, shift and mirror of a wavefront",
	"psf":        "the side to which a tail points",
	"refraction": "sign of defocus, direction of an axis",
	"cornea":     "a bump delays",
	"light":      "rows run down, up is positive",
	"fieldmask":  "left and right, up and down of a field; gaze",
	"match":      "who is liked more, and which side is chosen too often",
	"casefile":   "in and out, and the ways of writing x",
	"cause":      "to which side a lens is shifted",
	"scene":      "up is up",
	"studio":     "right is right and up is up, also when the eye looks down",
	"render":     "the picture as the patient sees it",
}

// turnable complains when a room of the list above holds its conventions by no
// test of their own.
func turnable(name string, tests []source) []string {
	what, ok := signed[name]
	if !ok {
		return nil
	}
	for _, s := range tests {
		if path.Base(s.name) == "convention_test.go" && hasTest(s) {
			return nil
		}
	}
	return []string{fmt.Sprintf("%s: has no test in a convention_test.go (%s)", name, what)}
}

func hasTest(s source) bool {
	for _, d := range s.file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(f.Name.Name, "Test") {
			return true
		}
	}
	return false
}

func TestConventionsAreHeldByTests(t *testing.T) {
	for _, p := range all(t) {
		report(t, turnable(room(p.ImportPath), sources(t, p, true)))
	}
}

func TestTheRuleOfConventionsCanFail(t *testing.T) {
	empty := mustParse(t, "internal/psf/convention_test.go", "package psf\n")
	full := mustParse(t, "internal/psf/convention_test.go", "package psf\nfunc TestTails() {}\n")
	other := mustParse(t, "internal/psf/psf_test.go", "package psf\nfunc TestTails() {}\n")
	wants(t, turnable("psf", []source{empty, other}), "no test in a convention_test.go")
	wants(t, turnable("psf", []source{other, full}))
	wants(t, turnable("fft", nil))
}
