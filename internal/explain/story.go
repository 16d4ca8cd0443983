package explain

import (
	"context"
	"fmt"
	"math"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/csf"
	"simview/internal/doubt"
	"simview/internal/scene"
)

// Story is everything that is said of one eye, in the order in which it is said.
type Story struct {
	Case      string   `json:"case"`
	Eye       string   `json:"eye"`
	Complaint string   `json:"complaint,omitempty"`
	Notice    []string `json:"notice"`
	Checks    []Check  `json:"checks_before_believing"`
	Model     string   `json:"model"`
	Lights    []Light  `json:"lights"`
	// Unexplained is what was measured less what is predicted, logMAR.
	Unexplained Unexplained `json:"not_explained_by_this_case"`
	Trials      []TrialRow  `json:"to_try_in_the_room"`
	WhatIfs     []TrialRow  `json:"what_if"`
	Apart       []Apart     `json:"tests_that_tell_apart"`
	Covering    string      `json:"covering_one_eye"`
	Fits        []Fit       `json:"measured_against_predicted"`
	Inputs      []Measured  `json:"inputs"`
	Draws       int         `json:"draws"`
	Settled     bool        `json:"draws_settled"`
	Seed        uint64      `json:"seed"`
	Assumed     []string    `json:"assumed"`
}

// Check is one of the checks before believing any number.
type Check struct {
	Name  string `json:"check"`
	Done  bool   `json:"done"`
	Words string `json:"words,omitempty"`
}

// Light is one eye in one light: its numbers, what would change, and shares.
type Light struct {
	Name string `json:"light"` // bright or dim
	// Scene is the one of which is told how much is lost, empty for none.
	Scene     string     `json:"scene,omitempty"`
	PupilMM   float64    `json:"pupil_mm"`
	Condition string     `json:"condition"`
	Focus     string     `json:"focus"`
	Reference Numbers    `json:"reference_eye"`
	Now       Numbers    `json:"as_it_is"`
	Sure      []Estimate `json:"as_it_is_how_sure"` // by measure, as harm
	Causes    []CauseRow `json:"causes"`
	Pairs     []PairRow  `json:"pairs"`
	// SurrogateRMS says how far the surrogate lies from the whole simulation, one standard
	// deviation, by measure.
	SurrogateRMS []float64 `json:"surrogate_rms"`
	Curves       Curves    `json:"curves"`
}

// CauseRow is one cause: what changes if only it is put right, and its share, by
// measure.
type CauseRow struct {
	ID      cause.ID   `json:"cause"`
	Label   string     `json:"label"`
	Amount  string     `json:"amount"`
	From    string     `json:"from"`
	Same    []Estimate `json:"put_right_same_glasses"`
	Renewed []Estimate `json:"put_right_new_glasses"`
	Share   []Estimate `json:"share"`
}

// PairRow is what two causes do together beyond each by itself, by measure.
type PairRow struct {
	A     cause.ID  `json:"a"`
	B     cause.ID  `json:"b"`
	Extra []float64 `json:"together_beyond_each"`
}

// Unexplained is measured less modelled acuity.
type Unexplained struct {
	Known    bool     `json:"known"`
	Measured float64  `json:"measured_logmar,omitempty"`
	Modelled float64  `json:"modelled_logmar"`
	Gap      Estimate `json:"gap"`
	Notice   string   `json:"notice,omitempty"`
}

// Measured is one input of the story.
type Measured struct {
	Name     string  `json:"input"`
	Unit     string  `json:"unit"`
	Value    float64 `json:"value"`
	SD       float64 `json:"sd"`
	SDSource string  `json:"sd_from"`
	Usual    string  `json:"usual,omitempty"`
}

// Options says how a story is told.
type Options struct {
	DistanceM float64 // of what is read
	Draws     int     // of each what-if, 10 or more
	Rule      doubt.Rule
	Scenes    [2]*scene.Scene    // by day and by night; nil: none
	Tell      func(words string) // told what is being worked out; may be nil
}

// UsualOptions are those of the program.
var UsualOptions = Options{DistanceM: math.Inf(1), Draws: 20, Rule: doubt.Usual}

// notModelled is said before any share when much is not explained.
const notModelled = "More is wrong than this case explains. Not modelled: macula, retina, capsule, swelling of the cornea, vitreous, other disease of nerve or brain. Look there before reading any share below."

// muchLogMAR is the gap above which that is said: one line of a chart.
const muchLogMAR = 0.1

// Tell works out the story of one eye. Errors are those of package cause, an eye
// without any cause, and ctx's error when it ends.
func Tell(ctx context.Context, e *cause.Eye, o Options) (*Story, error) {
	t, err := newTeller(ctx, e, o)
	if err != nil {
		return nil, err
	}
	for _, step := range []func() error{t.simulate, t.sure, t.trials, t.apart, t.fits} {
		if err := step(); err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	return t.story, nil
}

// teller holds what the steps of a story share.
type teller struct {
	ctx     context.Context
	e       *cause.Eye
	o       Options
	story   *Story
	engines []*engine // by day, by night
	tables  []table
	fasts   []*fast
	in      []input
}

func newTeller(ctx context.Context, e *cause.Eye, o Options) (*teller, error) {
	if len(e.Causes) == 0 {
		return nil, fmt.Errorf("%s: the %s eye has no cause that could be explained; hint: `simview causes` lists what was found, --eye chooses the other eye", e.Case.File, e.Side)
	}
	t := &teller{ctx: ctx, e: e, o: o, in: inputs(e)}
	t.story = &Story{
		Case: e.Case.Title, Eye: e.Side.String(), Complaint: e.Case.Words, Notice: compare.Notice,
		Assumed: e.Notes, Model: csf.Models()[0].Name(), Seed: o.Rule.Seed,
	}
	for _, c := range e.Case.Checks.Named() {
		t.story.Checks = append(t.story.Checks, Check{c.Name, c.Check.Done(), c.Check.Words})
	}
	for _, i := range t.in {
		t.story.Inputs = append(t.story.Inputs, Measured{i.Name, i.Unit, i.Measured, i.SD, i.SDSource, i.Prior.Source})
	}
	for k, night := range []bool{false, true} {
		g, err := newEngine(e, cause.Viewing{DistanceM: o.DistanceM, Night: night}, csf.Models()[0], o.Scenes[k])
		if err != nil {
			return nil, err
		}
		t.engines = append(t.engines, g)
	}
	return t, nil
}

func (t *teller) tell(words string) {
	if t.o.Tell != nil {
		t.o.Tell(words)
	}
}

// simulate makes the tables of both lights.
func (t *teller) simulate() error {
	for k, g := range t.engines {
		t.tell("all sets of causes, " + g.lightName() + " pupil")
		tab, err := g.simulate()
		if err != nil {
			return err
		}
		t.tables = append(t.tables, tab)
		s, err := g.e.State(g.e.All(), g.v, cause.Same)
		if err != nil {
			return err
		}
		curves, err := g.curves()
		if err != nil {
			return err
		}
		t.story.Lights = append(t.story.Lights, Light{
			Curves: curves,
			Name:   g.lightName(), PupilMM: s.PupilMM, Condition: s.Condition, Focus: s.Focus,
			Scene: sceneID(t.o.Scenes[k]), Reference: tab[place{0, suited}], Now: tab[place{g.all(), suited}],
		})
	}
	return nil
}

func sceneID(s *scene.Scene) string {
	if s == nil {
		return ""
	}
	return s.ID
}
