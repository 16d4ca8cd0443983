//go:build !race

package cause_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/psf"
	"simview/internal/unit"
)

func lensAlone(t *testing.T, e *cause.Eye, k, pupilMM float64) eye.State {
	t.Helper()
	return state(t, e, cause.Only(cause.Lens, k), cause.Viewing{DistanceM: math.Inf(1), PupilMM: pupilMM}, cause.Refracted)
}

// Two routes: the edge drawn from a ring of traced points, and each pupil point
// traced by itself.
func TestTheEdgeOfTheLensIsWhereRaysMissIt(t *testing.T) {
	e := demo(t, unit.Right)
	r := rand.New(rand.NewPCG(4, 1))
	for _, k := range []float64{.5, 1, 2, 3} {
		s := lensAlone(t, e, k, 6)
		model, at, _ := e.Traced(k)
		for range 400 {
			x, y := 8*r.Float64()-4, 8*r.Float64()-4
			in := s.Past.InsideMM(x, y)
			ok, err := model.Covered(at, unit.PupilPoint{X: unit.MM(x), Y: unit.MM(y)})
			if err != nil {
				t.Fatal(err)
			}
			// 1 µm is what straight lines between the points leave.
			if math.Abs(in) > 1e-3 && ok != (in > 0) {
				t.Errorf("strength %g, (%.3f, %.3f): covered %v, %.4f mm inside", k, x, y, ok, in)
			}
		}
	}
}

func beside(t *testing.T, s eye.State) *psf.Beside {
	t.Helper()
	p, err := psf.Compute(s.Aperture(), psf.Monochrome(555), psf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p.Beside
}

func TestTheShareOfTheLightIsThatOfThePupilBesideTheLens(t *testing.T) {
	e := demo(t, unit.Right)
	for _, k := range []float64{1, 1.5} {
		s := lensAlone(t, e, k, 5.5)
		model, at, _ := e.Traced(k)
		want, err := model.UncoveredShare(at, 5.5)
		if err != nil {
			t.Fatal(err)
		}
		if got := beside(t, s).Share; math.Abs(got-want) > .004 { // UncoveredShare is good to 0.002
			t.Errorf("strength %g: %.4f of the light, %.4f of the pupil", k, got, want)
		}
	}
	if b := beside(t, lensAlone(t, e, 1, 3)); b != nil {
		t.Errorf("%.4f beside a lens that covers the pupil", b.Share)
	}
}

// TestLightBesideALensMovedUpAndOutIsSeenUpAndOut: the light that the lens leaves
// enters low and near the nose; the eye is long-sighted there, so that its image
// is not turned over, and the picture on the retina is: it is seen high and on the
// side of the temple (Scheiner). The lens's own prism, to which the eye turns,
// carries it further the same way.
func TestLightBesideALensMovedUpAndOutIsSeenUpAndOut(t *testing.T) {
	for side := range unit.Left + 1 {
		c := parse(t, "  "+side.String()+": {lens: implant, pupil_bright_mm: 4, implant: {power_d: 21, decentration_mm: 1, direction: up-and-out}}\n")
		spread := beside(t, lensAlone(t, resolve(t, c, side), 1, 5.5)).On(1. / 60)
		var x, y float64
		for k, v := range spread.Pix {
			x, y = x+float64(v)*float64(spread.Left+k%spread.W)/60, y+float64(v)*float64(spread.Top-k/spread.W)/60
		}
		out := -side.TemporalX() * x // patient's right is the temple's side of a right eye
		// 14 D x 2.1 mm = 29 mrad, 1.2 degrees each way, and a prism of 0.7 to 0.8.
		if !(out > 1.5 && out < 2.4 && y > 1.5 && y < 2.4) {
			t.Errorf("%s eye: %.2f degrees out, %.2f up", side, out, y)
		}
	}
}

// Prentice's rule for a thin lens of power F moved by c inside an eye of power P:
// light through the middle of the pupil turns by c F / n and meets the retina, b
// behind the lens, so far aside as an object at
//
//	theta = c F b P / n
//
// from the axis. Thin lens and schematic P: 10 %.
func TestTheSecondImageStandsAsideByThePrismOfTheLens(t *testing.T) {
	const c, f, n, cornea = 1.0, 20.0, 1.336, 43.0
	e := one(t, "lens: implant", "pupil_bright_mm: 3", "implant: {power_d: 20, decentration_mm: 1, direction_deg: 0}")
	model, _, _ := e.Traced(1)
	depth := model.Spec.LensFrontMM / 1000
	b := (model.Centred.RetinaZ - model.Spec.LensFrontMM) / 1000
	p := cornea + f - depth/n*cornea*f
	want := c * f * b * p / n // mrad, c in mm
	more := lensAlone(t, e, 1, 3).Past.MoreUM
	const h = .05
	got := (more(h, 0) - more(-h, 0)) / (2 * h) // dW/dx > 0: the patient's left, where the lens is
	if math.Abs(got/want-1) > .1 {
		t.Errorf("%.2f mrad, by Prentice's rule %.2f", got, want)
	}
}

func TestAPinholeBeforeTheLensLosesTheSecondImageAndItsNote(t *testing.T) {
	e := demo(t, unit.Right)
	v := cause.Viewing{DistanceM: math.Inf(1), PupilMM: 5.5}
	says := func(s eye.State) bool {
		return strings.Contains(strings.Join(s.Notes, "\n"), "% of the light passes beside the displaced lens, out of focus by 14 D; drawn as a blurred second image")
	}
	if s := state(t, e, cause.Only(cause.Lens, 1), v, cause.Refracted); !says(s) {
		t.Errorf("notes %q", s.Notes)
	}
	s := try(t, "pinhole", e, v)
	if says(s) || beside(t, s) != nil {
		t.Errorf("through a pinhole: notes %q", s.Notes)
	}
	// Displaced three times as far, the lens leaves most of a hole of 1.2 mm open.
	if b := beside(t, lensAlone(t, e, 3, 1.2)); b == nil || b.Share < .5 {
		t.Errorf("beside %v", b)
	}
}
