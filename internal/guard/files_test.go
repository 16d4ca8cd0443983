package guard

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// read returns the text of a file.
func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// relative names a path from the top of the repository.
func relative(t *testing.T, path string) string {
	t.Helper()
	root, err := filepath.Abs(top)
	if err != nil {
		t.Fatal(err)
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	rel, err := filepath.Rel(root, abs)
	if err != nil {
		t.Fatal(err)
	}
	return filepath.ToSlash(rel)
}

// testdataFiles lists the files under every testdata folder, grouped by the
// folder that is named testdata; paths inside a group are relative to it.
func testdataFiles(fsys fs.FS) (map[string][]string, error) {
	groups := map[string][]string{}
	err := fs.WalkDir(fsys, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == ".git" {
			return fs.SkipDir
		}
		if dir, rest, ok := splitTestdata(path); ok && !d.IsDir() {
			groups[dir] = append(groups[dir], rest)
		}
		return nil
	})
	return groups, err
}

// splitTestdata cuts a/testdata/b/c into a/testdata and b/c.
func splitTestdata(path string) (dir, rest string, ok bool) {
	if strings.HasPrefix(path, "testdata/") {
		return "testdata", strings.TrimPrefix(path, "testdata/"), true
	}
	before, after, found := strings.Cut(path, "/testdata/")
	return before + "/testdata", after, found
}
