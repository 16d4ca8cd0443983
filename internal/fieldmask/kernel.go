package fieldmask

import "math"

// How the learned covariance is continued between and beyond the places of
// 24-2; the numbers were fitted on the fields it was learned from
// (testdata/fields/learn_prior.py).
const (
	liftNasalDeg    = 5.8    // degrees by which each half of the field is lifted off the midline, on the nose's side
	liftTemporalDeg = 3.4    // the same on the temple's side, where it fades towards the midline
	softDeg         = 3.0    // degrees from the midline within which it fades
	mergeDeg        = 6.0    // degrees to the temple of fixation from which the fading is complete
	levelVar        = 1000.0 // dB² of the common level; large, so that weights add up to 1
	slopeVar        = 1.95   // dB² of variance per degree that the places do not determine
)

// lifted is a place of the field with the upper half raised and the lower half
// sunk, so that two places on either side of the nasal midline, where nerve
// fibres do not cross, are far apart.
type lifted [3]float64

// lift raises a place, x to the temple, by
//
//	z = (cn (1 - w) + ct w) ((1 - s) sign(y) + s clamp(y/3°))
//
// s rising from 0 at fixation to 1 at 6 degrees to the temple, w from 0 at 9
// degrees to the nose to 1 at 9 to the temple.
func lift(x, y float64) lifted {
	s, w := smoothStep(x/mergeDeg), smoothStep((x+9)/18)
	half := (1-s)*signOf(y) + s*math.Min(math.Max(y/softDeg, -1), 1)
	return lifted{x, y, (liftNasalDeg*(1-w) + liftTemporalDeg*w) * half}
}

// signOf is -1, 0 or 1.
func signOf(y float64) float64 {
	switch {
	case y > 0:
		return 1
	case y < 0:
		return -1
	}
	return 0
}

// kernel is the covariance by which values are carried from place to place,
// linear in the distance d between the lifted places:
//
//	k(p, q) = level - d
func kernel(p, q *lifted) float64 {
	a, b, c := p[0]-q[0], p[1]-q[1], p[2]-q[2]
	return levelVar - math.Sqrt(a*a+b*b+c*c)
}
