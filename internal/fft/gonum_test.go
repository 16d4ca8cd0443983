package fft

import (
	"sync"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The plain way, gonum line by line on all cores: reference and baseline.

type gonumPlan struct {
	w, h, half       int
	real, rows, cols *sync.Pool
}

// gonumLine is a plan for lines of one length with its buffers.
type gonumLine struct {
	real *fourier.FFT
	plan *fourier.CmplxFFT
	in   []float64
	buf  []complex128
}

func newGonum(w, h int) *gonumPlan {
	pool := func(n, buf int) *sync.Pool {
		return &sync.Pool{New: func() any {
			return &gonumLine{fourier.NewFFT(n), fourier.NewCmplxFFT(n), make([]float64, n), make([]complex128, buf)}
		}}
	}
	return &gonumPlan{w, h, w/2 + 1, pool(w, w/2+1), pool(w, w), pool(h, h)}
}

func eachLine(pool *sync.Pool, n int, work func(t *gonumLine, i int)) {
	InBlocks(n, func(lo, hi int) {
		t := pool.Get().(*gonumLine)
		defer pool.Put(t)
		for i := lo; i < hi; i++ {
			work(t, i)
		}
	})
}

func (p *gonumPlan) forward(dst []complex64, src []float32) {
	eachLine(p.real, p.h, func(t *gonumLine, y int) {
		for i, v := range src[y*p.w : (y+1)*p.w] {
			t.in[i] = float64(v)
		}
		t.real.Coefficients(t.buf, t.in)
		for i, v := range t.buf {
			dst[y*p.half+i] = complex64(v)
		}
	})
	gonumColumns(p, dst, dst, p.half, (*fourier.CmplxFFT).Coefficients)
}

func (p *gonumPlan) inverse(dst []float32, src []complex64) {
	spare := make([]complex64, len(src))
	gonumColumns(p, spare, src, p.half, (*fourier.CmplxFFT).Sequence)
	eachLine(p.real, p.h, func(t *gonumLine, y int) {
		for i, v := range spare[y*p.half : (y+1)*p.half] {
			t.buf[i] = complex128(v)
		}
		t.real.Sequence(t.in, t.buf)
		for i, v := range t.in {
			dst[y*p.w+i] = float32(v / float64(p.w*p.h))
		}
	})
}

func (p *gonumPlan) complexForward(x []complex128) {
	eachLine(p.rows, p.h, func(t *gonumLine, y int) {
		t.plan.Coefficients(x[y*p.w:(y+1)*p.w], x[y*p.w:(y+1)*p.w])
	})
	gonumColumns(p, x, x, p.w, (*fourier.CmplxFFT).Coefficients)
}

type transformLine = func(t *fourier.CmplxFFT, dst, src []complex128) []complex128

// gonumColumns takes a block of columns at a time out of src, as it stands w wide.
func gonumColumns[T complex64 | complex128](p *gonumPlan, dst, src []T, w int, f transformLine) {
	InBlocks(w, func(lo, hi int) {
		t := p.cols.Get().(*gonumLine)
		defer p.cols.Put(t)
		tile := make([]T, (hi-lo)*p.h)
		for y := range p.h {
			for k, v := range src[y*w+lo : y*w+hi] {
				tile[k*p.h+y] = v
			}
		}
		for k := range hi - lo {
			t.column(tile[k*p.h:(k+1)*p.h], f)
		}
		for y := range p.h {
			row := dst[y*w+lo : y*w+hi]
			for k := range row {
				row[k] = tile[k*p.h+y]
			}
		}
	})
}

func (t *gonumLine) column(col any, f transformLine) {
	switch col := col.(type) {
	case []complex128:
		f(t.plan, col, col)
	case []complex64:
		for i, v := range col {
			t.buf[i] = complex128(v)
		}
		f(t.plan, t.buf, t.buf)
		for i, v := range t.buf {
			col[i] = complex64(v)
		}
	}
}
