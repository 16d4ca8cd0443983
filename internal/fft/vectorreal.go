package fft

import "unsafe"

// vectorReal is a Real2D by assembly, in single precision throughout.
type vectorReal struct {
	w, h, half int
	lanes      int
	rows, cols *bankPlan[float32]
	spare      shelf[[]complex64]
}

func newVectorReal(w, h int, k *kernels) *vectorReal {
	p := &vectorReal{w: w, h: h, half: w/2 + 1, lanes: k.lanes}
	p.rows = newBankPlan[float32](k, w)
	p.cols = p.rows
	if h != w {
		p.cols = newBankPlan[float32](k, h)
	}
	p.spare.make = func() []complex64 { return make([]complex64, p.half*h) }
	return p
}

func (p *vectorReal) forward(dst []complex64, src []float32) {
	spectrum := halves(dst)
	p.rows.inBatches(p.h, 2*p.lanes, func(b *bank[float32], lo, hi int) {
		for i := range 2 {
			b.read(b.in[i*b.lanes:], 2*b.lanes, src, b.place(i, lo, hi, 2, p.w), 0, p.w)
		}
		b.transform()
		b.placePairs(lo, hi, 2*p.half)
		for from := 0; from < p.half; from += partCells {
			b.splitTo(spectrum, from, min(from+partCells, p.half))
		}
	})
	p.columns(dst, dst, 0)
}

func (p *vectorReal) inverse(dst []float32, src []complex64) {
	spare := p.spare.get()
	defer p.spare.put(spare)
	p.columns(spare, src, p.cols.register())
	spectrum, scale := halves(spare), float32(1/(float64(p.w)*float64(p.h)))
	p.rows.inBatches(p.h, 2*p.lanes, func(b *bank[float32], lo, hi int) {
		b.placePairs(lo, hi, 2*p.half)
		for from := 0; from < p.half; from += partCells {
			b.joinFrom(spectrum, scale, from, min(from+partCells, p.half))
		}
		b.transform()
		for i := range 2 {
			b.write(dst, b.place(i, lo, hi, 2, p.w), 0, p.w, b.in[(1-i)*b.lanes:], 2*b.lanes)
		}
	})
}

// halves is a slice of complex numbers as real and imaginary parts in turn.
func halves(x []complex64) []float32 {
	return unsafe.Slice((*float32)(unsafe.Pointer(unsafe.SliceData(x))), 2*len(x))
}

// placePairs places rows of numbers, two to a lane.
func (b *bank[T]) placePairs(lo, hi, rowLength int) {
	for i := range 2 {
		b.place(i, lo, hi, 2, rowLength)
	}
}

// parts are the two pieces of the half spectra in work.
func (b *bank[T]) parts() (x, y []T) {
	n := len(b.part) / 2
	return b.part[:n], b.part[n:]
}

// splitTo writes columns from <= k < to of the half spectra of the rows.
func (b *bank[T]) splitTo(rows []T, from, to int) {
	x, y := b.parts()
	z, done := b.in, 0
	if from == 0 {
		b.k.split(first(x), first(y), first(z), first(z), 1)
		done = 1
	}
	if k := from + done; k < to {
		b.k.split(b.cellAt(x, done), b.cellAt(y, done), b.cellAt(z, k), b.cellAt(z, b.n-k), to-k)
	}
	b.write(rows, &b.offsets[0], 2*from, 2*to, x, b.lanes)
	b.write(rows, &b.offsets[1], 2*from, 2*to, y, b.lanes)
}

// joinFrom is the way back from splitTo, times scale, with real and imaginary
// part exchanged.
func (b *bank[T]) joinFrom(rows []T, scale float32, from, to int) {
	x, y := b.parts()
	b.read(x, b.lanes, rows, &b.offsets[0], 2*from, 2*to)
	b.read(y, b.lanes, rows, &b.offsets[1], 2*from, 2*to)
	for k := from; k < to; k++ {
		if k == mirror(k, b.n) {
			b.dropImaginary(x, y, k-from)
		}
	}
	z, done := b.in, 0
	if from == 0 {
		b.k.join(first(z), first(z), first(x), first(y), scale, 1)
		done = 1
	}
	if k := from + done; k < to {
		b.k.join(b.cellAt(z, k), b.cellAt(z, b.n-k), b.cellAt(x, done), b.cellAt(y, done), scale, to-k)
	}
}

// dropImaginary leaves out what no real image can have.
func (b *bank[T]) dropImaginary(x, y []T, cell int) {
	im := (2*cell + 1) * b.lanes
	clear(x[im : im+b.lanes])
	clear(y[im : im+b.lanes])
}

// columns transforms the columns of src into dst, which may be src; swap moves
// the real parts into the place of the imaginary ones, on the way in and out.
func (p *vectorReal) columns(dst, src []complex64, swap int) {
	p.cols.inBatches(p.half, p.lanes, func(b *bank[float32], lo, hi int) {
		loadColumns(b, src, p.half, lo, hi, p.h, swap)
		b.transform()
		storeColumns(b, dst, p.half, lo, hi, swap)
	})
}
