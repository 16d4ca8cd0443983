package psf

import (
	"fmt"
	"math"

	"simview/internal/fft"
)

// OnGrid returns the transfer function on the half spectrum of an image of w
// columns and h rows, stepDeg degrees apart, as package fft lays it out: h rows
// of w/2+1, row l standing for l (or, above h/2, l-h) cycles per image height
// counted down the rows, since rows run down. Multiply an image's spectrum by
// it and transform back: each point is spread as the patient sees it. Beyond
// the sampling of the spread it is 0. What passes beside the lens counts up to
// besideReach. It panics on a size or step not above 0.
func (o *OTF) OnGrid(w, h int, stepDeg float64) []complex64 {
	if w < 1 || h < 1 || !(stepDeg > 0) || !finite(stepDeg) {
		panic(fmt.Sprintf("psf: OnGrid needs a size and step above 0 (got %d x %d of %g degrees)", w, h, stepDeg))
	}
	half := w/2 + 1
	perX, perY := 1/(float64(w)*stepDeg), 1/(float64(h)*stepDeg)
	cols := min(half, int(o.nyquist/perX)+1)
	reach := min(float64(h/2)*perY, o.nyquist)
	first := -int(math.Ceil(reach/o.step)) - taps
	rows := o.alongX(first, -first, cols, perX)
	out := make([]complex64, h*half)
	fft.InBlocks(h, func(lo, hi int) {
		for l := lo; l < hi; l++ {
			fy := float64(l) * perY
			if l > h/2 {
				fy = float64(l-h) * perY
			}
			if math.Abs(fy) <= o.nyquist {
				k, wt := tapWeights(fy / o.step)
				blend(out[l*half:l*half+cols], rows[k-first:], wt)
			}
		}
	})
	o.addBeside(out, w, h, stepDeg)
	return out
}

// besideReach is how far, in cycles per degree, the light beside a lens is
// counted on a grid: spread over degrees, it keeps a few hundredths of its own
// contrast there, and less than its rays say.
const besideReach = 10.0

// addBeside mixes what passes beside the lens into a half spectrum.
func (o *OTF) addBeside(out []complex64, w, h int, stepDeg float64) {
	if o.beside == nil {
		return
	}
	half, u := w/2+1, o.beside.Share
	perX, perY := 1/(float64(w)*stepDeg), 1/(float64(h)*stepDeg)
	fft.InBlocks(h, func(lo, hi int) {
		for l := lo; l < hi; l++ {
			fy := -float64(l) * perY
			if l > h/2 {
				fy = float64(h-l) * perY
			}
			for k := range half {
				sum := complex(1-u, 0) * complex128(out[l*half+k])
				if fx := float64(k) * perX; math.Hypot(fx, fy) <= besideReach {
					sum += complex(u, 0) * o.beside.otf(fx, fy)
				}
				out[l*half+k] = complex64(sum)
			}
		}
	})
}

// alongX interpolates the raster's rows from lo to hi at cols frequencies per
// cycles per degree apart.
func (o *OTF) alongX(lo, hi, cols int, per float64) [][]complex64 {
	at, wt := make([]int, cols), make([][taps]float32, cols)
	for i := range cols {
		var w [taps]float64
		at[i], w = tapWeights(float64(i) * per / o.step)
		for k, v := range w {
			wt[i][k] = float32(v)
		}
	}
	rows := make([][]complex64, hi-lo+1)
	fft.InBlocks(len(rows), func(a, b int) {
		line := make([]complex64, o.m/2+1+2*taps)
		for r := a; r < b; r++ {
			for k := range line {
				line[k] = o.sample(k-taps, lo+r)
			}
			rows[r] = make([]complex64, cols)
			for i := range rows[r] {
				rows[r][i] = dot(line[at[i]+taps:], &wt[i])
			}
		}
	})
	return rows
}

func dot(v []complex64, w *[taps]float32) complex64 {
	re, im := float32(0), float32(0)
	for k, c := range w {
		re += c * real(v[k])
		im += c * imag(v[k])
	}
	return complex(re, im)
}

// blend writes the weighted sum of six rows.
func blend(out []complex64, rows [][]complex64, wt [taps]float64) {
	var c [taps]float32
	for k, w := range wt {
		c[k] = float32(w)
	}
	n := len(out)
	a, b, d, e, f, g := rows[0][:n], rows[1][:n], rows[2][:n], rows[3][:n], rows[4][:n], rows[5][:n]
	for i := range out {
		out[i] = complex(
			c[0]*real(a[i])+c[1]*real(b[i])+c[2]*real(d[i])+c[3]*real(e[i])+c[4]*real(f[i])+c[5]*real(g[i]),
			c[0]*imag(a[i])+c[1]*imag(b[i])+c[2]*imag(d[i])+c[3]*imag(e[i])+c[4]*imag(f[i])+c[5]*imag(g[i]))
	}
}
