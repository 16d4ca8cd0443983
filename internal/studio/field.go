package studio

import "math"

// Field is a solid given by a function of place: negative inside, positive
// outside, and never changing faster than Steep per metre (0 means 1, a true
// distance). It lies inside a block around Centre with half sides Half.
type Field struct {
	Dist         func(V3) float64
	Centre, Half V3
	Steep        float64
}

// fieldSteps is the number of steps after which a ray counts as passing by.
const fieldSteps = 160

func (f Field) hit(r ray, far float64) (float64, V3, bool) {
	b := f.bounds()
	t, end, ok := b.cut(r.o, inverse(r.d), far)
	if !ok {
		return 0, V3{}, false
	}
	k := 1.0
	if f.Steep > 0 {
		k = 1 / f.Steep
	}
	t = max(t, tiny)
	inside := f.Dist(r.at(t)) < 0
	if inside && t <= tiny { // a ray that leaves the surface
		t += 20 * tiny
		inside = f.Dist(r.at(t)) < 0
	}
	for range fieldSteps {
		d := f.Dist(r.at(t))
		if inside {
			d = -d
		}
		if d < tiny {
			return t, f.normal(r.at(t)), t < far
		}
		if t += max(d*k, 2*tiny); t >= end {
			break
		}
	}
	return 0, V3{}, false
}

// normal is the gradient by tetrahedral differences.
func (f Field) normal(p V3) V3 {
	const h = 2e-4
	n := V3{}
	for _, e := range [4]V3{{1, -1, -1}, {-1, -1, 1}, {-1, 1, -1}, {1, 1, 1}} {
		n = n.Add(e.Mul(f.Dist(p.Add(e.Mul(h)))))
	}
	if n.Len() == 0 {
		return V3{0, 1, 0}
	}
	return n.Unit()
}

func (f Field) bounds() box { return box{f.Centre.Sub(f.Half), f.Centre.Add(f.Half)} }

// Ellipsoid returns an estimate of the distance of p from an ellipsoid about the
// origin with three radii; it is exact on the surface and never too large by
// more than the ratio of the radii allows.
func Ellipsoid(p, radii V3) float64 {
	a := V3{p.X / radii.X, p.Y / radii.Y, p.Z / radii.Z}
	b := V3{a.X / radii.X, a.Y / radii.Y, a.Z / radii.Z}
	k, g := a.Len(), b.Len()
	if g == 0 {
		return -min(radii.X, radii.Y, radii.Z)
	}
	return k * (k - 1) / g
}

// Capsule returns the distance of p from a thick line from a to b.
func Capsule(p, a, b V3, ra, rb float64) float64 {
	pa, ba := p.Sub(a), b.Sub(a)
	h := min(max(pa.Dot(ba)/ba.Dot(ba), 0), 1)
	return pa.Sub(ba.Mul(h)).Len() - ra - h*(rb-ra)
}

// RoundBlock returns the distance of p from a block about the origin with half
// sides half, its edges rounded by a radius.
func RoundBlock(p, half V3, round float64) float64 {
	q := V3{math.Abs(p.X) - half.X + round, math.Abs(p.Y) - half.Y + round, math.Abs(p.Z) - half.Z + round}
	return maxV(q, V3{}).Len() + min(max(q.X, q.Y, q.Z), 0) - round
}

// Profile returns the distance of p from a body turned about the upright axis
// through the origin: a wall of half thickness thick along a line of points
// (X is the distance from the axis, Y the height).
func Profile(p V3, thick float64, line [][2]float64) float64 {
	x, y := math.Hypot(p.X, p.Z), p.Y
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		ax, ay := line[i-1][0], line[i-1][1]
		bx, by := line[i][0]-ax, line[i][1]-ay
		h := min(max(((x-ax)*bx+(y-ay)*by)/(bx*bx+by*by), 0), 1)
		dx, dy := x-ax-h*bx, y-ay-h*by
		best = min(best, dx*dx+dy*dy)
	}
	return math.Sqrt(best) - thick
}

// Ring returns the distance of p from a ring about the origin that stands in
// the plane of x and y: radius of the ring and of its wire.
func Ring(p V3, radius, wire float64) float64 {
	return math.Hypot(math.Hypot(p.X, p.Y)-radius, p.Z) - wire
}

// Join returns the union of two fields, their seam filled over a length k.
func Join(a, b, k float64) float64 {
	h := max(k-math.Abs(a-b), 0)
	return min(a, b) - h*h/(4*k)
}

// Carve returns a without b, the edge rounded over a length k.
func Carve(a, b, k float64) float64 { return -Join(-a, b, k) }
