package fft

import "math"

// Sines and cosines of a third and of one and two fifths of a turn.
var (
	sin3  = math.Sqrt(3) / 2
	cos51 = math.Cos(2 * math.Pi / 5)
	cos52 = math.Cos(4 * math.Pi / 5)
	sin51 = math.Sin(2 * math.Pi / 5)
	sin52 = math.Sin(4 * math.Pi / 5)
)

// two is the sum and the difference of two elements, the latter turned by w.
func two(y, x []cell, s, m int, w []complex128) {
	wr, wi := real(w[0]), imag(w[0])
	for q := range s {
		a, b := &x[q], &x[q+s*m]
		y0, y1 := &y[q], &y[q+s]
		for i := range lanes {
			ur, ui := a.re[i]-b.re[i], a.im[i]-b.im[i]
			y0.re[i], y0.im[i] = a.re[i]+b.re[i], a.im[i]+b.im[i]
			y1.re[i], y1.im[i] = ur*wr-ui*wi, ur*wi+ui*wr
		}
	}
}

// three is, with t = b + c, u = (b - c) sin 120°, v = a - t/2,
//
//	y0 = a + t, y1 = (v - i u) w1, y2 = (v + i u) w2
func three(y, x []cell, s, m int, w []complex128) {
	w1r, w1i, w2r, w2i := real(w[0]), imag(w[0]), real(w[1]), imag(w[1])
	h := sin3
	for q := range s {
		a, b, c := &x[q], &x[q+s*m], &x[q+2*s*m]
		y0, y1, y2 := &y[q], &y[q+s], &y[q+2*s]
		for i := range lanes {
			tr, ti := b.re[i]+c.re[i], b.im[i]+c.im[i]
			ur, ui := (b.re[i]-c.re[i])*h, (b.im[i]-c.im[i])*h
			vr, vi := a.re[i]-tr*0.5, a.im[i]-ti*0.5
			y0.re[i], y0.im[i] = a.re[i]+tr, a.im[i]+ti
			pr, pi := vr+ui, vi-ur
			y1.re[i], y1.im[i] = pr*w1r-pi*w1i, pr*w1i+pi*w1r
			pr, pi = vr-ui, vi+ur
			y2.re[i], y2.im[i] = pr*w2r-pi*w2i, pr*w2i+pi*w2r
		}
	}
}

// four is, with e = a + c, f = a - c, g = b + d, u = b - d,
//
//	y0 = e + g, y1 = (f - i u) w1, y2 = (e - g) w2, y3 = (f + i u) w3
func four(y, x []cell, s, m int, w []complex128) {
	w1r, w1i, w2r, w2i := real(w[0]), imag(w[0]), real(w[1]), imag(w[1])
	w3r, w3i := real(w[2]), imag(w[2])
	for q := range s {
		a, b, c, d := &x[q], &x[q+s*m], &x[q+2*s*m], &x[q+3*s*m]
		y0, y1, y2, y3 := &y[q], &y[q+s], &y[q+2*s], &y[q+3*s]
		for i := range lanes {
			er, ei, fr, fi := a.re[i]+c.re[i], a.im[i]+c.im[i], a.re[i]-c.re[i], a.im[i]-c.im[i]
			gr, gi, ur, ui := b.re[i]+d.re[i], b.im[i]+d.im[i], b.re[i]-d.re[i], b.im[i]-d.im[i]
			y0.re[i], y0.im[i] = er+gr, ei+gi
			pr, pi := er-gr, ei-gi
			y2.re[i], y2.im[i] = pr*w2r-pi*w2i, pr*w2i+pi*w2r
			pr, pi = fr+ui, fi-ur
			y1.re[i], y1.im[i] = pr*w1r-pi*w1i, pr*w1i+pi*w1r
			pr, pi = fr-ui, fi+ur
			y3.re[i], y3.im[i] = pr*w3r-pi*w3i, pr*w3i+pi*w3r
		}
	}
}

// fourUnturned is four with w1 = w2 = w3 = 1.
func fourUnturned(y, x []cell, s, m int) {
	for q := range s {
		a, b, c, d := &x[q], &x[q+s*m], &x[q+2*s*m], &x[q+3*s*m]
		y0, y1, y2, y3 := &y[q], &y[q+s], &y[q+2*s], &y[q+3*s]
		for i := range lanes {
			er, ei, fr, fi := a.re[i]+c.re[i], a.im[i]+c.im[i], a.re[i]-c.re[i], a.im[i]-c.im[i]
			gr, gi, ur, ui := b.re[i]+d.re[i], b.im[i]+d.im[i], b.re[i]-d.re[i], b.im[i]-d.im[i]
			y0.re[i], y0.im[i] = er+gr, ei+gi
			y1.re[i], y1.im[i] = fr+ui, fi-ur
			y2.re[i], y2.im[i] = er-gr, ei-gi
			y3.re[i], y3.im[i] = fr-ui, fi+ur
		}
	}
}

// five is, with t1 = b + e, t2 = c + d, u1 = b - e, u2 = c - d and the cosines
// c1, c2 and sines s1, s2 of one and two fifths of a turn,
//
//	v1 = a + c1 t1 + c2 t2, g1 = s1 u1 + s2 u2
//	v2 = a + c2 t1 + c1 t2, g2 = s2 u1 - s1 u2
//	y0 = a + t1 + t2, y1, y4 = v1 -+ i g1, y2, y3 = v2 -+ i g2
//
// and yk is turned by wk.
func five(y, x []cell, s, m int, w []complex128) {
	c1, c2, s1, s2 := cos51, cos52, sin51, sin52
	for q := range s {
		a, b, c, d, e := &x[q], &x[q+s*m], &x[q+2*s*m], &x[q+3*s*m], &x[q+4*s*m]
		y0, y1, y2, y3, y4 := &y[q], &y[q+s], &y[q+2*s], &y[q+3*s], &y[q+4*s]
		for i := range lanes {
			ar, ai := a.re[i], a.im[i]
			t1r, t1i, u1r, u1i := b.re[i]+e.re[i], b.im[i]+e.im[i], b.re[i]-e.re[i], b.im[i]-e.im[i]
			t2r, t2i, u2r, u2i := c.re[i]+d.re[i], c.im[i]+d.im[i], c.re[i]-d.re[i], c.im[i]-d.im[i]
			y0.re[i], y0.im[i] = ar+t1r+t2r, ai+t1i+t2i
			vr, vi := ar+c1*t1r+c2*t2r, ai+c1*t1i+c2*t2i
			gr, gi := s1*u1r+s2*u2r, s1*u1i+s2*u2i
			y1.re[i], y1.im[i] = times(vr+gi, vi-gr, w[0])
			y4.re[i], y4.im[i] = times(vr-gi, vi+gr, w[3])
			vr, vi = ar+c2*t1r+c1*t2r, ai+c2*t1i+c1*t2i
			gr, gi = s2*u1r-s1*u2r, s2*u1i-s1*u2i
			y2.re[i], y2.im[i] = times(vr+gi, vi-gr, w[1])
			y3.re[i], y3.im[i] = times(vr-gi, vi+gr, w[2])
		}
	}
}

// times is the product of r + i j and w.
func times(r, j float64, w complex128) (float64, float64) {
	return r*real(w) - j*imag(w), r*imag(w) + j*real(w)
}
