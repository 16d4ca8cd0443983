//go:build !race

package cause_test

import (
	"math"
	"testing"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// left is need minus worn of an eye of the built-in case, at the cornea.
func left(t testing.TB, e *cause.Eye) refraction.PowerVector {
	t.Helper()
	r, w := e.Data.Refraction, e.Data.WornFar
	need, err := refraction.SphereCylinder{Sphere: r.SphereD.V, Cylinder: r.CylinderD.V, AxisDeg: r.AxisDeg.V}.PowerVector().ToCornea(r.VertexMM.V)
	if err != nil {
		t.Fatal(err)
	}
	worn, err := refraction.SphereCylinder{Sphere: w.SphereD.V, Cylinder: w.CylinderD.V, AxisDeg: w.AxisDeg.V}.PowerVector().ToCornea(w.VertexMM.V)
	if err != nil {
		t.Fatal(err)
	}
	return need.Sub(worn)
}

// bestOf refracts the wavefront of a state without its focus, anew.
func bestOf(t testing.TB, s eye.State) refraction.PowerVector {
	t.Helper()
	bare := s.Without(dioptres)
	p, err := quality.NewPupil(s.PupilMM, bare.PathUM)
	if err != nil {
		t.Fatal(err)
	}
	e, _ := p.Refract(p.FlatStart())
	return e
}

// TestAllCausesTogetherAreAsFarOutOfFocusAsWasMeasured: the manifest refraction
// holds what the displaced lens did, so with every cause at strength 1 the eye
// is out of its best focus by need minus worn, the lens's share counted once.
func TestAllCausesTogetherAreAsFarOutOfFocusAsWasMeasured(t *testing.T) {
	e := demo(t, unit.Right)
	for _, v := range []cause.Viewing{far, {DistanceM: math.Inf(1), Night: true}} {
		s := state(t, e, e.All(), v, cause.Same)
		if got, want := focus(t, s).Sub(bestOf(t, s)), left(t, e); !alike(got, want) {
			t.Errorf("%s: out of focus by %v, measured %v", s.Condition, got, want)
		}
	}
}

// TestWithTheSameGlassesAStraightLensLeavesTheRest: glasses stay what they were,
// so putting the lens straight changes the wavefront by the lens's part alone.
func TestWithTheSameGlassesAStraightLensLeavesTheRest(t *testing.T) {
	e := demo(t, unit.Right)
	with, without := state(t, e, e.All(), far, cause.Same), state(t, e, e.AllBut(cause.Lens), far, cause.Same)
	if a, b := focus(t, with), focus(t, without); !alike(a, b) {
		t.Errorf("the same glasses became %v, were %v", b, a)
	}
}

func TestPanelsOfOneCauseAreRefractedForThatCause(t *testing.T) {
	e := demo(t, unit.Right)
	for _, id := range []cause.ID{cause.Lens, cause.Cornea} {
		s := state(t, e, cause.Only(id, 1), far, cause.Refracted)
		if got, want := focus(t, s), bestOf(t, s); !alike(got, want) {
			t.Errorf("%s alone is focused by %v, its best is %v", id, got, want)
		}
	}
}

// TestTheLeftoverCylinderAloneIsWhatTheLensDoesNotExplain: with the reference
// eye's focus it adds need minus worn minus the lens's share, times k.
func TestTheLeftoverErrorGrowsWithItsStrength(t *testing.T) {
	e := demo(t, unit.Right)
	none := focus(t, state(t, e, cause.Strengths{}, far, cause.Refracted))
	single := focus(t, state(t, e, cause.Only(cause.Cylinder, 1), far, cause.Refracted)).Sub(none)
	double := focus(t, state(t, e, cause.Only(cause.Cylinder, 2), far, cause.Refracted)).Sub(none)
	if !alike(double, single.Times(2)) || single.Length() < 0.25 {
		t.Errorf("%v at strength 1, %v at 2", single, double)
	}
}

const implantEye = `lens: implant
    pupil_bright_mm: 3
    refraction: {kind: manifest, sphere_d: 0, vertex_mm: 12}
    worn_far: {none: true}`

// TestAPageAt40CentimetresWithAddIsAsSharpAsFar: add +2.50 makes up for 40 cm.
func TestAPageAt40CentimetresWithAddIsAsSharpAsFar(t *testing.T) {
	e := one(t, implantEye, "worn_near: {add_d: 2.50}")
	if a, b := focus(t, state(t, e, nil, far, cause.Refracted)), focus(t, state(t, e, nil, page, cause.Refracted)); !alike(a, b) {
		t.Errorf("far %v, page %v", a, b)
	}
	if s := state(t, e, nil, page, cause.Refracted); s.Focus != "no glasses, near add +2.50" {
		t.Errorf("says %q", s.Focus)
	}
}

// TestWithoutAnAddAPageIsBlurredByItsVergence: an implant does not accommodate,
// so the blur disc is defocus x pupil (geometrical optics), and the mean square
// of a disc of diameter b is b²/8. Diffraction adds to it: to an error of 2.5 D
// the mean square slope of the total path is added, none beyond 1.5 discs.
func TestWithoutAnAddAPageIsBlurredByItsVergence(t *testing.T) {
	e := one(t, implantEye, "cornea: {spherical_aberration_at_6mm_um: 0}", "implant: {spherical_aberration_at_6mm_um: 0}")
	for _, mm := range []float64{3, 4} {
		s := state(t, e, nil, cause.Viewing{DistanceM: 0.4, PupilMM: mm}, cause.Refracted)
		disc := 2.5 * mm * 1e-3 * 180 / math.Pi * 60 // minutes of arc
		got := math.Sqrt(8 * secondMoment(spread(t, s), disc))
		const close = 0.02 // the stated accuracy of a blur disc
		if math.Abs(got/disc-1) > close {
			t.Errorf("%g mm: blur disc %.2f minutes of arc, want %.2f", mm, got, disc)
		}
	}
}

// TestANaturalLensAccommodatesByAge: Hofstetter's minimum amplitude, 15 D less a
// quarter a year (from memory; Borish, Clinical Refraction), capped by demand.
func TestANaturalLensAccommodatesByAge(t *testing.T) {
	for _, c := range []struct{ age, blur float64 }{{30, 0}, {50, 0}, {54, 1}, {56, 1.5}, {60, 2.5}, {80, 2.5}} {
		k := parse(t, "  right: {lens: natural, pupil_bright_mm: 3, refraction: {kind: manifest, sphere_d: 0, vertex_mm: 12}, worn_far: {none: true}}\n")
		k.AgeYears.V = c.age
		e := resolve(t, k, unit.Right)
		got := focus(t, state(t, e, nil, page, cause.Refracted)).Sub(focus(t, state(t, e, nil, far, cause.Refracted)))
		if !alike(got, refraction.Sphere(unit.Dioptres(c.blur))) {
			t.Errorf("at %g years a page at 40 cm is out of focus by %v, want %g D", c.age, got, c.blur)
		}
		if !has(e.Notes, "Hofstetter") {
			t.Errorf("does not say whence: %q", e.Notes)
		}
	}
}

// TestAYoungEyeDoesNotAccommodateAwayFromItsBestFocus: far needs nothing, so a
// young eye in its best glasses is where an old one is.
func TestAYoungEyeDoesNotAccommodateAwayFromItsBestFocus(t *testing.T) {
	lines := []string{"lens: natural", "pupil_bright_mm: 6", "pupil_dim_mm: 6", "cornea: {spherical_aberration_at_6mm_um: -0.5}"}
	young := one(t, append(lines, "accommodation_d: 8")...)
	old := one(t, append(lines, "accommodation_d: 0")...)
	a, b := state(t, young, nil, far, cause.Refracted), state(t, old, nil, far, cause.Refracted)
	if !alike(focus(t, a), focus(t, b)) {
		t.Errorf("with 8 D of accommodation %v (%s), without %v", focus(t, a), a.Focus, focus(t, b))
	}
	if bestOf(t, b).M <= 0 {
		t.Error("the test needs an eye whose best focus takes plus")
	}
}

// TestALongSightedYoungEyeMakesUpForItself and shows how much it spends on it.
func TestALongSightedYoungEyeMakesUpForItself(t *testing.T) {
	e := one(t, "lens: natural", "pupil_bright_mm: 3", "accommodation_d: 8",
		"refraction: {kind: manifest, sphere_d: 2, vertex_mm: 0}", "worn_far: {none: true}")
	s := state(t, e, e.All(), far, cause.Same)
	if got := focus(t, s).Sub(bestOf(t, s)); !alike(got, refraction.PowerVector{}) {
		t.Errorf("2 D of long sight leave %v", got)
	}
	if s.Focus != "no glasses, accommodating 2.00 D" {
		t.Errorf("says %q", s.Focus)
	}
}

// TestNoRefractionMeansTheBestCorrection, and none of it is called left over.
func TestNoRefractionMeansTheBestCorrection(t *testing.T) {
	shifted := "implant: {decentration_mm: 1.5, direction: up, tilt_deg: 8, tilt_axis_deg: 0}"
	for name, e := range map[string]*cause.Eye{
		"none stated":    one(t, "lens: implant", "pupil_bright_mm: 4", shifted),
		"glasses alone":  one(t, "lens: implant", "pupil_bright_mm: 4", "worn_far: {sphere_d: -3, vertex_mm: 12}", shifted),
		"glasses unsaid": one(t, "lens: implant", "pupil_bright_mm: 4", "refraction: {kind: manifest, sphere_d: -3, vertex_mm: 12}", shifted),
	} {
		if _, ok := e.Cause(cause.Cylinder); ok {
			t.Errorf("%s: an error is called left over", name)
		}
		if !has(e.Notes, "(assumed)") {
			t.Errorf("%s: does not say that it is assumed: %q", name, e.Notes)
		}
		s := state(t, e, e.All(), far, cause.Same)
		if got, want := focus(t, s), bestOf(t, s); !alike(got, want) {
			t.Errorf("%s: focused by %v, best is %v", name, got, want)
		}
	}
}
