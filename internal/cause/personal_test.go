package cause_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/unit"
)

const eyeHead = "refraction: {kind: manifest, sphere_d: -1, vertex_mm: 0}"

func TestTheNoteSaysWhatWasMeasuredAndWhatWasAssumed(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 3", eyeHead,
		"biometry: {corneal_radius_flat_mm: 7.9, corneal_radius_steep_mm: 7.9, axial_length_mm: 24.1}",
		"implant: {decentration_mm: 0.5, direction: up}")
	var note string
	for _, n := range e.Notes {
		if strings.HasPrefix(n, "displaced lens traced through: ") {
			note = n
		}
	}
	measured, rest, _ := strings.Cut(note, "; ")
	for _, want := range []string{"corneal radius 7.90 mm", "length 24.10 mm"} {
		if !strings.Contains(measured, want) {
			t.Errorf("%q does not say measured %s", note, want)
		}
	}
	for _, want := range []string{"assumed back of the cornea", "lens depth 4.50 mm", "optic 6.00 mm"} {
		if !strings.Contains(rest, want) {
			t.Errorf("%q does not say %s", note, want)
		}
	}
}

// What the eye needs is what the centred eye needs and the displacement's share,
// M = -4√3 c20/r² through the bright pupil. 0.002 D: the share depends on the
// centred eye's refraction by less than that after two rounds.
func TestTheCentredEyeNeedsWhatIsLeftWithoutTheShare(t *testing.T) {
	const tol = 0.002
	e := one(t, "lens: implant", "pupil_bright_mm: 4", eyeHead, "worn_far: {none: true}",
		"implant: {decentration_mm: 1, direction: up, tilt_deg: 10, tilt_axis_deg: 0, spherical_aberration_at_6mm_um: -0.2}")
	w := fit(t, state(t, e, cause.Only(cause.Lens, 1), far, cause.Refracted), by("lens"))
	share := -4 * math.Sqrt(3) * w.At(2, 0) / (w.RadiusMM * w.RadiusMM)
	traced, _, _ := e.Traced(1)
	if math.Abs(share) < 0.3 || math.Abs(traced.RefractionD+share+1) > tol {
		t.Errorf("centred %.4f D, share %.4f D, want -1 together", traced.RefractionD, share)
	}
}

// A toric lens turned by θ leaves 2 C sin θ (Felipe et al. 2011) of its cylinder
// at the cornea, which is 0.68 to 0.70 of that in its own plane (from memory);
// 0.06 for depths and powers that are not the usual ones.
func TestATurnedToricLensLeavesTwiceTheSineOfItsCylinder(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 3", "implant: {rotation_deg: 8, toric_cylinder_d: 3, toric_axis_deg: 30}")
	w := fit(t, state(t, e, cause.Only(cause.Lens, 1), far, cause.Refracted), by("lens"))
	cylinder := 2 * 2 * math.Sqrt(6) * math.Hypot(w.At(2, 2), w.At(2, -2)) / (w.RadiusMM * w.RadiusMM)
	if ratio := cylinder / (2 * 3 * math.Sin(8*math.Pi/180)); math.Abs(ratio-.69) > .06 {
		t.Errorf("%.3f D, %.3f of the cylinder in the plane of the lens", cylinder, ratio)
	}
	if c, _ := e.Cause(cause.Lens); c.Amount != "implant turned 8 degrees off its axis" {
		t.Error(c.Amount)
	}
}

// A lens further back leaves the eye hypermetropic, by 1 to 2 D for a millimetre
// (common practice, from memory): M > 0.
func TestALensFurtherBackLeavesTheEyeHypermetropic(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 3", "implant: {axial_shift_mm: 0.5}")
	w := fit(t, state(t, e, cause.Only(cause.Lens, 1), far, cause.Refracted), by("lens"))
	if m := -4 * math.Sqrt(3) * w.At(2, 0) / (w.RadiusMM * w.RadiusMM) / .5; m < 1 || m > 2 {
		t.Errorf("%.2f D/mm", m)
	}
}

// Thin-lens theory: the coma of a shifted lens grows with its power.
func TestAStrongerLensGivesMoreComa(t *testing.T) {
	coma := func(power string) float64 {
		e := one(t, "lens: implant", "pupil_bright_mm: 3", "implant: {power_d: "+power+", decentration_mm: 0.5, direction_deg: 0, spherical_aberration_at_6mm_um: 0}")
		return math.Abs(fit(t, state(t, e, cause.Only(cause.Lens, 1), far, cause.Refracted), by("lens")).At(3, 1))
	}
	if weak, strong := coma("12"), coma("28"); !(strong > 1.2*weak) {
		t.Errorf("coma %.4f µm at 12 D, %.4f µm at 28 D", weak, strong)
	}
}

// The optic of 6 mm, seen through the cornea, is about 6.4 mm wide: shifted by a
// millimetre it covers a pupil of 3 mm and not one of 5.5 mm.
func TestAPupilThatLooksPastTheLensIsWarned(t *testing.T) {
	e := demo(t, unit.Right)
	warned := func(k, pupilMM float64) bool {
		s := state(t, e, cause.Only(cause.Lens, k), cause.Viewing{DistanceM: math.Inf(1), PupilMM: pupilMM}, cause.Refracted)
		return strings.Contains(strings.Join(s.Notes, "\n"), "passes beside the displaced lens")
	}
	if warned(1, 3) || !warned(1, 5.5) || warned(0, 5.5) || warned(.1, 5.5) {
		t.Errorf("warned: %v at 3 mm, %v at 5.5 mm, %v and %v at strength 0 and 0.1", warned(1, 3), warned(1, 5.5), warned(0, 5.5), warned(.1, 5.5))
	}
}
