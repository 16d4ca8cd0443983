package fft

import "unsafe"

// vectorPlan is what a complex plan does by assembly.
type vectorPlan[C complexOf] interface {
	transformRows(x []C)
	columns(x []C)
	visitColumns(x []C, visit func(k int, col []C))
}

// vectorComplex is a vectorPlan; C is the complex type with parts of type T.
type vectorComplex[T scalar, C complexOf] struct {
	w, h, lanes int
	rows, cols  *bankPlan[T]
	line        *shelf[[]C]
}

func newVectorComplex[T scalar, C complexOf](w, h int, k *kernels) *vectorComplex[T, C] {
	p := &vectorComplex[T, C]{w: w, h: h, lanes: k.lanes, line: newLines[C](h)}
	p.rows = newBankPlan[T](k, w)
	p.cols = p.rows
	if h != w {
		p.cols = newBankPlan[T](k, h)
	}
	return p
}

// transformRows transforms whole rows, as many as x holds.
func (p *vectorComplex[T, C]) transformRows(x []C) {
	numbers := unsafe.Slice((*T)(unsafe.Pointer(unsafe.SliceData(x))), 2*len(x))
	p.rows.inBatches(len(x)/p.w, p.lanes, func(b *bank[T], lo, hi int) {
		offsets := b.place(0, lo, hi, 1, 2*p.w)
		b.read(b.in, b.lanes, numbers, offsets, 0, 2*p.w)
		b.transform()
		b.write(numbers, offsets, 0, 2*p.w, b.in, b.lanes)
	})
}

// columns transforms every column in place.
func (p *vectorComplex[T, C]) columns(x []C) {
	p.cols.inBatches(p.w, p.lanes, func(b *bank[T], lo, hi int) {
		loadColumns(b, x, p.w, lo, hi, p.h, 0)
		b.transform()
		storeColumns(b, x, p.w, lo, hi, 0)
	})
}

// visitColumns transforms the columns of the given rows, the rest taken as zero,
// and hands them out one by one.
func (p *vectorComplex[T, C]) visitColumns(x []C, visit func(k int, col []C)) {
	p.cols.inBatches(p.w, p.lanes, func(b *bank[T], lo, hi int) {
		loadColumns(b, x, p.w, lo, hi, len(x)/p.w, 0)
		b.transform()
		t, col := storeTile[C](b, 0), p.line.get()
		for k := lo; k < hi; k++ {
			for l := range col {
				col[l] = t[l*p.lanes+k-lo]
			}
			visit(k, col)
		}
		p.line.put(col)
	})
}
