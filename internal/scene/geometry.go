package scene

import "math"

// pt is a point: local units, metres on a plane, or degrees, by context.
type pt struct{ x, y float64 }

// frame maps a shape's own coordinates into degrees: scaled and moved first,
// then, when there is a plane, set up in the world and seen from the eye.
type frame struct {
	sx, sy, dx, dy float64
	plane          *plane
	dim            float64
}

var worldFrame = frame{sx: 1, sy: 1, dim: 1}

// placed returns the frame of something placed inside this one.
func (f frame) placed(p placing, at xy) frame {
	s := p.Scale
	if s == (xy{}) {
		s = xy{1, 1}
	}
	f.dx, f.dy = f.dx+f.sx*at[0], f.dy+f.sy*at[1]
	f.sx, f.sy = f.sx*s[0], f.sy*s[1]
	if p.Dim != 0 {
		f.dim *= p.Dim
	}
	if p.Plane != nil {
		f.plane = p.Plane
	}
	return f
}

// local applies only the scaling and moving.
func (f frame) local(p pt) pt { return pt{f.dx + f.sx*p.x, f.dy + f.sy*p.y} }

// point maps one point into degrees; one behind the eye is moved just ahead.
func (f frame) point(p pt) pt {
	q := f.local(p)
	if f.plane == nil {
		return q
	}
	w := f.plane.world(q)
	w[2] = max(w[2], nearM)
	return seen(w)
}

// degreesPerUnit is the size of a local unit near p, in degrees.
func (f frame) degreesPerUnit(p pt) float64 {
	const h = 1e-3
	a, b, c := f.point(p), f.point(pt{p.x + h, p.y}), f.point(pt{p.x, p.y + h})
	return max(math.Hypot(b.x-a.x, b.y-a.y), math.Hypot(c.x-a.x, c.y-a.y)) / h
}

// outline maps a closed polygon into degrees: what lies behind the eye is cut
// off, and straight edges in the world become the slight curves they are on a
// picture that is equidistant in angle.
func (f frame) outline(poly []pt) []pt {
	out := make([]pt, len(poly))
	for i, p := range poly {
		out[i] = f.local(p)
	}
	if f.plane == nil {
		return out
	}
	ahead := cutNear(f.plane, out)
	var seenPoly []pt
	for i, a := range ahead {
		seenPoly = appendEdge(seenPoly, a, ahead[(i+1)%len(ahead)])
	}
	return seenPoly
}

// nearM is the nearest distance that is drawn, in metres.
const nearM = 0.4

// world returns the place of a point of the plane.
func (p *plane) world(q pt) xyz {
	r, u := p.Right, p.Up
	if r == (xyz{}) {
		r = xyz{1, 0, 0}
	}
	if u == (xyz{}) {
		u = xyz{0, 1, 0}
	}
	var w xyz
	for i := range w {
		w[i] = p.Origin[i] + q.x*r[i] + q.y*u[i]
	}
	return w
}

// seen returns the direction of a place in degrees, equidistant in angle:
//
//	t = (X, Y) / Z,  (x, y) = t atan(|t|) / |t|
func seen(w xyz) pt {
	tx, ty := w[0]/w[2], w[1]/w[2]
	r := math.Hypot(tx, ty)
	k := 180 / math.Pi
	if r > 1e-9 {
		k *= math.Atan(r) / r
	}
	return pt{tx * k, ty * k}
}

// cutNear returns the part of a polygon of the plane lying ahead of the eye.
func cutNear(p *plane, poly []pt) []xyz {
	var out []xyz
	for i, q := range poly {
		a, b := p.world(q), p.world(poly[(i+1)%len(poly)])
		if a[2] >= nearM {
			out = append(out, a)
		}
		if (a[2] < nearM) != (b[2] < nearM) {
			t := (nearM - a[2]) / (b[2] - a[2])
			out = append(out, xyz{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1]), nearM})
		}
	}
	return out
}

// appendEdge adds the edge a-b, without its end, in pieces of about a degree.
// The pieces are even in 1/Z, as they look, not in metres.
func appendEdge(out []pt, a, b xyz) []pt {
	pa, pb := seen(a), seen(b)
	n := int(math.Hypot(pb.x-pa.x, pb.y-pa.y)) + 1
	n = min(n, 90)
	for i := range n {
		s := float64(i) / float64(n)
		t := s * a[2] / (s*a[2] + (1-s)*b[2])
		out = append(out, seen(xyz{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1]), a[2] + t*(b[2]-a[2])}))
	}
	return out
}

// arc appends points of an elliptic arc from angle a0 to a1 (radians), both
// ends included, with chords that stay within tol of it.
func arc(out []pt, c pt, rx, ry, a0, a1, tol float64) []pt {
	r := max(math.Abs(rx), math.Abs(ry))
	n := 4
	if tol > 0 && r > tol {
		n = int(math.Ceil(math.Abs(a1-a0) / (2 * math.Acos(1-tol/r))))
	}
	n = min(max(n, 4), 720)
	for i := 0; i <= n; i++ {
		s, co := math.Sincos(a0 + (a1-a0)*float64(i)/float64(n))
		out = append(out, pt{c.x + rx*co, c.y + ry*s})
	}
	return out
}

// smooth returns a closed or open Catmull-Rom curve through the points.
func smooth(p []pt, closed bool) []pt {
	const pieces = 8
	n := len(p)
	at := func(i int) pt {
		if closed {
			return p[(i+n)%n]
		}
		return p[min(max(i, 0), n-1)]
	}
	var out []pt
	ends := n
	if !closed {
		ends = n - 1
	}
	for i := range ends {
		for k := range pieces {
			out = append(out, catmull(at(i-1), at(i), at(i+1), at(i+2), float64(k)/pieces))
		}
	}
	if !closed {
		out = append(out, p[n-1])
	}
	return out
}

func catmull(a, b, c, d pt, t float64) pt {
	f := func(a, b, c, d float64) float64 {
		return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
	}
	return pt{f(a.x, b.x, c.x, d.x), f(a.y, b.y, c.y, d.y)}
}

// stroke returns the outline of a line of the given width: butt ends, mitred
// corners that are limited to four widths.
func stroke(p []pt, width float64, closed bool) [][]pt {
	n := len(p)
	left, right := make([]pt, n), make([]pt, n)
	for i := range p {
		prev, next := max(i-1, 0), min(i+1, n-1)
		if closed {
			prev, next = (i+n-1)%n, (i+1)%n
		}
		o := mitre(p[prev], p[i], p[next], width/2)
		left[i] = pt{p[i].x + o.x, p[i].y + o.y}
		right[n-1-i] = pt{p[i].x - o.x, p[i].y - o.y}
	}
	if closed {
		return [][]pt{left, right}
	}
	return [][]pt{append(left, right...)}
}

func mitre(a, b, c pt, half float64) pt {
	ux, uy := unitVec(a, b)
	vx, vy := unitVec(b, c)
	if a == b {
		ux, uy = vx, vy
	}
	if b == c {
		vx, vy = ux, uy
	}
	mx, my := -(uy + vy), ux+vx
	l := math.Hypot(mx, my)
	if l < 1e-9 {
		return pt{-uy * half, ux * half}
	}
	cos := (-uy*mx + ux*my) / l // of half the turn
	k := half / max(cos, 0.25) / l
	return pt{mx * k, my * k}
}

func unitVec(a, b pt) (float64, float64) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	if l == 0 {
		return 0, 0
	}
	return (b.x - a.x) / l, (b.y - a.y) / l
}
