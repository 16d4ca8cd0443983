package light

import "math"

// CIEGeneral returns the CIE general disability glare function, veil luminance
// per illuminance at the eye, 1/sr, for 0.1 < thetaDeg < 100 degrees, age in
// years and eye pigment factor p (0 very dark, 0.5 brown, 1 green, 1.2 light
// blue):
//
//	K = 10/θ³ + (5/θ² + 0.1 p/θ) (1 + (A/62.5)⁴) + 0.0025 p
//
// Source: CIE 146:2002.
func CIEGeneral(thetaDeg, age, p float64) float64 {
	t := thetaDeg
	return 10/(t*t*t) + (5/(t*t)+0.1*p/t)*AgeScale(age) + 0.0025*p
}

// AgeScale returns the factor on the terms of [CIEGeneral] that grow with age
// (years), 1 for a newborn:
//
//	1 + (A/62.5)⁴
func AgeScale(age float64) float64 { return 1 + math.Pow(age/62.5, 4) }

// CIETotal returns the CIE total glare function of a whole normal eye, 1/sr,
// for 0 <= thetaDeg < 100 degrees, un-normalised (its hemisphere integral is
// 1.00 to 1.20). Its core holds the average aberrations: never add it to the
// PSF of a measured eye. With a = (A/70)⁴ and t = θ/0.1°:
//
//	K = (1 - 0.08 a) (9.2e6/(1+(θ/0.0046)²)^1.5 + 1.5e5/(1+(θ/0.045)²)^1.5)
//	  + (1 + 1.6 a) (400/(1+t²) + 3e-8 θ² + p (1300/(1+t²)^1.5 + 0.8/(1+t²)^0.5))
//	  + 0.0025 p
//
// Source: CIE 135/1-1999 (Vos and van den Berg).
func CIETotal(thetaDeg, age, p float64) float64 {
	a := math.Pow(age/70, 4)
	t2 := thetaDeg * thetaDeg
	lobe := func(c float64) float64 { return math.Pow(1+t2/(c*c), -1.5) }
	t := 1 + t2/(0.1*0.1)
	core := (1 - 0.08*a) * (9.2e6*lobe(0.0046) + 1.5e5*lobe(0.045))
	skirt := 400/t + 3e-8*t2 + p*(1300/(t*math.Sqrt(t))+0.8/math.Sqrt(t))
	return core + (1+1.6*a)*skirt + 0.0025*p
}
