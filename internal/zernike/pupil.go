package zernike

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Scale returns the same wavefront over a smaller pupil about the same centre,
// exactly. A radius above the present one is an error: nothing was measured
// there, see [Terms.ScaleUp].
//
//	c'(n,m) = Σ_{n'=n,n+2,..} c(n',m) √((n'+1)/(n+1)) [R_{n'}^n(s) - R_{n'}^{n+2}(s)],  s = r'/r
//
// Source: Janssen and Dirksen, J Eur Opt Soc Rapid Publ 2006 (from memory).
func (t Terms) Scale(newRadiusMM float64) (Terms, error) {
	if newRadiusMM > t.RadiusMM {
		return Terms{}, fmt.Errorf("zernike: pupil radius %g mm is wider than the measured %g mm: nothing is known out there", newRadiusMM, t.RadiusMM)
	}
	return t.ScaleUp(newRadiusMM)
}

// ScaleUp is [Terms.Scale] without the upper limit: beyond the present pupil it
// continues the polynomial, which is a guess that grows with the order.
func (t Terms) ScaleUp(newRadiusMM float64) (Terms, error) {
	out, err := t.over(newRadiusMM)
	if err != nil {
		return Terms{}, err
	}
	s := newRadiusMM / t.RadiusMM
	for j := range out.C {
		n, m := NM(j)
		for np := n; np <= t.Order(); np += 2 {
			out.C[j] += t.At(np, m) * math.Sqrt(float64(np+1)/float64(n+1)) * (Radial(np, n, s) - Radial(np, n+2, s))
		}
	}
	return out, nil
}

// Translate returns the wavefront over a pupil of radius newRadiusMM whose
// centre lies at (dxMM, dyMM) in the present axes, exactly: the pupil moves,
// the wavefront stays. To move the wavefront by (dx, dy), pass the negatives.
// Where the new pupil reaches outside the present one the polynomial goes on;
// see [Terms.Covers].
//
//	W'(x', y') = W(x' + dx, y' + dy)
//
// It is projected by a quadrature that is exact for polynomials: equal angles
// and Gauss-Legendre in ρ².
func (t Terms) Translate(dxMM, dyMM, newRadiusMM float64) (Terms, error) {
	out, err := t.over(newRadiusMM)
	if err != nil {
		return Terms{}, err
	}
	if bad(dxMM) || bad(dyMM) {
		return Terms{}, fmt.Errorf("zernike: shift (%v, %v) mm: expected two finite numbers", dxMM, dyMM)
	}
	project(out.C, t.Order(), func(x, y float64) float64 {
		return t.PathUM(x*newRadiusMM+dxMM, y*newRadiusMM+dyMM)
	})
	return out, nil
}

// Covers reports whether a pupil of that radius about (dxMM, dyMM) lies inside
// the present one, so that nothing is continued beyond what was measured.
func (t Terms) Covers(dxMM, dyMM, radiusMM float64) bool {
	return math.Hypot(dxMM, dyMM)+radiusMM <= t.RadiusMM*(1+1e-12)
}

// over returns terms of t's order, all 0, over another pupil.
func (t Terms) over(radiusMM float64) (Terms, error) {
	if err := t.Check(); err != nil {
		return Terms{}, err
	}
	out := Terms{make([]float64, Count(t.Order())), radiusMM, t.WavelengthNM}
	return out, out.Check()
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// project writes the coefficients of f, a polynomial of the given order in the
// coordinates of the unit disc, into c.
//
//	c_j = (1/π) ∫∫ f Z_j dA
func project(c []float64, order int, f func(x, y float64) float64) {
	p := planFor(order)
	z := make([]float64, Count(order))
	us, weights := make([]float64, order+1), make([]float64, order+1)
	quad.Legendre{}.FixedLocations(us, weights, 0, 1)
	angles := 2*order + 1
	for i, u := range us {
		for k := range angles {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(angles))
			x, y := math.Sqrt(u)*cos, math.Sqrt(u)*sin
			w := f(x, y) * weights[i] / float64(angles)
			p.basis(z, x, y)
			for j := range z {
				c[j] += w * z[j]
			}
		}
	}
}
