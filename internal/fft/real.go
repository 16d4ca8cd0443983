package fft

import "sync"

// Real2D transforms real images of one size to half spectra and back.
type Real2D struct {
	w, h, half int
	rows, cols *sync.Pool
	spare      *sync.Pool
	vector     *vectorReal // does the work if not nil
}

// NewReal2D makes a plan for w columns and h rows, each at least 1. A size that
// needs more memory than 4 GiB is refused.
func NewReal2D(w, h int) (*Real2D, error) { return newReal2D(w, h, best) }

func newReal2D(w, h int, v *vectors) (*Real2D, error) {
	if err := checkSize(w, h, realBytes); err != nil {
		return nil, err
	}
	half := w/2 + 1
	if v != nil {
		return &Real2D{w: w, h: h, half: half, vector: newVectorReal(w, h, v.single)}, nil
	}
	spare := &sync.Pool{New: func() any { s := make([]complex64, half*h); return &s }}
	return &Real2D{w: w, h: h, half: half, rows: linesPool(w), cols: linesPool(h), spare: spare}, nil
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
	if p.vector != nil {
		p.vector.forward(dst, src)
		return dst
	}
	p.forwardRows(dst, src)
	p.forwardColumns(dst)
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
	if p.vector != nil {
		p.vector.inverse(dst, src)
		return dst
	}
	spare := p.spare.Get().(*[]complex64)
	defer p.spare.Put(spare)
	p.inverseColumns(*spare, src)
	p.inverseRows(dst, *spare)
	return dst
}

// forwardRows writes the half spectrum of each row.
func (p *Real2D) forwardRows(dst []complex64, src []float32) {
	inBatches(p.rows, p.h, 2*lanes, func(t *lines, lo, hi int) {
		inChunks(p.w, func(from, to int) { t.loadPairs(src[lo*p.w:hi*p.w], from, to) })
		t.transform()
		inChunks(p.half, func(from, to int) { t.splitPairs(dst[lo*p.half:hi*p.half], from, to) })
	})
}

func (p *Real2D) forwardColumns(x []complex64) { p.columns(x, x, (*cell).load, (*cell).store) }

// inverseColumns exchanges real and imaginary part on the way in and out.
func (p *Real2D) inverseColumns(dst, src []complex64) {
	p.columns(dst, src, (*cell).loadSwapped, (*cell).storeSwapped)
}

// columns transforms the columns of src into dst, which may be src.
func (p *Real2D) columns(dst, src []complex64, load, store func(*cell, []complex64)) {
	inBatches(p.cols, p.half, lanes, func(t *lines, lo, hi int) {
		for y := range t.in {
			load(&t.in[y], src[y*p.half+lo:y*p.half+hi])
		}
		t.transform()
		for y := range t.in {
			store(&t.in[y], dst[y*p.half+lo:y*p.half+hi])
		}
	})
}

func (p *Real2D) inverseRows(dst []float32, src []complex64) {
	scale := 1 / (float64(p.w) * float64(p.h))
	inBatches(p.rows, p.h, 2*lanes, func(t *lines, lo, hi int) {
		inChunks(p.half, func(from, to int) { t.joinPairs(src[lo*p.half:hi*p.half], from, to) })
		t.transform()
		inChunks(p.w, func(from, to int) { t.storePairs(dst[lo*p.w:hi*p.w], from, to, scale) })
	})
}

// load puts element i of row into lane i.
func (c *cell) load(row []complex64) {
	for i, v := range row[:min(len(row), lanes)] {
		c.re[i], c.im[i] = float64(real(v)), float64(imag(v))
	}
}

// store is the way back from load.
func (c *cell) store(row []complex64) {
	for i := range row[:min(len(row), lanes)] {
		row[i] = complex(float32(c.re[i]), float32(c.im[i]))
	}
}

// loadSwapped is load with real and imaginary part exchanged.
func (c *cell) loadSwapped(row []complex64) {
	for i, v := range row[:min(len(row), lanes)] {
		c.re[i], c.im[i] = float64(imag(v)), float64(real(v))
	}
}

// storeSwapped is store with real and imaginary part exchanged.
func (c *cell) storeSwapped(row []complex64) {
	for i := range row[:min(len(row), lanes)] {
		row[i] = complex(float32(c.im[i]), float32(c.re[i]))
	}
}
