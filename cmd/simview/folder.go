package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"simview/internal/compare"
)

// marker is the file by which simview knows a folder as one of its own.
const marker = "record.json"

// folder is an output folder that is filled all at once: files are written to
// a hidden folder inside it and moved when all of them are there.
type folder struct {
	dir   string
	tmp   string
	made  bool     // the folder was not there before
	old   []string // pictures that an earlier run's record lists
	names []string
}

// openFolder makes the output folder, or accepts an empty one or one of
// simview's own; a folder with somebody's files is refused.
func openFolder(dir string) (*folder, error) {
	f := &folder{dir: dir}
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f.made = true
		err = os.MkdirAll(dir, 0o755)
	case err == nil:
		f.old, err = ours(dir, entries)
		if err != nil {
			return nil, err
		}
	}
	if err == nil {
		f.tmp, err = os.MkdirTemp(dir, temporary)
	}
	if err != nil {
		f.drop()
		return nil, fmt.Errorf("output folder %s: cannot be used: %w; hint: name another with -o", dir, bare(err))
	}
	return f, nil
}

// ours says whether a folder is free or simview's own, and which pictures its
// record lists.
func ours(dir string, entries []os.DirEntry) ([]string, error) {
	if onlyTemporary(entries) {
		return nil, nil
	}
	var r compare.Record
	data, err := os.ReadFile(filepath.Join(dir, marker))
	if err != nil || json.Unmarshal(data, &r) != nil || r.Format < 1 {
		return nil, fmt.Errorf("output folder %s: holds files that simview did not make; hint: name a new folder with -o", dir)
	}
	return pictures(r.Scenes), nil
}

// pictures lists the files of a record, leaving out what is no plain PNG name.
func pictures(scenes []compare.SceneRecord) []string {
	var names []string
	for _, s := range scenes {
		for _, v := range s.Views {
			for _, n := range []string{v.Wide, v.Window} {
				if filepath.Base(n) == n && filepath.Ext(n) == ".png" {
					names = append(names, n)
				}
			}
		}
	}
	return names
}

// path is where to write the file of that name for now.
func (f *folder) path(name string) string {
	f.names = append(f.names, name)
	return filepath.Join(f.tmp, name)
}

// named makes an error of writing the file of that name, for [writeFile] knows
// only where it lies for now.
func (f *folder) named(name string, err error) error {
	var w *writeError
	if errors.As(err, &w) {
		return &writeError{filepath.Join(f.dir, name), w.why}
	}
	return err
}

// publish moves the files to their places, the record first, and removes the
// pictures of an earlier run that the new record does not list: they may be
// another person's. Files that were read are not written over.
func (f *folder) publish(read ...string) error {
	for _, n := range f.names {
		if err := apart(filepath.Join(f.dir, n), read...); err != nil {
			return err
		}
	}
	slices.SortStableFunc(f.names, func(a, b string) int {
		switch {
		case a == marker:
			return -1
		case b == marker:
			return 1
		}
		return 0
	})
	for _, n := range f.names {
		if err := os.Rename(filepath.Join(f.tmp, n), filepath.Join(f.dir, n)); err != nil {
			return unwritable(filepath.Join(f.dir, n), err)
		}
	}
	for _, n := range f.old {
		if !slices.Contains(f.names, n) && apart(filepath.Join(f.dir, n), read...) == nil {
			os.Remove(filepath.Join(f.dir, n))
		}
	}
	f.made = false
	return nil
}

// drop removes what was not published: the hidden folder, and the output
// folder if it was made for nothing.
func (f *folder) drop() {
	if f.tmp != "" {
		os.RemoveAll(f.tmp)
	}
	if f.made {
		os.Remove(f.dir) // fails, as it should, when something is in it
	}
}
