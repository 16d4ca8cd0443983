package zernike

import "math"

// Rotate returns the same wavefront in axes turned counter-clockwise (as the
// clinician sees it) by degrees. To turn the wavefront itself in fixed axes,
// pass the negative.
//
//	c'(n,m)  = c(n,m) cos mφ + c(n,-m) sin mφ
//	c'(n,-m) = c(n,-m) cos mφ - c(n,m) sin mφ        m > 0
func (t Terms) Rotate(degrees float64) Terms {
	out := make([]float64, Count(t.Order()))
	copy(out, t.C)
	for j := range out {
		n, m := NM(j)
		if m <= 0 {
			continue
		}
		sin, cos := math.Sincos(float64(m) * degrees * math.Pi / 180)
		c, s := t.At(n, m), t.At(n, -m)
		out[Index(n, m)] = c*cos + s*sin
		out[Index(n, -m)] = s*cos - c*sin
	}
	t.C = out
	return t
}

// Mirror returns the wavefront reflected left to right, x to -x: what the same
// shape is in the fellow eye.
//
// The terms that change sign are those with m > 0 and odd or m < 0 and even.
func (t Terms) Mirror() Terms {
	out := make([]float64, len(t.C))
	for j, c := range t.C {
		if _, m := NM(j); (m > 0 && m%2 == 1) || (m < 0 && m%2 == 0) {
			c = -c
		}
		out[j] = c
	}
	t.C = out
	return t
}
