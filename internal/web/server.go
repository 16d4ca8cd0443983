package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/scene"
	"simview/internal/unit"
	"simview/scenes"
)

// Server answers the page about one case. Make it with [New].
type Server struct {
	port, token string
	kase        *casefile.Case
	eyes        map[unit.Side]*cause.Eye
	scenes      []*scene.Scene
	turns       *turns
	studio      *studio
	matches     *matches
}

// Options say where the server listens and who may ask.
type Options struct {
	Addr  net.Addr       // of the listener; its port is part of every check
	Token string         // see [NewToken]
	More  []*scene.Scene // scenes beside those that are built in, the user's own
	// Sessions is the folder in which a match is kept; "" for none.
	Sessions string
}

// New resolves the eyes of a case and makes the server for it. Errors are those of
// [cause.Resolve], and a listener without a port.
func New(c *casefile.Case, o Options) (*Server, error) {
	_, port, err := net.SplitHostPort(o.Addr.String())
	if err != nil {
		return nil, fmt.Errorf("page: the listener has no port: %w", err)
	}
	builtin, err := scenes.Builtins()
	if err != nil {
		return nil, err
	}
	s := &Server{port: port, token: o.Token, kase: c, eyes: map[unit.Side]*cause.Eye{}, scenes: append(builtin, o.More...), turns: newTurns(), matches: newMatches(o.Sessions)}
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		if c.Eye(side) == nil {
			continue
		}
		if s.eyes[side], err = cause.Resolve(c, side); err != nil {
			return nil, err
		}
	}
	s.studio = newStudio(s.eyes[c.ComplaintSide()])
	return s, nil
}

// URL is the address to open, with its key.
func (s *Server) URL() string {
	return "http://" + hosts(s.port)[0] + "/?" + keyName + "=" + s.token
}

// Handler answers every question of the page, guarded.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	for path, h := range s.routes() {
		mux.Handle("GET "+path, h)
	}
	s.matchDoors(mux)
	return s.guarded(mux)
}

// routes are the doors of the server; a further screen adds its own.
func (s *Server) routes() map[string]http.Handler {
	return map[string]http.Handler{
		"/":            pages(),
		"/api/case":    http.HandlerFunc(s.answerCase),
		"/api/picture": http.HandlerFunc(s.answerPicture),
		"/api/numbers": http.HandlerFunc(s.answerNumbers),
	}
}

// refusal is what the page gets instead of an answer: one sentence, and a key for
// its own words.
type refusal struct {
	Key   string `json:"key"`
	Error string `json:"error"`
}

func refuse(w http.ResponseWriter, status int, key, sentence string) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	// A browser that is gone cannot be told so.
	_ = json.NewEncoder(w).Encode(refusal{key, sentence})
}

// badAsk is a question with a mistake in one of its keys.
type badAsk struct{ error }

func askf(format string, a ...any) error { return badAsk{fmt.Errorf(format, a...)} }

// fail answers with an error: a mistake in the question, a question that a newer one
// ended, or a view that cannot be made.
func fail(w http.ResponseWriter, err error) {
	var bad badAsk
	switch {
	case errors.As(err, &bad):
		refuse(w, http.StatusBadRequest, "question", err.Error())
	case errors.Is(err, errSuperseded):
		refuse(w, http.StatusConflict, "superseded", err.Error())
	default:
		refuse(w, http.StatusUnprocessableEntity, "view", err.Error())
	}
}

func answer(w http.ResponseWriter, v any) {
	text, err := json.Marshal(v)
	if err != nil {
		fail(w, fmt.Errorf("the answer cannot be written: %w", err))
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_, _ = w.Write(text) // a browser that is gone cannot be told so
}
