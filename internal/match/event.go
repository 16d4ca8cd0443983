package match

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// State is everything a session holds. It follows from the events of its log
// alone, and is written to JSON without loss.
type State struct {
	Setup  Setup     `json:"setup"`
	Opened time.Time `json:"opened"`
	// Trials are the answers that count, in their order; Undone those taken back.
	Trials []Trial `json:"trials"`
	Undone []Trial `json:"undone"`
	// Severity holds the adjustments of chosen views, in their order.
	Severity []Adjustment `json:"severity"`
	Paused   bool         `json:"paused"`
	Ended    bool         `json:"ended"`
}

// clone returns a state that shares nothing that can change.
func (s State) clone() State {
	s.Setup.Views = slices.Clone(s.Setup.Views)
	s.Trials, s.Undone = slices.Clone(s.Trials), slices.Clone(s.Undone)
	s.Severity = slices.Clone(s.Severity)
	for i := range s.Severity {
		s.Severity[i] = s.Severity[i].clone()
	}
	return s
}

// version is that of the log's format.
const version = 1

// The kinds of events.
const (
	opened   = "opened"
	answered = "answered"
	undone   = "undone"
	paused   = "paused"
	resumed  = "resumed"
	ended    = "ended"
	adjusts  = "adjusts"
	set      = "set"
	judged   = "judged"
)

// event is one line of the log, without its sum.
type event struct {
	N        int         `json:"n"`
	Kind     string      `json:"kind"`
	At       time.Time   `json:"at"`
	Version  int         `json:"version,omitempty"`
	Setup    *Setup      `json:"setup,omitempty"`
	Trial    *Trial      `json:"trial,omitempty"`
	Adjust   *Adjustment `json:"adjust,omitempty"`
	Value    float64     `json:"value,omitempty"`
	Stronger bool        `json:"stronger,omitempty"`
}

// apply returns the state after an event. The state that is given is not changed.
// Errors: events that cannot follow on it.
func (s State) apply(e event) (State, error) {
	if (e.Kind == opened) != s.Opened.IsZero() {
		return s, fmt.Errorf("match: %q: a session is opened first, and once", e.Kind)
	}
	if s.Ended {
		return s, fmt.Errorf("match: %q: the session has ended; hint: start a new one", e.Kind)
	}
	if s.Paused && e.Kind != resumed && e.Kind != ended {
		return s, fmt.Errorf("match: %q: the session is paused; hint: resume it", e.Kind)
	}
	switch e.Kind {
	case opened:
		return open(e)
	case answered:
		return s.answer(e)
	case undone:
		return s.undo()
	case paused, resumed, ended:
		return s.turn(e.Kind)
	case adjusts, set, judged:
		return s.adjust(e)
	}
	return s, fmt.Errorf("match: %q is no kind of event", e.Kind)
}

func open(e event) (State, error) {
	if e.Setup == nil || e.At.IsZero() {
		return State{}, fmt.Errorf("match: a session is opened with a setup and a time")
	}
	if e.Version != version {
		return State{}, fmt.Errorf("match: the log is of version %d, expected %d; hint: read it with the program that wrote it", e.Version, version)
	}
	if err := e.Setup.Check(); err != nil {
		return State{}, err
	}
	return State{Setup: *e.Setup, Opened: e.At, Trials: []Trial{}, Undone: []Trial{}, Severity: []Adjustment{}}, nil
}

func (s State) answer(e event) (State, error) {
	if e.Trial == nil {
		return s, fmt.Errorf("match: an answer without a question")
	}
	t := *e.Trial
	if err := s.checkTrial(t); err != nil {
		return s, err
	}
	s.Trials = append(slices.Clone(s.Trials), t)
	return s, nil
}

// checkTrial refuses an answer that is not to the question that is next.
func (s State) checkTrial(t Trial) error {
	if want := len(s.Trials) + 1; t.Number != want {
		return fmt.Errorf("match: answer to question %d, but question %d is next; hint: reload the page, nothing that was answered is lost", t.Number, want)
	}
	if t.Number > s.Setup.Answers {
		return fmt.Errorf("match: all %d questions are answered", s.Setup.Answers)
	}
	if err := t.Answer.check(); err != nil {
		return err
	}
	if t.Answer == SomethingElse && strings.TrimSpace(t.Words) == "" {
		return fmt.Errorf("match: something else needs words, if only one")
	}
	if n := len([]rune(t.Words)); n > MaxWords {
		return fmt.Errorf("match: %d characters of words, expected at most %d", n, MaxWords)
	}
	return s.checkShown(t.Question)
}

// MaxWords is how many characters one answer in own words may have.
const MaxWords = 2000

// check refuses states that no session could be in.
func (s State) check() error {
	if err := s.Setup.Check(); err != nil {
		return err
	}
	for k, t := range s.Trials {
		before := State{Setup: s.Setup, Trials: s.Trials[:k]}
		if err := before.checkTrial(t); err != nil {
			return err
		}
	}
	for _, a := range s.Severity {
		if a.View < 0 || a.View >= len(s.Setup.Views) || len(a.Runs) == 0 {
			return fmt.Errorf("match: an adjustment of view %d with %d runs", a.View, len(a.Runs))
		}
	}
	return nil
}

// checkShown refuses pairs that a session of this setup would not ask.
func (s State) checkShown(q Question) error {
	bad := fmt.Errorf("match: question %d is no %s pair of views %d and %d", q.Number, q.Kind, q.Left, q.Right)
	n := len(s.Setup.Views)
	for _, v := range []int{q.Left, q.Right} {
		if v >= n || v < 0 && (v != Foil || q.Kind != Obvious || s.Setup.Foil == "") {
			return bad
		}
	}
	var ok bool
	switch q.Kind {
	case Identical:
		ok = q.Left == q.Right && q.Repeats == 0
	case Obvious:
		ok = (q.Left == Foil) != (q.Right == Foil) && q.Repeats == 0
	case Ordinary:
		ok = q.Left != q.Right && s.Setup.asks(q.Left, q.Right) && q.Repeats == 0
	case Repeated:
		ok = q.Repeats > 0 && q.Repeats < q.Number && s.swaps(q)
	}
	if !ok {
		return bad
	}
	return nil
}

// swaps reports whether a question repeats an ordinary one with sides swapped.
func (s State) swaps(q Question) bool {
	t := s.Trials[q.Repeats-1]
	return t.Kind == Ordinary && t.Left == q.Right && t.Right == q.Left
}

// undo takes back the last setting or judgement of an adjustment, else the last
// answer.
func (s State) undo() (State, error) {
	if k := len(s.Severity) - 1; k >= 0 {
		s.Severity = slices.Clone(s.Severity)
		if a, ok := s.Severity[k].undo(); ok {
			s.Severity[k] = a
		} else {
			s.Severity = s.Severity[:k]
		}
		return s, nil
	}
	k := len(s.Trials) - 1
	if k < 0 {
		return s, fmt.Errorf("match: there is nothing to take back")
	}
	s.Undone = append(slices.Clone(s.Undone), s.Trials[k])
	s.Trials = s.Trials[:k:k]
	return s, nil
}

func (s State) turn(kind string) (State, error) {
	if kind == resumed && !s.Paused {
		return s, fmt.Errorf("match: the session is not paused")
	}
	s.Paused = kind == paused
	s.Ended = kind == ended
	return s, nil
}
