package cause

import (
	"fmt"
	"math"

	"simview/internal/raytrace"
	"simview/internal/unit"
)

// fringePupilMM is the pupil that a fringe is traced over: wide enough for rays to
// be far above rounding, narrow enough for coma to add nothing.
const fringePupilMM = 2.0

// fringeHomeNM is the wavelength that is seen where it should be.
const fringeHomeNM = 555

// Fringe returns how far from its place, in degrees as the patient sees, light of
// a wavelength in nm (360 to 1100) is seen because the implant is displaced at
// strength k; light of 555 nm is in its place, and what the eye does with its lens
// in its place is taken off. From the slope of the traced wavefront at each
// wavelength and the change from the clinician's axes to the patient's:
//
//	(-dW/dx, +dW/dy),  W = (W_λ - W_555) displaced - (W_λ - W_555) centred
//
// Zero for an eye without a displaced implant or at strength 0.
func (e *Eye) Fringe(k float64, nm unit.NM) (unit.SightPoint, error) {
	if e.lens == nil || k == 0 {
		return unit.SightPoint{}, nil
	}
	return e.lens.fringe(e.lens.at.Times(k), nm)
}

// fringe is that of an implant at a place.
func (l *lensModel) fringe(place raytrace.DisplacedLens, nm unit.NM) (unit.SightPoint, error) {
	x, y := 0.0, 0.0
	for _, part := range []struct {
		place raytrace.DisplacedLens
		sign  float64
	}{{place, 1}, {raytrace.DisplacedLens{}, -1}} {
		at, err := l.slope(part.place, nm)
		if err != nil {
			return unit.SightPoint{}, err
		}
		home, err := l.slope(part.place, fringeHomeNM)
		if err != nil {
			return unit.SightPoint{}, err
		}
		x += part.sign * (at[0] - home[0])
		y += part.sign * (at[1] - home[1])
	}
	const radians = 1e-3 // µm of path per mm
	return unit.SightPoint{X: unit.Degrees(-x * radians * 180 / math.Pi), Y: unit.Degrees(y * radians * 180 / math.Pi)}, nil
}

// colours is what a view with the implant at a place does with colours.
func (l *lensModel) colours(place raytrace.DisplacedLens) func(unit.NM) (unit.SightPoint, error) {
	return func(nm unit.NM) (unit.SightPoint, error) { return l.fringe(place, nm) }
}

// slope returns the mean slope of the traced wavefront at a wavelength, µm/mm.
func (l *lensModel) slope(place raytrace.DisplacedLens, nm unit.NM) ([2]float64, error) {
	sys, err := l.eye.At(place)
	if err == nil {
		sys, err = sys.AtWavelength(nm)
	}
	if err != nil {
		return [2]float64{}, fmt.Errorf("colour of the displaced lens: %w", err)
	}
	t, err := sys.Wavefront(sys.OnAxis(), fringePupilMM)
	if err != nil {
		return [2]float64{}, fmt.Errorf("colour of the displaced lens at %g nm: %w", float64(nm), err)
	}
	// c(1,±1) is that of 2 ρ cos φ and 2 ρ sin φ, ρ = r/R.
	const perMM = 2 / (fringePupilMM / 2)
	return [2]float64{t.C[2] * perMM, t.C[1] * perMM}, nil
}
