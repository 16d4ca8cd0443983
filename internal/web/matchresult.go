package web

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image/png"
	"math"
	"net/http"

	"simview/internal/cause"
	"simview/internal/match"
)

// matchResult is what the clinician's side reads of a session.
type matchResult struct {
	ID       string       `json:"id"`
	Plan     plan         `json:"plan"`
	Answered int          `json:"answered"`
	Total    int          `json:"total"`
	Undone   int          `json:"undone"`
	Ended    bool         `json:"ended"`
	Resume   bool         `json:"resume"`
	Views    []viewFacts  `json:"views"`
	Result   match.Result `json:"result"`
	Notes    []string     `json:"notes,omitempty"` // of the log, in English
	Broken   string       `json:"broken,omitempty"`
}

// viewFacts names a view by its id in the plan, its name in the record and its label.
type viewFacts struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Label string `json:"label"`
}

// readMatch reads a session for its result. Of a damaged one the sound part is told.
func (s *Server) readMatch(r *http.Request) (m matchResult, st match.State, err error) {
	s.matches.mu.Lock()
	defer s.matches.mu.Unlock()
	m.ID = r.URL.Query().Get("id")
	p, rec, err := s.matches.folder.read(m.ID)
	st = rec.State
	if err != nil && len(st.Setup.Views) == 0 {
		return m, st, err
	}
	if err != nil {
		m.Broken = err.Error()
	}
	m.Plan, m.Notes, m.Answered, m.Total = p, rec.Notes, len(st.Trials), st.Setup.Answers
	m.Undone, m.Ended = len(st.Undone), st.Ended
	m.Resume = err == nil && !st.Ended && p.Case == s.fingerprint()
	labels := st.Setup.Labels()
	for i, v := range st.Setup.Views[:min(len(p.Views), len(st.Setup.Views))] {
		m.Views = append(m.Views, viewFacts{p.Views[i], v, labels[i]})
	}
	m.Result, err = match.Evaluate(st)
	return m, st, err
}

func (s *Server) answerMatchResult(w http.ResponseWriter, r *http.Request) {
	m, _, err := s.readMatch(r)
	if err != nil {
		failMatch(w, err)
		return
	}
	answer(w, m)
}

// answerMatchBeside sends what the measurements say of each view, beside the
// answers. It takes as long as its pictures.
func (s *Server) answerMatchBeside(w http.ResponseWriter, r *http.Request) {
	m, _, err := s.readMatch(r)
	if err != nil {
		failMatch(w, err)
		return
	}
	c, err := s.beside(r.Context(), m)
	if err != nil {
		failMatch(w, err)
		return
	}
	answer(w, c)
}

// besideUnit is of the effect that the measurements let expect.
const besideUnit = "% of the picture that differs visibly from nothing wrong"

// beside works out how much of the picture each view changes, at the strength that
// was measured and at both ends of its 90 % interval.
func (s *Server) beside(ctx context.Context, m matchResult) (match.Comparison, error) {
	if m.Plan.Case != s.fingerprint() {
		return match.Comparison{}, askf("session %s belongs to another case, so its measurements are not at hand", m.ID)
	}
	side, err := s.complaintEye(m.Plan)
	if err != nil {
		return match.Comparison{}, err
	}
	none, err := s.matchLuma(ctx, m.Plan, viewNothing, 1)
	if err != nil {
		return match.Comparison{}, err
	}
	var measured []match.Measured
	for _, v := range m.Views {
		low, high, words, err := spreadOf(s.eyes[side], v.ID)
		if err != nil {
			return match.Comparison{}, err
		}
		e, lo, hi := 0.0, math.Inf(1), math.Inf(-1)
		for i, k := range []float64{1, low, high} {
			pic, err := s.matchLuma(ctx, m.Plan, v.ID, k)
			if err != nil {
				return match.Comparison{}, err
			}
			share := 100 * shareApart(none, pic)
			if i == 0 {
				e = share
			}
			lo, hi = min(lo, share), max(hi, share)
		}
		measured = append(measured, match.Measured{View: v.Name, Effect: match.Estimate{Value: e, Lo: lo, Hi: hi}, Words: words})
	}
	return m.Result.Beside(besideUnit, measured)
}

// matchLuma is a view's preview as signals of a display: fine enough for a share of the
// picture, and many of them are needed.
func (s *Server) matchLuma(ctx context.Context, p plan, view string, k float64) ([]float32, error) {
	text, err := s.matchPicture(ctx, p, view, k, false)
	if err != nil {
		return nil, err
	}
	pic, err := png.Decode(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return luma(pic), nil
}

const (
	// ninety is how many standard deviations lie on each side of the middle 90 %.
	ninety = 1.645
	// Where no spread is stated, half and one and a half times the strength are
	// drawn (own choice, said beside it).
	unstated = 0.5
)

// spreadOf returns the strengths at the ends of a view's 90 % interval; of several
// causes together all are moved by the widest of them.
func spreadOf(e *cause.Eye, view string) (low, high float64, words string, err error) {
	low, high = 1, 1
	for _, c := range e.Causes {
		if view != string(c.ID) && view != viewAll {
			continue
		}
		list, err := e.Quantities(c.ID)
		if err != nil {
			return 0, 0, "", err
		}
		from, to, note := 1-unstated, 1+unstated, " (spread not stated: half to one and a half times drawn)"
		if len(list) > 0 && list[0].SD > 0 {
			from, to, note = ends(list[0])
		}
		low, high = min(low, from), max(high, to)
		if words != "" {
			words += "; "
		}
		words += c.Label + ": " + c.Amount + note
	}
	return low, min(high, maxMatched), words, nil
}

// ends are the strengths at which a quantity lies 1.645 standard deviations off.
func ends(q cause.Quantity) (low, high float64, note string) {
	zero, at := q.Zero, func(v float64) float64 { return v }
	if q.Log {
		at = func(v float64) float64 { return math.Pow(10, v) }
	}
	k := func(v float64) float64 { return min(maxMatched, max(0, (at(v)-at(zero))/(at(q.One)-at(zero)))) }
	a, b := k(q.One-ninety*q.SD), k(q.One+ninety*q.SD)
	return min(a, b), max(a, b), fmt.Sprintf(" (90 %% interval from a spread of %.2g %s)", q.SD, q.Unit)
}

// answerMatchExport sends a session as a file: a table of the answers, or all of it.
func (s *Server) answerMatchExport(w http.ResponseWriter, r *http.Request) {
	m, st, err := s.readMatch(r)
	if err != nil {
		failMatch(w, err)
		return
	}
	var b bytes.Buffer
	form, kind := r.URL.Query().Get("form"), "text/csv; charset=utf-8"
	switch form {
	case "csv":
		err = match.WriteCSV(&b, st)
	case "json":
		kind = "application/json"
		err = s.exportJSON(r.Context(), &b, m, st)
	default:
		err = askf("form: must be csv or json (got %.20q)", form)
	}
	if err != nil {
		failMatch(w, err)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", "simview-match-"+m.ID+"."+form))
	_, _ = w.Write(b.Bytes()) // a browser that is gone cannot be told so
}

// exportJSON writes the set-up, the session, its result and the measurements beside
// it, where the case is at hand.
func (s *Server) exportJSON(ctx context.Context, b *bytes.Buffer, m matchResult, st match.State) error {
	var beside *match.Comparison
	if m.Plan.Case == s.fingerprint() {
		c, err := s.beside(ctx, m)
		if err != nil {
			return err
		}
		beside = &c
	}
	var inner bytes.Buffer
	if err := match.WriteJSON(&inner, st, beside); err != nil {
		return err
	}
	e := json.NewEncoder(b)
	e.SetIndent("", "  ")
	return e.Encode(struct {
		ID    string          `json:"id"`
		SetUp plan            `json:"set_up"`
		Match json.RawMessage `json:"match"`
	}{m.ID, m.Plan, inner.Bytes()})
}
