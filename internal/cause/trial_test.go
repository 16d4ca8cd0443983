//go:build !race

package cause_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// TestAPinholeCostsLightInTheRatioOfTheAreas: light = (d/D)², geometry.
func TestAPinholeCostsLightInTheRatioOfTheAreas(t *testing.T) {
	e := demo(t, unit.Right)
	for _, mm := range []float64{3, 5.5} {
		v := cause.Viewing{DistanceM: math.Inf(1), PupilMM: mm}
		s := try(t, "pinhole", e, v)
		if want := 1.2 / mm * 1.2 / mm; math.Abs(s.Light-want) > 1e-12 || s.PupilMM != 1.2 {
			t.Errorf("%g mm: light %.4f through %g mm, want %.4f through 1.2", mm, s.Light, s.PupilMM, want)
		}
		if !has(s.Notes, "of the light") || !strings.Contains(s.Condition, "pinhole 1.2 mm") {
			t.Errorf("says %q, %q", s.Notes, s.Condition)
		}
		with, without := focus(t, s), focus(t, state(t, e, e.All(), v, cause.Same))
		if !alike(with, without) {
			t.Errorf("glasses behind the pinhole %v, before %v", with, without)
		}
	}
}

// TestAPinholeSharpensABlurredEye: the blur disc shrinks with the pupil.
func TestAPinholeSharpensABlurredEye(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 4", "refraction: {kind: manifest, sphere_d: -2, vertex_mm: 0}", "worn_far: {none: true}")
	wide, narrow := spread(t, state(t, e, e.All(), far, cause.Same)), spread(t, try(t, "pinhole", e, far))
	const letter = 5.0 / 60 // degrees: half a 20/40 letter's height
	if a, b := wide.Encircled(letter), narrow.Encircled(letter); b < a+0.2 {
		t.Errorf("%.2f of the light within 5 minutes of arc, %.2f through a pinhole", a, b)
	}
}

// TestAPinholeIsNoWiderThanThePupil: a pupil smaller than the hole stays.
func TestAPupilSmallerThanThePinholeStays(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 3")
	if s := try(t, "pinhole", e, cause.Viewing{DistanceM: 1, PupilMM: 1.1}); s.PupilMM != 1.1 || s.Light != 1 {
		t.Errorf("pupil %g mm, light %g", s.PupilMM, s.Light)
	}
}

// TestTheBestSpectaclesTakeTheWholeErrorOut and leave the other causes.
func TestTheBestSpectaclesTakeTheWholeErrorOut(t *testing.T) {
	e := demo(t, unit.Right)
	s := try(t, "spectacles", e, far)
	if got := focus(t, s).Sub(bestOf(t, s)); !alike(got, refraction.PowerVector{}) {
		t.Errorf("out of best focus by %v", got)
	}
	if s.FieldK != 1 || s.Glare != state(t, e, e.All(), far, cause.Same).Glare {
		t.Error("glasses changed field or straylight")
	}
}

// TestALensPutStraightKeepsOrChangesTheGlasses: same glasses leave what they
// gave for the displaced lens, new ones nothing.
func TestALensPutStraightKeepsOrChangesTheGlasses(t *testing.T) {
	e := demo(t, unit.Right)
	now := state(t, e, e.All(), far, cause.Same)
	same, fresh := try(t, "lens-straight-same-glasses", e, far), try(t, "lens-straight-refracted", e, far)
	for _, s := range []eye.State{same, fresh} {
		if n := len(s.Without(func(p eye.Part) bool { return p.By != string(cause.Lens) }).Parts); n != 0 {
			t.Errorf("the lens is still displaced")
		}
	}
	if !alike(focus(t, same), focus(t, now)) {
		t.Errorf("same glasses: %v, were %v", focus(t, same), focus(t, now))
	}
	if !alike(focus(t, fresh), bestOf(t, fresh)) {
		t.Errorf("new glasses %v, best %v", focus(t, fresh), bestOf(t, fresh))
	}
}

func TestTrialsDoNotChangeTheStrengthsTheyAreGiven(t *testing.T) {
	e := demo(t, unit.Right)
	set := e.All()
	for _, trial := range cause.Trials {
		if _, err := trial.Apply(e, set, far); err != nil {
			t.Errorf("%s: %v", trial.ID, err)
		}
	}
	if len(set) != len(e.Causes) {
		t.Errorf("left %v", set)
	}
}

func TestAnUnknownTrialIsRefused(t *testing.T) {
	if _, err := cause.FindTrial("magic"); err == nil || err.Error() != `trial "magic": not known; hint: `+"`simview causes` lists the trials" {
		t.Errorf("got %v", err)
	}
}

// TestTheFirstTrialsAreWhatTheyWere: by another way, each is the eye without
// some of its causes, refracted or not.
func TestTheFirstTrialsAreWhatTheyWere(t *testing.T) {
	e := demo(t, unit.Right)
	less := func(ids ...cause.ID) cause.Strengths {
		set := e.All()
		for _, id := range ids {
			delete(set, id)
		}
		return set
	}
	for _, v := range []cause.Viewing{far, page, {DistanceM: math.Inf(1), Night: true}} {
		for id, want := range map[string]eye.State{
			"spectacles":                 state(t, e, less(cause.Cylinder), v, cause.Refracted),
			"lens-straight-same-glasses": state(t, e, less(cause.Lens), v, cause.Same),
			"lens-straight-refracted":    state(t, e, less(cause.Lens, cause.Cylinder), v, cause.Refracted),
		} {
			got := try(t, id, e, v)
			for _, p := range [][2]float64{{0, 0}, {1, 0.4}, {-0.7, 1.1}} {
				if a, b := got.PathUM(p[0], p[1]), want.PathUM(p[0], p[1]); math.Abs(a-b) > 1e-12 {
					t.Errorf("%s, %s: %.9f µm at %v, want %.9f", id, want.Condition, a, p, b)
				}
			}
			if got.Focus != want.Focus || got.PupilMM != want.PupilMM || got.Light != 1 || got.Glare != want.Glare || len(got.Notes) != len(want.Notes) {
				t.Errorf("%s, %s: %q, want %q; notes %q, want %q", id, want.Condition, got.Focus, want.Focus, got.Notes, want.Notes)
			}
		}
	}
}

// TestAYoungEyeAccommodatesThroughATrial as it does refracted.
func TestAYoungEyeAccommodatesThroughATrial(t *testing.T) {
	e := one(t, "lens: natural", "pupil_bright_mm: 3", "accommodation_d: 3",
		"refraction: {kind: manifest, sphere_d: -1, vertex_mm: 0}", "worn_far: {none: true}")
	got, want := try(t, "spectacles", e, page), state(t, e, nil, page, cause.Refracted)
	if !alike(focus(t, got), focus(t, want)) || !strings.HasSuffix(got.Focus, "accommodating 2.50 D") {
		t.Errorf("%v (%s), want %v (%s)", focus(t, got), got.Focus, focus(t, want), want.Focus)
	}
}
