package psf

import (
	"math"
	"sync"
)

// The ring, as shares of the support's half width, to which the tail is fitted.
const ringIn, ringOut = 0.8, 1.0

// Tail returns the density of the light per steradian at an angle in degrees
// from straight ahead, all round the same, as the support's outermost ring
// foretells it for beyond the support:
//
//	P(theta) = C / theta³
//
// which is how light diffracted at the rim of a pupil falls off. C is the light
// in the ring over 2 pi (1/a - 1/b), a and b the ring's radii, less the
// tails of the spread's repetitions that a transform folds into it.
func (p *PSF) Tail(thetaDeg float64) float64 {
	p.tailOnce.Do(p.fitTail)
	theta := thetaDeg * degree
	return p.tailC / (theta * theta * theta)
}

func (p *PSF) fitTail() {
	half := float64(p.N) / 2
	ring := 0.0
	for j := range p.N {
		y := float64(p.N/2 - j)
		for i := range p.N {
			x := float64(i - p.N/2)
			if r := math.Hypot(x, y); r >= ringIn*half && r < ringOut*half {
				ring += float64(p.Pix[j*p.N+i])
			}
		}
	}
	a, b := ringIn*half*p.StepDeg*degree, ringOut*half*p.StepDeg*degree
	p.tailC = ring / (2 * math.Pi * (1/a - 1/b)) / folding()
}

// folding returns how many times more light the ring holds than the tail put
// there itself: a sampled pupil repeats its spread every two half widths,
// and cells of the rim dim it by sinc² each way. With half width 1:
//
//	sum over ring of sum over m of sinc²(v_x/2) sinc²(v_y/2) / |v|³, v = u - 2 m
//
// over the sum of 1/|u|³.
var folding = sync.OnceValue(func() float64 {
	const radii, turns = 8, 64
	with, without := 0.0, 0.0
	for k := range radii {
		r := ringIn + (ringOut-ringIn)*(float64(k)+0.5)/radii
		for t := range turns {
			s, c := math.Sincos(2 * math.Pi * (float64(t) + 0.5) / turns)
			with += r * folded(r*c, r*s)
			without += r / (r * r * r)
		}
	}
	return with / without
})

// folded sums the tail at (x, y) over the nearest repetitions; those further
// off than six add less than 1e-4 of it.
func folded(x, y float64) float64 {
	const far = 6
	sum := 0.0
	for m := -far; m <= far; m++ {
		for n := -far; n <= far; n++ {
			vx, vy := x-2*float64(m), y-2*float64(n)
			d := math.Hypot(vx, vy)
			s := sinc(vx/2) * sinc(vy/2)
			sum += s * s / (d * d * d)
		}
	}
	return sum
}

// sinc is sin(pi x) / (pi x).
func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}
