package raytrace

import (
	"fmt"
	"math"
)

// gradientStepMM is the length of one Runge-Kutta step. The error of a step
// goes with its 5th power; at 0.05 mm a ray through a 4 mm lens and back
// returns within 1e-11 mm (held by a test).
const gradientStepMM = 0.05

// maxGradientSteps stops a ray that never leaves the lens (20 mm of path).
const maxGradientSteps = 400

// gradientState is a ray inside a gradient: t = n d (Sharma, Kumar and Ghatak
// 1982), and the optical path so far.
type gradientState struct {
	p, t Vec
	opl  float64
}

// slope is the change of the state by τ, where ds = n dτ:
//
//	dp/dτ = t,  dt/dτ = n grad n,  dL/dτ = n²
func (g *Gradient) slope(s gradientState) gradientState {
	n, dn := g.index(s.p)
	return gradientState{s.t, dn.Mul(n), n * n}
}

// plus returns s + h k.
func (s gradientState) plus(k gradientState, h float64) gradientState {
	return gradientState{s.p.Add(k.p.Mul(h)), s.t.Add(k.t.Mul(h)), s.opl + h*k.opl}
}

// step advances the state by h in τ with the classical fourth-order rule.
func (g *Gradient) step(s gradientState, h float64) gradientState {
	k1 := g.slope(s)
	k2 := g.slope(s.plus(k1, h/2))
	k3 := g.slope(s.plus(k2, h/2))
	k4 := g.slope(s.plus(k3, h))
	return s.plus(k1, h/6).plus(k2, h/3).plus(k3, h/3).plus(k4, h/6)
}

// cross carries a ray through the gradient to the next surface and returns the
// point, the direction and the optical path (mm). The ray steps until the
// surface is nearer than one step, then closes in on it.
func (g *Gradient) cross(to *Surface, p, d Vec) (Vec, Vec, float64, error) {
	n, _ := g.index(p)
	s := gradientState{p: p, t: d.Mul(n)}
	for range maxGradientSteps {
		left, err := g.distance(to, s)
		if err != nil {
			return Vec{}, Vec{}, 0, err
		}
		if math.Abs(left) < 1e-13 {
			return s.p, s.t.Unit(), s.opl, nil
		}
		n, _ = g.index(s.p)
		s = g.step(s, math.Min(left, gradientStepMM)/n)
	}
	what := fmt.Sprintf("a ray misses the surface: it does not reach it within %g mm of the gradient", maxGradientSteps*gradientStepMM)
	return Vec{}, Vec{}, 0, RayError{Surface: to.Name, What: what, Kind: ErrMiss}
}

// distance returns the straight way (mm) from the state to the surface.
func (g *Gradient) distance(to *Surface, s gradientState) (float64, error) {
	left, _, err := to.meet(to.At.in(s.p), to.At.r.undo(s.t.Unit()))
	return left, err
}
