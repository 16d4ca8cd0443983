package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/scene"
	"simview/internal/unit"
	"simview/scenes"
)

// opened is a case with the text of every file it is made of.
type opened struct {
	*casefile.Case
	name    string
	files   map[string]string
	notices []casefile.Notice
	paths   []string // where these files lie; none for the demo case
}

// openCase reads the case in args, or the built-in demo case.
func openCase(args []string) (opened, error) {
	if len(args) == 0 {
		return parseCase("demo.yaml", casefile.DemoFiles())
	}
	c, notices, err := casefile.Load(args[0])
	if err != nil {
		return opened{}, err
	}
	dir := filepath.Dir(args[0])
	o, err := collect(c, filepath.Base(args[0]), os.DirFS(dir), notices)
	for name := range o.files {
		o.paths = append(o.paths, filepath.Join(dir, name))
	}
	return o, err
}

func parseCase(name string, fsys fs.FS) (opened, error) {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		return opened{}, err
	}
	c, notices, err := casefile.Parse(name, data, fsys)
	if err != nil {
		return opened{}, err
	}
	return collect(c, name, fsys, notices)
}

// side is the eye that --eye names, or that of the complaint.
func (o opened) side(word string) (unit.Side, error) {
	if word == "" {
		return o.ComplaintSide(), nil
	}
	side, err := unit.ParseSide(word)
	if err != nil {
		return side, usagef("--eye: must be right or left (got %q)", word)
	}
	return side, nil
}

// eachEye hands over the eyes that the case describes, the right one first.
func (o opened) eachEye(do func(*cause.Eye) error) error {
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		if o.Eye(side) == nil {
			continue
		}
		e, err := cause.Resolve(o.Case, side)
		if err != nil {
			return err
		}
		if err := do(e); err != nil {
			return err
		}
	}
	return nil
}

// collect keeps the text of the case and of the files it names.
func collect(c *casefile.Case, name string, fsys fs.FS, notices []casefile.Notice) (opened, error) {
	o := opened{Case: c, name: name, files: map[string]string{}, notices: notices}
	names := []string{name}
	for _, e := range []*casefile.Eye{c.Eyes.Right, c.Eyes.Left} {
		if e == nil {
			continue
		}
		names = append(names, e.Files()...)
	}
	for _, n := range names {
		data, err := fs.ReadFile(fsys, n)
		if err != nil {
			return o, err
		}
		o.files[n] = string(data)
	}
	return o, nil
}

// openScenes finds the scenes by id, or in the text of their files, and adds the
// photograph, if any. A record of the sheet names each by its id.
func openScenes(set compare.Settings) ([]*scene.Scene, error) {
	var all []*scene.Scene
	for _, id := range set.Scenes {
		s, err := openedScene(id, set)
		if err != nil {
			return nil, err
		}
		for _, other := range all {
			if other.ID == s.ID {
				return nil, usagef("--scene: two scenes have the name %s; hint: give the file another name", s.ID)
			}
		}
		all = append(all, s)
	}
	if set.Photo == nil {
		return all, nil
	}
	s, err := openPhoto(set.Photo)
	return append(all, s), err
}

func openedScene(id string, set compare.Settings) (*scene.Scene, error) {
	if _, own := set.SceneFiles[id]; own {
		return keptScene(id, set)
	}
	s, err := scenes.Builtin(id)
	if err != nil {
		return nil, usagef("--%w; hint: `simview scenes` lists them", err)
	}
	return s, nil
}

// photoID names a photograph among scenes.
const photoID = "photo"

// openPhoto reads a photograph and keeps its check sum; a record's check sum
// must agree.
func openPhoto(p *compare.Photo) (*scene.Scene, error) {
	info, err := os.Stat(p.File)
	if err != nil {
		return nil, fmt.Errorf("photo %s: cannot be opened; hint: check the path, or say with --photo where it lies now", p.File)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("photo %s: is not a file; hint: name a PNG, JPEG or TIFF", p.File)
	}
	data, err := readUpTo(p.File, maxPhotoBytes)
	if err != nil {
		return nil, fmt.Errorf("photo %s: cannot be read: %w", p.File, bare(err))
	}
	sum := sha256.Sum256(data)
	if got := hex.EncodeToString(sum[:]); p.SHA256 == "" {
		p.SHA256 = got
	} else if p.SHA256 != got {
		return nil, fmt.Errorf("photo %s: is not the file of the record (check sums differ); hint: restore the original photograph", p.File)
	}
	s, err := scene.FromPhoto(bytes.NewReader(data), scene.Photo{Name: p.File, WidthDeg: p.WidthDeg, WhiteCdM2: p.WhiteCdM2, DistanceM: p.DistanceM})
	if err != nil {
		return nil, err
	}
	// Panels are named after the scene: a photograph's own name may tell whose
	// it is, or be that of another scene.
	s.ID = photoID
	s.Window = photoWindow(s.WidthDeg, s.HeightDeg)
	return s, nil
}

// photoWindow is the middle of a photograph, magnified four times and laid into
// it: small enough to leave more than half of the width and height free. A
// photograph that is itself no larger than a window has none.
func photoWindow(widthDeg, heightDeg float64) scene.Window {
	const smallest, share, width, height = 2, 9, 4, 3
	if min(widthDeg, heightDeg) < smallest {
		return scene.Window{}
	}
	return scene.Window{WidthDeg: min(width, widthDeg/share), HeightDeg: min(height, heightDeg/share)}
}

// maxPhotoBytes is one more than a scene takes, so that it can refuse the file
// by itself without all of it being read.
const maxPhotoBytes = 64<<20 + 1

func readUpTo(path string, n int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, n))
}
