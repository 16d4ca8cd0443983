package light

import "math"

// Line is one wavelength of a sampled spectrum.
type Line struct {
	NM     float64 // wavelength, nm
	Weight float64 // share of the luminance; the weights of a spectrum sum to 1
}

// DefaultLines is the number of wavelengths used when nothing else is asked.
const DefaultLines = 7

// primaries are the Gaussian spectra (peak and standard deviation, nm) that lie
// nearest to the sRGB primaries' chromaticities.
var primaries = [3]struct{ mu, sigma float64 }{{632, 28}, {539, 34}, {458, 24}}

// Wavelengths the spectra are integrated over, nm, in steps of 1 nm.
const (
	firstNM = 380
	lastNM  = 780
)

// V returns the photopic luminous efficiency at a wavelength in nm by the fit
// of ȳ of Wyman, Sloan and Shirley (JCGT 2013, 2(2):1), two-sided Gaussians:
//
//	g(λ; α, μ, k₁, k₂) = α exp(-½ ((λ-μ) k)²), k = k₁ below μ, k₂ above
//	V = g(0.821, 568.8, 0.0213, 0.0247) + g(0.286, 530.9, 0.0613, 0.0322)
func V(nm float64) float64 {
	return lobe(nm, 0.821, 568.8, 0.0213, 0.0247) + lobe(nm, 0.286, 530.9, 0.0613, 0.0322)
}

// XYZ returns the CIE 1931 2° colour matching functions at a wavelength in nm
// by the same fit as [V].
func XYZ(nm float64) (x, y, z float64) {
	x = lobe(nm, 0.362, 442.0, 0.0624, 0.0374) + lobe(nm, 1.056, 599.8, 0.0264, 0.0323) +
		lobe(nm, -0.065, 501.1, 0.0490, 0.0382)
	z = lobe(nm, 1.217, 437.0, 0.0845, 0.0278) + lobe(nm, 0.681, 459.0, 0.0385, 0.0725)
	return x, V(nm), z
}

func lobe(nm, alpha, mu, below, above float64) float64 {
	k := above
	if nm < mu {
		k = below
	}
	t := (nm - mu) * k
	return alpha * math.Exp(-t*t/2)
}

// PrimarySpectrum returns the radiant spectrum of a display primary (0 red,
// 1 green, 2 blue) at a wavelength in nm, peak 1. Another index panics.
func PrimarySpectrum(primary int, nm float64) float64 {
	t := (nm - primaries[primary].mu) / primaries[primary].sigma
	return math.Exp(-t * t / 2)
}

// Primary returns n wavelengths of a display primary weighted by luminous
// efficiency, rising in wavelength; n below 1 panics.
func Primary(primary, n int) []Line {
	return sample(luminous(primary), n)
}

// Primaries returns [Primary] of red, green and blue: the light of a PSF for each
// primary, for pictures that show the eye's own colour fringes.
func Primaries(n int) [3][]Line { return [3][]Line{Primary(0, n), Primary(1, n), Primary(2, n)} }

// White returns n wavelengths of the display's white weighted by luminous
// efficiency: the three primaries by their share of white's luminance. It is
// the spectrum of the PSF that all primaries share; n below 1 panics.
func White(n int) []Line {
	sum := make([]float64, lastNM-firstNM+1)
	for p, w := range [3]float64{WeightR, WeightG, WeightB} {
		for i, v := range luminous(p) {
			sum[i] += w * v
		}
	}
	return sample(sum, n)
}

// luminous returns spectrum x V of a primary at every nm, sum 1.
func luminous(primary int) []float64 {
	s := make([]float64, lastNM-firstNM+1)
	var sum float64
	for i := range s {
		nm := float64(firstNM + i)
		s[i] = PrimarySpectrum(primary, nm) * V(nm)
		sum += s[i]
	}
	for i := range s {
		s[i] /= sum
	}
	return s
}

// tail is the share of the luminance on either side that gets no wavelength of
// its own and joins the outermost one.
const tail = 0.002

// sample cuts the part of a spectrum between its tails into n bands of equal
// width; each gives its luminance and its centre of gravity.
func sample(s []float64, n int) []Line {
	if n < 1 {
		panic("light: spectrum: needs at least one wavelength")
	}
	lo, hi := quantile(s, tail), quantile(s, 1-tail)
	lines := make([]Line, n)
	for i, v := range s {
		b := int(float64(n) * (float64(i) + 0.5 - lo) / (hi - lo))
		b = max(0, min(n-1, b))
		lines[b].Weight += v
		lines[b].NM += v * float64(firstNM+i)
	}
	for b := range lines {
		lines[b].NM /= lines[b].Weight
	}
	return lines
}

// quantile returns the (fractional) index below which the share q of s lies.
func quantile(s []float64, q float64) float64 {
	var sum float64
	for i, v := range s {
		if sum+v >= q {
			return float64(i) + (q-sum)/v
		}
		sum += v
	}
	return float64(len(s))
}
