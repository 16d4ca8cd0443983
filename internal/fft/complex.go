package fft

import (
	"fmt"
	"sync"
	"unsafe"
)

// mustLen panics when a slice handed to a plan does not fit its size.
func mustLen(what string, got, want int) {
	if got != want {
		panic(fmt.Sprintf("fft: %s has %d elements, want %d", what, got, want))
	}
}

// complexOf is the type of the samples of a complex image.
type complexOf interface{ complex64 | complex128 }

// ComplexOf2D transforms complex images of one size, of complex64 or complex128.
type ComplexOf2D[C complexOf] struct {
	w, h       int
	rows, cols *sync.Pool
	line       *shelf[[]C]   // columns to hand out
	vector     vectorPlan[C] // does the work if not nil
}

// Complex2D transforms complex images in double precision.
type Complex2D = ComplexOf2D[complex128]

// ComplexSingle2D transforms complex images of single-precision samples. By
// assembly it works in single precision too, in half the memory and time of
// [Complex2D]; what it is off by is said in the notes on the two paths.
type ComplexSingle2D = ComplexOf2D[complex64]

// NewComplex2D makes a plan for w columns and h rows, each at least 1. A size
// that needs more memory than 4 GiB is refused.
func NewComplex2D(w, h int) (*Complex2D, error) { return newComplex2D[complex128](w, h, best) }

// NewComplexSingle2D is [NewComplex2D] for complex64.
func NewComplexSingle2D(w, h int) (*ComplexSingle2D, error) {
	return newComplex2D[complex64](w, h, best)
}

func newComplex2D[C complexOf](w, h int, v *vectors) (*ComplexOf2D[C], error) {
	var c C
	if err := checkSize(w, h, int(unsafe.Sizeof(c))); err != nil {
		return nil, err
	}
	p := &ComplexOf2D[C]{w: w, h: h}
	if v == nil {
		p.rows, p.cols = linesPool(w), linesPool(h)
		p.line = newLines[C](h)
		return p, nil
	}
	switch p := any(p).(type) {
	case *Complex2D:
		p.vector = newVectorComplex[float64, complex128](w, h, v.double)
	case *ComplexSingle2D:
		p.vector = newVectorComplex[float32, complex64](w, h, v.single)
	}
	return p, nil
}

// Forward transforms x, [y][x] of w*h elements, in place.
func (p *ComplexOf2D[C]) Forward(x []C) { p.ForwardRows(x, 0, p.h) }

// ForwardRows is [ComplexOf2D.Forward] for an image in which only the rows
// lo <= y < hi hold anything but zero: the others are not worked along x.
func (p *ComplexOf2D[C]) ForwardRows(x []C, lo, hi int) {
	mustLen("the image", len(x), p.w*p.h)
	p.transformRows(x[lo*p.w : hi*p.w])
	if p.vector != nil {
		p.vector.columns(x)
		return
	}
	p.columns(x, p.h, func(t *lines, lo, hi int) {
		for l := range t.in {
			c, row := &t.in[l], x[l*p.w+lo:l*p.w+hi]
			for i := range row {
				row[i] = C(complex(c.re[i], c.im[i]))
			}
		}
	})
}

// ForwardColumns transforms an image of which only the first rows are given
// (x has w elements for each of them, at most h rows; the others are zero) and
// hands out the spectrum column by column: visit(k, col) gets F[l][k] as
// col[l]. Several columns are handed out at once, from several goroutines; col
// is only lent. x is overwritten.
func (p *ComplexOf2D[C]) ForwardColumns(x []C, visit func(k int, col []C)) {
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
		col := p.line.get()
		defer p.line.put(col)
		for k := lo; k < hi; k++ {
			for l := range col {
				c := &t.in[l]
				col[l] = C(complex(c.re[k-lo], c.im[k-lo]))
			}
			visit(k, col)
		}
	})
}

func (p *ComplexOf2D[C]) transformRows(x []C) {
	if p.vector != nil {
		p.vector.transformRows(x)
		return
	}
	inBatches(p.rows, len(x)/p.w, lanes, func(t *lines, lo, hi int) {
		rows := x[lo*p.w : hi*p.w]
		inChunks(p.w, func(from, to int) { loadRows(t, rows, from, to) })
		t.transform()
		inChunks(p.w, func(from, to int) { storeRows(t, rows, from, to) })
	})
}

// loadRows makes the elements from <= k < to of each row a lane.
func loadRows[C complexOf](t *lines, rows []C, from, to int) {
	w := len(t.in)
	for i := range len(rows) / w {
		in := t.in[from:to]
		for k, v := range rows[i*w+from : i*w+to] {
			z := complex128(v)
			in[k].re[i], in[k].im[i] = real(z), imag(z)
		}
	}
}

// storeRows is the way back from loadRows.
func storeRows[C complexOf](t *lines, rows []C, from, to int) {
	w := len(t.in)
	for i := range len(rows) / w {
		row := rows[i*w+from : i*w+to]
		for k := range row {
			c := &t.in[from+k]
			row[k] = C(complex(c.re[i], c.im[i]))
		}
	}
}

// columns transforms every column of the given rows, the rest taken as zero,
// and hands them out in batches, column lo + i in lane i.
func (p *ComplexOf2D[C]) columns(x []C, rows int, use func(t *lines, lo, hi int)) {
	inBatches(p.cols, p.w, lanes, func(t *lines, lo, hi int) {
		for y := range rows {
			c := &t.in[y]
			for i, v := range x[y*p.w+lo : y*p.w+hi] {
				z := complex128(v)
				c.re[i], c.im[i] = real(z), imag(z)
			}
		}
		clear(t.in[rows:])
		t.transform()
		use(t, lo, hi)
	})
}
