package casefile

import (
	"fmt"
	"sort"
	"strings"
)

// Problem is one thing that is wrong with a case file.
type Problem struct {
	File string // as given to Load
	Line int    // 1 or more; 0 when the whole file is meant
	Key  string // as in eyes.right.pupil_dim_mm; may be empty
	What string // what was expected
	Got  string // what stands there; may be empty
	Hint string // what to do
}

// Error returns one sentence with place and hint:
//
//	file:line: key: what is wrong (got ...); hint: ...
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	if p.Key != "" {
		b.WriteString(": " + p.Key)
	}
	b.WriteString(": " + p.What)
	if p.Got != "" {
		fmt.Fprintf(&b, " (got %s)", p.Got)
	}
	if p.Hint != "" {
		b.WriteString("; hint: " + p.Hint)
	}
	return b.String()
}

// Problems is everything wrong with a case file, in the order of its lines. It
// is never empty when returned as an error.
type Problems []Problem

// maxShown is how many problems one error message lists, so that a file of
// another kind does not fill the screen.
const maxShown = 12

// Error returns the problems one per line, the first twelve of them.
func (ps Problems) Error() string {
	lines := make([]string, 0, len(ps))
	for i, p := range ps {
		if i == maxShown {
			lines = append(lines, fmt.Sprintf("%s: more problems follow; they are shown when these are put right", p.File))
			break
		}
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

// err returns the problems as an error, or nil when there are none.
func (ps Problems) err() error {
	if len(ps) == 0 {
		return nil
	}
	sort.SliceStable(ps, func(i, j int) bool { return ps[i].Line < ps[j].Line })
	return ps
}

// Notice is something in a case that is allowed but should be looked at; it
// reads like a problem.
type Notice Problem

// String returns the notice in the form of [Problem.Error].
func (n Notice) String() string { return Problem(n).Error() }

// quoted shortens text that a message repeats.
func quoted(s string) string {
	const longest = 40
	if r := []rune(s); len(r) > longest {
		s = string(r[:longest]) + "..."
	}
	return fmt.Sprintf("%q", s)
}
