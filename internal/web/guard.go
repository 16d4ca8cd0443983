package web

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"net"
	"net/http"
	"slices"
)

// policy lets a page load what this server sends and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// NewToken returns a secret for one run of the server.
func NewToken() string {
	var b [16]byte
	rand.Read(b[:]) // never fails, see its documentation
	return hex.EncodeToString(b[:])
}

// keyName is the query key with which the printed address hands the token over.
const keyName = "key"

// cookieName differs by port: a browser keeps one jar for all ports of a host.
func (s *Server) cookieName() string { return "simview-" + s.port }

// hosts are the names under which this server may be asked; any other is a name
// that someone points at this computer.
func hosts(port string) []string {
	return []string{net.JoinHostPort("127.0.0.1", port), net.JoinHostPort("localhost", port)}
}

// guarded refuses a question that does not come from this server's own page, and
// says why in one sentence.
func (s *Server) guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		headers(w.Header())
		switch {
		case !slices.Contains(hosts(s.port), r.Host):
			refuse(w, http.StatusMisdirectedRequest, "host", "this page answers only under 127.0.0.1 and its own port; hint: use the address that simview serve printed")
		case r.Method != http.MethodGet && r.Method != http.MethodHead && !s.changes(r):
			refuse(w, http.StatusMethodNotAllowed, "method", "this page is only read; hint: use GET")
		case s.foreign(r):
			refuse(w, http.StatusForbidden, "origin", "another site asked for this page, and only the page itself may; hint: open the printed address in a tab of its own")
		case r.URL.Query().Get(keyName) != "":
			s.welcome(w, r)
		case !s.known(r):
			refuse(w, http.StatusForbidden, "key", "this browser has not been let in by this run of the program; hint: open the whole address that simview serve printed, with its key")
		default:
			next.ServeHTTP(w, r)
		}
	})
}

func headers(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}

// foreign reports whether another site asks. A browser names the site of a script
// in Origin and says in Sec-Fetch-Site where any question comes from; the printed
// address itself comes from nowhere ("none") or from another program.
func (s *Server) foreign(r *http.Request) bool {
	if o := r.Header.Get("Origin"); o != "" && !slices.Contains(hosts(s.port), trimScheme(o)) {
		return true
	}
	site := r.Header.Get("Sec-Fetch-Site")
	return site != "" && site != "same-origin" && site != "none"
}

func trimScheme(origin string) string {
	const scheme = "http://"
	if len(origin) > len(scheme) && origin[:len(scheme)] == scheme {
		return origin[len(scheme):]
	}
	return ""
}

// welcome takes the token out of the address and into a cookie.
func (s *Server) welcome(w http.ResponseWriter, r *http.Request) {
	if !same(r.URL.Query().Get(keyName), s.token) {
		refuse(w, http.StatusForbidden, "key", "the key in this address belongs to another run of the program; hint: open the address that simview serve printed last")
		return
	}
	http.SetCookie(w, &http.Cookie{Name: s.cookieName(), Value: s.token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

func (s *Server) known(r *http.Request) bool {
	c, err := r.Cookie(s.cookieName())
	return err == nil && same(c.Value, s.token)
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }
