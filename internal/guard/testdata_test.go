package guard

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// sourcesName is the file that says where its neighbours come from.
const sourcesName = "SOURCES.md"

// entry is a file named in a heading, at the start of a list item or of a table
// row: it has to exist. mention is any name in backticks.
var (
	entry   = regexp.MustCompile("(?m)^\\s*(?:[-*|]\\s*`([^`]+)`|#+ `?(\\S+\\.\\w+)`?$)")
	mention = regexp.MustCompile("`([^`\n]+)`")
)

// unlisted compares every testdata folder with its SOURCES.md, or with those of
// the folders inside it: each file is named in the nearest one, or lies in a
// folder that is named there with a slash at its end, and nothing is listed
// that does not exist.
func unlisted(fsys fs.FS) ([]string, error) {
	groups, err := testdataFiles(fsys)
	if err != nil {
		return nil, err
	}
	var faults []string
	for root, files := range groups {
		for dir, below := range byNearest(files) {
			at := path.Join(root, dir)
			text, err := fs.ReadFile(fsys, path.Join(at, sourcesName))
			if err != nil {
				faults = append(faults, fmt.Sprintf("%s: has no %s for %v", at, sourcesName, below))
				continue
			}
			faults = append(faults, compare(at, string(text), below)...)
		}
	}
	slices.Sort(faults)
	return faults, nil
}

// byNearest groups files by the closest folder at or above them that holds a
// SOURCES.md, "." being the testdata folder itself.
func byNearest(files []string) map[string][]string {
	groups := map[string][]string{}
	for _, f := range files {
		dir := path.Dir(f)
		for dir != "." && !slices.Contains(files, path.Join(dir, sourcesName)) {
			dir = path.Dir(dir)
		}
		rest := f
		if dir != "." {
			rest = strings.TrimPrefix(f, dir+"/")
		}
		groups[dir] = append(groups[dir], rest)
	}
	return groups
}

func compare(dir, text string, files []string) []string {
	var entries, faults []string
	for _, m := range entry.FindAllStringSubmatch(text, -1) {
		entries = append(entries, m[1]+m[2])
	}
	names := slices.Clone(entries)
	for _, m := range mention.FindAllStringSubmatch(text, -1) {
		names = append(names, m[1])
	}
	covers := func(name, file string) bool {
		return name == file || strings.HasSuffix(name, "/") && strings.HasPrefix(file, name)
	}
	for _, f := range files {
		if f != sourcesName && !slices.ContainsFunc(names, func(n string) bool { return covers(n, f) }) {
			faults = append(faults, fmt.Sprintf("%s: %s is not listed in %s", dir, f, sourcesName))
		}
	}
	for _, n := range entries {
		if !slices.ContainsFunc(files, func(f string) bool { return covers(n, f) }) {
			faults = append(faults, fmt.Sprintf("%s: %s lists %s, which is not there", dir, sourcesName, n))
		}
	}
	return faults
}

func TestEveryTestFileSaysWhereItComesFrom(t *testing.T) {
	faults, err := unlisted(os.DirFS(top))
	if err != nil {
		t.Fatal(err)
	}
	report(t, faults)
}

func TestTheSourcesRuleCanFail(t *testing.T) {
	check := func(files map[string]string) []string {
		fsys := fstest.MapFS{}
		for name, text := range files {
			fsys[name] = &fstest.MapFile{Data: []byte(text)}
		}
		faults, err := unlisted(fsys)
		if err != nil {
			t.Fatal(err)
		}
		return faults
	}
	wants(t, check(map[string]string{"testdata/a.csv": ""}), "has no SOURCES.md")
	wants(t, check(map[string]string{"x/testdata/a.csv": "", "x/testdata/SOURCES.md": "a.csv without a list"}), "a.csv is not listed")
	wants(t, check(map[string]string{"testdata/SOURCES.md": "- `b.csv`: made by hand\n"}), "b.csv, which is not there")
	wants(t, check(map[string]string{"testdata/a.csv": "", "testdata/b.py": "", "testdata/SOURCES.md": "## a.csv\n\nWritten by `b.py`.\n"}))
	wants(t, check(map[string]string{"testdata/n/a.csv": "", "testdata/n/SOURCES.md": "- `a.csv`"}))
	wants(t, check(map[string]string{"testdata/n/m/a.csv": "", "testdata/n/SOURCES.md": "`a.csv`"}), "m/a.csv is not listed")
	wants(t, check(map[string]string{"testdata/SOURCES.md": "## c.csv\n"}), "c.csv, which is not there")
	wants(t, check(map[string]string{"testdata/a.csv": "", "testdata/fuzz/F/1": "", "testdata/SOURCES.md": "| `a.csv` | x |\n- `fuzz/`: seeds\n"}))
}
