package zernike_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"simview/internal/zernike"
)

// scatter returns n seeded points of a pupil of radius r.
func scatter(n int, r float64) (xs, ys []float64) {
	g := rand.New(rand.NewPCG(1, 2))
	for range n {
		rho := r * math.Sqrt(g.Float64())
		s, c := math.Sincos(2 * math.Pi * g.Float64())
		xs, ys = append(xs, rho*c), append(ys, rho*s)
	}
	return xs, ys
}

// tolFit: sixteen digits less the condition of a few hundred points, under 100.
const tolFit = 1e-13

func TestAFitGivesBackTheTermsThatMadeThePoints(t *testing.T) {
	e := example()
	xs, ys := scatter(300, 3)
	w := make([]float64, len(xs))
	e.Fill(w, xs, ys)
	got, residual, err := zernike.Fit(xs, ys, w, 3, 4)
	if err != nil {
		t.Fatal(err)
	}
	wantTerms(t, got, e.C, tolFit)
	for _, r := range residual {
		near(t, "residual", r, 0, tolFit)
	}
}

// The normal equations, which the fit does not use: what is left of a
// least-squares fit is orthogonal to every fitted term.
func TestWhatAFitLeavesIsOrthogonalToItsTerms(t *testing.T) {
	e := example()
	xs, ys := scatter(200, 3)
	w := make([]float64, len(xs))
	e.Fill(w, xs, ys)
	fitted, residual, err := zernike.Fit(xs, ys, w, 3, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "fit plus residual", fitted.PathUM(xs[7], ys[7])+residual[7], w[7], tolFit)
	largest := 0.0
	for j := range zernike.Count(2) {
		sum := 0.0
		for i, r := range residual {
			sum += r * zernike.PolyXY(j, xs[i]/3, ys[i]/3)
			largest = max(largest, math.Abs(r))
		}
		near(t, "inner product", sum, 0, 200*tolFit)
	}
	if largest < 0.1 { // 0.13 µm of c40 and 0.14 of coma are not of order 2
		t.Errorf("largest residual %g µm: orders 3 and 4 are missing", largest)
	}
}

func TestPointsThatCannotTellTheTermsApartAreRefused(t *testing.T) {
	xs, ys := scatter(50, 3)
	flat := make([]float64, 50)
	nan := append([]float64{math.NaN()}, flat[1:]...)
	for want, f := range map[string]func() error{
		"cannot tell": func() error { _, _, err := zernike.Fit(xs, flat, flat, 3, 2); return err },
		"from 50":     func() error { _, _, err := zernike.Fit(xs, ys, flat, 3, 9); return err },
		"equal":       func() error { _, _, err := zernike.Fit(xs, ys[1:], flat, 3, 2); return err },
		"outside":     func() error { _, _, err := zernike.Fit(xs, ys, flat, 1, 2); return err },
		"finite":      func() error { _, _, err := zernike.Fit(xs, ys, nan, 3, 2); return err },
		"radius":      func() error { _, _, err := zernike.Fit(xs, ys, flat, 0, 2); return err },
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got error %v, want one that says %q", err, want)
		}
	}
}
