package raytrace

import (
	"math"

	"simview/internal/zernike"
)

// Sampling of the pupil for a fit: ringCount circles, spokeCount rays on each.
const (
	// fitOrder is the order fitted, so that what lies above order 6 does not
	// leak into the terms that are given out.
	fitOrder = 8
	// ringCount and spokeCount: order 8 needs 5 circles and 17 spokes; some
	// more average what lies above it.
	ringCount, spokeCount = 8, 20
	// aimMM is how near a ray must pass to the point it is aimed at; the fit
	// uses the point where it does pass.
	aimMM = 2e-3
	// givenOrder is the highest order given out.
	givenOrder = 6
)

// OnAxis returns the point where the retina meets the axis.
func (s *System) OnAxis() Vec { return Vec{0, 0, s.RetinaZ} }

// Wavefront returns the terms of orders 0 to 6 (µm) of the light from a point of
// the retina, over an entrance pupil of diameter pupilMM, by optical path. The
// reference is the plane through the centre of the entrance pupil, square to
// the axis: defocus and tilt are those of the eye looking at infinity.
//
//	W(x, y) = OPL(chief ray) - OPL(ray through x, y)
func (s *System) Wavefront(from Vec, pupilMM float64) (zernike.Terms, error) {
	if err := checkPupil(pupilMM); err != nil {
		return zernike.Terms{}, err
	}
	b, err := s.newBeam(from)
	if err != nil {
		return zernike.Terms{}, err
	}
	return b.terms(pupilMM / 2)
}

// terms fits the wavefront over a pupil of the radius.
func (b *beam) terms(radiusMM float64) (zernike.Terms, error) {
	xs, ys, w := []float64{0}, []float64{0}, []float64{0}
	for i := range ringCount {
		// Circles that hold equal areas, drawn in by a hair so that aiming
		// stays inside the pupil; the next circle is turned by half a step.
		rho := math.Sqrt((float64(i)+.5)/ringCount) * radiusMM
		for k := range spokeCount {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + .5*float64(i%2)) / spokeCount)
			h, err := b.aim(rho*cos, rho*sin, aimMM*radiusMM)
			if err != nil {
				return zernike.Terms{}, err
			}
			xs, ys, w = append(xs, h.x), append(ys, h.y), append(w, b.path(h))
		}
	}
	t, _, err := zernike.Fit(xs, ys, w, radiusMM, fitOrder)
	if err != nil {
		return zernike.Terms{}, err
	}
	return b.given(t), nil
}

// given keeps what is given out and names the wavelength.
func (b *beam) given(t zernike.Terms) zernike.Terms {
	t.C = append([]float64(nil), t.C[:zernike.Count(givenOrder)]...)
	t.WavelengthNM = b.sys.WavelengthNM
	return t
}
