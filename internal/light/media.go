package light

import (
	"fmt"
	"math"
)

// Ages that the formula of the eye's media was made from, years: [LensTint] takes no
// others.
const (
	MediaFromYears = 16.0
	MediaToYears   = 90.0
)

// MediaDensity returns the optical density (log10 of the loss) of cornea, lens
// and what lies between, at a wavelength in nm (300 to 700) for an age in years
// and a field below 3 degrees:
//
//	D = (0.446 + 0.000031 A²) (400/λ)⁴
//	  + 14.19 · 10.68 exp(-(0.057 (λ-273))²)
//	  + (0.998 - 0.000063 A²) 2.13 exp(-(0.029 (λ-370))²)
//	  + (0.059 + 0.000186 A²) 11.95 exp(-(0.021 (λ-325))²)
//	  + (0.016 + 0.000132 A²) 1.43 exp(-(0.008 (λ-325))²)
//	  + 0.111
//
// Source: van de Kraats and van Norren 2007; constants from memory.
func MediaDensity(nm, age float64) float64 {
	bell := func(width, at float64) float64 { t := width * (nm - at); return math.Exp(-t * t) }
	a2 := age * age
	return (0.446+0.000031*a2)*math.Pow(400/nm, 4) +
		14.19*10.68*bell(0.057, 273) +
		(0.998-0.000063*a2)*2.13*bell(0.029, 370) +
		(0.059+0.000186*a2)*11.95*bell(0.021, 325) +
		(0.016+0.000132*a2)*1.43*bell(0.008, 325) +
		0.111
}

// LensTint returns what share of the light of each display primary an eye of an
// age in years lets through, of what one of fromAge lets through (both 16 to 90):
//
//	f_c = Σ S_c V 10^(D(λ, fromAge) - D(λ, age)) / Σ S_c V
//
// Below 1 in an older eye, least in blue: a tint, and a loss of light
// 0.2126 f_R + 0.7152 f_G + 0.0722 f_B. An option: people have got used to the
// lens that they have, and few report a tint; it shows beside the other eye, or
// beside an implant.
func LensTint(age, fromAge float64) (f [3]float64, err error) {
	for _, a := range []float64{age, fromAge} {
		if !(a >= MediaFromYears && a <= MediaToYears) {
			return f, fmt.Errorf("lens tint: age is %g years, expected %g to %g (hint: leave the tint out)", a, MediaFromYears, MediaToYears)
		}
	}
	for p := range f {
		for i, v := range luminous(p) {
			nm := float64(firstNM + i)
			f[p] += v * math.Pow(10, MediaDensity(nm, fromAge)-MediaDensity(nm, age))
		}
	}
	return f, nil
}

// Tint multiplies the planes of a picture by f, each 0 to 1.
func (m *Image) Tint(f [3]float64) {
	for p, plane := range m.Planes() {
		for i := range plane {
			plane[i] *= float32(f[p])
		}
	}
}
