package zernike

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// maxCondition is the condition number of the points' matrix above which the
// terms cannot be told apart: half of the 16 digits are then gone.
const maxCondition = 1e8

// Fit returns the terms up to maxOrder over a pupil of radiusMM that come
// closest, in the least-squares sense, to the paths w (µm) at the points
// (xs, ys) (mm), and the residual w - fit at each point (µm). The wavelength of
// the result is not stated. Too few points, points that cannot tell the terms
// apart, points outside the pupil, numbers that are not finite and lists of
// different lengths are errors.
func Fit(xs, ys, w []float64, radiusMM float64, maxOrder int) (Terms, []float64, error) {
	t := Terms{RadiusMM: radiusMM}
	if err := errors.Join(t.Check(), checkFit(xs, ys, w, radiusMM, maxOrder)); err != nil {
		return Terms{}, nil, err
	}
	a := mat.NewDense(len(w), Count(maxOrder), nil)
	p := planFor(maxOrder)
	for i := range w {
		p.basis(a.RawRowView(i), xs[i]/radiusMM, ys[i]/radiusMM)
	}
	var qr mat.QR
	qr.Factorize(a)
	if cond := qr.Cond(); !(cond < maxCondition) {
		return Terms{}, nil, fmt.Errorf("zernike: the %d points cannot tell the terms up to order %d apart: give points all over the pupil, or a lower order", len(w), maxOrder)
	}
	var c mat.VecDense
	if err := qr.SolveVecTo(&c, false, mat.NewVecDense(len(w), w)); err != nil {
		return Terms{}, nil, fmt.Errorf("zernike: fitting order %d: %w", maxOrder, err)
	}
	t.C = append(t.C, c.RawVector().Data...)
	residual := make([]float64, len(w))
	t.Fill(residual, xs, ys)
	for i := range residual {
		residual[i] = w[i] - residual[i]
	}
	return t, residual, nil
}

// checkFit refuses data that Fit cannot use.
func checkFit(xs, ys, w []float64, radiusMM float64, maxOrder int) error {
	if len(xs) != len(w) || len(ys) != len(w) {
		return fmt.Errorf("zernike: fit: %d x, %d y and %d paths: expected equal numbers", len(xs), len(ys), len(w))
	}
	if maxOrder < 0 || Count(maxOrder) > len(w) {
		return fmt.Errorf("zernike: fit: order %d from %d points: expected an order of 0 or more with no more than %d terms", maxOrder, len(w), len(w))
	}
	for i := range w {
		if bad(xs[i]) || bad(ys[i]) || bad(w[i]) {
			return fmt.Errorf("zernike: fit: point %d (%v, %v) mm, %v µm: expected finite numbers", i, xs[i], ys[i], w[i])
		}
		if math.Hypot(xs[i], ys[i]) > radiusMM*(1+1e-9) {
			return fmt.Errorf("zernike: fit: point %d (%g, %g) mm lies outside the pupil of radius %g mm: leave it out", i, xs[i], ys[i], radiusMM)
		}
	}
	return nil
}
