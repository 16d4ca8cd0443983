package zernike_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"simview/internal/zernike"
)

// tolPoint: coefficients up to 1 µm, up to 45 terms whose values within the
// drawn places stay below 300, sixteen digits, and a factor of ten in hand.
const tolPoint = 1e-10

// anyTerms draws a wavefront up to order 8 over a pupil of 1 to 4 mm radius.
func anyTerms(t *rapid.T) zernike.Terms {
	n := rapid.IntRange(1, zernike.Count(8)).Draw(t, "terms")
	return zernike.Terms{
		C:        rapid.SliceOfN(rapid.Float64Range(-1, 1), n, n).Draw(t, "c"),
		RadiusMM: rapid.Float64Range(1, 4).Draw(t, "radius"),
	}
}

// inDisc draws a point of the unit disc.
func inDisc(t *rapid.T) (x, y float64) {
	r := math.Sqrt(rapid.Float64Range(0, 1).Draw(t, "r2"))
	s, c := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle"))
	return r * c, r * s
}

func same(t *rapid.T, what string, got, want float64) {
	if !(math.Abs(got-want) <= tolPoint) {
		t.Fatalf("%s: %.15g, want %.15g", what, got, want)
	}
}

func TestPropertyTurningKeepsTheRMSOfEveryPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		turned := w.Rotate(rapid.Float64Range(-360, 360).Draw(t, "degrees"))
		for j := range turned.C {
			n, m := zernike.NM(j)
			same(t, "pair", math.Hypot(turned.At(n, m), turned.At(n, -m)), math.Hypot(w.At(n, m), w.At(n, -m)))
		}
	})
}

func TestPropertyTurnedAxesSeeTheSameWavefront(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		a := rapid.Float64Range(-360, 360).Draw(t, "degrees")
		s, c := math.Sincos(a * math.Pi / 180)
		x, y := inDisc(t)
		x, y = x*w.RadiusMM, y*w.RadiusMM
		same(t, "path", w.Rotate(a).PathUM(x*c+y*s, y*c-x*s), w.PathUM(x, y))
	})
}

func TestPropertyScalingTwiceIsScalingOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		r1 := w.RadiusMM * rapid.Float64Range(0.2, 1).Draw(t, "s1")
		r2 := r1 * rapid.Float64Range(0.2, 1).Draw(t, "s2")
		first, err1 := w.Scale(r1)
		twice, err2 := first.Scale(r2)
		once, err3 := w.Scale(r2)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		for j := range once.C {
			same(t, "coefficient", twice.C[j], once.C[j])
		}
	})
}

func TestPropertyAMovedPupilSeesTheSameWavefront(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		r := w.RadiusMM * rapid.Float64Range(0.2, 0.9).Draw(t, "s")
		dx, dy := inDisc(t)
		dx, dy = dx*(w.RadiusMM-r), dy*(w.RadiusMM-r)
		moved, err := w.Translate(dx, dy, r)
		if err != nil {
			t.Fatal(err)
		}
		x, y := inDisc(t)
		same(t, "path", moved.PathUM(x*r, y*r), w.PathUM(x*r+dx, y*r+dy))
	})
}

// Two routes that share no formula: the sum of Janssen and Dirksen, and a
// projection by quadrature with no shift.
func TestPropertyScalingAndProjectionAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		r := w.RadiusMM * rapid.Float64Range(0.2, 1).Draw(t, "s")
		sum, err1 := w.Scale(r)
		quadrature, err2 := w.Translate(0, 0, r)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for j := range sum.C {
			same(t, "coefficient", sum.C[j], quadrature.C[j])
		}
	})
}

func TestPropertyMirroredTwiceIsTheSameAndOnceIsXReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		x, y := inDisc(t)
		x, y = x*w.RadiusMM, y*w.RadiusMM
		same(t, "path", w.Mirror().PathUM(-x, y), w.PathUM(x, y))
		for j, c := range w.Mirror().Mirror().C {
			if c != w.C[j] {
				t.Fatalf("c[%d] = %v after two mirrors, was %v", j, c, w.C[j])
			}
		}
	})
}

func TestPropertySlopesAreTheDifferencesOfPaths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		x, y := inDisc(t)
		x, y = x*w.RadiusMM, y*w.RadiusMM
		dx, dy := w.SlopeUMPerMM(x, y)
		// A central difference over 2h is out by h²/6 of a third derivative
		// (below n⁶ per unit radius³ and term) and 1e-14/h of rounding.
		const h, tol = 1e-5, 1e-3
		fx := (w.PathUM(x+h, y) - w.PathUM(x-h, y)) / (2 * h)
		fy := (w.PathUM(x, y+h) - w.PathUM(x, y-h)) / (2 * h)
		if math.Hypot(fx-dx, fy-dy) > tol {
			t.Fatalf("slope (%g, %g), differences (%g, %g)", dx, dy, fx, fy)
		}
	})
}

func TestPropertyFillEqualsPointByPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyTerms(t)
		x, y := inDisc(t)
		dst := make([]float64, 2)
		w.Fill(dst, []float64{x, y}, []float64{y, x})
		sum := 0.0
		for j, c := range w.C {
			sum += c * zernike.PolyXY(j, x/w.RadiusMM, y/w.RadiusMM)
		}
		same(t, "first", dst[0], sum)
		same(t, "second", dst[1], w.PathUM(y, x))
	})
}
