package web

import (
	"context"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// chromium starts one browser for all tests of this file; "" where there is none.
var chromium = sync.OnceValue(func() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
})

var browser context.Context

func TestMain(m *testing.M) {
	if chromium() == "" {
		os.Exit(m.Run())
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium()), chromedp.NoSandbox,
		chromedp.Flag("lang", "en"), chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"))
	alloc, end := chromedp.NewExecAllocator(context.Background(), opts...)
	var stop context.CancelFunc
	browser, stop = chromedp.NewContext(alloc)
	code := m.Run()
	stop()
	end()
	os.Exit(code)
}

// page is one tab with the page open.
type page struct {
	*testing.T
	ctx context.Context
}

// open opens the page, with the state after the #, in a window of that size.
func open(t *testing.T, w, h int64, hash string) page {
	t.Helper()
	const patience = 90 * time.Second // a loaded machine
	return opened(t, start, w, h, hash, patience)
}

// opened opens the page of a server in a tab of its own.
func opened(t *testing.T, serve func(*testing.T) *httptest.Server, w, h int64, hash string, patience time.Duration) page {
	t.Helper()
	if testing.Short() {
		t.Skip("browser tests take seconds")
	}
	if chromium() == "" {
		t.Skip("NO BROWSER: THE PAGE IS NOT TESTED. Install chromium (apt-get install chromium) and run this again")
	}
	if err := chromedp.Do(browser); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	tab, stop := chromedp.NewContext(browser)
	t.Cleanup(stop)
	ctx, end := context.WithTimeout(tab, patience)
	t.Cleanup(end)
	p := page{t, ctx}
	srv := serve(t)
	p.run(chromedp.EmulateViewport(w, h), chromedp.Navigate(srv.URL+"/?key="+testToken+"#"+hash), chromedp.WaitReady(chromedp.CSS("[data-ready]")))
	return p
}

func (p page) run(actions ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	if err := chromedp.Do(p.ctx, actions...); err != nil {
		p.Fatal(err)
	}
}

// eval returns the value of an expression in the page.
func eval[V any](p page, js string) V {
	p.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[V](js, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("%v in %.200s", err, js)
	}
	return v
}

// until waits for an expression to be true.
func (p page) until(js string) {
	p.Helper()
	for {
		if eval[bool](p, `Boolean(`+js+`)`) {
			return
		}
		select {
		case <-p.ctx.Done():
			p.Fatalf("never came true: %s", js)
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// drawn waits until every pane shows a picture: a preview, or the full one.
func (p page) drawn(full bool) {
	p.Helper()
	p.until(`document.querySelector("figure") && !document.querySelector("figure.stale")`)
	if full {
		p.until(`document.querySelectorAll("figure.coarse").length === 0`)
	}
}

// picture keeps a screenshot in the folder SIMVIEW_SHOTS, to be looked at; without
// it none is made.
func (p page) picture(name string) {
	dir := os.Getenv("SIMVIEW_SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(p.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		p.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o600); err != nil {
		p.Fatal(err)
	}
}

// prefers sets a preference of the device, as in prefers-color-scheme.
func (p page) prefers(feature, value string) {
	p.Helper()
	with := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: feature, Value: value}}}
	if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, with); err != nil {
		p.Fatal(err)
	}
}
