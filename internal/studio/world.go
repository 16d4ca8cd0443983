package studio

import "math"

// Body is a shape made of something.
type Body struct {
	Shape    Shape
	Material *Material
}

// Lamp is a light without a size. It lights what stands around it and is not
// seen itself.
type Lamp struct {
	At      V3
	Candela func(to V3) RGB // luminous intensity into a direction (unit, away from the lamp)
}

// World is all there is: made by [NewWorld] and not changed afterwards.
type World struct {
	bodies []Body
	lamps  []Lamp
	sky    func(V3) RGB
	tree   *tree
	quads  []int // bodies that glow and are sampled
}

// NewWorld returns a world of at least one body. Quads whose material glows are
// sampled as lights; other glowing bodies are found by chance only. The sky is
// what is seen where there is nothing; nil is black.
func NewWorld(bodies []Body, lamps []Lamp, sky func(V3) RGB) *World {
	w := &World{bodies: bodies, lamps: lamps, sky: sky}
	if sky == nil {
		w.sky = func(V3) RGB { return RGB{} }
	}
	ids := make([]int, len(bodies))
	for i, b := range bodies {
		ids[i] = i
		if _, flat := b.Shape.(Quad); flat && b.Material.Glow.top() > 0 {
			w.quads = append(w.quads, i)
		}
	}
	w.tree = newTree(bodies, ids)
	return w
}

// meeting is where a ray meets a body.
type meeting struct {
	body int
	t    float64
	p    V3
	flat V3 // normal of the shape, towards the ray
	n    V3 // with the relief of the surface
	s    Surface
}

// meet returns the first meeting of a ray; seen is true for a ray from the eye.
func (w *World) meet(r ray, seen bool) (m meeting, ok bool) {
	m.body, m.t, m.flat = w.tree.nearest(w.bodies, r, math.MaxFloat64, false)
	if m.body < 0 {
		return m, false
	}
	m.p = r.at(m.t)
	if m.flat.Dot(r.d) > 0 {
		m.flat = m.flat.Mul(-1)
	}
	if _, field := w.bodies[m.body].Shape.(Field); field {
		m.p = m.p.Add(m.flat.Mul(4 * tiny)) // a field's surface is only found to within tiny
	}
	m.s = w.bodies[m.body].Material.at(m.p, seen)
	m.n = m.flat
	if m.s.Tilt != (V3{}) {
		if n := m.flat.Add(m.s.Tilt).Unit(); n.Dot(r.d) < -0.02 {
			m.n = n
		}
	}
	return m, true
}

// open reports that nothing stands between p and q.
func (w *World) open(p, q V3) bool {
	d := q.Sub(p)
	far := d.Len()
	i, _, _ := w.tree.nearest(w.bodies, ray{p, d.Mul(1 / far)}, far*(1-1e-6)-tiny, true)
	return i < 0
}

// power is the weight of the first of two ways to sample (Veach1997):
//
//	w = a^2 / (a^2 + b^2)
func power(a, b float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	return a * a / (a*a + b*b)
}

// lightPDF is the density, per steradian, with which direct sampling would have
// chosen the meeting that a ray found; 0 for what it never chooses.
func (w *World) lightPDF(r ray, m *meeting) float64 {
	q, ok := w.bodies[m.body].Shape.(Quad)
	if !ok || w.bodies[m.body].Material.Glow.top() <= 0 {
		return 0
	}
	c := math.Abs(q.normal().Dot(r.d))
	if c == 0 {
		return 0
	}
	return m.t * m.t / (c * q.area())
}

// direct returns the light that reaches the meeting straight from lamps and
// sampled quads and is sent to out: by the body per unit of albedo, and by the
// coat. What the eye sees itself is lit by every lamp, what lies behind a bounce
// by one of them, for all.
func (w *World) direct(m *meeting, out V3, s *sampler, seen bool) (body, coat RGB) {
	if n := len(w.lamps); seen || n == 1 {
		for i := range w.lamps {
			b, c := w.fromLamp(i, m, out)
			body, coat = body.Add(b), coat.Add(c)
		}
	} else if n > 1 {
		b, c := w.fromLamp(int(s.one()*float64(n)), m, out)
		body, coat = b.Mul(float64(n)), c.Mul(float64(n))
	}
	for _, i := range w.quads {
		b, c := w.fromQuad(i, m, out, s)
		body, coat = body.Add(b), coat.Add(c)
	}
	return body, coat
}

func (w *World) fromLamp(i int, m *meeting, out V3) (body, coat RGB) {
	l := &w.lamps[i]
	d := l.At.Sub(m.p)
	r := d.Len()
	d = d.Mul(1 / r)
	kb, kc := m.s.Reflect(m.n, out, d)
	if kb+kc <= 0 || m.flat.Dot(d) <= 0 {
		return body, coat
	}
	e := l.Candela(d.Mul(-1)).Mul(1 / (r * r))
	if e.top() <= 0 || !w.open(m.p, l.At) {
		return body, coat
	}
	return e.Mul(kb), e.Mul(kc)
}

func (w *World) fromQuad(i int, m *meeting, out V3, s *sampler) (body, coat RGB) {
	q := w.bodies[i].Shape.(Quad)
	u, v := s.pair()
	at := q.At.Add(q.U.Mul(u)).Add(q.V.Mul(v))
	d := at.Sub(m.p)
	r := d.Len()
	if i == m.body || r < tiny {
		return body, coat
	}
	d = d.Mul(1 / r)
	c := math.Abs(q.normal().Dot(d))
	kb, kc := m.s.Reflect(m.n, out, d)
	if c == 0 || kb+kc <= 0 || m.flat.Dot(d) <= 0 || !w.open(m.p, at) {
		return body, coat
	}
	pdf := r * r / (c * q.area())
	surf := w.bodies[i].Material.at(at, false)
	e := surf.Glow.Mul(power(pdf, m.s.pdf(m.n, out, d)) / pdf)
	return e.Mul(kb), e.Mul(kc)
}
