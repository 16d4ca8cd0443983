package fft

import (
	"unsafe"

	"gonum.org/v1/gonum/dsp/fourier"
)

// scalar is the type of number a bank works in.
type scalar interface{ float32 | float64 }

// bank transforms as many complex lines of one length as a register has lanes,
// with its own buffers; one goroutine uses it at a time. Element k of the lines
// is a cell: the real parts of all lanes, then the imaginary parts.
type bank[T scalar] struct {
	*bankPlan[T]
	in, out []T               // n cells, filled by the user, and as many to swap with
	part    []T               // two pieces of some cells
	offsets [2][mostLanes]int // where the rows of the lanes begin, in bytes
	other   *fourier.CmplxFFT // a length that is not 2^a 3^b 5^c
	one     []complex128      // a single line of such a length
}

// mostLanes is the largest number of lanes there is.
const mostLanes = 16

// partCells is how many cells of half spectra are made at a time; 64 of them,
// twice, stay in the first cache.
const partCells = 64

// bankPlan is what banks for one length share.
type bankPlan[T scalar] struct {
	k     *kernels
	n     int
	lanes int
	steps []step
	turns [][]T // real and imaginary parts of those of each step
	shelf shelf[*bank[T]]
}

// newBankPlan makes the passes for lines of n elements.
func newBankPlan[T scalar](k *kernels, n int) *bankPlan[T] {
	p := &bankPlan[T]{k: k, n: n, lanes: k.lanes}
	p.shelf.make = p.newBank
	if !smooth(n) {
		return p
	}
	p.steps = newSteps(n, k.largestRadix())
	for _, s := range p.steps {
		var turns []T
		for _, w := range s.turns {
			turns = append(turns, T(real(w)), T(imag(w)))
		}
		p.turns = append(p.turns, turns)
	}
	return p
}

func (p *bankPlan[T]) newBank() *bank[T] {
	size := p.n * 2 * p.lanes
	b := &bank[T]{bankPlan: p, in: aligned[T](size), out: aligned[T](size), part: aligned[T](2 * partCells * 2 * p.lanes)}
	if !smooth(p.n) {
		b.other, b.one = fourier.NewCmplxFFT(p.n), make([]complex128, p.n)
	}
	return b
}

// inBatches calls work for at most batch lines lo <= i < hi of lines at a time,
// on all cores, each with a bank of its own.
func (p *bankPlan[T]) inBatches(lines, batch int, work func(b *bank[T], lo, hi int)) {
	inBlocksOf(batch, lines, func(lo, hi int) {
		b := p.shelf.get()
		work(b, lo, hi)
		p.shelf.put(b)
	})
}

// aligned returns n numbers that begin at a whole cache line.
func aligned[T scalar](n int) []T {
	const line = 64
	var t T
	size := int(unsafe.Sizeof(t))
	s := make([]T, n+line/size)
	skip := (line - int(uintptr(unsafe.Pointer(&s[0]))%line)) % line / size
	return s[skip : skip+n : skip+n]
}

// first is the address of the first element.
func first[E any](s []E) *byte { return (*byte)(unsafe.Pointer(unsafe.SliceData(s))) }

// size is that of one number in bytes.
func (p *bankPlan[T]) size() int {
	var t T
	return int(unsafe.Sizeof(t))
}

// register is the size of a register in bytes.
func (p *bankPlan[T]) register() int { return p.lanes * p.size() }

// cellAt is the address of cell k of s.
func (p *bankPlan[T]) cellAt(s []T, k int) *byte { return first(s[2*p.lanes*k:]) }

// transform turns the lines in b.in into their transforms, forward.
func (b *bank[T]) transform() {
	if b.other != nil {
		b.lineByLine()
		return
	}
	for i, s := range b.steps {
		b.k.pass[s.radix](first(b.out), first(b.in), s.stride, s.m, first(b.turns[i]))
		b.in, b.out = b.out, b.in
	}
}

func (b *bank[T]) lineByLine() {
	for lane := range b.lanes {
		for k := range b.one {
			c := b.in[2*b.lanes*k:]
			b.one[k] = complex(float64(c[lane]), float64(c[b.lanes+lane]))
		}
		b.other.Coefficients(b.one, b.one)
		for k, v := range b.one {
			c := b.in[2*b.lanes*k:]
			c[lane], c[b.lanes+lane] = T(real(v)), T(imag(v))
		}
	}
}
