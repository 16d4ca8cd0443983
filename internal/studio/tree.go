package studio

import (
	"math"
	"slices"
)

// box is a region between two corners.
type box struct{ lo, hi V3 }

func boxOf(p ...V3) box {
	b := box{p[0], p[0]}
	for _, q := range p[1:] {
		b.lo, b.hi = minV(b.lo, q), maxV(b.hi, q)
	}
	return b
}

func (b box) grow(d float64) box {
	return box{b.lo.Sub(V3{d, d, d}), b.hi.Add(V3{d, d, d})}
}

func (b box) join(c box) box { return box{minV(b.lo, c.lo), maxV(b.hi, c.hi)} }

// cut returns the part of the ray inside, 0 <= t0 < t1 <= far; inv is one over
// the ray's direction.
func (b *box) cut(o, inv V3, far float64) (t0, t1 float64, ok bool) {
	t0, t1 = slab((b.lo.X-o.X)*inv.X, (b.hi.X-o.X)*inv.X, 0, far)
	t0, t1 = slab((b.lo.Y-o.Y)*inv.Y, (b.hi.Y-o.Y)*inv.Y, t0, t1)
	t0, t1 = slab((b.lo.Z-o.Z)*inv.Z, (b.hi.Z-o.Z)*inv.Z, t0, t1)
	return t0, t1, t0 < t1
}

// slab narrows t0 to t1 to what lies between a and z; a ray in a face of the
// box has no number for one of them and is not narrowed there.
func slab(a, z, t0, t1 float64) (float64, float64) {
	if a > z {
		a, z = z, a
	}
	if a > t0 {
		t0 = a
	}
	if z < t1 {
		t1 = z
	}
	return t0, t1
}

func inverse(d V3) V3 { return V3{1 / d.X, 1 / d.Y, 1 / d.Z} }

// tree finds the bodies along a ray: boxes in boxes.
type tree struct {
	box         box
	left, right *tree
	leaf        []int // indices of bodies
}

func newTree(bodies []Body, ids []int) *tree {
	t := &tree{box: bodies[ids[0]].Shape.bounds()}
	for _, i := range ids[1:] {
		t.box = t.box.join(bodies[i].Shape.bounds())
	}
	if len(ids) <= 2 {
		t.leaf = ids
		return t
	}
	mid := func(i int) float64 {
		b, d := bodies[i].Shape.bounds(), t.box.hi.Sub(t.box.lo)
		c := b.lo.Add(b.hi)
		switch {
		case d.X >= d.Y && d.X >= d.Z:
			return c.X
		case d.Y >= d.Z:
			return c.Y
		}
		return c.Z
	}
	slices.SortStableFunc(ids, func(a, b int) int {
		if d := mid(a) - mid(b); d != 0 {
			return int(math.Copysign(1, d))
		}
		return a - b
	})
	k := len(ids) / 2
	t.left, t.right = newTree(bodies, slices.Clone(ids[:k])), newTree(bodies, slices.Clone(ids[k:]))
	return t
}

// nearest returns the body that the ray meets first, or -1; with any, the first
// one found.
func (t *tree) nearest(bodies []Body, r ray, far float64, any bool) (body int, at float64, n V3) {
	body, at = -1, far
	inv := inverse(r.d)
	var stack [48]*tree
	stack[0] = t
	var from [48]float64 // where the ray enters
	for k := 1; k > 0; {
		k--
		node := stack[k]
		if from[k] >= at {
			continue
		}
		if node.leaf == nil {
			near, other := node.left, node.right
			a, _, hitA := near.box.cut(r.o, inv, at)
			b, _, hitB := other.box.cut(r.o, inv, at)
			if b < a {
				near, other, a, b, hitA, hitB = other, near, b, a, hitB, hitA
			}
			if hitB {
				stack[k], from[k] = other, b
				k++
			}
			if hitA {
				stack[k], from[k] = near, a
				k++
			}
			continue
		}
		for _, i := range node.leaf {
			if d, m, ok := bodies[i].Shape.hit(r, at); ok {
				body, at, n = i, d, m
				if any {
					return body, at, n
				}
			}
		}
	}
	return body, at, n
}
