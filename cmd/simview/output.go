package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"

	"simview/internal/light"
)

// marker is the file by which simview knows a folder as one of its own.
const marker = "record.json"

// openFolder makes the output folder, or accepts an empty one or one of
// simview's own; a folder with somebody's files is refused.
func openFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return os.MkdirAll(dir, 0o755)
	case err != nil:
		return fmt.Errorf("output folder %s: cannot be used: %w; hint: name another with -o", dir, err)
	case len(entries) == 0:
		return nil
	}
	if _, err := os.Stat(filepath.Join(dir, marker)); err == nil {
		return nil
	}
	return fmt.Errorf("output folder %s: holds files that simview did not make; hint: name a new folder with -o", dir)
}

// writeFile writes through a temporary file in the same folder and renames it,
// so that a failed run leaves neither a half-written file nor a damaged one.
func writeFile(path string, fill func(io.Writer) error) (err error) {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".simview-*")
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	w := bufio.NewWriterSize(tmp, 1<<20)
	for _, step := range []func() error{func() error { return fill(w) }, w.Flush, tmp.Sync, tmp.Close, func() error { return os.Chmod(tmp.Name(), 0o644) }, func() error { return os.Rename(tmp.Name(), path) }} {
		if err = step(); err != nil {
			return fmt.Errorf("%s: cannot be written: %w", path, err)
		}
	}
	return nil
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
