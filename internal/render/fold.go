package render

import (
	"math"
	"math/cmplx"

	"simview/internal/fft"
)

// fold multiplies a spectrum by weights and folds it to the shown step,
//
//	X'(u, v) = sum_a sum_b X(u + a W', v + b H') w(u + a W', v + b H')
//
// dst is h' rows of w'/2+1; src and weights, see [Stage.weights], are h rows of w/2+1.
func (st *Stage) fold(dst, src, weights []complex64) {
	f := folder{st.fine.W, st.fine.H, st.over, src, weights}
	fft.InBlocks(f.h/f.over, func(lo, hi int) {
		for v := lo; v < hi; v++ {
			f.row(dst, v)
		}
	})
}

// weights multiplies an OTF, in its place, by the response of averaging over x over
// fine samples, which is what folding makes of averaging in space:
//
//	w(k, l) = OTF(k, l) A(k) A(l) / over²
//	A(k)    = 1/over sum_m exp(2 pi i k m / W)
//
// No OTF is one of 1.
func (st *Stage) weights(otf []complex64) []complex64 {
	w, h := st.fine.W, st.fine.H
	half := w/2 + 1
	if otf == nil {
		otf = make([]complex64, h*half)
		for k := range otf {
			otf[k] = 1
		}
	}
	ax, ay := averaging(w, st.over), averaging(h, st.over)
	scale := complex(float32(1/float64(st.over*st.over)), 0)
	fft.InBlocks(h, func(lo, hi int) {
		for l := lo; l < hi; l++ {
			down := ay[l] * scale
			for k, v := range otf[l*half : (l+1)*half] {
				otf[l*half+k] = times(v, times(ax[k], down))
			}
		}
	})
	return otf
}

type folder struct {
	w, h, over   int
	src, weights []complex64
}

// row sums the aliases of one row; those beyond the stored half are read from
// their mirror images.
func (f folder) row(dst []complex64, v int) {
	w2, h2 := f.w/f.over, f.h/f.over
	half, half2 := f.w/2+1, w2/2+1
	out := dst[v*half2 : (v+1)*half2]
	clear(out)
	for b := range f.over {
		y := v + b*h2
		at, mirror := y*half, (f.h-y)%f.h*half
		for a := range f.over {
			x := a * w2
			stored := min(max(half-x, 0), half2)
			if stored > 0 {
				weights := f.weights[at+x:][:stored]
				for u, c := range f.src[at+x:][:stored] {
					out[u] += times(c, weights[u])
				}
			}
			for u := stored; u < half2; u++ {
				c := times(f.src[mirror+f.w-x-u], f.weights[mirror+f.w-x-u])
				out[u] += complex(real(c), -imag(c))
			}
		}
	}
}

// times is a b in single precision throughout; the language's own product of
// complex64 goes by way of double, at twice the time.
func times(a, b complex64) complex64 {
	return complex(real(a)*real(b)-imag(a)*imag(b), real(a)*imag(b)+imag(a)*real(b))
}

// averaging returns A(k) for k = 0..n-1.
func averaging(n, over int) []complex64 {
	a := make([]complex64, n)
	for k := range a {
		var s complex128
		for m := range over {
			s += cmplx.Exp(complex(0, 2*math.Pi*float64(k*m)/float64(n)))
		}
		a[k] = complex64(s / complex(float64(over), 0))
	}
	return a
}
