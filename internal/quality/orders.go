package quality

import (
	"fmt"
	"math"

	"simview/internal/zernike"
)

// fitSamples is how many samples of the path lie across the pupil for a fit.
const fitSamples = 101

// Orders returns the RMS of the path by radial order, element n for order n in µm
// (piston counts for nothing: element 0 is 0), and the RMS of what the orders up to
// highest leave, fitted over a clear pupil by least squares. Errors name a diameter
// that is not positive, and are those of [zernike.Fit].
func Orders(pupilMM float64, pathUM func(xMM, yMM float64) float64, highest int) (byOrder []float64, rest float64, err error) {
	if !(pupilMM > 0) || math.IsInf(pupilMM, 0) {
		return nil, 0, fmt.Errorf("pupil: diameter must be positive (got %g mm)", pupilMM)
	}
	radius := pupilMM / 2
	var xs, ys, ws []float64
	for q := range fitSamples * fitSamples {
		x, y := (2*(float64(q%fitSamples)+0.5)/fitSamples-1)*radius, (2*(float64(q/fitSamples)+0.5)/fitSamples-1)*radius
		if x*x+y*y <= radius*radius {
			xs, ys, ws = append(xs, x), append(ys, y), append(ws, pathUM(x, y))
		}
	}
	t, left, err := zernike.Fit(xs, ys, ws, radius, highest)
	if err != nil {
		return nil, 0, err
	}
	byOrder = make([]float64, highest+1)
	for n := 1; n <= highest; n++ {
		byOrder[n] = t.RMSOrders(n, n)
	}
	for _, v := range left {
		rest += v * v / float64(len(left))
	}
	return byOrder, math.Sqrt(rest), nil
}
