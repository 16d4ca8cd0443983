package render

import (
	"math"
	"math/cmplx"

	"simview/internal/fft"
)

// fold multiplies a spectrum by the OTF and by the response of averaging
// over x over fine samples, and folds it to the shown step, which is what
// averaging in space does:
//
//	X'(u, v) = 1/over² sum_a sum_b X(u + a W', v + b H') A(u + a W') A(v + b H')
//	A(k)     = 1/over sum_m exp(2 pi i k m / W)
//
// dst is h' rows of w'/2+1; src and otf are h rows of w/2+1; a nil otf is 1.
func (st *Stage) fold(dst, src, otf []complex64) {
	w, h := st.fine.W, st.fine.H
	f := folder{
		w: w, h: h, over: st.over, src: src, otf: otf,
		ax: averaging(w, st.over), ay: averaging(h, st.over),
	}
	h2 := h / st.over
	fft.InBlocks(h2, func(lo, hi int) {
		for v := lo; v < hi; v++ {
			f.row(dst, v)
		}
	})
}

type folder struct {
	w, h, over int
	src, otf   []complex64
	ax, ay     []complex64
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
		scale := f.ay[y] * complex(float32(1/float64(f.over*f.over)), 0)
		for a := range f.over {
			x := a * w2
			stored := min(max(half-x, 0), half2)
			for u := range stored {
				out[u] += f.times(at+x+u) * (f.ax[x+u] * scale)
			}
			for u := stored; u < half2; u++ {
				c := f.times(mirror + f.w - x - u)
				out[u] += complex(real(c), -imag(c)) * (f.ax[x+u] * scale)
			}
		}
	}
}

func (f folder) times(k int) complex64 {
	if f.otf == nil {
		return f.src[k]
	}
	return f.src[k] * f.otf[k]
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
