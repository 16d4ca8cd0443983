package guard

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// citation finds an author and a year ("Liou and Brennan (1997)", "Thibos et
// al. 2004"); the name taken is the one next to the year. standard finds the
// number of a standard.
var (
	citation = regexp.MustCompile(`([A-Z]\p{Ll}+)(?: et al\.)?,? \(?((?:1[89]|20)\d\d)\b`)
	standard = regexp.MustCompile(`\b(?:ISO|ANSI|IEC|CIE|DIN|EN) [A-Z]{0,2}\d[\d./-]*\d`)
)

// uncited returns the sources named in the comments of a file that the list of
// references lacks: an author and year must stand in one line of it, a standard
// anywhere.
func uncited(s source, list string) []string {
	var faults []string
	lines := strings.Split(list, "\n")
	for _, group := range s.file.Comments {
		text := strings.Join(strings.Fields(group.Text()), " ")
		for _, m := range citation.FindAllStringSubmatch(text, -1) {
			if !inOneLine(lines, m[1], m[2]) {
				faults = append(faults, fmt.Sprintf("%s: %s %s is not in docs/references.md", s.at(group), m[1], m[2]))
			}
		}
		for _, name := range standard.FindAllString(text, -1) {
			if !strings.Contains(list, name) {
				faults = append(faults, fmt.Sprintf("%s: %s is not in docs/references.md", s.at(group), name))
			}
		}
	}
	return faults
}

func inOneLine(lines []string, author, year string) bool {
	for _, l := range lines {
		if strings.Contains(l, author) && strings.Contains(l, year) {
			return true
		}
	}
	return false
}

func TestEveryCitedSourceIsListed(t *testing.T) {
	list := read(t, filepath.Join(top, "docs", "references.md"))
	for _, p := range all(t) {
		if room(p.ImportPath) == "guard" {
			continue
		}
		for _, s := range sources(t, p, true) {
			report(t, uncited(s, list))
		}
	}
}

func TestTheReferenceRuleCanFail(t *testing.T) {
	s := mustParse(t, "a.go", `package a

// As in Nobody and Nowhere (1999), see Someone et
// al. 2001, ISO 12345 and CIE 146:2002.
var x = 1
`)
	wants(t, uncited(s, "Someone 2001\nCIE 146:2002\n"), "Nowhere 1999", "ISO 12345")
	wants(t, uncited(s, "Someone\n2001 Nowhere 1999 ISO 12345 CIE 146\n"), "Someone 2001")
}
