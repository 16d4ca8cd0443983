package acuity

import "math"

// leastStrehl is the lowest visual Strehl ratio of the published set, about: its
// acuities end near 0.5 logMAR.
const leastStrehl = 0.016

// FromVisualStrehl predicts acuity in logMAR from the visual Strehl ratio alone,
// in microseconds instead of milliseconds,
//
//	logMAR = -(log10 VS + 0.31) / 2.98
//
// (Ravikumar2011: R² 0.96, aberrations scaled to a pupil of 3 mm). A perfect eye
// gives -0.10. It knows nothing of the light, the contrast or a field loss. ok is
// false for a ratio below 0.016, where the relation was not measured, and for what
// is no ratio.
func FromVisualStrehl(vs float64) (logMAR float64, ok bool) {
	if !(vs > 0) || math.IsInf(vs, 0) {
		return math.NaN(), false
	}
	return -(math.Log10(vs) + strehlOffset) / strehlSlope, vs >= leastStrehl
}

const (
	strehlSlope  = 2.98
	strehlOffset = 0.31
)
