package studio

import "math"

// Surface is what light meets at one place.
type Surface struct {
	Albedo RGB     // share of light given back in all directions, each 0 to 1
	F0     float64 // share mirrored by a coat at right angles; 0 = no coat, 0.02 water, 0.04 glaze
	Rough  float64 // of the coat, GGX alpha, 0.01 to 1
	Tilt   V3      // added to the normal: fine relief
	Glow   RGB     // luminance of its own, cd/m²
}

// Material says what a body is made of: the same everywhere, or varied by
// place.
type Material struct {
	Surface
	Vary  func(p V3, s *Surface) // nil: the same everywhere
	Plain bool                   // Vary is fine detail: only what the eye sees itself has it
}

func (m *Material) at(p V3, seen bool) Surface {
	s := m.Surface
	if m.Vary != nil && (seen || !m.Plain) {
		m.Vary(p, &s)
	}
	return s
}

// Mirrored returns the share of light that a smooth coat mirrors at cosine c
// between ray and normal (Schlick's approximation):
//
//	F = F0 + (1 - F0) (1 - c)^5
func (s *Surface) Mirrored(c float64) float64 {
	if s.F0 == 0 {
		return 0
	}
	k := 1 - min(max(c, 0), 1)
	k2 := k * k
	return s.F0 + (1-s.F0)*k2*k2*k
}

// ggx is the density of microfacet normals at cosine c:
//
//	D = a^2 / (pi ((a^2 - 1) c^2 + 1)^2)
func ggx(c, a float64) float64 {
	d := (a*a-1)*c*c + 1
	return a * a / (math.Pi * d * d)
}

// shadowing is Smith's factor of one direction divided by twice its cosine:
//
//	G1 / (2 c) = 1 / (c + sqrt(a^2 + (1 - a^2) c^2))
func shadowing(c, a float64) float64 { return 1 / (c + math.Sqrt(a*a+(1-a*a)*c*c)) }

// Reflect returns how much of the light from in is sent to out, times the
// cosine at in: the part of the body per unit of albedo and the part of the
// coat. The three are unit directions, in and out away from the surface.
//
//	body = (1 - F(in)) (1 - F(out)) c_in / pi
//	coat = D G F / (4 c_in c_out) c_in
func (s *Surface) Reflect(n, out, in V3) (body, coat float64) {
	ci, co := n.Dot(in), n.Dot(out)
	if ci <= 0 || co <= 0 {
		return 0, 0
	}
	body = (1 - s.Mirrored(ci)) * (1 - s.Mirrored(co)) * ci / math.Pi
	if s.F0 > 0 {
		h := in.Add(out).Unit()
		coat = ggx(n.Dot(h), s.Rough) * shadowing(ci, s.Rough) * shadowing(co, s.Rough) * s.Mirrored(out.Dot(h)) * ci
	}
	return body, coat
}

// share is the probability of following the coat.
func (s *Surface) share(co float64) float64 {
	if s.F0 == 0 {
		return 0
	}
	f := s.Mirrored(co)
	return min(max(f/(f+(1-f)*s.Albedo.top()+1e-9), 0.1), 0.9)
}

// pdf is the density of pick, per steradian.
func (s *Surface) pdf(n, out, in V3) float64 {
	ci, co := n.Dot(in), n.Dot(out)
	if ci <= 0 || co <= 0 {
		return 0
	}
	q := s.share(co)
	p := (1 - q) * ci / math.Pi
	if q > 0 {
		h := in.Add(out).Unit()
		c := n.Dot(h)
		p += q * ggx(c, s.Rough) * c / (4 * max(out.Dot(h), 1e-9))
	}
	return p
}

// pick returns a direction to follow, from two numbers in 0 to 1 and one that
// chooses between coat and body.
func (s *Surface) pick(n, out V3, u, v, w float64) V3 {
	t, b := basis(n)
	sin, cos := math.Sincos(2 * math.Pi * v)
	if w < s.share(n.Dot(out)) {
		c := math.Sqrt((1 - u) / (1 + (s.Rough*s.Rough-1)*u))
		r := math.Sqrt(max(1-c*c, 0))
		h := t.Mul(r * cos).Add(b.Mul(r * sin)).Add(n.Mul(c))
		return h.Mul(2 * out.Dot(h)).Sub(out)
	}
	r := math.Sqrt(u)
	return t.Mul(r * cos).Add(b.Mul(r * sin)).Add(n.Mul(math.Sqrt(1 - u)))
}
