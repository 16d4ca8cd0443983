package unit

import "math"

// Figures rounds v to three significant figures, for numbers that are read: written
// with %g it has no power of ten between 0.0001 and 1e21.
func Figures(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	p := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*p) / p
}
