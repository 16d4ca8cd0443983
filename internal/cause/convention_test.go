//go:build !race

package cause_test

import (
	"math"
	"testing"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/psf"
	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

func shifted(t *testing.T, side unit.Side, implant string) eye.State {
	t.Helper()
	c := parse(t, "  "+side.String()+": {lens: implant, pupil_bright_mm: 4, implant: "+implant+"}\n")
	return state(t, resolve(t, c, side), cause.Only(cause.Lens, 1), far, cause.Refracted)
}

// TestALensShiftedToTheTempleGoesLeftInARightEye, for the clinician, and right
// in a left one: its wavefront is that of a lens shifted by that many degrees.
func TestALensShiftedToTheTempleGoesLeftInARightEye(t *testing.T) {
	for side, degrees := range map[unit.Side]string{unit.Right: "180", unit.Left: "0"} {
		words := shifted(t, side, "{decentration_mm: 0.8, direction: out, spherical_aberration_at_6mm_um: -0.2}")
		angle := shifted(t, side, "{decentration_mm: 0.8, direction_deg: "+degrees+", spherical_aberration_at_6mm_um: -0.2}")
		if d := difference(fit(t, words, by("lens")), fit(t, angle, by("lens"))); d > 1e-9 {
			t.Errorf("%s eye: out is not %s degrees (%.4f µm apart)", side, degrees, d)
		}
	}
}

// TestAShiftedLensThrowsComaByItsSpherical: moving c(4,0) Z(4,0) by d adds
// -d dZ/dx; from the standard's polynomials that is c(3,1) of the opposite sign
// of c d for a shift to +x:
//
//	c(3,1) = -c(4,0) (d/r) (24 √5 / (3 √8)) in the ρ³ term
//
// A lens of negative spherical aberration shifted to +x therefore adds positive
// horizontal coma, in both eyes.
func TestAShiftedLensThrowsComaByItsSpherical(t *testing.T) {
	for side, sign := range map[unit.Side]float64{unit.Right: -1, unit.Left: 1} {
		s := shifted(t, side, "{decentration_mm: 0.5, direction: out, spherical_aberration_at_6mm_um: -0.3}")
		if c := fit(t, s, by("lens")).At(3, 1); c*sign <= 0 {
			t.Errorf("%s eye: c(3,1) = %.4f µm, want sign %+g", side, c, sign)
		}
	}
}

// TestTheMirroredCaseGivesMirroredWavefronts: same words, other eye, tilt axis
// mirrored about the vertical.
func TestTheMirroredCaseGivesMirroredWavefronts(t *testing.T) {
	right := fit(t, shifted(t, unit.Right, "{decentration_mm: 0.8, direction: up-and-out, tilt_deg: 5, tilt_axis_deg: 45}"), by("lens"))
	// a tilt axis is an axial vector: its mirror image about x is at -angle
	left := fit(t, shifted(t, unit.Left, "{decentration_mm: 0.8, direction: up-and-out, tilt_deg: 5, tilt_axis_deg: -45}"), by("lens"))
	if d := difference(right.Mirror(), left); d > 1e-6 {
		t.Errorf("mirror images differ by %.5f µm", d)
	}
	if d := difference(right, left); d < 0.01 {
		t.Error("the test needs a lens that is not its own mirror image")
	}
}

// TestALeftoverNearSightIsAPathThatGrowsToTheEdge: the eye needs minus, wears
// none, and its path is advanced at the pupil's edge (ANSI Z80.28).
func TestALeftoverNearSightIsAPathThatGrowsToTheEdge(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 4", "refraction: {kind: manifest, sphere_d: -1, vertex_mm: 0}", "worn_far: {none: true}")
	d := func(x, y float64) float64 {
		return state(t, e, e.All(), far, cause.Same).PathUM(x, y) - state(t, e, nil, far, cause.Refracted).PathUM(x, y)
	}
	if got := d(2, 0); math.Abs(got-2) > 1e-9 { // D r²/2 = 2 µm
		t.Errorf("1 D of myopia is %+.3f µm at the edge of a 4 mm pupil, want +2", got)
	}
}

// TestALeftoverCylinderAt90StreaksLevel: plano / -1.00 x 90 left over is too
// strong in the horizontal meridian, so a lamp becomes a level streak.
func TestALeftoverCylinderAt90StreaksLevel(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 4", "refraction: {kind: manifest, sphere_d: 0, cylinder_d: -1, axis_deg: 90, vertex_mm: 0}", "worn_far: {none: true}")
	p := spread(t, state(t, e, e.All(), far, cause.Same))
	const long, thin = 0.2, 0.03 // degrees
	level, upright := p.Share(-long, long, -thin, thin), p.Share(-thin, thin, -long, long)
	if level < 1.5*upright {
		t.Errorf("%.2f of the light lies level, %.2f upright", level, upright)
	}
}

// TestTheComaOfADisplacedLensPointsWhereTheSignSays: positive c(3,1) throws its
// tail to the patient's left.
func TestTheTailOfADisplacedLensPointsTheRightWay(t *testing.T) {
	for side, sign := range map[unit.Side]float64{unit.Right: -1, unit.Left: 1} {
		s := shifted(t, side, "{decentration_mm: 1, direction: out, tilt_deg: 0, spherical_aberration_at_6mm_um: -0.3}")
		w := fit(t, s, everything)
		only := eye.State{PupilMM: 4, Light: 1}.With(eye.Part{PathUM: zernike.Terms{RadiusMM: 2}.With(3, 1, 5*w.At(3, 1)).PathUM})
		if skew(spread(t, only))*sign >= 0 {
			t.Errorf("%s eye: tail to the wrong side", side)
		}
	}
}

// skew is the third moment of the light about its mean, along the patient's
// right, within 0.3 degrees: its sign is the side of the tail.
func skew(p *psf.PSF) float64 {
	var sum, mean, third float64
	within := func(k int) (x, v float64, ok bool) {
		x, y := float64(k%p.N-p.N/2)*p.StepDeg, float64(k/p.N-p.N/2)*p.StepDeg
		return x, float64(p.Pix[k]), math.Hypot(x, y) < 0.3
	}
	for k := range p.Pix {
		if x, v, ok := within(k); ok {
			sum, mean = sum+v, mean+v*x
		}
	}
	for k := range p.Pix {
		if x, v, ok := within(k); ok {
			third += v * math.Pow(x-mean/sum, 3)
		}
	}
	return third
}

// TestMirroredCylinders: an axis of 30 in one eye is 150 in its mirror image.
func TestMirroredCylindersStayMirrored(t *testing.T) {
	lines := func(axis string) []string {
		return []string{"lens: implant", "pupil_bright_mm: 4", "refraction: {kind: manifest, sphere_d: 0, cylinder_d: -1, axis_deg: " + axis + ", vertex_mm: 12}", "worn_far: {none: true}"}
	}
	a, b := one(t, lines("30")...), one(t, lines("150")...)
	p := func(e *cause.Eye) refraction.PowerVector {
		return focus(t, state(t, e, e.All(), far, cause.Same)).Sub(focus(t, state(t, e, nil, far, cause.Refracted)))
	}
	if !alike(p(a).Mirror(), p(b)) {
		t.Errorf("%v mirrored is not %v", p(a), p(b))
	}
}
