package studio

// sample is what one path brings to a pixel.
type sample struct {
	glow   RGB // seen of a source itself, or the sky
	body   RGB // light at the first surface, per unit of its albedo
	coat   RGB // mirrored by its coat
	albedo RGB
	n      V3
	depth  float64 // m; 0 for the sky
}

// Numbers of a path. Ending by chance is weighted, so it costs noise, not light.
const (
	surePath = 3  // bounces before a path may end by chance
	longest  = 64 // bounces after which it ends; at an albedo of 0.8 it leaves 1e-6 of the light
)

// path follows one ray from the eye.
func (w *World) path(r ray, s *sampler) (o sample) {
	m, ok := w.meet(r, true)
	if !ok {
		o.glow = w.sky(r.d)
		return o
	}
	o.glow, o.albedo, o.n, o.depth = m.s.Glow, m.s.Albedo, m.n, m.t
	out := r.d.Mul(-1)
	o.body, o.coat = w.direct(&m, out, s, true)
	next, pdf, ok := m.bounce(out, s)
	if !ok {
		return o
	}
	b, c := m.s.Reflect(m.n, out, next.d)
	in := w.incoming(next, pdf, s)
	o.body = o.body.Add(in.Mul(b / pdf))
	o.coat = o.coat.Add(in.Mul(c / pdf))
	return o
}

// bounce picks where the path goes on and with which density, per steradian.
func (m *meeting) bounce(out V3, s *sampler) (next ray, pdf float64, ok bool) {
	u, v := s.pair()
	d := m.s.pick(m.n, out, u, v, s.one())
	pdf = m.s.pdf(m.n, out, d)
	return ray{m.p, d}, pdf, pdf > 0 && m.flat.Dot(d) > 0
}

// incoming returns the light along a ray that was picked with a density.
func (w *World) incoming(r ray, pdf float64, s *sampler) RGB {
	sum, through := RGB{}, Grey(1)
	for depth := 1; depth < longest; depth++ {
		m, ok := w.meet(r, false)
		if !ok {
			return sum.Add(through.Times(w.sky(r.d)))
		}
		if m.s.Glow.top() > 0 {
			sum = sum.Add(through.Times(m.s.Glow).Mul(power(pdf, w.lightPDF(r, &m))))
		}
		out := r.d.Mul(-1)
		b, c := w.direct(&m, out, s, false)
		sum = sum.Add(through.Times(b.Times(m.s.Albedo).Add(c)))
		next, p, ok := m.bounce(out, s)
		if !ok {
			return sum
		}
		kb, kc := m.s.Reflect(m.n, out, next.d)
		through = through.Times(m.s.Albedo.Mul(kb).Add(Grey(kc)).Mul(1 / p))
		if depth >= surePath {
			q := min(through.top(), 0.95)
			if s.one() >= q {
				return sum
			}
			through = through.Mul(1 / q)
		}
		r, pdf = next, p
	}
	return sum
}
