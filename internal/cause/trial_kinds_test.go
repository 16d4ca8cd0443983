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

// TestTheFrontOfALensHasTheAberrationOfItsConic: third-order values over 6 mm
// worked out by a separate program.
func TestTheFrontOfALensHasTheAberrationOfItsConic(t *testing.T) {
	const printed = 6e-5 // four decimals
	for _, c := range []struct{ r, q, n, want float64 }{
		{7.8, -0.26, 1.376, 0.1603},
		{7.8, 0, 1.376, 0.3158},
		{7.77, -0.18, 1.376, 0.2106},
		{7.575, -0.14135, 1.3375, 0.2447},
		{7.8, -1 / (1.376 * 1.376), 1.376, 0},
	} {
		if got := cause.FrontC40UM(c.r, c.q, c.n, 3); math.Abs(got-c.want) > printed {
			t.Errorf("R %g Q %g n %g: %.4f µm, want %.4f", c.r, c.q, c.n, got, c.want)
		}
	}
}

// uneven is an eye whose cornea was measured: trefoil and coma over 6 mm.
func uneven(t *testing.T) *cause.Eye {
	return one(t, "lens: none", "pupil_bright_mm: 6", "pupil_dim_mm: 6", "cornea:", "  wavefront: {scheme: osa-nm, of: cornea, pupil_mm: 6, wavelength_nm: 555, terms_um: {'3,3': 0.4, '3,-1': -0.3}}")
}

// TestARigidLensLeavesATenthOfTheFrontAtAnyStrength, and brings the aberration
// of its own spherical front in place of the cornea's: 0.28 µm usual, of which a
// tenth stays, and that of a sphere of 7.8 mm and index 1.336.
func TestARigidLensLeavesATenthOfTheFrontAtAnyStrength(t *testing.T) {
	e := uneven(t)
	for _, k := range []float64{1, 2} {
		set := cause.Only(cause.Cornea, k)
		before := fit(t, state(t, e, set, far, cause.Same), everything)
		after := fit(t, tryOn(t, "rigid-lens", e, set, far), everything)
		for _, nm := range [][2]int{{3, 3}, {3, -1}} {
			if got := after.At(nm[0], nm[1]) / before.At(nm[0], nm[1]); math.Abs(got-0.106) > 0.002 {
				t.Errorf("strength %g: leaves %.4f of c(%d,%d)", k, got, nm[0], nm[1])
			}
		}
		if k == 1 { // the measured cornea has no c(4,0), the lens's front all of it
			const third = 1000 * 0.336 / (1.336 * 1.336) * 81 / (8 * 474.552 * 6 * 2.2360680) // µm
			if got := after.At(4, 0); math.Abs(got-third) > 2e-3 {
				t.Errorf("c(4,0) = %.4f µm, the lens's front has %.4f", got, third)
			}
		}
	}
}

// TestAnIdealSoftLensLeavesEveryHigherOrder, as even thickness adds none; with
// a stated masking it leaves the rest of the front's.
func TestAnIdealSoftLensLeavesEveryHigherOrder(t *testing.T) {
	e := uneven(t)
	before := fit(t, state(t, e, e.All(), far, cause.Same), everything)
	for id, share := range map[string]float64{"soft-lens": 1, "soft-lens:masking=0.25": 0.75} {
		after := fit(t, try(t, id, e, far), everything)
		for _, nm := range [][2]int{{3, 3}, {3, -1}} {
			if got, want := after.At(nm[0], nm[1]), share*before.At(nm[0], nm[1]); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: c(%d,%d) = %.5f µm, want %.5f", id, nm[0], nm[1], got, want)
			}
		}
	}
}

func tryOn(t *testing.T, id string, e *cause.Eye, set cause.Strengths, v cause.Viewing) eye.State {
	t.Helper()
	k, err := cause.FindTrial(id)
	if err != nil {
		t.Fatal(err)
	}
	s, err := k.Apply(e, set, v)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plain is an implant eye without aberration of its own that needs a correction.
func plain(t *testing.T, more ...string) *cause.Eye {
	return one(t, append([]string{
		"lens: implant", "pupil_bright_mm: 4", "pupil_dim_mm: 4", "worn_far: {none: true}",
		"implant: {spherical_aberration_at_6mm_um: 0}", "cornea: {spherical_aberration_at_6mm_um: 0}",
	}, more...)...)
}

// TestTheExactSpectaclesOfAPlainEyeAreItsRefraction, and a trial case rounds
// sphere and cylinder to quarters and the axis to 5 degrees (common practice).
func TestTheExactSpectaclesOfAPlainEyeAreItsRefraction(t *testing.T) {
	e := plain(t, "refraction: {kind: manifest, sphere_d: -1.13, cylinder_d: -0.62, axis_deg: 83, vertex_mm: 12}")
	for id, want := range map[string]string{
		"spectacles-exact":               "spectacles -1.13 / -0.62 x 83 at 12 mm",
		"spectacles-rounded":             "spectacles -1.25 / -0.50 x 85 at 12 mm",
		"spectacles-rounded:vertex_mm=0": "spectacles -1.00 / -0.50 x 85 at 0 mm", // -1.115 at the cornea
	} {
		if got := try(t, id, e, far).Focus; got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
}

// TestRoundedSpectaclesAreNeverBetterThanExactOnes by the number both are
// chosen by.
func TestRoundedSpectaclesAreNeverBetterThanExactOnes(t *testing.T) {
	if testing.Short() {
		t.Skip("seconds under the race detector, and nothing runs side by side")
	}
	const steps = 1e-3 // what refining to a hundredth of a dioptre may miss
	eyes := []*cause.Eye{demo(t, unit.Right), demo(t, unit.Left), uneven(t), plain(t, "refraction: {kind: manifest, sphere_d: 2.37, cylinder_d: -1.4, axis_deg: 12, vertex_mm: 12}")}
	for k, e := range eyes {
		exact, best, rounded := seen(t, try(t, "spectacles-exact", e, far)), seen(t, try(t, "spectacles", e, far)), seen(t, try(t, "spectacles-rounded", e, far))
		if rounded > exact+steps || best > exact+1e-12 {
			t.Errorf("eye %d: exact %.5f, best in quarters %.5f, rounded %.5f", k, exact, best, rounded)
		}
	}
}

// TestARigidLensHidesCornealAstigmatism: an eye whose whole cylinder is its
// front cornea's keeps a tenth of it. A cornea steep upright (90) needs a
// minus cylinder at 180.
func TestARigidLensHidesCornealAstigmatism(t *testing.T) {
	front := 376 * (1/7.6 - 1/7.9) // D of the front alone
	e := plain(t, "biometry: {corneal_radius_flat_mm: 7.9, corneal_radius_steep_mm: 7.6, steep_axis_deg: 90}",
		"refraction: {kind: manifest, sphere_d: -2, cylinder_d: -1.879, axis_deg: 180, vertex_mm: 0}")
	if math.Abs(front-1.879) > 1e-3 {
		t.Fatalf("the test's own front has %.4f D", front)
	}
	s := try(t, "rigid-lens", e, far)
	got, err := refraction.FromTermsRMS(fit(t, s, everything))
	if err != nil {
		t.Fatal(err)
	}
	if want := 0.1064 * front / 2; math.Abs(float64(got.J0)-want) > 2e-3 || math.Abs(float64(got.J45)) > 1e-3 {
		t.Errorf("leaves J0 %.4f, J45 %.4f; want J0 %.4f", float64(got.J0), float64(got.J45), want)
	}
	if s = try(t, "soft-lens", e, far); !strings.Contains(s.Focus, "soft contact lens -") {
		t.Errorf("says %q", s.Focus)
	}
	if got, _ = refraction.FromTermsRMS(fit(t, s, everything)); math.Abs(float64(got.J0)-front/2) > 2e-3 {
		t.Errorf("a soft lens leaves J0 %.4f of %.4f", float64(got.J0), front/2)
	}
	if got = focus(t, try(t, "soft-lens:toric=yes", e, far)); float64(got.Length()) > 0.15 { // within half a step each
		t.Errorf("a toric soft lens leaves %v", got)
	}
}

// TestAPinholeOffCentreSeesTheLocalWavefront: prism apart, its path is that of
// the whole eye where the hole stands, so second differences agree.
func TestAPinholeOffCentreSeesTheLocalWavefront(t *testing.T) {
	e := demo(t, unit.Right)
	v := cause.Viewing{DistanceM: math.Inf(1), Night: true}
	whole := state(t, e, e.All(), v, cause.Same)
	s := try(t, "pinhole:diameter_mm=1:decentration_mm=1.5:direction_deg=90", e, v)
	hole := s.Aperture()
	if s.PupilMM != 1 || math.Abs(float64(s.PupilAt.X)) > 1e-12 || s.PupilAt.Y != 1.5 {
		t.Fatalf("stands at %+v", s.PupilAt)
	}
	for _, d := range [][2]float64{{0.4, 0}, {0, 0.4}, {0.2, -0.3}} {
		got := hole.PathUM(d[0], d[1]) + hole.PathUM(-d[0], -d[1]) - 2*hole.PathUM(0, 0)
		want := whole.PathUM(d[0], 1.5+d[1]) + whole.PathUM(-d[0], 1.5-d[1]) - 2*whole.PathUM(0, 1.5)
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("bends by %.6f µm, there %.6f", got, want)
		}
	}
	k, err := cause.FindTrial("pinhole:decentration_mm=3")
	if err != nil {
		t.Fatal(err)
	}
	if _, err = k.Apply(e, e.All(), v); err == nil || !strings.Contains(err.Error(), "not within the pupil of 5.5 mm; hint") {
		t.Errorf("got %v", err)
	}
}

// TestAnotherPupilChangesTheLightByItsArea, and keeps the glasses.
func TestAnotherPupilChangesTheLightByItsArea(t *testing.T) {
	e := demo(t, unit.Right)
	own := focus(t, state(t, e, e.All(), far, cause.Same))
	for id, want := range map[string]struct{ mm, gain, drawn float64 }{
		"pupil-small":               {2, 4.0 / 9, 4.0 / 9},
		"pupil-small:diameter_mm=5": {3, 1, 1},
		"pupil-large:diameter_mm=6": {6, 4, 1},
		"more-light:times=1":        {3, 1, 1},
		"pupil-small+pinhole":       {1.2, 0.16, 0.16},
		"pinhole:diameter_mm=0.6":   {0.6, 0.04, 0.04},
		"pupil-large+pinhole":       {1.2, 0.16, 1.44 / 49},
	} {
		k, err := cause.FindTrial(id)
		if err != nil {
			t.Fatal(err)
		}
		s := tryOn(t, id, e, e.All(), far)
		n, err := k.Numbers(e, e.All(), far)
		if err != nil || math.Abs(s.PupilMM-want.mm) > 1e-12 || math.Abs(n.LightShare-want.gain) > 1e-9 || math.Abs(s.Light-want.drawn) > 1e-9 {
			t.Errorf("%s: %v: %.3f mm, light %.4f, drawn %.4f; want %+v", id, err, s.PupilMM, n.LightShare, s.Light, want)
		}
		if !alike(focus(t, s), own) {
			t.Errorf("%s: other glasses", id)
		}
	}
}

// TestMoreLightMakesThePupilSmaller as the unified formula says (Watson and
// Yellott 2012): at 68 years from 0.5 to 5 cd/m² over 707 square degrees.
func TestMoreLightMakesThePupilSmaller(t *testing.T) {
	unified := func(l float64) float64 {
		q := math.Pow(l*707/846, 0.41)
		sd := 7.75 - 5.75*q/(q+2)
		return sd + (68-28.58)*(0.02132-0.009562*sd)
	}
	e := demo(t, unit.Right)
	s := try(t, "more-light:times=10", e, cause.Viewing{DistanceM: math.Inf(1), Night: true})
	if want := 5.5 * unified(5) / unified(0.5); math.Abs(s.PupilMM-want) > 1e-9 || want > 5 {
		t.Errorf("%.3f mm, want %.3f", s.PupilMM, want)
	}
}

// TestALargePupilEndsWhereTheMeasurementEnds.
func TestALargePupilEndsWhereTheMeasurementEnds(t *testing.T) {
	e := one(t, "lens: natural", "pupil_bright_mm: 3", "wavefront: "+wavefront("whole-eye", 5))
	s := try(t, "pupil-large", e, far)
	if s.PupilMM != 5 || !has(s.Notes, "limited to the 5.0 mm") {
		t.Errorf("%g mm, says %q", s.PupilMM, s.Notes)
	}
}

// TestTheNumbersOfATrialAreThoseOfClosedForms: an uncorrected sphere and
// cylinder leave themselves and RMS = √(M² r⁴/48 + J² r⁴/24) (the formula of
// Thibos et al. 2004 turned round); trefoil and coma leave the root of the sum of
// their squares whatever the glasses.
func TestTheNumbersOfATrialAreThoseOfClosedForms(t *testing.T) {
	const lattice = 0.01 // relative; 64 samples across see the rim in steps
	e := plain(t, "refraction: {kind: manifest, sphere_d: -0.8, cylinder_d: -0.4, axis_deg: 180, vertex_mm: 0}")
	n, err := cause.NumbersNow(e, e.All(), far)
	want := math.Sqrt(1.0/48+0.04/24) * 4
	if err != nil || math.Abs(n.M+1) > lattice || math.Abs(n.J0-0.2) > lattice || math.Abs(n.J45) > lattice || math.Abs(n.RMSUM/want-1) > lattice || n.HighUM > 1e-6 {
		t.Errorf("%v: %+v, want M -1, J0 0.2, RMS %.4f", err, n, want)
	}
	e = uneven(t)
	for _, id := range []string{"spectacles", "spectacles-exact", "soft-lens"} {
		k, err := cause.FindTrial(id)
		if err != nil {
			t.Fatal(err)
		}
		if n, err := k.Numbers(e, e.All(), far); err != nil || math.Abs(n.HighUM/0.5-1) > lattice {
			t.Errorf("%s: %v: %.4f µm beyond sphere and cylinder, want 0.5", id, err, n.HighUM)
		}
	}
}
