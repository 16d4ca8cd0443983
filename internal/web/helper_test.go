package web

import (
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"simview/internal/casefile"
)

const testToken = "0123456789abcdef"

// served is one server on the built-in case for all tests of this room.
var served = sync.OnceValues(func() (*httptest.Server, error) {
	h, _, err := made("")
	if err == nil {
		h.Start()
	}
	return h, err
})

// made is a server on the built-in case that has not started yet, with a folder for
// matches, "" for none.
func made(dir string) (*httptest.Server, *Server, error) {
	c, err := casefile.Demo()
	if err != nil {
		return nil, nil, err
	}
	h := httptest.NewUnstartedServer(nil)
	s, err := New(c, Options{Addr: h.Listener.Addr(), Token: testToken, Sessions: dir})
	if err != nil {
		return nil, nil, err
	}
	h.Config.Handler = s.Handler()
	return h, s, nil
}

func start(t *testing.T) *httptest.Server {
	t.Helper()
	h, err := served()
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// fetched sends a question with the cookie of the session and the changes of how.
func fetched(t *testing.T, path string, how ...func(*http.Request)) (int, string, http.Header) {
	t.Helper()
	h := start(t)
	r, err := http.NewRequest(http.MethodGet, h.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	port := h.URL[strings.LastIndex(h.URL, ":")+1:]
	r.AddCookie(&http.Cookie{Name: "simview-" + port, Value: testToken})
	for _, change := range how {
		change(r)
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	resp, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(body), resp.Header
}

func into[T any](t *testing.T, body string) (v T) {
	t.Helper()
	if err := json.Unmarshal([]byte(body), &v); err != nil {
		t.Fatalf("%v in %s", err, body)
	}
	return v
}
