package light

import "math"

// Start of the straylight terms, degrees: chosen so that the kernel beside a
// wavefront neither counts twice near the lamp nor leaves a hole.
const (
	startAgedDeg  = 0.1
	startFixedDeg = 0.2
)

// horizonDeg ends the kernel: light from behind does not reach the eye.
const horizonDeg = 90.0

// kernel is the glare function of one pigment factor, in its two parts.
type kernel struct{ p float64 }

func newKernel(pigment float64) kernel { return kernel{pigment} }

// fixed returns the terms that do not grow with age, 1/sr.
func (k kernel) fixed(thetaDeg float64) float64 {
	if thetaDeg > horizonDeg {
		return 0
	}
	const a4 = startFixedDeg * startFixedDeg * startFixedDeg * startFixedDeg
	t2 := thetaDeg * thetaDeg
	return 10*thetaDeg/(t2*t2+a4) + 0.0025*k.p
}

// aged returns the terms that grow with age, at scale 1, 1/sr.
func (k kernel) aged(thetaDeg float64) float64 {
	if thetaDeg > horizonDeg {
		return 0
	}
	d2 := thetaDeg*thetaDeg + startAgedDeg*startAgedDeg
	return 5/d2 + 0.1*k.p/math.Sqrt(d2)
}

// unitShares returns the hemisphere integrals of the fixed and the aged terms.
func unitShares(pigment float64) (fixed, aged float64) {
	k := newKernel(pigment)
	return hemisphere(k.fixed), hemisphere(k.aged)
}

// hemisphere integrates a round function of theta in degrees over solid angle:
//
//	∫ f(θ) 2π sin θ dθ, 0 to 90 degrees
//
// Midpoint rule in u with θ = 90 u³, which crowds the points where f is steep.
func hemisphere(f func(float64) float64) float64 {
	const n = 2000
	var sum float64
	for i := range n {
		u := (float64(i) + 0.5) / n
		theta := horizonDeg * u * u * u
		sum += f(theta) * math.Sin(theta*math.Pi/180) * 3 * u * u
	}
	return sum / n * horizonDeg * math.Pi / 180 * 2 * math.Pi
}
