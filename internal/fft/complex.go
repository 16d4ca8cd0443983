package fft

import (
	"fmt"
	"sync"
)

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
	vector     *vectorComplex // does the work if not nil
}

// NewComplex2D makes a plan for w columns and h rows, each at least 1. A size
// that needs more memory than 4 GiB is refused.
func NewComplex2D(w, h int) (*Complex2D, error) { return newComplex2D(w, h, best) }

func newComplex2D(w, h int, v *vectors) (*Complex2D, error) {
	if err := checkSize(w, h, complexBytes); err != nil {
		return nil, err
	}
	if v != nil {
		return &Complex2D{w: w, h: h, vector: newVectorComplex(w, h, v.double)}, nil
	}
	return &Complex2D{w: w, h: h, rows: linesPool(w), cols: linesPool(h)}, nil
}

// Forward transforms x, [y][x] of w*h elements, in place.
func (p *Complex2D) Forward(x []complex128) { p.ForwardRows(x, 0, p.h) }

// ForwardRows is [Complex2D.Forward] for an image in which only the rows
// lo <= y < hi hold anything but zero: the others are not worked along x.
func (p *Complex2D) ForwardRows(x []complex128, lo, hi int) {
	mustLen("the image", len(x), p.w*p.h)
	p.transformRows(x[lo*p.w : hi*p.w])
	if p.vector != nil {
		p.vector.columns(x)
		return
	}
	p.columns(x, p.h, func(t *lines, lo, hi int) {
		for l := range t.in {
			c := &t.in[l]
			for i := range x[l*p.w+lo : l*p.w+hi] {
				x[l*p.w+lo+i] = complex(c.re[i], c.im[i])
			}
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
	if p.vector != nil {
		p.vector.visitColumns(x, visit)
		return
	}
	p.columns(x, rows, func(t *lines, lo, hi int) {
		for k := lo; k < hi; k++ {
			visit(k, t.line(k-lo))
		}
	})
}

func (p *Complex2D) transformRows(x []complex128) {
	if p.vector != nil {
		p.vector.transformRows(x)
		return
	}
	inBatches(p.rows, len(x)/p.w, lanes, func(t *lines, lo, hi int) {
		rows := x[lo*p.w : hi*p.w]
		inChunks(p.w, func(from, to int) { t.loadRows(rows, from, to) })
		t.transform()
		inChunks(p.w, func(from, to int) { t.storeRows(rows, from, to) })
	})
}

// loadRows makes the elements from <= k < to of each row a lane.
func (t *lines) loadRows(rows []complex128, from, to int) {
	w := len(t.in)
	for i := range len(rows) / w {
		in := t.in[from:to]
		for k, v := range rows[i*w+from : i*w+to] {
			in[k].re[i], in[k].im[i] = real(v), imag(v)
		}
	}
}

// storeRows is the way back from loadRows.
func (t *lines) storeRows(rows []complex128, from, to int) {
	w := len(t.in)
	for i := range len(rows) / w {
		row := rows[i*w+from : i*w+to]
		for k := range row {
			c := &t.in[from+k]
			row[k] = complex(c.re[i], c.im[i])
		}
	}
}

// columns transforms every column of the given rows, the rest taken as zero,
// and hands them out in batches, column lo + i in lane i.
func (p *Complex2D) columns(x []complex128, rows int, use func(t *lines, lo, hi int)) {
	inBatches(p.cols, p.w, lanes, func(t *lines, lo, hi int) {
		for y := range rows {
			c := &t.in[y]
			for i, v := range x[y*p.w+lo : y*p.w+hi] {
				c.re[i], c.im[i] = real(v), imag(v)
			}
		}
		clear(t.in[rows:])
		t.transform()
		use(t, lo, hi)
	})
}
