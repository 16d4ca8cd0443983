package main

import (
	"io/fs"
	"path"
	"strings"
	"time"
)

// textFS is a file system of texts by path, such as a record carries.
type textFS map[string]string

// Open opens one of the texts. There are no folders to be opened.
func (t textFS) Open(name string) (fs.File, error) {
	text, ok := t[name]
	if !ok || !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return textFile{strings.NewReader(text), textInfo{path.Base(name), int64(len(text))}}, nil
}

// textFile is one opened text.
type textFile struct {
	*strings.Reader
	info textInfo
}

func (f textFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f textFile) Close() error               { return nil }

// textInfo is what there is to say of a text: its name and its size in bytes.
type textInfo struct {
	name string
	size int64
}

func (i textInfo) Name() string       { return i.name }
func (i textInfo) Size() int64        { return i.size }
func (i textInfo) Mode() fs.FileMode  { return 0o444 }
func (i textInfo) ModTime() time.Time { return time.Time{} }
func (i textInfo) IsDir() bool        { return false }
func (i textInfo) Sys() any           { return nil }
