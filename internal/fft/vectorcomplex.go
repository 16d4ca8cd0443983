package fft

import "unsafe"

// vectorComplex is a Complex2D by assembly, in double precision.
type vectorComplex struct {
	w, h, lanes int
	rows, cols  *bankPlan[float64]
	line        shelf[[]complex128]
}

func newVectorComplex(w, h int, k *kernels) *vectorComplex {
	p := &vectorComplex{w: w, h: h, lanes: k.lanes}
	p.rows = newBankPlan[float64](k, w)
	p.cols = p.rows
	if h != w {
		p.cols = newBankPlan[float64](k, h)
	}
	p.line.make = func() []complex128 { return make([]complex128, h) }
	return p
}

// transformRows transforms whole rows, as many as x holds.
func (p *vectorComplex) transformRows(x []complex128) {
	numbers := unsafe.Slice((*float64)(unsafe.Pointer(unsafe.SliceData(x))), 2*len(x))
	p.rows.inBatches(len(x)/p.w, p.lanes, func(b *bank[float64], lo, hi int) {
		offsets := b.place(0, lo, hi, 1, 2*p.w)
		b.read(b.in, b.lanes, numbers, offsets, 0, 2*p.w)
		b.transform()
		b.write(numbers, offsets, 0, 2*p.w, b.in, b.lanes)
	})
}

// columns transforms every column in place.
func (p *vectorComplex) columns(x []complex128) {
	p.cols.inBatches(p.w, p.lanes, func(b *bank[float64], lo, hi int) {
		loadColumns(b, x, p.w, lo, hi, p.h, 0)
		b.transform()
		storeColumns(b, x, p.w, lo, hi, 0)
	})
}

// visitColumns transforms the columns of the given rows, the rest taken as zero,
// and hands them out one by one.
func (p *vectorComplex) visitColumns(x []complex128, visit func(k int, col []complex128)) {
	p.cols.inBatches(p.w, p.lanes, func(b *bank[float64], lo, hi int) {
		loadColumns(b, x, p.w, lo, hi, len(x)/p.w, 0)
		b.transform()
		t, col := storeTile[complex128](b, 0), p.line.get()
		for k := lo; k < hi; k++ {
			for l := range col {
				col[l] = t[l*p.lanes+k-lo]
			}
			visit(k, col)
		}
		p.line.put(col)
	})
}
