package fft

import (
	"fmt"
	"sync"

	"gonum.org/v1/gonum/dsp/fourier"
)

// line is the tool for transforming complex lines of one length, with its
// own buffer; one goroutine uses it at a time.
type line struct {
	plan *fourier.CmplxFFT
	buf  []complex128
}

func linePool(n int) *sync.Pool {
	return &sync.Pool{New: func() any {
		return &line{fourier.NewCmplxFFT(n), make([]complex128, n)}
	}}
}

// checkSize refuses sizes without samples.
func checkSize(w, h int) error {
	if w < 1 || h < 1 {
		return fmt.Errorf("fft: a transform needs at least 1 x 1 samples (got %d x %d)", w, h)
	}
	return nil
}

// mustLen panics when a slice handed to a plan does not fit its size.
func mustLen(what string, got, want int) {
	if got != want {
		panic(fmt.Sprintf("fft: %s has %d elements, want %d", what, got, want))
	}
}

// Complex2D transforms complex images of one size.
type Complex2D struct {
	w, h       int
	rows, cols *sync.Pool
}

// NewComplex2D makes a plan for w columns and h rows, each at least 1.
func NewComplex2D(w, h int) (*Complex2D, error) {
	if err := checkSize(w, h); err != nil {
		return nil, err
	}
	return &Complex2D{w, h, linePool(w), linePool(h)}, nil
}

// Forward transforms x, [y][x] of w*h elements, in place.
func (p *Complex2D) Forward(x []complex128) { p.ForwardRows(x, 0, p.h) }

// ForwardRows is [Complex2D.Forward] for an image in which only the rows
// lo <= y < hi hold anything but zero: the others are not worked along x.
func (p *Complex2D) ForwardRows(x []complex128, lo, hi int) {
	mustLen("the image", len(x), p.w*p.h)
	p.transformRows(x[lo*p.w : hi*p.w])
	p.columns(x, p.h, func(k int, col []complex128) {
		for l, v := range col {
			x[l*p.w+k] = v
		}
	})
}

// ForwardColumns transforms an image of which only the first rows are given
// (x has w elements for each of them, at most h rows; the others are zero) and
// hands out the spectrum column by column: visit(k, col) gets F[l][k] as
// col[l]. Several columns are handed out at once, from several goroutines; col
// is only lent. x is overwritten.
func (p *Complex2D) ForwardColumns(x []complex128, visit func(k int, col []complex128)) {
	rows := len(x) / p.w
	if rows*p.w != len(x) || rows > p.h {
		panic(fmt.Sprintf("fft: %d elements are not whole rows of a %d x %d image", len(x), p.w, p.h))
	}
	p.transformRows(x)
	p.columns(x, rows, visit)
}

func (p *Complex2D) transformRows(x []complex128) {
	InBlocks(len(x)/p.w, func(lo, hi int) {
		t := p.rows.Get().(*line)
		defer p.rows.Put(t)
		for y := lo; y < hi; y++ {
			row := x[y*p.w : (y+1)*p.w]
			t.plan.Coefficients(row, row)
		}
	})
}

// columns transforms every column of the given rows, the rest taken as zero.
func (p *Complex2D) columns(x []complex128, rows int, visit func(int, []complex128)) {
	InBlocks(p.w, func(lo, hi int) {
		t := p.cols.Get().(*line)
		defer p.cols.Put(t)
		tile := gather(x, p.w, rows, lo, hi)
		for k := lo; k < hi; k++ {
			copy(t.buf, tile[(k-lo)*rows:(k-lo+1)*rows])
			clear(t.buf[rows:])
			t.plan.Coefficients(t.buf, t.buf)
			visit(k, t.buf)
		}
	})
}

// gather copies columns lo..hi of a row-major image, one column after the other.
func gather(x []complex128, w, rows, lo, hi int) []complex128 {
	tile := make([]complex128, (hi-lo)*rows)
	for y := range rows {
		for k, v := range x[y*w+lo : y*w+hi] {
			tile[k*rows+y] = v
		}
	}
	return tile
}
