package cause

import (
	"fmt"
	"slices"
	"strings"

	"simview/internal/eye"
)

// PinholeMM is the usual diameter of a pinhole occluder (trade practice).
const PinholeMM = 1.2

// Trial is something that can be tried on an eye: a change of the state that
// the causes made, applied last. It has one step, or several chained.
type Trial struct {
	ID     string // what [FindTrial] reads, steps in the order of their planes
	Label  string // for a panel
	InRoom bool   // true for what can be tried at once; false for a what-if
	// Assumes says in words what the trial rests on, with its source.
	Assumes string
	// Published says what share of people saw worse after it, where that is
	// known, with its source; empty in the room.
	Published string

	steps []step
}

// step is one kind of trial with its settings.
type step struct {
	*kind
	set map[string]float64
}

// plane is where a step acts. Steps act in this order, but for glasses, which
// are chosen for what contact lens, cornea and lens leave, before the pupil.
type plane int

const (
	glassesPlane plane = iota
	contactPlane
	corneaPlane
	lensPlane
	pupilPlane
	holePlane
)

func (p plane) String() string {
	return [...]string{"glasses", "contact lens", "cornea", "lens", "pupil", "pinhole"}[p]
}

// kind is one trial as it stands in the list.
type kind struct {
	id, label string
	whatIf    bool
	at        plane
	assumes   string
	published string
	keys      []key
	apply     func(t *tryout, o map[string]float64) error
}

// Trials lists the trials in their fixed order, never sorted by result: first
// what can be tried in the room, from the glasses inward, then the what-ifs.
var Trials = listTrials()

func listTrials() []Trial {
	var list []Trial
	for _, k := range slices.Concat(glassesKinds, contactKinds, pupilKinds, lensKinds, corneaKinds) {
		list = append(list, chain([]step{{kind: k, set: k.defaults()}}, nil))
	}
	return list
}

// Keys lists the settings of the trial's steps as "name, default, range".
func (t Trial) Keys() []string {
	var out []string
	for _, s := range t.steps {
		for _, k := range s.keys {
			out = append(out, k.String())
		}
	}
	return out
}

// FindTrial reads a trial: its id, settings after colons, further steps after a
// plus:
//
//	step  = id *( ":" key "=" value )
//	trial = step *( "+" step )
//
// as in "rigid-lens+pinhole:diameter_mm=1". The order of the steps does not
// matter. Errors name an unknown id or key, a value out of range, and two steps
// at one plane.
func FindTrial(text string) (Trial, error) {
	var steps []step
	given := map[string][]string{}
	for _, part := range splitSteps(text) {
		s, keys, err := readStep(part)
		if err != nil {
			return Trial{}, fmt.Errorf("trial %q: %w", text, err)
		}
		for _, other := range steps {
			if other.at == s.at {
				return Trial{}, fmt.Errorf("trial %q: %s and %s both act at the %s; hint: leave one out", text, other.id, s.id, s.at)
			}
		}
		steps, given[s.id] = append(steps, s), keys
	}
	if err := agree(steps, given); err != nil {
		return Trial{}, fmt.Errorf("trial %q: %w", text, err)
	}
	return chain(steps, given), nil
}

// splitSteps cuts at a plus before a letter: one before a digit is a sign.
func splitSteps(text string) (parts []string) {
	from := 0
	for i := 1; i+1 < len(text); i++ {
		if text[i] == '+' && text[i+1] >= 'a' && text[i+1] <= 'z' {
			parts, from = append(parts, text[from:i]), i+1
		}
	}
	return append(parts, text[from:])
}

// chain joins steps in the order of their planes.
func chain(steps []step, given map[string][]string) Trial {
	slices.SortStableFunc(steps, func(a, b step) int { return int(a.at) - int(b.at) })
	t := Trial{InRoom: true, steps: steps}
	var ids, labels, words, published []string
	for _, s := range steps {
		ids, labels = append(ids, strings.Join(append([]string{s.id}, given[s.id]...), ":")), append(labels, s.label)
		t.InRoom = t.InRoom && !s.whatIf
		if s.assumes != "" {
			words = append(words, s.assumes)
		}
		if s.published != "" {
			published = append(published, s.published)
		}
	}
	t.ID, t.Label, t.Assumes = strings.Join(ids, "+"), strings.Join(labels, " + "), strings.Join(words, "; ")
	t.Published = strings.Join(published, "; ")
	return t
}

// Apply returns the eye with the trial on it. Of a what-if it is the outcome
// that the key outcome names, exact unless given. Errors are those of
// [Eye.State], and a trial that this eye does not allow.
func (t Trial) Apply(e *Eye, set Strengths, v Viewing) (eye.State, error) {
	r, err := t.on(e, set, v)
	return r.s, err
}

// on applies the trial with the outcome that was asked for.
func (t Trial) on(e *Eye, set Strengths, v Viewing) (*tryout, error) {
	want := t.Outcome()
	if want == Exact {
		return t.run(e, set, v, exactly)
	}
	sp, err := t.Spread(e, set, v)
	if err != nil {
		return &tryout{}, err
	}
	r, err := t.run(e, set, v, draw(sp.Seed, sp.drawOf(want)))
	if err == nil {
		r.s = r.s.Note(sp.Words())
	}
	return r, err
}
