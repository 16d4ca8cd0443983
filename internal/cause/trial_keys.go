package cause

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// key is one setting of a trial: a number within limits, or one of some words,
// kept as its place among them.
type key struct {
	name      string
	usual     float64
	low, high float64
	whole     bool
	words     []string
}

// String says name, default and range.
func (k key) String() string {
	if k.words != nil {
		return fmt.Sprintf("%s=%s (%s)", k.name, k.words[int(k.usual)], strings.Join(k.words, ", "))
	}
	return fmt.Sprintf("%s=%g (%g to %g)", k.name, k.usual, k.low, k.high)
}

// read turns the text of a value into a number.
func (k key) read(text string) (float64, error) {
	if k.words != nil {
		if at := slices.Index(k.words, text); at >= 0 {
			return float64(at), nil
		}
		return 0, fmt.Errorf("%s must be one of %s (got %q)", k.name, strings.Join(k.words, ", "), text)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= k.low && v <= k.high) || k.whole && v != math.Trunc(v) {
		what := "a number"
		if k.whole {
			what = "a whole number"
		}
		return 0, fmt.Errorf("%s must be %s from %g to %g (got %q)", k.name, what, k.low, k.high, text)
	}
	return v, nil
}

// write is the one way to write a value, without a plus, which joins steps.
func (k key) write(v float64) string {
	if k.words != nil {
		return k.words[int(v)]
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func (k *kind) defaults() map[string]float64 {
	set := map[string]float64{}
	for _, key := range k.keys {
		set[key.name] = key.usual
	}
	return set
}

// kindOf finds a kind by its id.
func kindOf(id string) (*kind, bool) {
	for _, t := range Trials {
		if k := t.steps[0].kind; k.id == id {
			return k, true
		}
	}
	return nil, false
}

// readStep reads "id:key=value:..." and returns the settings as written too,
// in the order of the kind's keys.
func readStep(text string) (step, []string, error) {
	words := strings.Split(text, ":")
	k, ok := kindOf(words[0])
	if !ok && text == words[0] {
		return step{}, nil, fmt.Errorf("not known; hint: `simview causes` lists the trials")
	}
	if !ok {
		return step{}, nil, fmt.Errorf("%q is not known; hint: `simview causes` lists the trials", words[0])
	}
	s := step{kind: k, set: k.defaults()}
	written := map[string]string{}
	for _, w := range words[1:] {
		if err := s.read(w, written); err != nil {
			return s, nil, err
		}
	}
	var given []string
	for _, key := range k.keys {
		if w, ok := written[key.name]; ok {
			given = append(given, w)
		}
	}
	return s, given, nil
}

func (s step) read(word string, written map[string]string) error {
	name, value, ok := strings.Cut(word, "=")
	at := slices.IndexFunc(s.keys, func(k key) bool { return k.name == name })
	switch {
	case at < 0 && len(s.keys) == 0:
		return fmt.Errorf("%s has no settings (got %q); hint: leave it out", s.id, word)
	case at < 0 || !ok:
		var keys []string
		for _, k := range s.keys {
			keys = append(keys, k.String())
		}
		return fmt.Errorf("%s has no setting %q; hint: write key=value, the keys are %s", s.id, word, strings.Join(keys, ", "))
	case written[name] != "":
		return fmt.Errorf("%s is set twice", name)
	}
	v, err := s.keys[at].read(value)
	s.set[name], written[name] = v, name+"="+s.keys[at].write(v)
	return err
}

// Outcome is which of the outcomes of a what-if a view shows.
type Outcome int

// The outcomes: exactly as intended, or of the draws the middle one and the
// ends of the middle 80 in 100.
const (
	Exact Outcome = iota
	Middle
	Better
	Worse
)

var outcomes = []string{"exact", "middle", "better", "worse"}

// String is the word that the key outcome takes.
func (o Outcome) String() string { return outcomes[o] }

// Draws of a what-if unless asked otherwise, and where its random numbers start.
const (
	usualDraws = 100
	usualSeed  = 1
)

// whatIfKeys are the settings that every what-if has.
var whatIfKeys = []key{
	{name: "outcome", words: outcomes},
	{name: "draws", usual: usualDraws, low: 10, high: 2000, whole: true},
	{name: "seed", usual: usualSeed, low: 0, high: 1e6, whole: true},
}

// agree spreads the settings of a what-if over all what-ifs of a chain, which
// are drawn together, and refuses two that differ.
func agree(steps []step, given map[string][]string) error {
	said := map[string]string{}
	for _, s := range steps {
		for _, w := range given[s.id] {
			name, _, _ := strings.Cut(w, "=")
			if !s.whatIf || !slices.ContainsFunc(whatIfKeys, func(k key) bool { return k.name == name }) {
				continue
			}
			if was, ok := said[name]; ok && was != w {
				return fmt.Errorf("says %s and %s; hint: the what-ifs of a chain are drawn together, set it once", was, w)
			}
			said[name] = w
			for _, other := range steps {
				if other.whatIf {
					other.set[name] = s.set[name]
				}
			}
		}
	}
	return nil
}

// whatIf returns the first step that is drawn.
func (t Trial) whatIf() (step, bool) {
	for _, s := range t.steps {
		if s.kind.whatIf {
			return s, true
		}
	}
	return step{}, false
}

// Outcome is the one that a what-if shows; [Exact] in the room.
func (t Trial) Outcome() Outcome {
	s, ok := t.whatIf()
	if !ok {
		return Exact
	}
	return Outcome(s.set["outcome"])
}

// HasOutcome reports whether the text of a what-if says itself which outcome it
// shows.
func (t Trial) HasOutcome() bool { return strings.Contains(t.ID, ":outcome=") }

// With returns a what-if that shows the given outcome; a trial to try in the
// room stays as it is.
func (t Trial) With(o Outcome) Trial {
	ids := strings.Split(t.ID, "+")
	steps := slices.Clone(t.steps)
	first := true
	for k, s := range steps {
		if !s.kind.whatIf {
			continue
		}
		steps[k].set = maps.Clone(s.set)
		steps[k].set["outcome"] = float64(o)
		words := slices.DeleteFunc(strings.Split(ids[k], ":"), func(w string) bool { return strings.HasPrefix(w, "outcome=") })
		if first {
			words = slices.Insert(words, 1, "outcome="+o.String())
		}
		ids[k], first = strings.Join(words, ":"), false
	}
	t.steps, t.ID = steps, strings.Join(ids, "+")
	return t
}
