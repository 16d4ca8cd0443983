package match

import (
	"fmt"
	"strings"
)

// Limits of a session.
const (
	MaxAnswers = 40 // a patient should be through in under eight minutes
	MinAnswers = 10
	MaxViews   = 8
	// MinApart is the share of right answers with which the fellow eye is
	// predicted to tell two pictures apart, below which the pair is not asked;
	// half way between guessing and certainty (common practice).
	MinApart = 0.75
	// MaxSeed is the largest whole number that other programs read from JSON
	// without loss.
	MaxSeed = 1<<53 - 1
)

// Setup is what a session starts from.
type Setup struct {
	// Title says what is looked at, through what, with which eye. No name.
	Title string `json:"title"`
	// Views are the names of the views that are compared, 2 to [MaxViews], all
	// different. The patient sees labels only.
	Views []string `json:"views"`
	// Foil names a picture that no eye like this could see, for obvious pairs;
	// empty for none.
	Foil string `json:"foil,omitempty"`
	// Apart[i][j] is the predicted share of right answers, 0.5 to 1, when the
	// fellow eye is asked to tell view i from j; nil where nothing is predicted.
	// Only i != j is read; it has to be symmetric.
	Apart [][]float64 `json:"apart,omitempty"`
	// Answers is how many answers end the session, [MinAnswers] to [MaxAnswers].
	Answers int `json:"answers"`
	// Seed decides order, sides and labels; at most [MaxSeed].
	Seed uint64 `json:"seed"`
}

// Check refuses a setup that is none, or with which a match is not possible.
func (s Setup) Check() error {
	if err := s.checkNames(); err != nil {
		return err
	}
	if s.Answers < MinAnswers || s.Answers > MaxAnswers {
		return fmt.Errorf("match: answers: %d, expected %d to %d", s.Answers, MinAnswers, MaxAnswers)
	}
	if s.Seed > MaxSeed {
		return fmt.Errorf("match: seed: %d, expected at most %d", s.Seed, uint64(MaxSeed))
	}
	if err := s.checkApart(); err != nil {
		return err
	}
	return s.possible()
}

func (s Setup) checkNames() error {
	if len(s.Views) < 2 || len(s.Views) > MaxViews {
		return fmt.Errorf("match: %d views, expected 2 to %d; hint: leave out the views that the measurements make least likely", len(s.Views), MaxViews)
	}
	seen := map[string]bool{s.Foil: true}
	for i, v := range s.Views {
		if strings.TrimSpace(v) == "" {
			return fmt.Errorf("match: view %d has no name", i)
		}
		if seen[v] {
			return fmt.Errorf("match: view %d: the name %q is used twice, also counting the foil", i, v)
		}
		seen[v] = true
	}
	return nil
}

func (s Setup) checkApart() error {
	if s.Apart == nil {
		return nil
	}
	if len(s.Apart) != len(s.Views) {
		return fmt.Errorf("match: telling apart: %d rows for %d views", len(s.Apart), len(s.Views))
	}
	for i, row := range s.Apart {
		if len(row) != len(s.Views) {
			return fmt.Errorf("match: telling apart: row %d has %d numbers for %d views", i, len(row), len(s.Views))
		}
	}
	for i, row := range s.Apart {
		for j, p := range row {
			if i == j {
				continue
			}
			if !(p >= 0.5 && p <= 1) {
				return fmt.Errorf("match: telling %q from %q: %g, expected a share of right answers from 0.5 (guessing) to 1", s.Views[i], s.Views[j], p)
			}
			if p != s.Apart[j][i] {
				return fmt.Errorf("match: telling %q from %q: %g one way and %g the other", s.Views[i], s.Views[j], p, s.Apart[j][i])
			}
		}
	}
	return nil
}

// NotPossible is the error of a setup whose pictures the fellow eye is predicted
// not to tell apart well enough. Asked of All pairs could be asked.
type NotPossible struct {
	Asked, All int
	Reason     string
}

// Error says that a match is not possible, and why.
func (e NotPossible) Error() string { return "match: a match is not possible: " + e.Reason }

// possible refuses a match in which fewer than half of the pairs can be told
// apart, or views that no chain of such pairs joins.
func (s Setup) possible() error {
	n := len(s.Views)
	e := NotPossible{All: n * (n - 1) / 2}
	joined := make([]bool, n)
	joined[0] = true
	for range n {
		for i := range n {
			for j := range n {
				joined[j] = joined[j] || joined[i] && i != j && s.asks(i, j)
			}
		}
	}
	e.Asked = e.All - len(s.NotAsked())
	if 2*e.Asked < e.All {
		e.Reason = fmt.Sprintf("the fellow eye is predicted to tell apart %d of %d pairs of pictures, fewer than half; hint: a scene, a size or strengths in which the views differ more", e.Asked, e.All)
		return e
	}
	for j, ok := range joined {
		if !ok {
			e.Reason = fmt.Sprintf("no chain of pairs that the fellow eye can tell apart joins %q to %q; hint: leave one of them out, or take another scene", s.Views[0], s.Views[j])
			return e
		}
	}
	return nil
}

// asks reports whether a pair may be asked.
func (s Setup) asks(i, j int) bool { return s.Apart == nil || s.Apart[i][j] >= MinApart }

// NotAsked returns the pairs of views that are not asked, because the fellow eye
// is predicted not to tell them apart.
func (s Setup) NotAsked() [][2]int {
	var out [][2]int
	for i := range s.Views {
		for j := range i {
			if !s.asks(i, j) {
				out = append(out, [2]int{j, i})
			}
		}
	}
	return out
}

// Default returns a setup of 40 answers without foil and predictions.
func Default(seed uint64, views ...string) Setup {
	return Setup{Views: views, Answers: MaxAnswers, Seed: seed}
}

// letters label the views: none is the first of anything, or looks like another.
var letters = strings.Split("H K M R T V X Z", " ")

// Labels returns a neutral label for each view, in an order that the seed shuffles.
func (s Setup) Labels() []string {
	out := append([]string(nil), letters...)
	s.chance(labelStream).Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out[:len(s.Views)]
}
