package cause_test

import (
	"fmt"
	"strings"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/unit"
)

// traceable is an eye whose implant stands in line 9 and biometry in line 10.
const traceable = `title: t
invented: true
complaint_eye: right
age_years: 60
eyes:
  right:
    lens: implant
    pupil_dim_mm: %s
    implant: {%s}
    biometry: {%s}
`

// untraced resolves such an eye and returns what is said of the displaced lens at
// a strength.
func untraced(t *testing.T, dim, implant, biometry string, k float64) string {
	t.Helper()
	c, _, err := casefile.Parse("case.yaml", fmt.Appendf(nil, traceable, dim, implant, biometry), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := cause.Resolve(c, unit.Right)
	if err == nil {
		s, none := e.State(cause.Only(cause.Lens, k), far, cause.Refracted)
		if err = none; err == nil {
			t.Fatalf("%s %s %g was traced: %v", implant, biometry, k, s.Notes)
		}
	}
	return err.Error()
}

// TestALensThatCannotBeTracedIsSaidInOneSentenceWithItsPlaceInTheFile: rays that
// miss, total reflection, an eye that no lens suits, a lens without power. The
// critical angle is asin(1.336/1.4577) = 66.4 degrees (Snell).
func TestALensThatCannotBeTracedIsSaidInOneSentenceWithItsPlaceInTheFile(t *testing.T) {
	const check = "; hint: check decentration, tilt and power of the lens, and the radii and Q under biometry"
	for _, row := range []struct {
		dim, implant, biometry string
		k                      float64
		want                   string
	}{
		{
			"5.5", "decentration_mm: 4, direction: up, tilt_deg: 40, tilt_axis_deg: 0", "axial_length_mm: 24", 1,
			"case.yaml:9: eyes.right.implant: the lens cannot be traced where it lies: pupil point (0.00, -1.68) mm: implant front: a ray 6.2 mm from its vertex misses the surface: it passes outside the curved part" + check,
		}, {
			"9", "decentration_mm: 4, direction: up", "axial_length_mm: 24", 1,
			"case.yaml:9: eyes.right.implant: the lens cannot be traced where it lies: pupil point (-0.58, -3.69) mm: implant front: total internal reflection: a ray meets it at 68.6°, and only up to 66.4° gets through" + check,
		}, {
			"5.5", "decentration_mm: 0.5, direction: up", "axial_length_mm: 15", 1,
			"case.yaml:10: eyes.right.biometry.axial_length_mm: no eye can be built to trace the lens through: in an eye 15.00 mm long no front surface of the lens leaves the eye with c(4,0) = +0.130 µm at 6 mm; hint: ask for less, or check the power and the length of the eye",
		}, {
			"5.5", "decentration_mm: 0.5, direction: up", "axial_length_mm: 16, anterior_chamber_depth_mm: 7", 1,
			"case.yaml:10: eyes.right.biometry.axial_length_mm: no eye can be built to trace the lens through: no lens 7.00 mm behind the front of the cornea focuses an eye 16.00 mm long for +0.00 D; hint: check powers, radii and the length of the eye",
		}, {
			"5.5", "axial_shift_mm: -3", "anterior_chamber_depth_mm: 2", 1,
			"case.yaml:9: eyes.right.implant: the lens cannot be traced where it lies: an axial shift of -3 mm takes the lens, which belongs 2.00 mm behind the front of the cornea, into the cornea or out of the eye" + check,
		}, {
			"5.5", "decentration_mm: 0.5, direction: up, power_d: 0", "axial_length_mm: 24", 1,
			"case.yaml:9: eyes.right.implant.power_d: no eye can be built to trace the lens through: a lens of 0 D bends no light; hint: write the power of the lens, or leave it out",
		}, {
			"9\n    pupil_decentration_mm: 2\n    pupil_direction: up", "decentration_mm: 0.5, direction: up", "axial_length_mm: 24", 1,
			"case.yaml:8: eyes.right.pupil_dim_mm: the eye cannot be traced across its pupil: pupil point (0.00, 4.06) mm: cornea front: a ray 6.01 mm from its vertex misses the surface: its edge lies at 6 mm; hint: check width and place of the pupil, and the radii and Q under biometry",
		}, {
			"5.5", "decentration_mm: 1, direction: up, tilt_deg: 20, tilt_axis_deg: 0", "axial_length_mm: 24", 3,
			"case.yaml:9: eyes.right.implant: the lens cannot be traced at strength 3 of its displacement: tilt must be within ±45 degrees (got 60); hint: show it at a lower strength, or check what was measured of its place",
		},
	} {
		got := untraced(t, row.dim, row.implant, row.biometry, row.k)
		if got != row.want {
			t.Errorf("%s, %s:\ngot  %s\nwant %s", row.implant, row.biometry, got, row.want)
		}
		if strings.Contains(got, "NaN") || strings.Contains(got, "\n") {
			t.Errorf("%q", got)
		}
	}
}

// TestALengthFarFromThatOfTheLensIsSaidAloud: 1 mm of length is some 2.7 D (common
// practice), more than any of the three is off by.
func TestALengthFarFromThatOfTheLensIsSaidAloud(t *testing.T) {
	const what = "do not go together"
	far := one(t, "lens: implant", "pupil_bright_mm: 3", "implant: {decentration_mm: 0.5, direction: up, power_d: 30}", "biometry: {axial_length_mm: 30}")
	near := one(t, "lens: implant", "pupil_bright_mm: 3", "implant: {decentration_mm: 0.5, direction: up, power_d: 21}", "biometry: {axial_length_mm: 23.6}")
	if !has(far.Notes, what) || has(near.Notes, what) {
		t.Errorf("far: %q, near: %q", far.Notes, near.Notes)
	}
}
