package quality

import (
	"math"

	"simview/internal/csf"
	"simview/internal/unit"
)

// AreaMTF returns how much of the area between the modulation transfer and the
// nerve's threshold the eye has of that of the ideal eye (Thibos2004), both from 0 to
// where the transfer falls below the threshold,
//
//	AreaMTF = ∫ max(0, MTF - T) df / ∫ max(0, MTF_DL - T) df
//
// mtf is the eye's mean over directions, scatter included; the ideal eye has the
// same pupil at 555 nm.
func AreaMTF(mtf func(f float64) float64, pupilMM float64, m csf.Model, at csf.Place) float64 {
	threshold := func(f float64) float64 { return m.Threshold(f, at.EccentricityDeg, at.Trolands) }
	cutOff := pupilMM * 1e6 / designNM * unit.Degrees(1).Radians()
	ideal := func(f float64) float64 { return csf.DiffractionMTF(f / cutOff) }
	top := math.Min(cutOff, 120)
	return areaAbove(mtf, threshold, top) / areaAbove(ideal, threshold, top)
}

// areaAbove is ∫ max(0, mtf - threshold) df from the lowest frequency at which both
// are defined, to top, by the rule of the midpoint.
func areaAbove(mtf, threshold func(f float64) float64, top float64) (sum float64) {
	const step = 0.25 // c/deg
	for f := step / 2; f < top; f += step {
		sum += step * max(0, mtf(f)-threshold(f))
	}
	return sum
}

// Range of frequencies of the area under the log of contrast sensitivity, cycles
// per degree, as on usual charts (common practice).
const (
	AreaFrom = 1.5
	AreaTo   = 18
)

// AreaLogCSF returns the area under the log of contrast sensitivity over the log of
// frequency from [AreaFrom] to [AreaTo],
//
//	∫ max(0, log10 S) dlog10 f
//
// in log units squared; mtf is the transfer of the eye's optics, scatter included.
func AreaLogCSF(m csf.Model, at csf.Place, mtf func(f float64) float64) (sum float64) {
	const steps = 60
	width := math.Log10(AreaTo / AreaFrom)
	for k := range steps {
		f := AreaFrom * math.Pow(10, width*(float64(k)+0.5)/steps)
		if s := csf.Sensitivity(m, f, at, mtf(f)); s > 1 {
			sum += math.Log10(s) * width / steps
		}
	}
	return sum
}
