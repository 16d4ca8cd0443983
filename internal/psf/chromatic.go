package psf

import "math"

// Thibos returns the refraction of the reduced eye with a chromatic material,
// in D, at a wavelength in nm (300 to 1100):
//
//	R(l) = 1.68524 - 633.46 / (l - 214.102)
//
// Thibos, Ye, Zhang and Bradley, Applied Optics 31 (1992) 3594; constants from
// memory. It is 0 near 590 nm and negative (short-sighted) for shorter waves.
func Thibos(nm float64) float64 { return 1.68524 - 633.46/(nm-214.102) }

// AtchisonSmith returns the refraction of the average eye in D at a wavelength
// in nm (300 to 1100):
//
//	R(l) = 1.60911 - 6.70941e5/l² + 5.55334e10/l⁴ - 5.59998e15/l⁶
//
// Atchison and Smith, J. Opt. Soc. Am. A 22 (2005) 29; constants from memory.
func AtchisonSmith(nm float64) float64 {
	q := 1 / (nm * nm)
	return 1.60911 + q*(-6.70941e5+q*(5.55334e10-q*5.59998e15))
}

// StilesCrawfordRho is how fast the retina's sensitivity falls with the place r
// in mm where light enters the pupil: it is 10^(-rho r²). Applegate and
// Lakshminarayanan, J. Opt. Soc. Am. A 10 (1993) 1611; value from memory.
const StilesCrawfordRho = 0.05

// StilesCrawford returns the sensitivity of the retina as an amplitude, 0 to 1,
// for light entering (x, y) mm from the place of highest sensitivity:
//
//	A = 10^(-rho (x² + y²) / 2)
func StilesCrawford(xMM, yMM float64) float64 {
	return math.Pow(10, -StilesCrawfordRho*(xMM*xMM+yMM*yMM)/2)
}

// Diffracted returns the clear, perfect aperture of the given diameter in mm:
// nothing but diffraction.
func Diffracted(diameterMM float64) Aperture { return Aperture{DiameterMM: diameterMM} }
