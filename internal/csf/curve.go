package csf

import "math"

// Sample is one point of a contrast sensitivity curve.
type Sample struct {
	Frequency   float64 // cycles per degree
	Sensitivity float64 // one over the contrast that is just seen, of a patch one octave wide
}

// Place is where on the retina, in which light, and how damaged.
type Place struct {
	EccentricityDeg float64 // degrees from fixation, >= 0
	Trolands        float64 // retinal illuminance, > 0
	LossDB          float64 // field loss, perimetric dB >= 0
}

// Sensitivity returns the contrast sensitivity of one eye at f cycles per
// degree at a place, with the given modulation transfer of its optics at f (0 to
// 1):
//
//	S_eye = MTF × k(f) / T(f, e, td)
func Sensitivity(m Model, f float64, at Place, mtf float64) float64 {
	return mtf * Remaining(f, at.LossDB) / m.Threshold(f, at.EccentricityDeg, at.Trolands)
}

// Curve returns the contrast sensitivity of one eye at the given frequencies;
// mtf gives the modulation transfer of its optics by frequency.
func Curve(m Model, freqs []float64, at Place, mtf func(f float64) float64) []Sample {
	out := make([]Sample, len(freqs))
	for i, f := range freqs {
		out[i] = Sample{f, Sensitivity(m, f, at, mtf(f))}
	}
	return out
}

// CutOff returns the highest frequency, up to 120 cycles per degree, at which
// the eye still sees a grating of full contrast, by bisection on the falling
// side; 0 when it sees none.
func CutOff(m Model, at Place, mtf func(f float64) float64) float64 {
	seen := func(f float64) bool { return Sensitivity(m, f, at, mtf(f)) >= 1 }
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
