package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"net/http/cookiejar"
	"strings"
	"sync"
	"testing"
	"time"
)

// pipe lets a test read what a running command has printed so far.
type pipe struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (p *pipe) Write(d []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.b.Write(d)
}

func (p *pipe) String() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.b.String()
}

func TestServeAnswersUnderItsAddressUntilItIsStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	var out pipe
	ended := make(chan int)
	go func() { ended <- run(ctx, []string{"serve", "--no-open"}, &out, io.Discard) }()
	var address string
	for range 600 {
		if first, _, whole := strings.Cut(out.String(), "\n"); whole {
			address = first
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("printed %q", out.String())
	}
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	resp, err := (&http.Client{Jar: jar}).Get(address)
	if err != nil {
		t.Fatal(err)
	}
	page, _ := io.ReadAll(resp.Body)
	resp.Body.Close()
	if resp.StatusCode != http.StatusOK || !bytes.Contains(page, []byte("<!doctype html>")) || strings.Contains(resp.Request.URL.String(), "key") {
		t.Errorf("%d at %s: %.80s", resp.StatusCode, resp.Request.URL, page)
	}
	stop()
	if code := <-ended; code != 0 {
		t.Errorf("ended with %d: %s", code, out.String())
	}
	if _, err := http.Get(address); err == nil {
		t.Error("still answers after its end")
	}
}

func TestServeSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"serve", "--port", "70000"}, 2, "--port: must be 0 to 65535"},
		{[]string{"serve", "--port", "-1"}, 2, "--port: must be 0 to 65535"},
		{[]string{"serve", "--port", "x"}, 2, "--port: must be a whole number"},
		{[]string{"serve", "no-such.yaml"}, 1, "no-such.yaml"},
	} {
		var errs bytes.Buffer
		if code := run(t.Context(), c.args, io.Discard, &errs); code != c.code || !strings.Contains(errs.String(), c.says) {
			t.Errorf("%v: %d %s", c.args, code, errs.String())
		}
	}
}
