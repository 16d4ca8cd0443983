package cause

import (
	"fmt"
	"maps"

	"simview/internal/eye"
	"simview/internal/unit"
)

// PinholeMM is the usual diameter of a pinhole occluder (trade practice).
const PinholeMM = 1.2

// Trial is something that can be tried on an eye: applied last, to the state
// that the causes made.
type Trial struct {
	ID    string
	Label string
	// InRoom is true for what can be tried at once; false for a what-if.
	InRoom bool
	Apply  func(e *Eye, set Strengths, v Viewing) (eye.State, error)
}

// Trials lists the trials in their fixed order, never sorted by result.
var Trials = []Trial{
	{"spectacles", "With the best spectacles", true, func(e *Eye, set Strengths, v Viewing) (eye.State, error) {
		return e.State(without(set, Cylinder), v, Refracted)
	}},
	{"pinhole", "Through a pinhole", true, pinhole},
	{"lens-straight-same-glasses", "Lens put straight, same glasses", false, func(e *Eye, set Strengths, v Viewing) (eye.State, error) {
		return e.State(without(set, Lens), v, Same)
	}},
	{"lens-straight-refracted", "Lens put straight, new glasses", false, func(e *Eye, set Strengths, v Viewing) (eye.State, error) {
		return e.State(without(set, Lens, Cylinder), v, Refracted)
	}},
}

// FindTrial returns the trial with that id.
func FindTrial(id string) (Trial, error) {
	for _, t := range Trials {
		if t.ID == id {
			return t, nil
		}
	}
	return Trial{}, fmt.Errorf("trial %q: not known; hint: `simview causes` lists the trials", id)
}

func without(set Strengths, ids ...ID) Strengths {
	s := maps.Clone(set)
	for _, id := range ids {
		delete(s, id)
	}
	return s
}

// pinhole keeps the glasses and looks through a small hole before the middle
// of the pupil. It costs light in the ratio of the areas,
//
//	light = (d / D)²
func pinhole(e *Eye, set Strengths, v Viewing) (eye.State, error) {
	s, err := e.State(set, v, Same)
	if err != nil || s.PupilMM <= PinholeMM {
		return s, err
	}
	s.Light = (PinholeMM / s.PupilMM) * (PinholeMM / s.PupilMM)
	s.PupilMM = PinholeMM
	s.PupilAt = unit.PupilPoint{}
	s = fixated(s)
	s.Condition += fmt.Sprintf(", pinhole %.1f mm", PinholeMM)
	return s.Note(fmt.Sprintf("the pinhole lets in %.0f %% of the light", 100*s.Light)), nil
}
