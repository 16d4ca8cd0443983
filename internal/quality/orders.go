package quality

import (
	"fmt"
	"math"

	"simview/internal/zernike"
)

// FitSamples is how many samples of a path lie across the pupil for a fit of its
// orders.
const FitSamples = 101

// FitPath fits the orders up to highest to a path in µm over a clear pupil in mm,
// by least squares on samples in the middles of across by across squares, and
// returns what they leave at each sample, µm. Errors name a diameter that is not
// positive, and are those of [zernike.Fit].
func FitPath(pupilMM float64, pathUM func(xMM, yMM float64) float64, across, highest int) (zernike.Terms, []float64, error) {
	if !(pupilMM > 0) || math.IsInf(pupilMM, 0) {
		return zernike.Terms{}, nil, fmt.Errorf("pupil: diameter must be positive (got %g mm)", pupilMM)
	}
	radius, n := pupilMM/2, float64(across)
	var xs, ys, ws []float64
	for q := range across * across {
		x, y := (2*(float64(q%across)+0.5)/n-1)*radius, (2*(float64(q/across)+0.5)/n-1)*radius
		if x*x+y*y <= radius*radius {
			xs, ys, ws = append(xs, x), append(ys, y), append(ws, pathUM(x, y))
		}
	}
	return zernike.Fit(xs, ys, ws, radius, highest)
}

// RMSByOrder returns the RMS of terms by radial order, element n for order n in µm;
// piston counts for nothing: element 0 is 0.
func RMSByOrder(t zernike.Terms) []float64 {
	byOrder := make([]float64, t.Order()+1)
	for n := 1; n < len(byOrder); n++ {
		byOrder[n] = t.RMSOrders(n, n)
	}
	return byOrder
}

// RMS returns the root of the mean of squares.
func RMS(v []float64) float64 {
	var sum float64
	for _, x := range v {
		sum += x * x
	}
	return math.Sqrt(sum / float64(len(v)))
}
