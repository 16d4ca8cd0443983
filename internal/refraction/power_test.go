package refraction_test

import (
	"math"
	"testing"

	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// tolAlgebra: a handful of operations on numbers near 1 in sixteen digits.
const tolAlgebra = 1e-12

func near[T ~float64](t *testing.T, what string, got, want T, tol float64) {
	t.Helper()
	if !(math.Abs(float64(got-want)) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, float64(got), float64(want), tol)
	}
}

func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// Worked out from the formula of Thibos et al. 2004 outside this project; the
// first line also stands in published tables of equivalent defocus, to 0.01 D.
func TestOneMicrometreIsSoManyDioptres(t *testing.T) {
	const tolDigits = 5e-6 // half of the last digit given
	rms := func(n, m int, c, diameter float64) refraction.PowerVector {
		return must[refraction.PowerVector](t)(refraction.FromTermsRMS(zernike.Terms{RadiusMM: diameter / 2}.With(n, m, c)))
	}
	near(t, "published: 2 µm over 6 mm", rms(2, 0, 2, 6).M, -1.54, 0.005)
	for d, want := range map[float64]unit.Dioptres{6: -.76980, 5: -1.10851, 4: -1.73205, 3: -3.07920} {
		near(t, "M", rms(2, 0, 1, d).M, want, tolDigits)
	}
	for d, want := range map[float64]unit.Dioptres{6: -.54433, 5: -.78384} {
		near(t, "J0", rms(2, 2, 1, d).J0, want, tolDigits)
		near(t, "J45", rms(2, -2, 1, d).J45, want, tolDigits)
	}
}

// The published form for orders up to 6, coefficient by coefficient.
func TestParaxialPowerFollowsThePublishedSum(t *testing.T) {
	const r = 2.5
	for _, c := range []struct {
		n    int
		m, j float64 // weight of c(n,0) in M, of c(n,2) in J0, times r²
	}{
		{2, -4 * math.Sqrt(3), -2 * math.Sqrt(6)},
		{4, 12 * math.Sqrt(5), 6 * math.Sqrt(10)},
		{6, -24 * math.Sqrt(7), -12 * math.Sqrt(14)},
	} {
		w := zernike.Terms{RadiusMM: r}.With(c.n, 0, 0.3).With(c.n, 2, 0.5).With(c.n, -2, 0.7)
		p := must[refraction.PowerVector](t)(refraction.FromTermsParaxial(w))
		near(t, "M", p.M, unit.Dioptres(0.3*c.m/(r*r)), tolAlgebra)
		near(t, "J0", p.J0, unit.Dioptres(0.5*c.j/(r*r)), tolAlgebra)
		near(t, "J45", p.J45, unit.Dioptres(0.7*c.j/(r*r)), tolAlgebra)
	}
}

// A second route: the curvature of the path at the centre by differences. The
// error of a second difference is h²/12 of a fourth derivative (below 1e3 here).
func TestParaxialPowerIsTheCurvatureAtTheCentre(t *testing.T) {
	const h, tol = 1e-3, 1e-3
	w := zernike.Terms{RadiusMM: 3, C: []float64{
		0, .1, .2, .3, -.4, .25, .1, .2, .1, .05, .06, .07, .2, -.1, .04, 0, 0, .1, .1, 0, 0, .02, .03, .05, -.06, .04, .01, .02,
		0, 0, 0, 0, 0, 0, 0, 0, .01, .02, .03, .02, .02,
	}}
	p := must[refraction.PowerVector](t)(refraction.FromTermsParaxial(w))
	second := func(x, y float64) float64 {
		return (w.PathUM(x*h, y*h) + w.PathUM(-x*h, -y*h) - 2*w.PathUM(0, 0)) / (h * h)
	}
	xx, yy, diagonal := second(1, 0), second(0, 1), second(math.Sqrt2/2, math.Sqrt2/2)
	near(t, "M", p.M, unit.Dioptres(-(xx+yy)/2), tol)
	near(t, "J0", p.J0, unit.Dioptres(-(xx-yy)/2), tol)
	near(t, "J45", p.J45, unit.Dioptres(-(diagonal - (xx+yy)/2)), tol)
}

func TestBothReadingsOfAPureSphereAndCylinderGiveItBack(t *testing.T) {
	p := refraction.PowerVector{M: -1.25, J0: 0.3, J45: -0.4}
	w := must[zernike.Terms](t)(p.ToTerms(2.75, 555))
	for _, q := range []refraction.PowerVector{
		must[refraction.PowerVector](t)(refraction.FromTermsRMS(w)),
		must[refraction.PowerVector](t)(refraction.FromTermsParaxial(w)),
	} {
		near(t, "difference", q.Sub(p).Length(), 0, tolAlgebra)
	}
	for _, at := range [][2]float64{{1, 0}, {0.5, -2}, {-1, 1.5}} {
		near(t, "path", w.PathUM(at[0], at[1])-w.PathUM(0, 0), p.PathUM(at[0], at[1]), tolAlgebra)
	}
}

// Vertex distance by the matrix of the lens, which the code does not use:
// F_c = F (I - d F)^-1.
func TestVertexDistanceAgreesWithTheLensMatrix(t *testing.T) {
	for _, s := range []refraction.SphereCylinder{{-6, -2.5, 20}, {8, -1.25, 170}, {-10, 0, 0}, {3, 4, 45}} {
		p := s.PowerVector()
		got := must[refraction.PowerVector](t)(p.ToCornea(12))
		a, b, c := float64(p.M+p.J0), float64(p.J45), float64(p.M-p.J0)
		ia, ib, ic := 1-0.012*a, -0.012*b, 1-0.012*c
		det := ia*ic - ib*ib
		fa, fb, fc := (a*ic-b*ib)/det, (b*ia-a*ib)/det, (c*ia-b*ib)/det
		near(t, "M", got.M, unit.Dioptres((fa+fc)/2), tolAlgebra)
		near(t, "J0", got.J0, unit.Dioptres((fa-fc)/2), tolAlgebra)
		near(t, "J45", got.J45, unit.Dioptres(fb), tolAlgebra)
		back := must[refraction.PowerVector](t)(got.ToSpectacles(12))
		near(t, "there and back", back.Sub(p).Length(), 0, tolAlgebra)
	}
}

// -10.00 D at 12 mm is -8.93 D at the cornea and +10.00 D is +11.36 D: every
// contact lens table (common practice), to 0.01 D. The second pair is what the
// refractions of the Atchison 2006 eyes should be at the cornea, 12 mm, 0.001 D.
func TestVertexDistanceAgreesWithTheTables(t *testing.T) {
	for _, c := range []struct{ at, cornea, tol float64 }{
		{-10, -8.93, 0.005}, {10, 11.36, 0.005}, {-4, -3.817, 0.0005}, {-8, -7.299, 0.0005},
	} {
		p := must[refraction.PowerVector](t)(refraction.Sphere(unit.Dioptres(c.at)).ToCornea(12))
		near(t, "M", float64(p.M), c.cornea, c.tol)
	}
}

func TestImpossibleVertexDistancesAreRefused(t *testing.T) {
	for _, mm := range []unit.MM{-1, 41, unit.MM(math.NaN())} {
		if _, err := refraction.Sphere(1).ToCornea(mm); err == nil {
			t.Errorf("vertex distance %v mm passed", mm)
		}
	}
	for _, d := range []unit.Dioptres{90, unit.Dioptres(math.NaN()), unit.Dioptres(math.Inf(1)), unit.Dioptres(math.Inf(-1))} {
		if _, err := refraction.Sphere(d).ToCornea(12); err == nil {
			t.Errorf("%v D passed", d)
		}
	}
}
