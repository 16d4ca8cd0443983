package guard

import (
	"cmp"
	"fmt"
	"go/ast"
	"math"
	"slices"
	"strings"
	"testing"
)

// The budget: what a reader can hold in the head. Test functions share the
// largest size but not the percentile, for tables of check values are long.
const (
	maxFileLines = 400
	maxFuncLines = 100
	p90FuncLines = 50
)

// length is the size of one function or file in lines.
type length struct {
	name  string
	lines int
}

// functions returns the length of every function of a file, brace to brace.
func functions(s source) []length {
	var out []length
	for _, d := range s.file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Body != nil {
			from, to := s.fset.Position(f.Pos()).Line, s.fset.Position(f.End()).Line
			out = append(out, length{s.at(f) + " " + f.Name.Name, to - from + 1})
		}
	}
	return out
}

// percentile returns the length below or at which the share p of the list lies
// (nearest rank); 0 for an empty list.
func percentile(list []length, p float64) int {
	if len(list) == 0 {
		return 0
	}
	sorted := slices.SortedFunc(slices.Values(list), func(a, b length) int { return cmp.Compare(a.lines, b.lines) })
	const rounding = 1e-9 // far below 1/len, far above the error of the product
	rank := int(math.Ceil(p*float64(len(sorted)) - rounding))
	return sorted[max(rank, 1)-1].lines
}

// tooLong returns every entry above a limit.
func tooLong(list []length, limit int) []string {
	var faults []string
	for _, l := range list {
		if l.lines > limit {
			faults = append(faults, fmt.Sprintf("%s: %d lines, at most %d", l.name, l.lines, limit))
		}
	}
	return faults
}

// measure is the size of one room.
type measure struct {
	room                 string
	files, funcs         []length // without tests
	testFiles, testFuncs []length
}

func measureRoom(name string, files []source) measure {
	m := measure{room: name}
	for _, s := range files {
		if s.test {
			m.testFiles = append(m.testFiles, length{s.name, s.n})
			m.testFuncs = append(m.testFuncs, functions(s)...)
			continue
		}
		m.files = append(m.files, length{s.name, s.n})
		m.funcs = append(m.funcs, functions(s)...)
	}
	return m
}

// over returns where a room is larger than the budget.
func (m measure) over() []string {
	faults := tooLong(slices.Concat(m.files, m.testFiles), maxFileLines)
	faults = append(faults, tooLong(slices.Concat(m.funcs, m.testFuncs), maxFuncLines)...)
	if p := percentile(m.funcs, 0.9); p > p90FuncLines {
		faults = append(faults, fmt.Sprintf("%s: one function in ten has %d lines or more, at most %d", m.room, p, p90FuncLines))
	}
	return faults
}

// row writes the sizes of a room as one line of the table.
func (m measure) row() string {
	f, t := sum(m.files), sum(m.testFiles)
	return fmt.Sprintf("%-12s %5d %5d  %4d/%4d/%4d  %4d/%4d/%4d  %5.2f", m.room, len(m.files), f,
		percentile(m.files, 0.5), percentile(m.files, 0.9), percentile(m.files, 1),
		percentile(m.funcs, 0.5), percentile(m.funcs, 0.9), percentile(m.funcs, 1), float64(t)/float64(max(f, 1)))
}

const tableHead = "room         files lines  lines/file p50/p90/max  lines/func p50/p90/max  test:code"

func sum(list []length) int {
	n := 0
	for _, l := range list {
		n += l.lines
	}
	return n
}

func TestFilesAndFunctionsStayWithinTheBudget(t *testing.T) {
	table := []string{tableHead}
	for _, p := range all(t) {
		m := measureRoom(room(p.ImportPath), sources(t, p, true))
		report(t, m.over())
		table = append(table, m.row())
	}
	t.Log("\n" + strings.Join(table, "\n"))
}

func TestTheBudgetCanBeOverrun(t *testing.T) {
	long := func(name string, lines int) source {
		return mustParse(t, name, "package a\nfunc f() {\n"+strings.Repeat("\n", lines-2)+"}\n")
	}
	wants(t, measureRoom("a", []source{long("a.go", 50)}).over())
	wants(t, measureRoom("a", []source{long("a.go", 51)}).over(), "one function in ten")
	wants(t, measureRoom("a", []source{long("a_test.go", 101)}).over(), "101 lines, at most 100")
	file := mustParse(t, "b.go", "package a\n"+strings.Repeat("\n", 400))
	wants(t, measureRoom("a", []source{file}).over(), "401 lines, at most 400")
	ten := []length{{"", 1}, {"", 2}, {"", 3}, {"", 4}, {"", 5}, {"", 6}, {"", 7}, {"", 8}, {"", 9}, {"", 10}}
	if p := percentile(ten, 0.9); p != 9 {
		t.Errorf("percentile(1..10, 0.9) = %d, want 9", p)
	}
}
