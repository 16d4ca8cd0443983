package casefile

import (
	"bytes"
	"embed"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"unicode/utf8"
)

// demoFiles holds the case that is built in.
//
//go:embed demo
var demoFiles embed.FS

// DemoFile is the name of the case that is built in.
const DemoFile = "demo.yaml"

// loadHint follows when no case file can be read.
const loadHint = "name a case file, as in simview check case.yaml; docs/case.md says how to write one"

// Load reads a case file and the field files it names, which lie in its folder
// or below. The error is a [Problems].
func Load(path string) (*Case, []Notice, error) {
	if path == "" {
		return nil, nil, Problems{{File: "case", What: "no file is named", Hint: loadHint}}
	}
	dir, name := filepath.Split(path)
	if dir == "" {
		dir = "."
	}
	fsys := os.DirFS(dir)
	if name == "" || !fs.ValidPath(name) {
		name = "."
	}
	data, what := readLimited(fsys, name)
	if what != "" {
		return nil, nil, Problems{{File: path, What: what, Hint: loadHint}}
	}
	c, notices, err := Parse(path, data, fsys)
	if err != nil {
		return nil, notices, err
	}
	c.Dir = filepath.Clean(dir)
	return c, notices, nil
}

// Demo returns the case that is built in, of an invented person.
func Demo() (*Case, error) {
	fsys, err := fs.Sub(demoFiles, "demo")
	if err != nil {
		return nil, err
	}
	data, err := fs.ReadFile(fsys, DemoFile)
	if err != nil {
		return nil, err
	}
	c, _, err := Parse(DemoFile, data, fsys)
	return c, err
}

// DemoFiles returns the built-in case file and its field files, so that a
// person can write them out as a pattern for a case of their own.
func DemoFiles() fs.FS {
	fsys, err := fs.Sub(demoFiles, "demo")
	if err != nil { // the name is fixed above
		panic(err)
	}
	return fsys
}

// Parse reads a case from bytes; name is used in messages, and field files are
// looked up in fsys, which may be nil when the case names none. The error is a
// [Problems] with everything that is wrong.
func Parse(name string, data []byte, fsys fs.FS) (*Case, []Notice, error) {
	if p := refusedBytes(name, data); p != nil {
		return nil, nil, Problems{*p}
	}
	tree, err := parseTree(name, data)
	if err != nil {
		return nil, nil, err
	}
	d := &decoder{file: name, fs: fsys, lines: map[string]int{}}
	c := &Case{File: name}
	d.into(tree, reflect.ValueOf(c).Elem(), "")
	if _, isGroup := entries(tree); isGroup {
		d.validate(c)
	}
	if err := d.problems.err(); err != nil {
		return nil, d.notices, err
	}
	return c, d.notices, nil
}

// refusedBytes refuses what cannot be a case file before it is parsed.
func refusedBytes(name string, data []byte) *Problem {
	p := &Problem{File: name, Hint: "a case is a short text file in UTF-8"}
	switch {
	case len(data) > maxBytes:
		p.What = "is longer than 1048576 bytes"
	case len(bytes.TrimSpace(data)) == 0:
		p.What, p.Hint = "is empty", "start from the example in docs/case.md"
	case !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0:
		p.What = "is not text in UTF-8"
	default:
		return nil
	}
	return p
}
