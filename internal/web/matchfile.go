package web

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"simview/internal/match"
)

// folder keeps sessions on the disk, two files each: what was set up before it
// began, and a log to which every answer is added and flushed before it counts. Names hold a date
// and chance, nothing of a person.
type folder struct {
	dir  string
	open func(path string, flag int) (logFile, error) // nil: os.OpenFile
}

// logFile is what a log needs of a file.
type logFile interface {
	io.WriteCloser
	Sync() error
	Stat() (os.FileInfo, error)
}

const (
	planEnd    = ".setup.json"
	logEnd     = ".match"
	mostListed = 50 // sessions, the newest
)

// errDisk is what cannot be saved.
var errDisk = errors.New("saving failed")

// errNoMatch is a session that is not there.
type errNoMatch struct{ id string }

func (e errNoMatch) Error() string {
	return fmt.Sprintf("there is no session %.40q in the folder of sessions; hint: choose one from the list", e.id)
}

var matchID = regexp.MustCompile(`^\d{4}-\d\d-\d\d-[0-9a-f]{12}$`)

// newMatchID returns a name that no other session has.
func newMatchID(now time.Time) string {
	var b [6]byte
	rand.Read(b[:]) // never fails, see its documentation
	return now.Format("2006-01-02-") + hex.EncodeToString(b[:])
}

func (f folder) path(id, end string) string { return filepath.Join(f.dir, id+end) }

// list returns the names of the sessions, newest first. A folder that is not there
// yet holds none.
func (f folder) list() ([]string, error) {
	if f.dir == "" {
		return nil, fmt.Errorf("there is no folder for sessions, so no match can be saved; hint: name one with --sessions")
	}
	all, err := os.ReadDir(f.dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("the folder of sessions cannot be read: %w; hint: name another with --sessions", err)
	}
	var ids []string
	for _, e := range all {
		if id, ok := strings.CutSuffix(e.Name(), logEnd); ok && matchID.MatchString(id) && e.Type().IsRegular() {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	slices.Reverse(ids)
	return ids[:min(len(ids), mostListed)], nil
}

// read reads a session: of a log that was damaged, the part before the damage.
func (f folder) read(id string) (p plan, rec match.Record, err error) {
	if f.dir == "" || !matchID.MatchString(id) {
		return p, rec, errNoMatch{id}
	}
	text, err := readAtMost(f.path(id, planEnd))
	if errors.Is(err, os.ErrNotExist) {
		return p, rec, errNoMatch{id}
	}
	if err == nil {
		d := json.NewDecoder(bytes.NewReader(text))
		d.DisallowUnknownFields()
		err = d.Decode(&p)
	}
	if err == nil {
		err = p.check()
	}
	if err != nil {
		return plan{}, rec, fmt.Errorf("%s: cannot be read: %w; hint: keep both files of the session and start a new one", id+planEnd, err)
	}
	log, err := readAtMost(f.path(id, logEnd))
	if errors.Is(err, os.ErrNotExist) {
		return p, rec, errNoMatch{id}
	}
	if err != nil {
		return p, rec, fmt.Errorf("%s: cannot be read: %w", id+logEnd, err)
	}
	rec, err = match.Read(bytes.NewReader(log))
	if err == nil && len(rec.State.Setup.Views) != len(p.Views) {
		err = fmt.Errorf("the two files of session %s are of different matches: %d views and %d; hint: keep both, and start a new session", id, len(p.Views), len(rec.State.Setup.Views))
	}
	return p, rec, err
}

// readAtMost reads a file, and no more of it than the largest log.
func readAtMost(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, match.MaxLog+1))
}

// begin writes what was set up and opens an empty log.
func (f folder) begin(id string, p plan) (*matchLog, error) {
	if f.dir == "" {
		return nil, fmt.Errorf("%w: there is no folder for sessions; hint: name one with --sessions", errDisk)
	}
	text, err := json.MarshalIndent(p, "", "  ")
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(f.dir, 0o700); err != nil {
		return nil, f.diskError(err)
	}
	w, err := f.file(f.path(id, planEnd), os.O_WRONLY|os.O_CREATE|os.O_EXCL)
	if err != nil {
		return nil, f.diskError(err)
	}
	_, err = w.Write(append(text, '\n'))
	if err = errors.Join(err, w.Sync(), w.Close()); err != nil {
		os.Remove(f.path(id, planEnd))
		return nil, f.diskError(err)
	}
	l, err := f.log(id, os.O_CREATE|os.O_EXCL)
	if err != nil {
		os.Remove(f.path(id, planEnd))
		return nil, err
	}
	syncDir(f.dir)
	return l, nil
}

// forget takes away a session that never began.
func (f folder) forget(id string, l *matchLog) {
	l.Close()
	os.Remove(f.path(id, logEnd))
	os.Remove(f.path(id, planEnd))
}

// again opens the log of a session to go on with it.
func (f folder) again(id string) (*matchLog, error) { return f.log(id, 0) }

func (f folder) log(id string, flag int) (*matchLog, error) {
	w, err := f.file(f.path(id, logEnd), os.O_WRONLY|os.O_APPEND|flag)
	if err != nil {
		return nil, f.diskError(err)
	}
	l := &matchLog{file: w, path: f.path(id, logEnd)}
	if err := l.measure(); err != nil {
		w.Close()
		return nil, f.diskError(err)
	}
	return l, nil
}

func (f folder) file(path string, flag int) (logFile, error) {
	if f.open != nil {
		return f.open(path, flag)
	}
	return os.OpenFile(path, flag, 0o600)
}

func (f folder) diskError(err error) error {
	return fmt.Errorf("%w in the folder of sessions: %w; hint: make room there, or name another folder with --sessions", errDisk, err)
}

// syncDir puts the names of new files on the disk. Where a system cannot do that
// for a folder, its files are safe all the same once they have been flushed.
func syncDir(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		d.Close()
	}
}

// matchLog adds lines to a log; Write returns when they are on the disk.
type matchLog struct {
	file logFile
	path string
	size int64 // of the file, as this run of the program left it
}

func (l *matchLog) Close() { l.file.Close() }

// measure takes the size of the file.
func (l *matchLog) measure() error {
	s, err := l.file.Stat()
	if err == nil {
		l.size = s.Size()
	}
	return err
}

// alone reports whether the log is still there and nobody else has written to it.
func (l *matchLog) alone() bool {
	s, err := os.Stat(l.path)
	return err == nil && s.Size() == l.size
}

// Write adds to the log and flushes it.
func (l *matchLog) Write(b []byte) (int, error) {
	n, err := l.file.Write(b)
	if err == nil {
		err = l.file.Sync()
	}
	if m := l.measure(); err == nil {
		err = m
	}
	if err != nil {
		return n, fmt.Errorf("%w: %w", errDisk, err)
	}
	return n, nil
}
