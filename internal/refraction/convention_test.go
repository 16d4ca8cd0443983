package refraction_test

import (
	"math"
	"testing"

	"simview/internal/refraction"
	"simview/internal/unit"
)

func TestAShortSightedEyeIsAheadAtTheEdgeOfItsPupil(t *testing.T) {
	p := refraction.Sphere(-1)
	if got := p.PathUM(3, 0); got != 4.5 { // D r²/2 in µm
		t.Errorf("-1 D at 3 mm: %g µm, want 4.5", got)
	}
	terms, err := p.ToTerms(3, 555)
	if err != nil || terms.At(2, 0) <= 0 {
		t.Errorf("c(2,0) = %g (%v), want above 0", terms.At(2, 0), err)
	}
}

func TestPlanoMinusOneAtNinetyIsTooStrongInTheHorizontalMeridian(t *testing.T) {
	p := refraction.SphereCylinder{Cylinder: -1, AxisDeg: 90}.PowerVector()
	if got := p.PathUM(2, 0); math.Abs(got-2) > tolAlgebra {
		t.Errorf("2 mm to the right: %g µm, want 2", got)
	}
	if got := p.PathUM(0, 2); math.Abs(got) > tolAlgebra {
		t.Errorf("2 mm up: %g µm, want 0", got)
	}
}

// Power only across the axis: -1.00 x 45 acts along 135 degrees, the clinician's
// upper left and lower right.
func TestAnAxisOfFortyFiveDegreesRunsUpToTheCliniciansRight(t *testing.T) {
	p := refraction.SphereCylinder{Cylinder: -1, AxisDeg: 45}.PowerVector()
	if got := p.PathUM(1, 1); math.Abs(got) > tolAlgebra {
		t.Errorf("along the axis: %g µm, want 0", got)
	}
	if got := p.PathUM(-1, 1); math.Abs(got-1) > tolAlgebra {
		t.Errorf("across the axis: %g µm, want 1", got)
	}
}

func TestTurningCounterClockwiseRaisesTheAxis(t *testing.T) {
	s := refraction.SphereCylinder{Cylinder: -1, AxisDeg: 20}.PowerVector().Turn(15).SphereCylinder()
	near(t, "axis", s.AxisDeg, 35, tolAlgebra*100)
}

func TestTheMirrorTakesAnAxisToItsSupplement(t *testing.T) {
	p := refraction.SphereCylinder{Cylinder: -1, AxisDeg: 20}.PowerVector()
	near(t, "axis", p.Mirror().SphereCylinder().AxisDeg, 160, tolAlgebra*100)
	near(t, "path", p.Mirror().PathUM(-1, 2), p.PathUM(1, 2), tolAlgebra)
}

func TestTheTwoPrincipalAxesHaveTheirPublishedSigns(t *testing.T) {
	// Thibos, Wheeler and Horner: with-the-rule (minus axis 180) has J0 > 0,
	// minus axis 45 has J45 > 0.
	with := refraction.SphereCylinder{Cylinder: -1, AxisDeg: 180}.PowerVector()
	oblique := refraction.SphereCylinder{Cylinder: -1, AxisDeg: 45}.PowerVector()
	near(t, "J0", with.J0, unit.Dioptres(0.5), tolAlgebra)
	near(t, "J45", oblique.J45, unit.Dioptres(0.5), tolAlgebra)
}
