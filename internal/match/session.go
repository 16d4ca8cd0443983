package match

import (
	"fmt"
	"io"
	"time"
	"unicode/utf8"
)

// Session is one patient's match while it goes on. Every change is written to the
// log before it counts. A Session is not for use by several goroutines at once.
type Session struct {
	state State
	j     journal
	now   func() time.Time
}

// Start opens a session. Its log goes to w, one Write for each line; a writer to a
// file should not return before the line is on the disk. The time of each event is
// taken from now. Errors: as of [Setup.Check], and of w.
func Start(setup Setup, w io.Writer, now func() time.Time) (*Session, error) {
	s := &Session{j: journal{w: w}, now: now}
	return s, s.do(event{Kind: opened, Version: version, Setup: &setup})
}

// Continue goes on with a session that was read by [Read]; w appends to the same
// log.
func (r Record) Continue(w io.Writer, now func() time.Time) *Session {
	r.j.w = w
	return &Session{state: r.State.clone(), j: r.j, now: now}
}

// State returns all that the session holds; changing it changes nothing here.
func (s *Session) State() State { return s.state.clone() }

// do writes an event and then lets it count. An event that may not follow is
// refused before anything is written.
func (s *Session) do(e event) error {
	e.At = s.now().UTC().Truncate(time.Millisecond)
	if _, err := s.state.apply(e); err != nil {
		return err
	}
	written, err := s.j.append(e)
	if err != nil {
		return err
	}
	s.state, err = s.state.apply(written)
	return err
}

// Next returns the question to be shown; false when all are answered or the
// session has ended. It depends on the setup and the answers alone.
func (s *Session) Next() (Question, bool, error) {
	if s.state.Ended || len(s.state.Trials) >= s.state.Setup.Answers {
		return Question{}, false, nil
	}
	q, err := ask(s.state.Setup, s.state.Trials)
	return q, err == nil, err
}

// Answer records the answer to the question with a number, with the patient's own
// words, if any. It returns the words that call for the urgent box. Errors: a
// number that is not the next one (two windows, a page reloaded), an answer or
// words that are none, a session that is paused or has ended, and a log that could
// not be written; then nothing has changed.
func (s *Session) Answer(number int, a Answer, words string) (urgent []string, err error) {
	if !utf8.ValidString(words) {
		return nil, fmt.Errorf("match: the words are not written in UTF-8")
	}
	q, more, err := s.Next()
	if err != nil {
		return nil, err
	}
	if !more || q.Number != number {
		q.Number = number // refused with the reason
	}
	t := Trial{Question: q, Answer: a, Words: words, Urgent: Urgent(words), At: s.now().UTC().Truncate(time.Millisecond)}
	return t.Urgent, s.do(event{Kind: answered, Trial: &t})
}

// Undo takes back the last setting or judgement of an adjustment, else the last
// answer; what was taken back stays in the log.
func (s *Session) Undo() error { return s.do(event{Kind: undone}) }

// Pause stops the session until [Session.Resume].
func (s *Session) Pause() error { return s.do(event{Kind: paused}) }

// Resume goes on after a pause.
func (s *Session) Resume() error { return s.do(event{Kind: resumed}) }

// End ends the session for good, whether or not all is answered.
func (s *Session) End() error { return s.do(event{Kind: ended}) }

// Adjust begins to look for the strength of a view between lo and hi, in a unit,
// in four runs from below and above in turn. Errors: a view, method or range that
// is none.
func (s *Session) Adjust(view int, m Method, lo, hi float64, unit string) error {
	a := s.state.Setup.plan(Adjustment{View: view, Method: m, Lo: lo, Hi: hi, Unit: unit}, len(s.state.Severity))
	return s.do(event{Kind: adjusts, Adjust: &a})
}

// Set records the strength at which the patient says that it looks right.
func (s *Session) Set(value float64) error { return s.do(event{Kind: set, Value: value}) }

// Judge records that the picture shown has to be stronger, or else weaker.
func (s *Session) Judge(stronger bool) error { return s.do(event{Kind: judged, Stronger: stronger}) }
