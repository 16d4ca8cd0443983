package csf

import "math"

// Sample is one point of a contrast sensitivity curve.
type Sample struct {
	Frequency   float64 // cycles per degree
	Sensitivity float64 // one over the contrast that is just seen, of a patch one octave wide
}

// Sensitivity returns the contrast sensitivity of one eye at f cycles per
// degree, e degrees from fixation, with the given modulation transfer of its
// optics at f (0 to 1) and a field loss there in dB >= 0:
//
//	S_eye = MTF × k(f) / T(f, e)
func Sensitivity(m Model, f, eDeg, mtf, lossDB float64) float64 {
	return mtf * Remaining(f, lossDB) / Threshold(m, f, eDeg)
}

// Curve returns the contrast sensitivity of one eye at the given frequencies;
// mtf gives the modulation transfer of its optics by frequency.
func Curve(m Model, freqs []float64, eDeg float64, mtf func(f float64) float64, lossDB float64) []Sample {
	out := make([]Sample, len(freqs))
	for i, f := range freqs {
		out[i] = Sample{f, Sensitivity(m, f, eDeg, mtf(f), lossDB)}
	}
	return out
}

// CutOff returns the highest frequency, up to 120 cycles per degree, at which
// the eye still sees a grating of full contrast, by bisection on the falling
// side; 0 when it sees none.
func CutOff(m Model, eDeg float64, mtf func(f float64) float64, lossDB float64) float64 {
	seen := func(f float64) bool { return Sensitivity(m, f, eDeg, mtf(f), lossDB) >= 1 }
	lo := 0.0
	for f := 120.0; f >= 0.125; f /= 1.05 {
		if seen(f) {
			lo = f
			break
		}
	}
	if lo == 0 || lo == 120 {
		return lo
	}
	hi := math.Min(lo*1.05, 120)
	for hi-lo > 1e-6 {
		if mid := (lo + hi) / 2; seen(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
