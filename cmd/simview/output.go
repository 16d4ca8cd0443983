package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"simview/internal/light"
)

// temporary is the pattern of the names that writing goes through.
const temporary = ".simview-*"

// onlyTemporary reports whether a folder holds nothing but half-written files.
func onlyTemporary(entries []os.DirEntry) bool {
	return !slices.ContainsFunc(entries, func(e os.DirEntry) bool { return !halfWritten(e) })
}

func halfWritten(e os.DirEntry) bool {
	half, _ := filepath.Match(temporary, e.Name())
	return half
}

// writeFile writes through a temporary file in the same folder and renames it,
// so that a failed run leaves neither a half-written file nor a damaged one.
func writeFile(path string, fill func(io.Writer) error) (err error) {
	if err := fit(path); err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(path), temporary)
	if err != nil {
		return unwritable(path, err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	w := bufio.NewWriterSize(tmp, 1<<20)
	for _, step := range []func() error{
		func() error { return fill(w) }, w.Flush, tmp.Sync, tmp.Close,
		func() error { return os.Chmod(tmp.Name(), 0o644) },
		func() error { return os.Rename(tmp.Name(), path) },
	} {
		if err = step(); err != nil {
			return unwritable(path, err)
		}
	}
	return nil
}

// fit refuses a path that no file can be written to, before any work is done.
func fit(path string) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return fmt.Errorf("%s: is a folder; hint: name a file in it with -o", path)
	}
	dir := filepath.Dir(path)
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: the folder %s does not exist; hint: make it first, or name another with -o", path, dir)
	case err != nil:
		return unwritable(path, err)
	case !info.IsDir():
		return fmt.Errorf("%s: %s is not a folder; hint: name another file with -o", path, dir)
	}
	return nil
}

// writeError is a path that could not be written, and why.
type writeError struct {
	path string
	why  error
}

// Error returns one sentence with a hint.
func (w *writeError) Error() string {
	return fmt.Sprintf("%s: cannot be written: %v; hint: name another place with -o", w.path, w.why)
}

// Unwrap returns the reason.
func (w *writeError) Unwrap() error { return w.why }

func unwritable(path string, err error) error { return &writeError{path, bare(err)} }

// bare takes the temporary names out of an error of the file system.
func bare(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}

// apart refuses to write over a file that was read.
func apart(out string, read ...string) error {
	to, err := os.Stat(out)
	if err != nil {
		return nil // nothing is there to be lost
	}
	for _, name := range read {
		if from, err := os.Stat(name); err == nil && os.SameFile(from, to) {
			return usagef("-o: %s would overwrite %s, which is read; hint: name another place", out, name)
		}
	}
	return nil
}

// free checks every output with [fit] and [apart].
func free(outs []string, read ...string) error {
	for _, out := range outs {
		if err := fit(out); err != nil {
			return err
		}
		if err := apart(out, read...); err != nil {
			return err
		}
	}
	return nil
}

// nextTo is the place of a file with another ending than the output.
func nextTo(out, ending string) string {
	return strings.TrimSuffix(out, filepath.Ext(out)) + ending
}

func writePNG(path string, m image.Image) error {
	return writeFile(path, func(w io.Writer) error { return light.WritePNG(w, m) })
}

func writeJSON(path string, v any) error {
	return writeFile(path, func(w io.Writer) error { return encode(w, v) })
}

func encode(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
