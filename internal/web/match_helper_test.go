package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
)

// room is one server with a folder for matches, whose pictures are previews.
type room struct {
	*testing.T
	*httptest.Server
	srv *Server
}

// pictures of the demo case, shared by all rooms of the tests.
var sharedStudio struct {
	sync.Mutex
	*studio
	foretold *kept[foretold]
}

// enter starts a program on a folder, as after a crash of the one before.
func enter(t *testing.T, dir string) *room {
	t.Helper()
	h, s, err := made(dir)
	if err != nil {
		t.Fatal(err)
	}
	s.matches.full = false
	sharedStudio.Lock()
	if sharedStudio.studio == nil {
		sharedStudio.studio, sharedStudio.foretold = s.studio, s.matches.foretold
	}
	s.studio, s.matches.foretold = sharedStudio.studio, sharedStudio.foretold
	sharedStudio.Unlock()
	h.Start()
	t.Cleanup(h.Close)
	return &room{t, h, s}
}

// ask sends a question as the page does: GET, or POST of a body.
func (r *room) ask(path string, body any, how ...func(*http.Request)) (int, string) {
	r.Helper()
	method, send := http.MethodGet, io.Reader(nil)
	if body != nil {
		text, ok := body.(string)
		if !ok {
			b, err := json.Marshal(body)
			if err != nil {
				r.Fatal(err)
			}
			text = string(b)
		}
		method, send = http.MethodPost, strings.NewReader(text)
	}
	q, err := http.NewRequest(method, r.URL+path, send)
	if err != nil {
		r.Fatal(err)
	}
	q.AddCookie(&http.Cookie{Name: "simview-" + r.URL[strings.LastIndex(r.URL, ":")+1:], Value: testToken})
	if body != nil {
		q.Header.Set("Content-Type", "application/json")
		q.Header.Set("Origin", r.URL)
	}
	for _, change := range how {
		change(q)
	}
	resp, err := http.DefaultClient.Do(q)
	if err != nil {
		r.Fatal(err)
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		r.Fatal(err)
	}
	return resp.StatusCode, string(text)
}

// must asks and expects an answer.
func must[V any](r *room, path string, body any) V {
	r.Helper()
	code, text := r.ask(path, body)
	if code != http.StatusOK {
		r.Fatalf("%s %v: %d %s", path, body, code, text)
	}
	return into[V](r.T, text)
}

// refused asks and expects a refusal with a key and part of its sentence.
func (r *room) refused(path string, body any, code int, key, says string) {
	r.Helper()
	got, text := r.ask(path, body)
	if got != code || !strings.Contains(text, `"key":"`+key+`"`) || !strings.Contains(text, says) {
		r.Errorf("%s %v: %d %s; want %d %s with %q", path, body, got, text, code, key, says)
	}
}

// usual is a set-up of the demo case: its right eye complains.
func usual() setUp {
	return setUp{
		Eye: "right", Through: "glasses", Object: "the clock on the wall", Saw: "double and smeared", Covered: true, Corrected: true,
		ScreenM: 0.6, PictureCM: 15, Scene: "letters", Part: "whole", Views: []string{"lens", "cylinder", "scatter"}, Answers: 20, Seed: 7,
	}
}

func (r *room) begin(u setUp) asked {
	r.Helper()
	return must[asked](r, "/api/match/start", u)
}

// full is a file on a disk that fills up after some bytes.
type full struct {
	*os.File
	room *int
}

func (f full) Write(b []byte) (int, error) {
	n, err := f.File.Write(b[:min(len(b), *f.room)])
	*f.room -= n
	if err == nil && n < len(b) {
		err = &os.PathError{Op: "write", Path: f.Name(), Err: syscall.ENOSPC}
	}
	return n, err
}

// disk makes a room's files lie on a disk with some bytes left.
func (r *room) disk(left *int) {
	r.srv.matches.folder.open = func(path string, flag int) (logFile, error) {
		f, err := os.OpenFile(path, flag, 0o600)
		return full{f, left}, err
	}
}

// log returns the log of a session as it is on the disk.
func (r *room) log(id string) []byte {
	r.Helper()
	b, err := os.ReadFile(filepath.Join(r.srv.matches.folder.dir, id+logEnd))
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		r.Fatal(err)
	}
	return bytes.Clone(b)
}
