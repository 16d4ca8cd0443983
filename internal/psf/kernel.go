package psf

import "math"

// taps is how many neighbouring samples of a transfer function make a value.
const taps = 6

// finer is how much wider than the spread its padded copy is; with 6 taps the
// interpolation is then good to about exp(-pi 6 sqrt(1 - 1/1.5)) = 2e-5.
const finer = 1.5

// beta shapes the Kaiser-Bessel window for these two numbers:
//
//	beta = pi sqrt((taps/finer)² (finer - 1/2)² - 0.8)
//
// Beatty, Nishimura and Pauly, IEEE Trans. Med. Imaging 24 (2005) 799 (from memory).
var beta = math.Pi * math.Sqrt(square(taps/finer)*square(finer-0.5)-0.8)

func square(x float64) float64 { return x * x }

// kaiserBessel is the window I0(beta sqrt(1 - (2 t/taps)²)) / taps at t samples
// from its middle, and 0 from |t| = taps/2 on.
func kaiserBessel(t float64) float64 {
	if math.Abs(t) >= taps/2 {
		return 0
	}
	return besselI0(beta*math.Sqrt(1-square(2*t/taps))) / taps
}

// kaiserBesselFT is the window's transform sinh(z)/z, z = sqrt(beta² - (pi taps x)²),
// at x cycles per sample, |x| <= 1/2.
func kaiserBesselFT(x float64) float64 {
	z := math.Sqrt(beta*beta - square(math.Pi*taps*x))
	return math.Sinh(z) / z
}

// besselI0 is the modified Bessel function of order 0, by its power series.
func besselI0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= square(x / (2 * k))
		sum += term
	}
	return sum
}

// tapWeights returns the first of the six samples about position at and their
// weights.
func tapWeights(at float64) (first int, w [taps]float64) {
	first = int(math.Floor(at)) - taps/2 + 1
	for k := range w {
		w[k] = kaiserBessel(at - float64(first+k))
	}
	return first, w
}
