package compare

import (
	"fmt"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/unit"
)

// Shot is one view of a sheet before it is made: which eye, with which causes
// or trial.
type Shot struct {
	ID     string           // for file names: "reference", "lens", "all-but-field"
	Name   string           // for the panel
	Amount string           // clinical quantity, for the panel
	Side   unit.Side        // the eye that looks
	Set    cause.Strengths  // how much of each cause it has
	Trial  string           // the trial, as [cause.FindTrial] reads it, "" for none
	Same   bool             // keep the glasses of all causes together
	Field  FieldAs          // the field it is drawn with
	Gaze   *unit.SightPoint // where it looks; nil: where the sheet does
	Fellow *Shot            // the other eye, open too; nil: one eye looks

	on *cause.Eye
}

// Options says which views a sheet has.
type Options struct {
	Eye            unit.Side         // the eye of the complaint
	Gaze           unit.SightPoint   // where both eyes look, patient's axes, degrees from the scene's centre
	Tone           string            // tone curve, see light.ToneFor, or [ByScene]
	Manner         render.Manner     // how light is drawn; the zero value is the usual way
	PupilFromLight bool              // the pupil usual for the light of the scene instead of that of the case
	OneEye         bool              // with PupilFromLight: the other eye is covered
	AllBut         bool              // add one view for every cause left out
	Trials         []string          // trials to add, see [cause.FindTrial], each once
	Extrapolate    bool              // let a pupil be wider than the widest measurement
	Field          FieldAs           // the field that every view is drawn with
	MoreGazes      []unit.SightPoint // further fixations: one more view of all causes for each
	BothEyes       bool              // add one view with both eyes open
}

// Shots plans the views of a sheet: reference, each cause alone, all together,
// then, on request, all but one, further fixations and trials; the fellow eye
// comes last, and after it, on request, both together. A single
// cause is refracted for itself; all together and all but one keep the glasses
// of the eye as it is. Errors: an eye that the case does not describe, a trial
// that is not known or asked for twice, both eyes of a case with one, a drawn field
// where none is lost.
func Shots(c *casefile.Case, o Options) ([]Shot, error) {
	e, err := cause.Resolve(c, o.Eye)
	if err != nil {
		return nil, err
	}
	e.Extrapolate = o.Extrapolate
	shots := []Shot{referenceShot(e)}
	for _, k := range e.Causes {
		shots = append(shots, Shot{ID: string(k.ID), Name: k.Label, Amount: k.Amount, Side: e.Side, Set: cause.Only(k.ID, 1), on: e})
	}
	shots = append(shots, Shot{ID: "all", Name: "All together", Amount: fmt.Sprintf("this %s eye as measured", e.Side), Side: e.Side, Set: e.All(), Same: true, on: e})
	if o.AllBut {
		for _, k := range e.Causes {
			shots = append(shots, Shot{ID: "all-but-" + string(k.ID), Name: "Without: " + k.Label, Amount: "everything else stays", Side: e.Side, Set: e.AllBut(k.ID), Same: true, on: e})
		}
	}
	tried, err := trialShots(e, o.Trials)
	if err != nil {
		return nil, err
	}
	shots = append(append(shots, gazeShots(e, o)...), tried...)
	if shots, err = addFellow(shots, e, o); err != nil {
		return nil, err
	}
	return drawnWith(shots, o.Field)
}

// addFellow adds the view of the fellow eye, if the case describes one, and, on
// request, that of both.
func addFellow(shots []Shot, e *cause.Eye, o Options) ([]Shot, error) {
	c, side := e.Case, e.Side.Other()
	if c.Eye(side) == nil {
		if o.BothEyes {
			return nil, noFellow(c, side)
		}
		return shots, nil
	}
	f, err := cause.Resolve(c, side)
	if err != nil {
		return nil, err
	}
	f.Extrapolate = o.Extrapolate
	fellow := Shot{ID: "fellow", Name: fmt.Sprintf("The %s eye", side), Amount: "the fellow eye as measured", Side: side, Set: f.All(), Same: true, on: f}
	shots = append(shots, fellow)
	if o.BothEyes {
		shots = append(shots, bothShot(e, fellow))
	}
	return shots, nil
}

// Viewing is how a scene is looked at.
func Viewing(s *scene.Scene) cause.Viewing {
	return cause.Viewing{DistanceM: s.DistanceM, Night: s.Night}
}

// State makes the eye state of a shot before a scene. Errors are those of
// [cause.Eye.State], and those of a field that cannot be drawn as asked.
func (s Shot) State(v cause.Viewing) (eye.State, error) {
	if s.Trial != "" {
		t, err := cause.FindTrial(s.Trial)
		if err != nil {
			return eye.State{}, err
		}
		return s.withField(t.Apply(s.on, s.Set, v))
	}
	g := cause.Refracted
	if s.Same {
		g = cause.Same
	}
	return s.withField(s.on.State(s.Set, v, g))
}

func (s Shot) withField(e eye.State, err error) (eye.State, error) {
	if err != nil {
		return e, err
	}
	return s.Field.Apply(e)
}
