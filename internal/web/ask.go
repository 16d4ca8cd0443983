package web

import (
	"fmt"
	"maps"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/scene"
	"simview/internal/unit"
)

// ask is one question of the page, checked: a view of one eye.
type ask struct {
	scene   *scene.Scene
	gaze    unit.SightPoint
	viewing cause.Viewing
	eye     *cause.Eye
	fellow  *cause.Eye // open too, as measured; nil: one eye looks
	set     cause.Strengths
	trial   string
	glasses cause.Glasses
	window  bool // the magnified part instead of the whole scene
	full    bool // at full size instead of a preview
	slot    string
}

// keys are those of a question; any other is refused, for it would be a mistake.
var keys = []string{"scene", "gaze", "pupil", "distance", "eye", "set", "trial", "glasses", "part", "size", "slot", "side"}

const (
	maxGazeDeg = 60
	maxSlot    = 80
	leastM     = 0.1
	mostM      = 1e5
	leastMM    = 0.5
	mostMM     = 9
)

// read checks a question.
func (s *Server) read(q url.Values) (a ask, err error) {
	for _, k := range slices.Sorted(maps.Keys(q)) {
		if !slices.Contains(keys, k) || len(q[k]) > 1 {
			return a, askf("%s: is no key of a view, or is there twice; hint: the keys are %s", k, strings.Join(keys, ", "))
		}
	}
	steps := []func(url.Values, *ask) error{s.readScene, readGaze, readDistance, s.readEye, s.readPupil, readSet, readTrial, readGlasses, readShown}
	for _, step := range steps {
		if err := step(q, &a); err != nil {
			return a, err
		}
	}
	return a, nil
}

func (s *Server) readScene(q url.Values, a *ask) (err error) {
	if a.scene, err = s.findScene(q.Get("scene")); err == nil {
		a.viewing = compare.Viewing(a.scene)
	}
	return err
}

func readGaze(q url.Values, a *ask) error {
	if !q.Has("gaze") {
		return nil
	}
	x, y, two := strings.Cut(q.Get("gaze"), ",")
	gx, errX := number(x, -maxGazeDeg, maxGazeDeg)
	gy, errY := number(y, -maxGazeDeg, maxGazeDeg)
	if !two || errX != nil || errY != nil {
		return askf("gaze: must be two numbers of degrees from -%d to %d with a comma between them (got %q)", maxGazeDeg, maxGazeDeg, q.Get("gaze"))
	}
	a.gaze = unit.SightPoint{X: unit.Degrees(gx), Y: unit.Degrees(gy)}
	return nil
}

func readDistance(q url.Values, a *ask) (err error) {
	switch d := q.Get("distance"); d {
	case "", "scene":
	case "far":
		a.viewing.DistanceM = math.Inf(1)
	default:
		if a.viewing.DistanceM, err = number(d, leastM, mostM); err != nil {
			return askf("distance: must be scene, far, or metres from %g to %g (got %q)", leastM, mostM, d)
		}
	}
	return nil
}

// readPupil comes after the eye: a pupil by the light depends on the age.
func (s *Server) readPupil(q url.Values, a *ask) (err error) {
	switch p := q.Get("pupil"); p {
	case "", "case":
	case "bright", "dim":
		a.viewing.Night = p == "dim"
	case "light":
		const bothOpen = 2
		a.viewing.PupilMM, _, err = light.PupilInLight(a.scene.AdaptCdM2, a.scene.WidthDeg*a.scene.HeightDeg, s.kase.AgeYears.V, bothOpen)
		if err != nil {
			return askf("pupil: %w", err)
		}
	default:
		if a.viewing.PupilMM, err = number(p, leastMM, mostMM); err != nil {
			return askf("pupil: must be case, bright, dim, light, or a diameter from %g to %d mm (got %q)", leastMM, mostMM, p)
		}
	}
	return nil
}

func (s *Server) readEye(q url.Values, a *ask) error {
	if q.Get("eye") == "both" {
		side := s.kase.ComplaintSide()
		if a.eye, a.fellow = s.eyes[side], s.eyes[side.Other()]; a.fellow == nil {
			return askf("eye: this case describes one eye, so both cannot be shown")
		}
		return nil
	}
	side, err := unit.ParseSide(q.Get("eye"))
	if err != nil {
		return askf("eye: must be right, left or both (got %q)", q.Get("eye"))
	}
	if a.eye = s.eyes[side]; a.eye == nil {
		return askf("eye: this case describes no %s eye", side)
	}
	return nil
}

// readSet reads strengths as in lens:1,field:0.5; nothing is the reference eye.
func readSet(q url.Values, a *ask) error {
	a.set = cause.Strengths{}
	if q.Get("set") == "" {
		return nil
	}
	for part := range strings.SplitSeq(q.Get("set"), ",") {
		id, text, two := strings.Cut(part, ":")
		k, err := number(text, 0, cause.MaxStrength)
		if _, twice := a.set[cause.ID(id)]; !two || err != nil || twice {
			return askf("set: must be causes with their strength, 0 to %d, each once, as in lens:1,field:0.5 (got %q)", cause.MaxStrength, part)
		}
		if k > 0 {
			a.set[cause.ID(id)] = k
		}
		if err := (cause.Strengths{cause.ID(id): k}).Check(a.eye); err != nil {
			return badAsk{err}
		}
	}
	return nil
}

// readTrial refuses a what-if on the patient's side.
func readTrial(q url.Values, a *ask) error {
	if a.trial = q.Get("trial"); a.trial == "" {
		return nil
	}
	t, err := cause.FindTrial(a.trial)
	if err != nil {
		return badAsk{err}
	}
	if !t.InRoom && q.Get("side") != "clinician" {
		return askf("trial: %s is a what-if and is not shown on the patient's side; hint: change to the clinician's side", a.trial)
	}
	return nil
}

func readGlasses(q url.Values, a *ask) error {
	switch q.Get("glasses") {
	case "", "own":
		a.glasses = cause.Same
	case "refitted":
		a.glasses = cause.Refracted
	default:
		return askf("glasses: must be own or refitted (got %q)", q.Get("glasses"))
	}
	return nil
}

func readShown(q url.Values, a *ask) error {
	a.window, a.full, a.slot = q.Get("part") == "window", q.Get("size") == "full", q.Get("slot")
	switch {
	case !slices.Contains([]string{"", "whole", "window"}, q.Get("part")):
		return askf("part: must be whole or window (got %q)", q.Get("part"))
	case !slices.Contains([]string{"", "preview", "full"}, q.Get("size")):
		return askf("size: must be preview or full (got %q)", q.Get("size"))
	case a.window && a.scene.Window.WidthDeg == 0:
		return askf("part: the scene %s has no magnified part", a.scene.ID)
	case len(a.slot) > maxSlot:
		return askf("slot: must be a name of %d letters at most", maxSlot)
	}
	return nil
}

// number reads a number in a range; NaN and infinity are in none.
func number(text string, low, high float64) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= low && v <= high) {
		return 0, fmt.Errorf("must be a number from %g to %g (got %q)", low, high, text)
	}
	return v, nil
}

// state makes the eye of a question.
func (a ask) state() (eye.State, error) {
	if a.trial == "" {
		return a.eye.State(a.set, a.viewing, a.glasses)
	}
	t, err := cause.FindTrial(a.trial)
	if err != nil {
		return eye.State{}, err
	}
	return t.Apply(a.eye, a.set, a.viewing)
}

// wavefront is the question without what leaves the spread of light alone: scatter
// lies beside it and the field behind it, and glasses are chosen for neither. What a
// trial looks at is left to it.
func (a ask) wavefront() ask {
	if a.trial != "" {
		return a
	}
	a.set = maps.Clone(a.set)
	delete(a.set, cause.Scatter)
	delete(a.set, cause.Field)
	return a
}

// optics names the eye of a question: everything but the gaze and the scene's contents.
func (a ask) optics() string {
	return fmt.Sprintf("%v|%v|%v|%s|%d|%t", a.eye.Side, a.viewing, a.set, a.trial, a.glasses, a.full)
}

// name is the whole question, for the pictures that are kept.
func (a ask) name() string {
	return fmt.Sprintf("%s|%v|%s|%t|%t", a.scene.ID, a.gaze, a.optics(), a.window, a.fellow != nil)
}
