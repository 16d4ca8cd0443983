package web

import (
	"net/http"
	"strings"
	"testing"
)

func header(key, value string) func(*http.Request) {
	return func(r *http.Request) { r.Header.Set(key, value) }
}

func noCookie(r *http.Request) { r.Header.Del("Cookie") }

// A name that someone points at 127.0.0.1 (DNS rebinding), another site's script or
// picture, a form, another program of this computer: none gets an answer.
func TestOnlyTheOwnPageIsAnswered(t *testing.T) {
	for _, c := range []struct {
		name string
		how  func(*http.Request)
		want int
		says string
	}{
		{"another name", func(r *http.Request) { r.Host = "evil.example" }, http.StatusMisdirectedRequest, "only under 127.0.0.1"},
		{"another port", func(r *http.Request) { r.Host = "127.0.0.1:1" }, http.StatusMisdirectedRequest, "only under 127.0.0.1"},
		{"another site's script", header("Origin", "http://evil.example"), http.StatusForbidden, "another site"},
		{"a page without an origin", header("Origin", "null"), http.StatusForbidden, "another site"},
		{"another site's picture", header("Sec-Fetch-Site", "cross-site"), http.StatusForbidden, "another site"},
		{"another port of this computer", header("Sec-Fetch-Site", "same-site"), http.StatusForbidden, "another site"},
		{"a form", func(r *http.Request) { r.Method = http.MethodPost }, http.StatusMethodNotAllowed, "only read"},
		{"no key", noCookie, http.StatusForbidden, "let in"},
		{"a wrong key", func(r *http.Request) { noCookie(r); r.URL.RawQuery = "key=guess" }, http.StatusForbidden, "another run"},
	} {
		code, body, _ := fetched(t, "/api/case", c.how)
		if code != c.want || !strings.Contains(body, c.says) || strings.Contains(body, "ferry") {
			t.Errorf("%s: answered %d %s, want %d with %q", c.name, code, body, c.want, c.says)
		}
	}
	for _, how := range []func(*http.Request){header("Sec-Fetch-Site", "same-origin"), header("Sec-Fetch-Site", "none")} {
		if code, body, _ := fetched(t, "/api/case", how); code != http.StatusOK {
			t.Errorf("the own page: %d %s", code, body)
		}
	}
}

func TestTheKeyLeavesTheAddress(t *testing.T) {
	code, _, h := fetched(t, "/?key="+testToken, noCookie)
	cookie := h.Get("Set-Cookie")
	if code != http.StatusSeeOther || h.Get("Location") != "/" {
		t.Errorf("answered %d to %q", code, h.Get("Location"))
	}
	for _, part := range []string{testToken, "HttpOnly", "SameSite=Strict"} {
		if !strings.Contains(cookie, part) {
			t.Errorf("cookie %q lacks %s", cookie, part)
		}
	}
}

func TestThePageMayLoadNothingFromElsewhere(t *testing.T) {
	_, _, h := fetched(t, "/")
	csp := h.Get("Content-Security-Policy")
	for _, d := range strings.Split(csp, ";") {
		for _, src := range strings.Fields(d)[1:] {
			if src != "'self'" && src != "'none'" {
				t.Errorf("the policy allows %s in %q", src, d)
			}
		}
	}
	if !strings.HasPrefix(csp, "default-src 'none'") || h.Get("Cache-Control") != "no-store" || h.Get("Referrer-Policy") != "no-referrer" {
		t.Errorf("headers: %v", h)
	}
}
