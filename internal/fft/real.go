package fft

import (
	"sync"

	"gonum.org/v1/gonum/dsp/fourier"
)

// realLine transforms real lines of one length.
type realLine struct {
	plan *fourier.FFT
	in   []float64
	out  []complex128
}

// Real2D transforms real images of one size to half spectra and back.
type Real2D struct {
	w, h, half int
	rows, cols *sync.Pool
	spare      *sync.Pool
}

// NewReal2D makes a plan for w columns and h rows, each at least 1.
func NewReal2D(w, h int) (*Real2D, error) {
	if err := checkSize(w, h); err != nil {
		return nil, err
	}
	half := w/2 + 1
	rows := &sync.Pool{New: func() any {
		return &realLine{fourier.NewFFT(w), make([]float64, w), make([]complex128, half)}
	}}
	spare := &sync.Pool{New: func() any { s := make([]complex64, half*h); return &s }}
	return &Real2D{w, h, half, rows, linePool(h), spare}, nil
}

// HalfWidth returns the number of columns of the half spectrum, w/2 + 1.
func (p *Real2D) HalfWidth() int { return p.half }

// Forward returns the half spectrum, h rows of w/2+1, of the image src, h rows
// of w. It is written to dst; a nil dst allocates, any other wrong length panics.
func (p *Real2D) Forward(dst []complex64, src []float32) []complex64 {
	if dst == nil {
		dst = make([]complex64, p.h*p.half)
	}
	mustLen("the image", len(src), p.w*p.h)
	mustLen("the spectrum", len(dst), p.h*p.half)
	InBlocks(p.h, func(lo, hi int) {
		t := p.rows.Get().(*realLine)
		defer p.rows.Put(t)
		for y := lo; y < hi; y++ {
			t.forward(dst[y*p.half:(y+1)*p.half], src[y*p.w:(y+1)*p.w])
		}
	})
	p.columns(dst, dst, (*fourier.CmplxFFT).Coefficients)
	return dst
}

// Inverse returns the image, h rows of w, that has the half spectrum src, so
// that Inverse(Forward(f)) = f. Parts of src that no real image can have (the
// imaginary part of the mean, say) are left out. src is kept; dst as in Forward.
func (p *Real2D) Inverse(dst []float32, src []complex64) []float32 {
	if dst == nil {
		dst = make([]float32, p.w*p.h)
	}
	mustLen("the image", len(dst), p.w*p.h)
	mustLen("the spectrum", len(src), p.h*p.half)
	spare := p.spare.Get().(*[]complex64)
	defer p.spare.Put(spare)
	p.columns(*spare, src, (*fourier.CmplxFFT).Sequence)
	scale := 1 / (float64(p.w) * float64(p.h))
	InBlocks(p.h, func(lo, hi int) {
		t := p.rows.Get().(*realLine)
		defer p.rows.Put(t)
		for y := lo; y < hi; y++ {
			t.inverse(dst[y*p.w:(y+1)*p.w], (*spare)[y*p.half:(y+1)*p.half], scale)
		}
	})
	return dst
}

func (t *realLine) forward(dst []complex64, src []float32) {
	for i, v := range src {
		t.in[i] = float64(v)
	}
	t.plan.Coefficients(t.out, t.in)
	for i, v := range t.out {
		dst[i] = complex64(v)
	}
}

func (t *realLine) inverse(dst []float32, src []complex64, scale float64) {
	for i, v := range src {
		t.out[i] = complex128(v)
	}
	t.plan.Sequence(t.in, t.out)
	for i, v := range t.in {
		dst[i] = float32(v * scale)
	}
}

// columns applies a transform to every column of src and writes it to dst,
// which may be the same slice.
func (p *Real2D) columns(dst, src []complex64, f func(*fourier.CmplxFFT, []complex128, []complex128) []complex128) {
	InBlocks(p.half, func(lo, hi int) {
		t := p.cols.Get().(*line)
		defer p.cols.Put(t)
		tile := make([]complex64, (hi-lo)*p.h)
		for y := range p.h {
			for k, v := range src[y*p.half+lo : y*p.half+hi] {
				tile[k*p.h+y] = v
			}
		}
		for k := range hi - lo {
			t.transform(tile[k*p.h:(k+1)*p.h], f)
		}
		for y := range p.h {
			row := dst[y*p.half+lo : y*p.half+hi]
			for k := range row {
				row[k] = tile[k*p.h+y]
			}
		}
	})
}

// transform applies f to one column in place.
func (t *line) transform(col []complex64, f func(*fourier.CmplxFFT, []complex128, []complex128) []complex128) {
	for i, v := range col {
		t.buf[i] = complex128(v)
	}
	f(t.plan, t.buf, t.buf)
	for i, v := range t.buf {
		col[i] = complex64(v)
	}
}
