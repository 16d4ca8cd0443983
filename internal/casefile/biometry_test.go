package casefile

import (
	"math"
	"slices"
	"strings"
	"testing"
)

const measuredEye = `
title: T
complaint_eye: SIDE
age_years: 60
eyes:
  SIDE:
    lens: implant
    pupil_dim_mm: 5
    pupil_decentration_mm: 0.3
    pupil_direction: in
    biometry: {corneal_radius_flat_mm: 7.9, corneal_radius_steep_mm: 7.7, steep_axis_deg: 80, corneal_asphericity_q: -0.2, axial_length_mm: {value: 23.8, sd: 0.05}, anterior_chamber_depth_mm: 4.6}
    implant: {power_d: 21.5, optic_mm: 6, axial_shift_mm: 0.2, toric_cylinder_d: 3, toric_axis_deg: 80, rotation_deg: -8}
`

func measured(t *testing.T, side string) (*Case, []Notice) {
	t.Helper()
	c, notices, err := Parse("c.yaml", []byte(strings.ReplaceAll(measuredEye, "SIDE", side)), nil)
	if err != nil {
		t.Fatal(err)
	}
	return c, notices
}

func TestDimensionsOfAnEyeAreSaidBack(t *testing.T) {
	c, notices := measured(t, "right")
	if len(notices) > 0 {
		t.Error(notices)
	}
	got := c.Understood()
	for _, want := range []string{
		"Right eye: Pupil: 0.3 mm (measured) from the axis of the cornea towards in (0 degrees counter-clockwise from the clinician's right).",
		"Right eye: Biometry: corneal radii 7.9 mm (measured) flat, 7.7 mm (measured) steep at 80 degrees; asphericity Q -0.2 (measured); length 23.8 mm ± 0.05 (measured); front of the cornea to front of the lens 4.6 mm (measured); what is missing will be assumed.",
		"Right eye: Implant: behind its place by 0.2 mm (measured), towards the retina.",
		"Right eye: Implant: own cylinder 3 D (measured) in plus form, meant for axis 80 degrees (measured).",
		"Right eye: Implant: power 21.5 D (measured). Optic 6 mm (measured).",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("not said: %s\n%s", want, strings.Join(got, "\n"))
		}
	}
}

// In a right eye the nose is on the clinician's right, in a left eye on the left.
func TestAPupilTowardsTheNoseLiesOnOppositeSidesInTheTwoEyes(t *testing.T) {
	for side, x := range map[string]float64{"right": .3, "left": -.3} {
		c, _ := measured(t, side)
		p := c.Eye(c.ComplaintSide()).PupilShift()
		if math.Abs(float64(p.X)-x) > 1e-15 || math.Abs(float64(p.Y)) > 1e-15 { // rounding of sine and cosine
			t.Errorf("%s eye: pupil at %v, want x %g", side, p, x)
		}
	}
}

func TestATurnOfALensWithoutCylinderIsNoticed(t *testing.T) {
	text := strings.NewReplacer("SIDE", "left", "toric_cylinder_d: 3, toric_axis_deg: 80, ", "").Replace(measuredEye)
	_, notices, err := Parse("c.yaml", []byte(text), nil)
	want := "c.yaml:12: eyes.left.implant.rotation_deg: changes nothing, since the lens has no cylinder; hint: write toric_cylinder_d and toric_axis_deg of a toric lens"
	if err != nil || len(notices) != 1 || notices[0].String() != want {
		t.Errorf("got %v, %v", notices, err)
	}
}

// Columns count as levels in blocks only: a long line in braces is one level.
func TestALongLineInBracesIsNotDeep(t *testing.T) {
	text := strings.NewReplacer("SIDE", "left", "{power_d: 21.5,", "{power_d: {value: 21.5, source: "+strings.Repeat("card ", 60)+"},").Replace(measuredEye)
	if _, _, err := Parse("c.yaml", []byte(text), nil); err != nil {
		t.Error(err)
	}
}
