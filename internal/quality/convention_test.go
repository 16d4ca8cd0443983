//go:build !race

package quality_test

import (
	"testing"

	"simview/internal/refraction"
	"simview/internal/zernike"
)

// TestAMyopicPathIsAnsweredByPlusError: c(2,0) > 0 is myopia (ANSI Z80.28), an
// error of negative M, so the error that makes up for it has positive M.
func TestAMyopicPathIsAnsweredByPlusError(t *testing.T) {
	w := zernike.Terms{RadiusMM: 2}.With(2, 0, 0.6) // -1.04 D
	p := pupil(t, 4, w.PathUM)
	if got, _ := p.Refract(p.FlatStart()); got.M < 0.75 || got.M > 1.25 {
		t.Errorf("answered by %v", got)
	}
}

// TestAnErrorAddedIsTheErrorOfTheEye: a short-sighted error on a long-sighted
// eye of the same amount leaves it in focus.
func TestAnErrorAddedIsTheErrorOfTheEye(t *testing.T) {
	p := pupil(t, 4, refraction.Sphere(1).PathUM)
	if right, wrong := p.VisualStrehl(refraction.Sphere(-1)), p.VisualStrehl(refraction.Sphere(1)); right < 0.999 || wrong > 0.5 {
		t.Errorf("opposite error gives %v, the same error %v", right, wrong)
	}
}

// TestACylinderIsAnsweredAlongItsOwnAxis: J0 and J45 are not exchanged.
func TestACylinderIsAnsweredAlongItsOwnAxis(t *testing.T) {
	p := pupil(t, 4, refraction.SphereCylinder{Cylinder: -1, AxisDeg: 45}.PowerVector().PathUM)
	got, _ := p.Refract(p.FlatStart())
	if got.J45 > -0.375 || got.J45 < -0.625 || got.J0 != 0 {
		t.Errorf("-1.00 x 45 (J45 +0.5) answered by %+v", got)
	}
}
