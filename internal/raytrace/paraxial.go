package raytrace

import (
	"fmt"
	"math"
)

// Paraxial holds the first-order properties of a centred system. Lengths are
// in mm from the vertex of the cornea, powers in dioptres.
type Paraxial struct {
	PowerD                  float64 // equivalent power n'/f'
	FocusZ                  float64 // second focal point
	PrincipalZ              float64 // second principal point
	EntrancePupilZ          float64 // image of the stop seen through the cornea
	EntrancePupilPerStop    float64 // width of the entrance pupil over that of the stop
	RefractionAtCornealVtxD float64 // vergence at the cornea that the retina asks for; myopia < 0
}

// thin is a paraxial ray: height y (mm) and v = n dy/dz.
type thin struct{ y, v float64 }

// bend passes a surface of curvature c between the indices n and m.
//
//	v' = v - (m - n) c y
func (r thin) bend(c, n, m float64) thin { return thin{r.y, r.v - (m-n)*c*r.y} }

// gradientSlices is the number of Runge-Kutta steps per paraxial gradient.
const gradientSlices = 200

// move carries the paraxial ray from plane z0 to plane z1. In a gradient
//
//	dy/dz = v / n0(z),  dv/dz = 2 B y,  n0 = N0 + A1 z + A2 z²
func (m *Medium) move(r thin, z0, z1 float64) thin {
	if m.Grad == nil {
		return thin{r.y + r.v*(z1-z0)/m.N, r.v}
	}
	g := m.Grad
	h := (z1 - z0) / gradientSlices
	f := func(z float64, r thin) thin {
		q := z - g.At.O.Z
		return thin{r.v / (g.N0 + g.A1*q + g.A2*q*q), 2 * g.B * r.y}
	}
	at := func(k thin, s float64) thin { return thin{r.y + s*k.y, r.v + s*k.v} }
	for i := range gradientSlices {
		z := z0 + float64(i)*h
		k1 := f(z, r)
		k2 := f(z+h/2, at(k1, h/2))
		k3 := f(z+h/2, at(k2, h/2))
		k4 := f(z+h, at(k3, h))
		r = thin{r.y + h/6*(k1.y+2*k2.y+2*k3.y+k4.y), r.v + h/6*(k1.v+2*k2.v+2*k3.v+k4.v)}
	}
	return r
}

// thinIn carries a paraxial ray from the first vertex through n surfaces.
func (s *System) thinIn(r thin, n int) thin {
	for i := range n {
		f := &s.Surfaces[i]
		if i > 0 {
			r = s.Media[i].move(r, s.Surfaces[i-1].At.O.Z, f.At.O.Z)
		}
		r = r.bend(f.meanCurvature(), s.Media[i].indexAt(f.At.O), s.Media[i+1].indexAt(f.At.O))
	}
	return r
}

// Paraxial returns the first-order properties, taking every element as centred
// and straight, and toric surfaces by the mean of their curvatures.
//
//	F = -v',  z_F' = z_last - n' y'/v',  z_H' = z_F' - n'/F,  EP = b/a,  Rx = y_retina(1, 0) / y_retina(0, 1)
//
// where (y', v') is the ray that entered with y = 1, v = 0, and the height in
// the stop of a ray (y, v) at the first vertex is a y + b v.
func (s *System) Paraxial() (Paraxial, error) {
	p, err := s.cardinal()
	if err != nil {
		return Paraxial{}, err
	}
	n := len(s.Surfaces)
	zLast := s.Surfaces[n-1].At.O.Z
	atRetina := func(r thin) float64 { return s.last().move(s.thinIn(r, n), zLast, s.RetinaZ).y }
	p.RefractionAtCornealVtxD = 1000 * atRetina(thin{1, 0}) / atRetina(thin{0, 1})
	if math.IsNaN(p.RefractionAtCornealVtxD) || math.IsInf(p.RefractionAtCornealVtxD, 0) || s.RetinaZ <= zLast {
		return Paraxial{}, fmt.Errorf("%s: no vergence at the cornea reaches a retina at %g mm; check the length of the eye", s.Name, s.RetinaZ)
	}
	return p, nil
}

// cardinal returns what does not depend on where the retina lies.
func (s *System) cardinal() (Paraxial, error) {
	n, end := len(s.Surfaces), s.last().N
	zLast := s.Surfaces[n-1].At.O.Z
	flat := s.thinIn(thin{1, 0}, n)
	if flat.v == 0 {
		return Paraxial{}, fmt.Errorf("%s: the surfaces add up to no power, so there is no focus; check radii and indices", s.Name)
	}
	var p Paraxial
	p.PowerD = -1000 * flat.v
	p.FocusZ = zLast - end*flat.y/flat.v
	p.PrincipalZ = p.FocusZ + end/flat.v
	p.EntrancePupilZ, p.EntrancePupilPerStop = s.entrancePupil()
	return p, nil
}

// entrancePupil returns the place of the entrance pupil and its width over that
// of the stop.
func (s *System) entrancePupil() (z, perStop float64) {
	z0 := s.Surfaces[0].At.O.Z
	if s.StopAfter == 0 {
		return s.StopZ, 1
	}
	stop := func(r thin) float64 {
		r = s.thinIn(r, s.StopAfter)
		return s.Media[s.StopAfter].move(r, s.Surfaces[s.StopAfter-1].At.O.Z, s.StopZ).y
	}
	a, b := stop(thin{1, 0}), stop(thin{0, 1})
	return z0 + b/a, 1 / a
}

// LongitudinalSA returns n'/(z - z_H') - F in dioptres, where z is where a ray
// that enters parallel to the axis at height hMM crosses it: positive where
// outer rays focus in front.
func (s *System) LongitudinalSA(hMM float64) (float64, error) {
	if !(hMM > 0) {
		return 0, fmt.Errorf("%s: ray height must be above 0 mm (got %g)", s.Name, hMM)
	}
	p, err := s.cardinal()
	if err != nil {
		return 0, err
	}
	r, err := s.TraceIn(Ray{P: Vec{0, hMM, -startMM}, D: Vec{0, 0, 1}})
	if err != nil {
		return 0, err
	}
	z := r.P.Z - r.P.Y*r.D.Z/r.D.Y
	return 1000*s.last().N/(z-p.PrincipalZ) - p.PowerD, nil
}

// startMM is how far in front of the cornea entering rays start.
const startMM = 5
