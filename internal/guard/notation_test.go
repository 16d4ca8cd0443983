package guard

import (
	"fmt"
	"go/ast"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The columns of the table in docs/notation.md.
const (
	colGo    = 2
	colKey   = 3
	colFlag  = 4
	colUnit  = 6
	nColumns = 7
)

var backticked = regexp.MustCompile("`([^`]+)`")

// notation is the table: the names in backticks by column, over all rows.
type notation map[int][]string

func readNotation(text string) (notation, []string) {
	n := notation{}
	var faults []string
	for i, line := range strings.Split(text, "\n") {
		if !strings.HasPrefix(line, "|") || strings.HasPrefix(line, "|---") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		if len(cells) != nColumns {
			faults = append(faults, fmt.Sprintf("docs/notation.md:%d: has %d columns, want %d", i+1, len(cells), nColumns))
			continue
		}
		if strings.TrimSpace(cells[colUnit]) == "" {
			faults = append(faults, fmt.Sprintf("docs/notation.md:%d: has no unit; write 1 where there is none", i+1))
		}
		for c, cell := range cells {
			for _, m := range backticked.FindAllStringSubmatch(cell, -1) {
				n[c] = append(n[c], m[1])
			}
		}
	}
	return n, faults
}

// names is what the sources declare: Go names by room, yaml keys, strings.
type names struct {
	declared map[string]bool // room.Name
	keys     map[string]bool // of the tags of all rooms
	caseKeys []string        // of casefile alone
	strings  map[string]bool // literals of the program
}

func (n *names) add(roomName string, s source) {
	note := func(id *ast.Ident) { n.declared[roomName+"."+id.Name] = true }
	ast.Inspect(s.file, func(node ast.Node) bool {
		switch d := node.(type) {
		case *ast.FuncDecl:
			note(d.Name)
		case *ast.TypeSpec:
			note(d.Name)
		case *ast.ValueSpec:
			for _, id := range d.Names {
				note(id)
			}
		case *ast.Field:
			for _, id := range d.Names {
				note(id)
			}
			n.addKey(roomName, d.Tag)
		case *ast.BasicLit:
			if text, err := strconv.Unquote(d.Value); err == nil && strings.HasPrefix(roomName, "cmd/") {
				n.strings[text] = true
			}
		}
		return true
	})
}

var yamlTag = regexp.MustCompile(`yaml:"([a-z][a-z0-9_]*)[",]`)

func (n *names) addKey(roomName string, tag *ast.BasicLit) {
	if tag == nil {
		return
	}
	if m := yamlTag.FindStringSubmatch(tag.Value); m != nil {
		n.keys[m[1]] = true
		if roomName == "casefile" {
			n.caseKeys = append(n.caseKeys, m[1])
		}
	}
}

func newNames() *names {
	return &names{declared: map[string]bool{}, keys: map[string]bool{}, strings: map[string]bool{}}
}

// unitEndings are the endings that give a file key its unit.
var unitEndings = regexp.MustCompile(`(_mm|_um|_nm|_d|_deg|_db|_years|_m|_cdm2|_lux|_s|mar)$`)

// unitFlags are the names of flags that carry a unit.
var unitFlags = regexp.MustCompile(`^[a-z]+(-[a-z]+)*-(mm|um|nm|d|deg|db|years|m|cdm2|lux|arcmin|cpd)$`)

// mismatched compares the table with the sources, both ways: what it names must
// exist, and each key of a case and each flag that carries a unit must be in it.
func mismatched(table notation, code *names) []string {
	var faults []string
	for _, g := range table[colGo] {
		parts := strings.Split(g, ".")
		if name := parts[0] + "." + parts[len(parts)-1]; !code.declared[name] {
			faults = append(faults, fmt.Sprintf("docs/notation.md: Go name %s does not exist", g))
		}
	}
	listed := map[string]bool{}
	for _, k := range table[colKey] {
		listed[k] = true
		if !code.keys[k] {
			faults = append(faults, fmt.Sprintf("docs/notation.md: file key %s does not exist", k))
		}
	}
	for _, f := range table[colFlag] {
		listed[f] = true
		if !code.strings[strings.TrimLeft(f, "-")] {
			faults = append(faults, fmt.Sprintf("docs/notation.md: flag %s does not exist", f))
		}
	}
	for _, k := range code.caseKeys {
		if unitEndings.MatchString(k) && !listed[k] {
			faults = append(faults, fmt.Sprintf("docs/notation.md: lacks the file key %s", k))
			listed[k] = true
		}
	}
	for _, f := range slices.Sorted(maps.Keys(code.strings)) {
		if unitFlags.MatchString(f) && !listed["--"+f] {
			faults = append(faults, fmt.Sprintf("docs/notation.md: lacks the flag --%s", f))
		}
	}
	return faults
}

func TestOneNameForEachQuantity(t *testing.T) {
	table, faults := readNotation(read(t, filepath.Join(top, "docs", "notation.md")))
	report(t, faults)
	code := newNames()
	for _, p := range all(t) {
		for _, s := range sources(t, p, false) {
			code.add(room(p.ImportPath), s)
		}
	}
	report(t, mismatched(table, code))
}

func TestTheNotationRuleCanFail(t *testing.T) {
	_, faults := readNotation("| a | b |\n| q | s | | | | l | |\n")
	wants(t, faults, "has 2 columns", "has no unit")
	table, faults := readNotation("| q | s | `casefile.T.Here`, `casefile.Gone` | `here_mm`, `gone_mm` | `--eye`, `--gone` | l | mm |\n")
	wants(t, faults)
	code := newNames()
	code.add("casefile", mustParse(t, "a.go", "package a\ntype T struct {\n\tHere int `yaml:\"here_mm\"`\n\tNew int `yaml:\"new_d\"`\n}\n"))
	code.add("cmd/simview", mustParse(t, "b.go", "package b\nvar f, g = \"eye\", \"gaze-deg\"\n"))
	wants(t, mismatched(table, code), "casefile.Gone", "gone_mm", "--gone", "new_d", "--gaze-deg")
}
