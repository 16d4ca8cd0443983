package cornea

import (
	"fmt"
	"math"

	"simview/internal/zernike"
)

// Rest is what a Zernike fit leaves of a surface's wavefront. Fit and rest add
// up to the surface at every point, so that both may be evaluated over any
// smaller pupil without fitting again.
type Rest struct {
	Surface *Surface
	Fitted  zernike.Terms // taken out, over the pupil it was fitted in
	RMSUM   float64       // of the rest over that pupil, µm
}

// PathUM returns the rest of the wavefront at (xMM, yMM), in µm.
func (r Rest) PathUM(xMM, yMM float64) float64 {
	return r.Surface.PathUM(xMM, yMM) - r.Fitted.PathUM(xMM, yMM)
}

// Split fits the wavefront of the surface over a pupil of radiusMM about the
// origin with Zernike terms up to maxOrder (stated at wavelengthNM) and returns
// the rest. Orders 0 to 12 are taken.
func (s *Surface) Split(radiusMM float64, maxOrder int, wavelengthNM float64) (Rest, error) {
	if !(radiusMM > 0 && radiusMM <= maxZoneMM) {
		return Rest{}, fmt.Errorf("cornea: pupil radius %v mm: expected above 0 and up to %d", radiusMM, maxZoneMM)
	}
	if maxOrder < 0 || maxOrder > maxSplitOrder {
		return Rest{}, fmt.Errorf("cornea: fit of order %d: expected 0 to %d", maxOrder, maxSplitOrder)
	}
	xs, ys := s.points(radiusMM)
	path := make([]float64, len(xs))
	for i := range path {
		path[i] = s.PathUM(xs[i], ys[i])
	}
	fitted, left, err := zernike.Fit(xs, ys, path, radiusMM, maxOrder)
	if err != nil {
		return Rest{}, err
	}
	fitted.WavelengthNM = wavelengthNM
	return Rest{s, fitted, rms(left)}, fitted.Check()
}

// maxSplitOrder keeps the fit well determined by the points below.
const maxSplitOrder = 12

// points returns a square mesh inside the pupil: four points to a grain, at
// least 64 and at most 200 across.
func (s *Surface) points(radiusMM float64) (xs, ys []float64) {
	n := min(200, max(64, int(8*radiusMM/s.irr.GrainMM)))
	for i := range n {
		for j := range n {
			x := radiusMM * (2*(float64(i)+0.5)/float64(n) - 1)
			y := radiusMM * (2*(float64(j)+0.5)/float64(n) - 1)
			if math.Hypot(x, y) <= radiusMM {
				xs, ys = append(xs, x), append(ys, y)
			}
		}
	}
	return xs, ys
}

// rms returns the root mean square.
func rms(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x * x
	}
	return math.Sqrt(sum / float64(len(v)))
}
