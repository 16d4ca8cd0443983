package cause_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/unit"
)

// TestTheDemosBiometryFitsItsRefraction: the length that radii, power and
// refraction solve to is the measured one within three of its SD.
func TestTheDemosBiometryFitsItsRefraction(t *testing.T) {
	e := demo(t, unit.Right)
	notes := strings.Join(e.Notes, "\n")
	found := regexp.MustCompile(`length ([0-9.]+) mm \(measured`).FindStringSubmatch(notes)
	if found == nil {
		t.Fatalf("no solved length beside the measured one in\n%s", notes)
	}
	solved, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	if l := e.Data.Biometry.AxialMM; math.Abs(solved-float64(l.V)) > 3*l.SD {
		t.Errorf("solved %.2f mm, measured %.2f", solved, float64(l.V))
	}
	if strings.Contains(notes, "assumed corneal radius") || !strings.Contains(notes, "measured corneal radius") {
		t.Errorf("not traced through the measured cornea:\n%s", notes)
	}
}

// TestTheDemosLeftoverCylinderIsThatOfItsCornea: of keratometry 337.5 (1/steep -
// 1/flat), minus axis square to the steep meridian (definition), the glasses
// correct nothing and the lens's share is taken out. A trial lens step of 0.25 D
// is what manifest refraction tells apart.
func TestTheDemosLeftoverCylinderIsThatOfItsCornea(t *testing.T) {
	e := demo(t, unit.Right)
	b := e.Data.Biometry
	cyl := 337.5 * (1/float64(b.SteepMM.V) - 1/float64(b.FlatMM.V))
	sin, cos := math.Sincos(2 * (float64(b.SteepAxisDeg.V) + 90) * math.Pi / 180)
	none := focus(t, state(t, e, nil, far, cause.Refracted))
	left := focus(t, state(t, e, cause.Only(cause.Cylinder, 1), far, cause.Refracted)).Sub(none)
	const step = .25
	if d := math.Hypot(float64(left.J0)-cyl/2*cos, float64(left.J45)-cyl/2*sin); 2*d > step {
		t.Errorf("left over %v, the cornea has %.2f D x %.0f", left, cyl, float64(b.SteepAxisDeg.V)+90-180)
	}
}
