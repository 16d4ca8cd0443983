package web

import (
	"context"
	"net/http"
	"strconv"
)

// answerPicture sends the picture of a view as PNG; the header of a full one says
// whether it differs visibly from the reference view.
func (s *Server) answerPicture(w http.ResponseWriter, r *http.Request) {
	a, err := s.read(r.URL.Query())
	if err != nil {
		fail(w, err)
		return
	}
	ctx, done := s.turns.enter(r.Context(), a.slot)
	defer done()
	var p picture
	err = s.turns.work(ctx, a.full, func() (err error) {
		p, err = s.studio.picture(ctx, a)
		return err
	})
	if err != nil {
		fail(w, err)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "image/png")
	h.Set("Content-Length", strconv.Itoa(len(p.png)))
	if a.full { // a preview is too coarse to tell
		h.Set("Simview-Visible", strconv.FormatBool(p.visible))
	}
	_, _ = w.Write(p.png) // a browser that is gone cannot be told so
}

// answerNumbers sends the numbers of a view.
func (s *Server) answerNumbers(w http.ResponseWriter, r *http.Request) {
	a, err := s.read(r.URL.Query())
	if err != nil {
		fail(w, err)
		return
	}
	if a.fellow != nil {
		fail(w, askf("eye: numbers are those of one eye; hint: ask for right or left"))
		return
	}
	if a.slot != "" {
		a.slot += ".numbers"
	}
	a.full = true
	ctx, done := s.turns.enter(r.Context(), a.slot)
	defer done()
	var n numbers
	err = s.turns.work(ctx, true, func() (err error) {
		if err = context.Cause(ctx); err != nil {
			return err
		}
		n, err = s.studio.numbers(a)
		return err
	})
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, n)
}
