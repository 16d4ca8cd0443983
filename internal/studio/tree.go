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

// cut returns the part of the ray inside, 0 <= t0 < t1 <= far.
func (b box) cut(r ray, far float64) (t0, t1 float64, ok bool) {
	t0, t1 = 0, far
	t0, t1 = slab(r.o.X, r.d.X, b.lo.X, b.hi.X, t0, t1)
	t0, t1 = slab(r.o.Y, r.d.Y, b.lo.Y, b.hi.Y, t0, t1)
	t0, t1 = slab(r.o.Z, r.d.Z, b.lo.Z, b.hi.Z, t0, t1)
	return t0, t1, t0 < t1
}

func slab(o, d, lo, hi, t0, t1 float64) (float64, float64) {
	if d == 0 {
		if o < lo || o > hi {
			return 1, 0
		}
		return t0, t1
	}
	k := 1 / d
	a, z := (lo-o)*k, (hi-o)*k
	if a > z {
		a, z = z, a
	}
	return max(t0, a), min(t1, z)
}

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

// nearest returns the body that the ray meets first, or -1.
func (t *tree) nearest(bodies []Body, r ray, far float64) (body int, at float64, n V3) {
	body, at = -1, far
	var stack [48]*tree
	stack[0] = t
	for k := 1; k > 0; {
		k--
		node := stack[k]
		if _, _, ok := node.box.cut(r, at); !ok {
			continue
		}
		if node.leaf == nil {
			stack[k], stack[k+1] = node.left, node.right
			k += 2
			continue
		}
		for _, i := range node.leaf {
			if d, m, ok := bodies[i].Shape.hit(r, at); ok {
				body, at, n = i, d, m
			}
		}
	}
	return body, at, n
}
