package csf

import "math"

// PerEccentricity is k in exp(k f e), the rise of the contrast threshold away
// from the fovea, per cycle: Peli, Yang and Goldstein 1991 (JOSA A 8:1762),
// detection, 1 to 16 cycles per degree, out to 23 degrees.
const PerEccentricity = 0.036

// octaveSigma is σ f of a Gabor patch whose spectrum is one octave wide at half
// height:
//
//	σ f = √(2 ln 2) / (2π) × (2^1 + 1) / (2^1 - 1)
var octaveSigma = math.Sqrt(2*math.Ln2) / (2 * math.Pi) * 3

// The share of a loss by spatial frequency, an assumption of simview, named:
// large things survive better than fine ones.
const (
	lossFullFrom = 0.75  // cycles per degree from which a loss counts whole
	lossHalfAt   = 0.125 // cycles per degree at and below which half of it counts
)

// LossShare returns s(f), the share of a field loss (in dB) that counts at f
// cycles per degree: 1 from 0.75 up, 0.5 from 0.125 down, and between them
//
//	s(f) = 0.5 + 0.5 log(f/0.125) / log(0.75/0.125)
func LossShare(f float64) float64 {
	if f >= lossFullFrom {
		return 1
	}
	if f <= lossHalfAt {
		return 0.5
	}
	return 0.5 + 0.5*math.Log(f/lossHalfAt)/math.Log(lossFullFrom/lossHalfAt)
}

// Remaining returns k, the factor that a field loss of lossDB >= 0 perimetric
// dB leaves of contrast sensitivity at f cycles per degree:
//
//	k(f) = 10^(-s(f) loss / 10)
//
// That perimetric dB act on contrast one to one is an assumption of simview.
func Remaining(f, lossDB float64) float64 {
	return math.Pow(10, -LossShare(f)*lossDB/10)
}
