package sweep

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
)

// Limits of a grid.
const (
	MinPupilMM  = 1.0
	MaxPupilMM  = 9.0
	MaxStrength = 3.0
	MaxGazeDeg  = 60.0      // degrees either way
	MaxPictures = 1_000_000 // far above a night's work
)

// None stands among trials for the eye as it is.
const None = "none"

// Axes are what a grid goes through. Every picture has one value of each axis.
type Axes struct {
	Scenes     []string   `yaml:"scenes" json:"scenes"`
	Eyes       []string   `yaml:"eyes" json:"eyes"`
	PupilsMM   []float64  `yaml:"pupils_mm" json:"pupils_mm,omitempty"`       // none: that of the case
	Trials     []string   `yaml:"trials" json:"trials,omitempty"`             // none: no trial
	Severities []Severity `yaml:"severities" json:"severities,omitempty"`     // none: every cause as measured
	GazesDeg   []Gaze     `yaml:"gazes_deg" json:"gazes_deg"`                 // x, y
	Others     string     `yaml:"other_causes" json:"other_causes,omitempty"` // causes that Severities does not name: absent (also "") or measured
}

// Gaze is where an eye looks: x, y in degrees.
type Gaze [2]float64

// UnmarshalYAML reads exactly two numbers.
func (g *Gaze) UnmarshalYAML(n ast.Node) error {
	var v []float64
	if err := yaml.NodeToValue(n, &v); err != nil || len(v) != len(g) {
		return fmt.Errorf("line %d: gazes_deg: expected two angles such as [4, -5] (got %s)", n.GetToken().Position.Line, n)
	}
	*g = Gaze(v)
	return nil
}

// Severity is the axis of one cause: its strengths, 0 to 3, 1 as measured.
type Severity struct {
	Cause     string    `yaml:"cause" json:"cause"`
	Strengths []float64 `yaml:"strengths" json:"strengths"`
}

// The ways with causes that no axis names.
const (
	Absent   = "absent"
	Measured = "measured"
)

// Check refuses an axis without a value, with a value twice or out of range, and a
// grid of more than a million pictures. Whether a scene, a cause or a trial is
// known is not looked at.
func (a Axes) Check() error {
	for _, e := range []error{
		words("scenes", a.Scenes, true), words("eyes", a.Eyes, true), words("trials", a.Trials, false),
		numbers("pupils_mm", a.PupilsMM, MinPupilMM, MaxPupilMM), a.checkSeverities(), a.checkGazes(), a.checkEyes(),
	} {
		if e != nil {
			return e
		}
	}
	if n := a.count(); n > MaxPictures {
		return fmt.Errorf("the grid has %.0f pictures, at most %d are made at once; hint: leave values out of its axes", n, MaxPictures)
	}
	return nil
}

func (a Axes) checkEyes() error {
	for _, e := range a.Eyes {
		if e != "right" && e != "left" {
			return fmt.Errorf("eyes: must be right or left (got %q)", e)
		}
	}
	if a.Others != "" && a.Others != Absent && a.Others != Measured {
		return fmt.Errorf("other_causes: must be %s or %s (got %q)", Absent, Measured, a.Others)
	}
	if a.Others != "" && len(a.Severities) == 0 {
		return fmt.Errorf("other_causes: goes with severities; without them every cause is as measured")
	}
	return nil
}

func (a Axes) checkSeverities() error {
	var named []string
	for _, s := range a.Severities {
		if s.Cause == "" {
			return fmt.Errorf("severities: a cause is not named; expected one as in lens=0,0.5,1")
		}
		named = append(named, s.Cause)
		if len(s.Strengths) == 0 {
			return fmt.Errorf("severities: %s has no strength; expected some as in %s=0,0.5,1", s.Cause, s.Cause)
		}
		if err := numbers("severities: "+s.Cause, s.Strengths, 0, MaxStrength); err != nil {
			return err
		}
	}
	return words("severities", named, false)
}

func (a Axes) checkGazes() error {
	if len(a.GazesDeg) == 0 {
		return fmt.Errorf("gazes_deg: is empty; expected at least one, as in [0, 0]")
	}
	for i, g := range a.GazesDeg {
		for _, v := range g {
			if !(math.Abs(v) <= MaxGazeDeg) {
				return fmt.Errorf("gazes_deg: must be from -%g to %g (got %g,%g)", MaxGazeDeg, MaxGazeDeg, g[0], g[1])
			}
		}
		if slices.Contains(a.GazesDeg[:i], g) {
			return fmt.Errorf("gazes_deg: names %g,%g twice", g[0], g[1])
		}
	}
	return nil
}

// words refuses an empty or repeated word.
func words(axis string, list []string, needed bool) error {
	if needed && len(list) == 0 {
		return fmt.Errorf("%s: is empty; expected at least one", axis)
	}
	for i, w := range list {
		switch {
		case strings.TrimSpace(w) == "":
			return fmt.Errorf("%s: holds an empty word", axis)
		case slices.Contains(list[:i], w):
			return fmt.Errorf("%s: names %s twice", axis, w)
		}
	}
	return nil
}

// numbers refuses a number out of range (so NaN too) or repeated.
func numbers(axis string, list []float64, low, high float64) error {
	for i, v := range list {
		switch {
		case !(v >= low && v <= high):
			return fmt.Errorf("%s: must be %g to %g (got %g)", axis, low, high, v)
		case slices.Contains(list[:i], v):
			return fmt.Errorf("%s: names %g twice", axis, v)
		}
	}
	return nil
}

// count is the number of pictures; a float, as it may be too large for an int.
func (a Axes) count() float64 {
	n := float64(len(a.Scenes)) * float64(len(a.Eyes)) * float64(len(a.GazesDeg))
	n *= float64(max(1, len(a.PupilsMM))) * float64(max(1, len(a.Trials)))
	for _, s := range a.Severities {
		n *= float64(len(s.Strengths))
	}
	return n
}
