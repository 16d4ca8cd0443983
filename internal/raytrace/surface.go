package raytrace

import (
	"fmt"
	"math"
)

// Surface is a conic with optional even terms and an optional cylinder. In its
// own axes, with r² = x² + y², c = 1/RadiusMM and q = c_x² x² + c_y² y²:
//
//	c_x = c + CrossCurvature,  c_y = c
//	z = (c_x x² + c_y y²) / (1 + sqrt(1 - (1 + Conic) q)) + Even[0] r⁴ + Even[1] r⁶ + ...
type Surface struct {
	Name string
	At   Frame
	// RadiusMM is the vertex radius, positive with the centre of curvature on
	// the side of the retina; 0 stands for a plane.
	RadiusMM float64
	// Conic is the conic constant Q (0 sphere, -1 paraboloid).
	Conic float64
	// Even holds the factors of r⁴, r⁶, ... in mm^-3, mm^-5, ...
	Even []float64
	// CrossCurvature is added to the curvature along the surface's own x, 1/mm.
	CrossCurvature float64
	// SemiDiameterMM is the distance of the edge from the vertex; 0 = no edge.
	SemiDiameterMM float64
}

// curvature returns 1/radius in 1/mm.
func (s *Surface) curvature() float64 {
	if s.RadiusMM == 0 {
		return 0
	}
	return 1 / s.RadiusMM
}

// meanCurvature returns the mean of the two principal curvatures, 1/mm.
func (s *Surface) meanCurvature() float64 { return s.curvature() + s.CrossCurvature/2 }

// isConic reports whether the closed form of the intersection holds.
func (s *Surface) isConic() bool { return len(s.Even) == 0 && s.CrossCurvature == 0 }

// sag returns z and its slopes at (x, y) in the surface's own axes, and whether
// the surface exists there.
//
//	dz/dx = c_x x / k + (z0 (1+Q) c_x² x) / (k (1+k)) + even terms,  k = sqrt(1 - (1+Q) q)
func (s *Surface) sag(x, y float64) (z, zx, zy float64, ok bool) {
	cy := s.curvature()
	cx := cy + s.CrossCurvature
	u := cx*x*x + cy*y*y
	k2 := 1 - (1+s.Conic)*(cx*cx*x*x+cy*cy*y*y)
	if !(k2 > 0) {
		return 0, 0, 0, false
	}
	k := math.Sqrt(k2)
	z = u / (1 + k)
	g := z * (1 + s.Conic) / (k * (1 + k))
	zx = 2*cx*x/(1+k) + g*cx*cx*x
	zy = 2*cy*y/(1+k) + g*cy*cy*y
	e, slope := s.evenTerms(x*x + y*y)
	return z + e, zx + slope*x, zy + slope*y, true
}

// evenTerms returns sum A_2i r^2i and its slope by r divided by r.
func (s *Surface) evenTerms(r2 float64) (e, slope float64) {
	p := r2
	for i, a := range s.Even {
		slope += float64(2*i+4) * a * p
		p *= r2
		e += a * p
	}
	return e, slope
}

// meet returns how far (mm, along unit d) the ray from p runs to the surface and the
// unit normal there; both in the surface's own axes.
func (s *Surface) meet(p, d Vec) (t float64, normal Vec, err error) {
	if math.Abs(d.Z) < 1e-6 {
		return 0, Vec{}, s.miss(p, "it runs along it")
	}
	t0 := -p.Z / d.Z // to the vertex plane first: keeps the quadratic well scaled
	q := p.Add(d.Mul(t0))
	t, ok := s.conicDistance(q, d)
	if !ok {
		return 0, Vec{}, s.miss(q, "it passes outside the curved part")
	}
	if !s.isConic() {
		if t, ok = s.newton(q, d, t); !ok {
			return 0, Vec{}, s.miss(q, "it does not settle on it")
		}
	}
	h := q.Add(d.Mul(t))
	_, zx, zy, ok := s.sag(h.X, h.Y)
	if !ok {
		return 0, Vec{}, s.miss(h, "the surface does not reach so far")
	}
	if edge := s.SemiDiameterMM; edge > 0 && h.X*h.X+h.Y*h.Y > edge*edge {
		return 0, Vec{}, s.miss(h, fmt.Sprintf("its edge lies at %.3g mm", edge))
	}
	return t0 + t, Vec{-zx, -zy, 1}.Unit(), nil
}

// miss says where the ray would have met the surface, and why it did not.
func (s *Surface) miss(p Vec, why string) error {
	what := fmt.Sprintf("a ray %.3g mm from its vertex misses the surface: %s", math.Hypot(p.X, p.Y), why)
	return RayError{Surface: s.Name, What: what, Kind: ErrMiss}
}

// conicDistance solves a t² + 2 b t + g = 0 for the root next to the vertex,
// q lying in the vertex plane:
//
//	a = c (1 + Q d_z²),  b = c (q·d) - d_z,  g = c q²
func (s *Surface) conicDistance(q, d Vec) (float64, bool) {
	c := s.curvature()
	if c == 0 {
		return 0, true
	}
	a := c * (1 + s.Conic*d.Z*d.Z)
	b := c*(q.X*d.X+q.Y*d.Y) - d.Z
	g := c * (q.X*q.X + q.Y*q.Y)
	disc := b*b - a*g
	if !(disc >= 0) {
		return 0, false
	}
	return g / (-b + math.Copysign(math.Sqrt(disc), d.Z)), true
}

// newton polishes t on surfaces that have no closed form, to 1e-13 mm.
func (s *Surface) newton(q, d Vec, t float64) (float64, bool) {
	for range 30 {
		h := q.Add(d.Mul(t))
		z, zx, zy, ok := s.sag(h.X, h.Y)
		if !ok {
			return 0, false
		}
		step := (h.Z - z) / (d.Z - zx*d.X - zy*d.Y)
		t -= step
		if math.Abs(step) < 1e-13 {
			return t, true
		}
	}
	return t, false
}

// refract bends unit d at the unit normal nrm, from index n to index m
// (Snell's law in vector form):
//
//	μ = n/m,  κ = d·nrm,  d' = μ d + (sign(κ) sqrt(1 - μ² (1 - κ²)) - μ κ) nrm
func refract(d, nrm Vec, n, m float64) (Vec, bool) {
	mu := n / m
	k := d.Dot(nrm)
	rad := 1 - mu*mu*(1-k*k)
	if rad < 0 {
		return Vec{}, false
	}
	return d.Mul(mu).Add(nrm.Mul(math.Copysign(math.Sqrt(rad), k) - mu*k)), true
}
