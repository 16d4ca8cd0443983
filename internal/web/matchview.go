package web

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"net/http"
	"strconv"

	"github.com/disintegration/imaging"

	"simview/internal/match"
)

// takeMatchStart checks a set-up, predicts what the fellow eye will tell apart, and
// opens a session. That takes as long as its pictures.
func (s *Server) takeMatchStart(w http.ResponseWriter, r *http.Request) {
	u, err := posted[setUp](w, r)
	if err != nil {
		failMatch(w, err)
		return
	}
	p, setup, err := s.prepare(r.Context(), u)
	if err != nil {
		failMatch(w, err)
		return
	}
	s.matches.mu.Lock()
	defer s.matches.mu.Unlock()
	o, err := s.matches.begin(p, setup)
	if err != nil {
		failMatch(w, err)
		return
	}
	now := s.asked(o)
	now.Urgent = match.Urgent(u.Saw)
	answer(w, now)
}

// begin opens a new session on the disk.
func (m *matches) begin(p plan, setup match.Setup) (*sitting, error) {
	id := newMatchID(m.now())
	log, err := m.folder.begin(id, p)
	if err != nil {
		return nil, err
	}
	session, err := match.Start(setup, log, m.now)
	if err != nil {
		m.folder.forget(id, log)
		return nil, err
	}
	o := &sitting{id: id, plan: p, log: log, Session: session}
	m.open[id] = o
	return o, nil
}

// prepare makes the pictures of a set-up and the session's rules.
func (s *Server) prepare(ctx context.Context, u setUp) (p plan, setup match.Setup, err error) {
	if err = u.check(); err != nil {
		return p, setup, err
	}
	if u.Seed == 0 {
		u.Seed = anySeed()
	}
	p = plan{Version: planVersion, Case: s.fingerprint(), setUp: u}
	side, err := s.complaintEye(p)
	if err != nil {
		return p, setup, err
	}
	setup = match.Setup{Title: fmt.Sprintf("%s eye, looking through: %s; scene %s", u.Eye, u.Through, u.Scene), Answers: u.Answers, Seed: u.Seed}
	var pics []image.Image
	for _, v := range append(u.Views[:len(u.Views):len(u.Views)], foilName) {
		text, err := s.matchPicture(ctx, p, v, 1, s.matches.full)
		if err != nil {
			return p, setup, err
		}
		pic, err := png.Decode(bytes.NewReader(text))
		if err != nil {
			return p, setup, err
		}
		pics = append(pics, pic)
		if v != foilName {
			setup.Views = append(setup.Views, viewName(s.eyes[side], v))
		}
	}
	apart, err := s.apart(ctx, &p, pics)
	if err != nil {
		return p, setup, err
	}
	setup.Apart = apart.among(len(u.Views))
	if p.HasFoil = apart.stands(len(u.Views)); p.HasFoil {
		setup.Foil = foilName
	}
	return p, setup, setup.Check()
}

// matchPicture makes the picture of a view at a strength, encoded. The foil is the
// view of nothing wrong, upside down.
func (s *Server) matchPicture(ctx context.Context, p plan, view string, strength float64, full bool) (text []byte, err error) {
	foil := view == foilName
	if foil {
		view = viewNothing
	}
	a, err := s.matchAsk(p, view, strength)
	if err != nil {
		return nil, err
	}
	a.full = full
	err = s.turns.work(ctx, full, func() error {
		pic, err := s.studio.picture(ctx, a)
		text = pic.png
		return err
	})
	if err == nil && foil {
		text, err = upsideDown(text)
	}
	return text, err
}

func upsideDown(text []byte) ([]byte, error) {
	pic, err := png.Decode(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	out, err := encoded(imaging.FlipV(pic), false)
	return out.png, err
}

// answerMatchPicture sends a picture of the question that is next, by its place, or
// of the view whose strength is looked for. Its address says nothing of a cause.
func (s *Server) answerMatchPicture(w http.ResponseWriter, r *http.Request) {
	p, view, k, full, err := s.placed(r)
	if err != nil {
		failMatch(w, err)
		return
	}
	ctx, done := r.Context(), func() {}
	if slot := r.URL.Query().Get("slot"); slot != "" && len(slot) <= maxSlot {
		ctx, done = s.turns.enter(ctx, slot)
	}
	defer done()
	text, err := s.matchPicture(ctx, p, view, k, full)
	if err != nil {
		failMatch(w, err)
		return
	}
	w.Header().Set("Content-Type", "image/png")
	w.Header().Set("Content-Length", strconv.Itoa(len(text)))
	_, _ = w.Write(text) // a browser that is gone cannot be told so
}

// placed finds which view stands at a place.
func (s *Server) placed(r *http.Request) (p plan, view string, k float64, full bool, err error) {
	q := r.URL.Query()
	s.matches.mu.Lock()
	defer s.matches.mu.Unlock()
	o, err := s.sitting(q.Get("id"))
	if err != nil {
		return p, "", 0, false, err
	}
	if q.Get("at") != strconv.FormatInt(o.log.size, 10) {
		return p, "", 0, false, errMoved{"this session has gone on elsewhere; hint: nothing that was answered is lost"}
	}
	index, k, err := o.stands(q.Get("place"), q.Get("level"))
	if err != nil {
		return p, "", 0, false, err
	}
	view = foilName
	if index != match.Foil {
		view = o.plan.Views[index]
	}
	return o.plan, view, k, s.matches.full && q.Get("size") != "preview", nil
}

// stands returns the view at a place, and its strength.
func (o *sitting) stands(place, level string) (index int, k float64, err error) {
	if place == "strength" {
		st := o.State().Severity
		if len(st) == 0 {
			return 0, 0, askf("place: no strength is being looked for")
		}
		adj := st[len(st)-1]
		if k, err = number(level, adj.Lo, adj.Hi); err != nil {
			return 0, 0, askf("level: %w", err)
		}
		return adj.View, k, nil
	}
	next, more, err := o.Next()
	switch {
	case err != nil:
		return 0, 0, err
	case !more:
		return 0, 0, errMoved{"every question of this session is answered"}
	case place == "left":
		return next.Left, 1, nil
	case place == "right":
		return next.Right, 1, nil
	}
	return 0, 0, askf("place: must be left, right or strength (got %.20q)", place)
}
