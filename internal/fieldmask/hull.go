package fieldmask

import (
	"cmp"
	"math"
	"slices"
)

// hull is the convex outline of the tested places, counter-clockwise (y up).
type hull [][2]float64

// newHull builds the outline (monotone chain).
func newHull(pts []seen) hull {
	var p [][2]float64
	for _, q := range pts {
		p = append(p, [2]float64{q.x, q.y})
	}
	slices.SortFunc(p, func(a, b [2]float64) int {
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	low := chain(p)
	slices.Reverse(p)
	high := chain(p)
	return append(low[:len(low)-1], high[:len(high)-1]...)
}

// chain returns one side of the outline of sorted places.
func chain(p [][2]float64) hull {
	var out hull
	for _, q := range p {
		for len(out) >= 2 && cross(out[len(out)-2], out[len(out)-1], q) <= 0 {
			out = out[:len(out)-1]
		}
		out = append(out, q)
	}
	return out
}

// cross is positive when a, b, c turn counter-clockwise.
func cross(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// distance returns the distance in degrees to the outline: negative inside,
// positive outside.
func (h hull) distance(x, y float64) float64 {
	best, inside := math.Inf(1), true
	p := [2]float64{x, y}
	for i, a := range h {
		b := h[(i+1)%len(h)]
		best = min(best, segmentDistance(a, b, p))
		inside = inside && cross(a, b, p) >= 0
	}
	if inside {
		return -best
	}
	return best
}

// segmentDistance is the distance from p to the segment a-b.
func segmentDistance(a, b, p [2]float64) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := ((p[0]-a[0])*dx + (p[1]-a[1])*dy) / math.Max(dx*dx+dy*dy, 1e-30)
	t = min(max(t, 0), 1)
	u, v := p[0]-a[0]-t*dx, p[1]-a[1]-t*dy
	return math.Sqrt(u*u + v*v)
}
