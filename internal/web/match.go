package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"path"
	"strings"
	"sync"
	"time"

	"simview/internal/match"
	"simview/internal/unit"
)

// matchPath is where the doors of the match lie; only there a question may change
// something.
const matchPath = "/api/match"

// matches are the sessions in which someone says which view is more like what they
// see. Every change of one is on the disk before the page hears of it. One question
// is answered at a time.
type matches struct {
	folder folder
	full   bool // pictures at full size; tests are content with previews
	now    func() time.Time
	// foretold keeps what the fellow eye was predicted to tell apart.
	foretold *kept[foretold]

	sum     sync.Once
	caseSum string

	mu   sync.Mutex
	open map[string]*sitting
}

// sitting is a session that is open in this run of the program.
type sitting struct {
	id   string
	plan plan
	log  *matchLog
	*match.Session
}

// keptForetold is for set-ups that are tried one after the other.
const keptForetold = 16

func newMatches(dir string) *matches {
	return &matches{folder: folder{dir: dir}, full: true, now: time.Now, foretold: newKept(keptForetold, one[foretold]), open: map[string]*sitting{}}
}

// matchDoors adds the doors of the match.
func (s *Server) matchDoors(mux *http.ServeMux) {
	mux.HandleFunc("GET "+matchPath, s.answerMatches)
	mux.HandleFunc("GET "+path.Join(matchPath, "one"), s.answerMatch)
	mux.HandleFunc("GET "+path.Join(matchPath, "picture"), s.answerMatchPicture)
	mux.HandleFunc("GET "+path.Join(matchPath, "result"), s.answerMatchResult)
	mux.HandleFunc("GET "+path.Join(matchPath, "beside"), s.answerMatchBeside)
	mux.HandleFunc("GET "+path.Join(matchPath, "export"), s.answerMatchExport)
	mux.HandleFunc("POST "+path.Join(matchPath, "start"), s.takeMatchStart)
	mux.HandleFunc("POST "+path.Join(matchPath, "act"), s.takeMatchAct)
}

// changes reports whether a question may change something: one of the match, from a
// script of the page itself. A browser names the page of every such script, and
// lets no other page send JSON.
func (s *Server) changes(r *http.Request) bool {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	return r.Method == http.MethodPost && strings.HasPrefix(r.URL.Path, matchPath+"/") &&
		r.Header.Get("Origin") != "" && err == nil && kind == "application/json"
}

// maxPosted is above the longest answer, whose words have at most 4 bytes each.
const maxPosted = 6*match.MaxWords + 4096

// posted reads what the page sends; a key that is not known is a mistake.
func posted[T any](w http.ResponseWriter, r *http.Request) (v T, err error) {
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, maxPosted))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return v, askf("what was sent cannot be read: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return v, askf("what was sent holds more than one question")
	}
	return v, nil
}

// errMoved refuses an act on a session that has moved on, as another window does it.
type errMoved struct{ sentence string }

func (e errMoved) Error() string { return e.sentence }

// failMatch answers with an error of a match.
func failMatch(w http.ResponseWriter, err error) {
	var moved errMoved
	var not match.NotPossible
	var gone errNoMatch
	switch {
	case errors.As(err, &moved):
		refuse(w, http.StatusConflict, "match.moved", err.Error())
	case errors.As(err, &not):
		refuse(w, http.StatusUnprocessableEntity, "match.impossible", err.Error())
	case errors.As(err, &gone):
		refuse(w, http.StatusNotFound, "match.none", err.Error())
	case errors.Is(err, errDisk):
		refuse(w, http.StatusInsufficientStorage, "match.disk", err.Error())
	default:
		fail(w, err)
	}
}

// listed is what the page knows before a match begins.
type listed struct {
	Folder  string `json:"folder"`
	Problem string `json:"problem,omitempty"` // in English: why nothing can be saved
	// Offers are the views that can be compared, by eye.
	Offers   map[string][]string `json:"offers"`
	Sessions []matchListed       `json:"sessions"`
}

// matchListed is one session of the folder.
type matchListed struct {
	ID       string    `json:"id"`
	Opened   time.Time `json:"opened"`
	Answered int       `json:"answered"`
	Total    int       `json:"total"`
	Ended    bool      `json:"ended"`
	Eye      string    `json:"eye"`
	Scene    string    `json:"scene"`
	Resume   bool      `json:"resume"`        // it can go on with this case
	Why      string    `json:"why,omitempty"` // in English: why not
	Notes    []string  `json:"notes,omitempty"`
}

func (s *Server) answerMatches(w http.ResponseWriter, _ *http.Request) {
	s.matches.mu.Lock()
	defer s.matches.mu.Unlock()
	l := listed{Folder: s.matches.folder.dir, Offers: map[string][]string{}, Sessions: []matchListed{}}
	for side, e := range s.eyes {
		l.Offers[side.String()] = offersOf(e)
	}
	ids, err := s.matches.folder.list()
	if err != nil {
		l.Problem = err.Error()
	}
	for _, id := range ids {
		l.Sessions = append(l.Sessions, s.listMatch(id))
	}
	answer(w, l)
}

func (s *Server) listMatch(id string) matchListed {
	l := matchListed{ID: id}
	p, rec, err := s.matches.folder.read(id)
	l.Eye, l.Scene, l.Notes = p.Eye, p.Scene, rec.Notes
	l.Opened, l.Answered, l.Total, l.Ended = rec.State.Opened, len(rec.State.Trials), rec.State.Setup.Answers, rec.State.Ended
	switch {
	case err != nil:
		l.Why = err.Error()
	case p.Case != s.fingerprint():
		l.Why = "it belongs to another case, or the case file was changed since; its result can be read, and it goes on only with the case as it was"
	default:
		l.Resume = !l.Ended
	}
	return l
}

// sitting returns an open session, or opens it again from the disk.
func (s *Server) sitting(id string) (*sitting, error) {
	m := s.matches
	if o := m.open[id]; o != nil {
		if o.log.alone() {
			return o, nil
		}
		o.log.Close() // another run of the program has gone on with it
		delete(m.open, id)
	}
	p, rec, err := m.folder.read(id)
	if err != nil {
		return nil, err
	}
	if p.Case != s.fingerprint() {
		return nil, askf("session %s belongs to another case, or the case file was changed since; hint: serve the case as it was", id)
	}
	log, err := m.folder.again(id)
	if err != nil {
		return nil, err
	}
	o := &sitting{id: id, plan: p, log: log, Session: rec.Continue(log, m.now)}
	m.open[id] = o
	return o, nil
}

// asked is what the patient's side knows of a session: no name of a view, and not
// why a pair is asked.
type asked struct {
	ID       string    `json:"id"`
	At       int64     `json:"at"` // an act names it, so that it meets the state it was meant for
	Number   int       `json:"number"`
	Total    int       `json:"total"`
	All      bool      `json:"all"` // every question is answered
	Paused   bool      `json:"paused"`
	Ended    bool      `json:"ended"`
	Fixation bool      `json:"fixation"` // the pictures carry a mark to look at
	WidthDeg float64   `json:"width_deg"`
	HighDeg  float64   `json:"height_deg"`
	Strength *settling `json:"strength,omitempty"`
	Undo     bool      `json:"undo"`             // there is something to take back
	Urgent   []string  `json:"urgent,omitempty"` // of the words just said
}

// settling is a strength that is being looked for.
type settling struct {
	Run   int     `json:"run"` // from 1; Runs + 1 when all are done
	Runs  int     `json:"runs"`
	Level float64 `json:"level"` // where this run starts
	Lo    float64 `json:"lo"`
	Hi    float64 `json:"hi"`
}

func (s *Server) answerMatch(w http.ResponseWriter, r *http.Request) {
	s.matches.mu.Lock()
	defer s.matches.mu.Unlock()
	o, err := s.sitting(r.URL.Query().Get("id"))
	if err != nil {
		failMatch(w, err)
		return
	}
	answer(w, s.asked(o))
}

func (s *Server) asked(o *sitting) asked {
	st := o.State()
	a := asked{
		ID: o.id, At: o.log.size, Number: len(st.Trials) + 1, Total: st.Setup.Answers, All: len(st.Trials) >= st.Setup.Answers,
		Paused: st.Paused, Ended: st.Ended, Fixation: o.plan.fixation(), Undo: len(st.Trials) > 0 || len(st.Severity) > 0,
	}
	if c, err := s.findScene(o.plan.Scene); err == nil {
		a.WidthDeg, a.HighDeg = c.WidthDeg, c.HeightDeg
		if o.plan.Part == "window" {
			a.WidthDeg, a.HighDeg = c.Window.WidthDeg, c.Window.HeightDeg
		}
	}
	if k := len(st.Severity); k > 0 {
		adj := st.Severity[k-1]
		run, going := adj.Current()
		if !going {
			run = len(adj.Runs)
		}
		a.Strength = &settling{Run: run + 1, Runs: len(adj.Runs), Level: adj.Level(), Lo: adj.Lo, Hi: adj.Hi}
	}
	return a
}

// complaintEye returns the eye of a plan.
func (s *Server) complaintEye(p plan) (unit.Side, error) {
	side, err := unit.ParseSide(p.Eye)
	if err != nil || s.eyes[side] == nil {
		return side, askf("eye: this case describes no %q eye; expected right or left", p.Eye)
	}
	return side, nil
}

// takeMatchAct changes a session.
func (s *Server) takeMatchAct(w http.ResponseWriter, r *http.Request) {
	a, err := posted[act](w, r)
	if err != nil {
		failMatch(w, err)
		return
	}
	s.matches.mu.Lock()
	defer s.matches.mu.Unlock()
	o, err := s.sitting(a.ID)
	if err != nil {
		failMatch(w, err)
		return
	}
	urgent, err := o.take(a)
	if err != nil {
		failMatch(w, err)
		return
	}
	now := s.asked(o)
	now.Urgent = urgent
	answer(w, now)
}

// act is one change of a session.
type act struct {
	ID     string       `json:"id"`
	At     int64        `json:"at"`
	Do     string       `json:"do"`
	Number int          `json:"number,omitempty"`
	Answer match.Answer `json:"answer,omitempty"`
	Words  string       `json:"words,omitempty"`
	View   int          `json:"view,omitempty"`
	Value  float64      `json:"value,omitempty"`
}

// take does an act, if the session stands where the act was meant for.
func (o *sitting) take(a act) (urgent []string, err error) {
	if a.At != o.log.size {
		return nil, errMoved{fmt.Sprintf("this session has gone on elsewhere, and question %d is next; hint: nothing that was answered is lost, and this was not counted", len(o.State().Trials)+1)}
	}
	switch a.Do {
	case "answer":
		urgent, err = o.Answer(a.Number, a.Answer, a.Words)
	case "undo":
		err = o.Undo()
	case "pause":
		err = o.Pause()
	case "resume":
		err = o.Resume()
	case "end":
		err = o.End()
	case "adjust":
		err = o.Adjust(a.View, match.BySetting, 0, maxMatched, matchedUnit)
	case "set":
		err = o.Set(a.Value)
	default:
		return nil, askf("do: there is nothing called %q to do", a.Do)
	}
	switch {
	case errors.Is(err, errDisk):
		return nil, err
	case err != nil:
		return nil, badAsk{err}
	}
	return urgent, nil
}
