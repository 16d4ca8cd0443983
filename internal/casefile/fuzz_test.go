package casefile

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// manyKeys writes n keys that no case has.
func manyKeys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "key%d: %d\n", i, i)
	}
	return b.String()
}

// FuzzParse holds that no bytes make the reader panic, that an error is never
// empty, and that a case that is accepted can be described and holds a finite,
// possible pupil.
func FuzzParse(f *testing.F) {
	for _, pattern := range []string{"demo/*.yaml", "../../testdata/cases/*.yaml", "../../testdata/cases/broken/*.yaml"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Add([]byte(base))
	files, err := fs.Sub(demoFiles, "demo")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, _, err := Parse("c.yaml", data, files)
		if err != nil {
			if err.Error() == "" || c != nil {
				t.Fatalf("case %v beside error %q", c, err)
			}
			return
		}
		for _, e := range []*Eye{c.Eyes.Right, c.Eyes.Left} {
			if e != nil && (math.IsNaN(float64(e.PupilDimMM.V)) || e.PupilDimMM.V > 9 || !e.PupilDimMM.Given() && !e.PupilBrightMM.Given()) {
				t.Fatalf("pupil %+v accepted", e.PupilDimMM)
			}
		}
		if len(c.Understood()) < 5 {
			t.Fatal("an accepted case was hardly described")
		}
	})
}

// A parser caught in such a file takes minutes, which the test's own time limit
// ends; a case takes well under 10 ms.
func TestFilesMadeToExhaustAreRefused(t *testing.T) {
	for name, text := range map[string]string{
		"brackets":   strings.Repeat("[", 1<<19),
		"braces":     "a: " + strings.Repeat("{a: ", 1<<17),
		"dashes":     strings.Repeat("- ", 1<<18),
		"aliases":    "a: &a [x]\n" + strings.Repeat("b: [*a, *a, *a]\n", 1<<14),
		"keys":       manyKeys(1 << 15),
		"long words": "title: " + strings.Repeat("x", 1<<19),
		"questions":  strings.Repeat("? ", 1<<18),
	} {
		if c, _, err := Parse("c.yaml", []byte(text), nil); err == nil || c != nil {
			t.Errorf("%s: accepted", name)
		}
	}
}
