package quality

import (
	"math"

	"simview/internal/refraction"
	"simview/internal/unit"
)

const (
	stepD   = 0.25 // trial lenses come in quarter dioptres (trade practice)
	rangeD  = 1.0  // searched either side of the RMS start, in each component
	maxTurn = 12   // rounds of the descent; each gains at least one step
)

// Refract finds the error e, in steps of 0.25 D of sphere and of cylinder
// (power vector steps of 0.25 and 0.125 D), that added to the sampled wavefront
// gives the highest visual Strehl ratio, and that ratio. It first walks the
// sphere through +-1 D about the start, then descends coordinate by coordinate
// without leaving +-1 D of the start.
func (p *Pupil) Refract(start refraction.PowerVector) (refraction.PowerVector, float64) {
	best := snap(start)
	score := p.VisualStrehl(best)
	middle := best
	try := func(e refraction.PowerVector) bool {
		if far(e.Sub(middle)) {
			return false
		}
		v := p.VisualStrehl(e)
		if v <= score {
			return false
		}
		best, score = e, v
		return true
	}
	for d := -rangeD; d <= rangeD; d += stepD {
		e := middle
		e.M += unit.Dioptres(d)
		try(e)
	}
	for range maxTurn {
		if !p.improve(&best, try) {
			break
		}
	}
	return best, score
}

func (p *Pupil) improve(best *refraction.PowerVector, try func(refraction.PowerVector) bool) bool {
	moved := false
	for _, d := range [...]refraction.PowerVector{{M: stepD}, {M: -stepD}, {J0: stepD / 2}, {J0: -stepD / 2}, {J45: stepD / 2}, {J45: -stepD / 2}} {
		e := *best
		e.M, e.J0, e.J45 = e.M+d.M, e.J0+d.J0, e.J45+d.J45
		moved = try(e) || moved
	}
	return moved
}

// far reports whether a change leaves the searched range.
func far(d refraction.PowerVector) bool {
	return max(math.Abs(float64(d.M)), math.Abs(float64(d.J0)), math.Abs(float64(d.J45))) > rangeD
}

func snap(e refraction.PowerVector) refraction.PowerVector {
	return refraction.PowerVector{M: nearest(e.M, stepD), J0: nearest(e.J0, stepD/2), J45: nearest(e.J45, stepD/2)}
}

func nearest(v unit.Dioptres, step float64) unit.Dioptres {
	n := float64(v) / step
	if n < 0 {
		return unit.Dioptres(float64(int(n-0.5)) * step)
	}
	return unit.Dioptres(float64(int(n+0.5)) * step)
}

// FlatStart returns the error that flattens the sampled wavefront best in the
// RMS sense,
//
//	minimise sum (W(x, y) + W_e(x, y) - w0)²
//
// a start for Refract.
func (p *Pupil) FlatStart() refraction.PowerVector {
	units := [...]refraction.PowerVector{{M: 1}, {J0: 1}, {J45: 1}}
	var e refraction.PowerVector
	coef := [3]float64{}
	for k, u := range units {
		coef[k] = p.projection(u)
	}
	e.M, e.J0, e.J45 = unit.Dioptres(-coef[0]), unit.Dioptres(-coef[1]), unit.Dioptres(-coef[2])
	return e
}

// projection is <W, u - mean u> / <u - mean u, u - mean u> over the pupil.
func (p *Pupil) projection(u refraction.PowerVector) float64 {
	n := float64(len(p.x))
	var mean float64
	for i := range p.x {
		mean += u.PathUM(p.x[i], p.y[i]) / n
	}
	var dot, norm float64
	for i := range p.x {
		b := u.PathUM(p.x[i], p.y[i]) - mean
		dot += b * p.pathUM[i]
		norm += b * b
	}
	return dot / norm
}
