package studio

import "math"

// Shape is something that light can meet.
type Shape interface {
	// hit returns the nearest meeting in 0 < t < far and the outward normal.
	hit(r ray, far float64) (t float64, n V3, ok bool)
	bounds() box
}

// tiny keeps a ray that leaves a surface from meeting it again, in m.
const tiny = 1e-5

// Quad is a flat parallelogram with a corner At and two sides, seen from both
// sides.
type Quad struct{ At, U, V V3 }

func (q Quad) normal() V3 { return q.U.Cross(q.V).Unit() }

func (q Quad) hit(r ray, far float64) (float64, V3, bool) {
	c := q.U.Cross(q.V)
	den := c.Dot(r.d)
	if den == 0 {
		return 0, V3{}, false
	}
	o := q.At.Sub(r.o)
	t := o.Dot(c) / den
	if t <= tiny || t >= far {
		return 0, V3{}, false
	}
	w := r.d.Mul(t).Sub(o)
	k := 1 / c.Dot(c)
	a, b := w.Cross(q.V).Dot(c)*k, q.U.Cross(w).Dot(c)*k
	if a < 0 || a > 1 || b < 0 || b > 1 {
		return 0, V3{}, false
	}
	return t, c.Mul(math.Sqrt(k)), true
}

func (q Quad) bounds() box {
	return boxOf(q.At, q.At.Add(q.U), q.At.Add(q.V), q.At.Add(q.U).Add(q.V)).grow(1e-4)
}

// area returns the area in m².
func (q Quad) area() float64 { return q.U.Cross(q.V).Len() }

// Block is a rectangular solid around a centre, turned by degrees about the
// upright axis as [V3.RotY] turns; Half are half its sides.
type Block struct {
	Centre, Half V3
	TurnDeg      float64
}

func (b Block) hit(r ray, far float64) (float64, V3, bool) {
	o := r.o.Sub(b.Centre)
	d := r.d
	if b.TurnDeg != 0 {
		o, d = o.RotY(-b.TurnDeg), d.RotY(-b.TurnDeg)
	}
	t0, t1 := -math.MaxFloat64, math.MaxFloat64
	var n0, n1 V3
	slab := func(o, d, h float64, axis V3) bool {
		if d == 0 {
			return math.Abs(o) <= h
		}
		s := math.Copysign(1, d)
		a, z := (-s*h-o)/d, (s*h-o)/d
		if a > t0 {
			t0, n0 = a, axis.Mul(-s)
		}
		if z < t1 {
			t1, n1 = z, axis.Mul(s)
		}
		return t0 <= t1
	}
	if !slab(o.X, d.X, b.Half.X, V3{1, 0, 0}) || !slab(o.Y, d.Y, b.Half.Y, V3{0, 1, 0}) || !slab(o.Z, d.Z, b.Half.Z, V3{0, 0, 1}) {
		return 0, V3{}, false
	}
	t, n := t0, n0
	if t <= tiny {
		t, n = t1, n1
	}
	if t <= tiny || t >= far {
		return 0, V3{}, false
	}
	if b.TurnDeg != 0 {
		n = n.RotY(b.TurnDeg)
	}
	return t, n, true
}

func (b Block) bounds() box {
	h := b.Half
	if b.TurnDeg != 0 {
		s, c := math.Sincos(b.TurnDeg * math.Pi / 180)
		s, c = math.Abs(s), math.Abs(c)
		h = V3{h.X*c + h.Z*s, h.Y, h.Z*c + h.X*s}
	}
	return box{b.Centre.Sub(h), b.Centre.Add(h)}.grow(1e-4)
}

// Ball is a sphere.
type Ball struct {
	Centre V3
	Radius float64
}

func (s Ball) hit(r ray, far float64) (float64, V3, bool) {
	o := r.o.Sub(s.Centre)
	b := o.Dot(r.d)
	q := b*b - o.Dot(o) + s.Radius*s.Radius
	if q < 0 {
		return 0, V3{}, false
	}
	q = math.Sqrt(q)
	t := -b - q
	if t <= tiny {
		t = -b + q
	}
	if t <= tiny || t >= far {
		return 0, V3{}, false
	}
	return t, r.at(t).Sub(s.Centre).Mul(1 / s.Radius), true
}

func (s Ball) bounds() box {
	return box{s.Centre, s.Centre}.grow(s.Radius)
}

// Rod is a round rod from A to B that ends in half spheres.
type Rod struct {
	A, B   V3
	Radius float64
}

func (c Rod) hit(r ray, far float64) (float64, V3, bool) {
	axis, o := c.B.Sub(c.A), r.o.Sub(c.A)
	aa, ad, ao := axis.Dot(axis), axis.Dot(r.d), axis.Dot(o)
	qa := aa - ad*ad
	qb := aa*o.Dot(r.d) - ao*ad
	qc := aa*(o.Dot(o)-c.Radius*c.Radius) - ao*ao
	best, n := far, V3{}
	if h := qb*qb - qa*qc; h >= 0 && qa > 0 {
		h = math.Sqrt(h)
		for _, t := range [2]float64{(-qb - h) / qa, (-qb + h) / qa} {
			if y := ao + t*ad; t > tiny && t < best && y > 0 && y < aa {
				best = t
				n = o.Add(r.d.Mul(t)).Sub(axis.Mul(y / aa)).Mul(1 / c.Radius)
			}
		}
	}
	for _, end := range [2]V3{c.A, c.B} {
		if t, m, ok := (Ball{end, c.Radius}).hit(r, best); ok && c.beyond(r.at(t)) {
			best, n = t, m
		}
	}
	return best, n, best < far
}

// beyond reports that a place lies past one of the ends.
func (c Rod) beyond(p V3) bool {
	axis := c.B.Sub(c.A)
	y := p.Sub(c.A).Dot(axis)
	return y <= 0 || y >= axis.Dot(axis)
}

func (c Rod) bounds() box { return boxOf(c.A, c.B).grow(c.Radius) }
