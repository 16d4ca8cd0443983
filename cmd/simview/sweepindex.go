package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"simview/internal/compare"
	"simview/internal/sweep"
)

const sweepForm = 1 // version of the index's layout

// sweepIndex lists the pictures of a sweep with what decides how they look.
type sweepIndex struct {
	sweepHead
	Axes     sweep.Axes   `json:"axes"`
	Pictures []sweep.Cell `json:"pictures"`
}

// sweepHead is what all pictures of a folder share: they can be told apart by
// their axes alone.
type sweepHead struct {
	Format  int               `json:"simview_sweep"`
	Version string            `json:"program_version"`
	Case    string            `json:"case_file"`
	Files   map[string]string `json:"case_files"`
	Options compare.Settings  `json:"options"`
	StepDeg float64           `json:"step_deg"`
	Same    bool              `json:"same_glasses"`
	Others  string            `json:"other_causes"`
	Notice  []string          `json:"notice"`
}

func (s *sweeper) head() sweepHead {
	set := s.set
	set.Eye, set.Scenes = "", nil // axes
	others := s.axes.Others
	if others == "" {
		others = sweep.Absent
	}
	return sweepHead{sweepForm, version, s.from.name, s.from.files, set, s.stepDeg, s.same, others, compare.Notice}
}

// begin makes the folder, or accepts an empty one or one of a sweep with the same
// head, and writes the index, which does not depend on what is made.
func (s *sweeper) begin(cells []sweep.Cell) error {
	if err := s.accept(); err != nil {
		return err
	}
	if err := writeJSON(filepath.Join(s.dir, "index.json"), sweepIndex{s.head(), s.axes, cells}); err != nil {
		return err
	}
	return writeFile(filepath.Join(s.dir, "index.csv"), func(w io.Writer) error {
		_, err := w.Write(s.axes.CSV(cells))
		return err
	})
}

func (s *sweeper) accept() error {
	err := os.MkdirAll(s.dir, 0o755)
	var entries []os.DirEntry
	if err == nil {
		entries, err = os.ReadDir(s.dir)
	}
	if err != nil {
		return fmt.Errorf("output folder %s: cannot be used: %w; hint: name another with -o", s.dir, bare(err))
	}
	data, err := os.ReadFile(filepath.Join(s.dir, "index.json"))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if !onlyTemporary(entries) {
			return fmt.Errorf("output folder %s: holds files that simview sweep did not make; hint: name a new folder with -o", s.dir)
		}
		return nil
	case err != nil:
		return fmt.Errorf("output folder %s: its index.json cannot be read: %w; hint: name a new folder with -o", s.dir, bare(err))
	}
	var was sweepIndex
	if json.Unmarshal(data, &was) != nil || was.Format == 0 {
		return fmt.Errorf("output folder %s: its index.json is none of simview sweep; hint: name a new folder with -o", s.dir)
	}
	if !alike(was.sweepHead, s.head()) {
		return fmt.Errorf("output folder %s: holds pictures of another case, of other options or of another version of simview; hint: name a new folder with -o", s.dir)
	}
	sweepUp(s.dir, entries)
	return nil
}

func alike(a, b sweepHead) bool {
	x, err1 := json.Marshal(a)
	y, err2 := json.Marshal(b)
	return err1 == nil && err2 == nil && bytes.Equal(x, y)
}

// abandoned is the age from which a half-written file has no writer any more, on
// this machine or another.
const abandoned = time.Hour

// sweepUp removes what runs that were killed left half-written.
func sweepUp(dir string, entries []os.DirEntry) {
	for _, e := range entries {
		if info, err := e.Info(); halfWritten(e) && err == nil && time.Since(info.ModTime()) > abandoned {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// sweepProgress says how far a sweep is: on a terminal in one line, elsewhere, as
// in the log of a job, in a line a minute.
func sweepProgress(w io.Writer, now func() time.Time) (tell func(done, of int), clear func()) {
	const between = time.Minute
	start, line := now(), terminal(w)
	said := start
	tell = func(done, of int) {
		text := fmt.Sprintf("%d of %d", done, of)
		if left := sweep.TimeLeft(done, of, now().Sub(start)); left != "" {
			text += ", " + left
		}
		switch {
		case line:
			fmt.Fprintf(w, "\r\x1b[K%s", text)
		case now().Sub(said) >= between:
			said = now()
			fmt.Fprintln(w, text)
		}
	}
	return tell, func() {
		if line {
			fmt.Fprint(w, "\r\x1b[K")
		}
	}
}
