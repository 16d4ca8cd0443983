package fft

import (
	"sync"

	"gonum.org/v1/gonum/dsp/fourier"
)

// lines transforms eight complex lines of one length at a time, with its own
// buffers; one goroutine uses it at a time.
type lines struct {
	steps []step            // the passes of a length 2^a 3^b 5^c
	other *fourier.CmplxFFT // any other length, line by line
	in    []cell            // element k of the lines, filled by the user
	out   []cell            // a buffer of the same length, swapped with in
	one   []complex128      // a single line
}

// linesPool gives out tools for lines of n elements that share their steps.
func linesPool(n int) *sync.Pool {
	var steps []step
	if smooth(n) {
		steps = newSteps(n, 4)
	}
	return &sync.Pool{New: func() any {
		t := &lines{steps: steps, in: make([]cell, n), out: make([]cell, n), one: make([]complex128, n)}
		if !smooth(n) {
			t.other = fourier.NewCmplxFFT(n)
		}
		return t
	}}
}

// transform turns the lines in t.in into their transforms, forward: those
// exchanged in real and imaginary part give the inverse, exchanged as well.
func (t *lines) transform() {
	if t.other != nil {
		t.lineByLine()
		return
	}
	for i := range t.steps {
		t.steps[i].run(t.out, t.in)
		t.in, t.out = t.out, t.in
	}
}

func (t *lines) lineByLine() {
	for lane := range lanes {
		t.other.Coefficients(t.one, t.line(lane))
		for k, v := range t.one {
			t.in[k].re[lane], t.in[k].im[lane] = real(v), imag(v)
		}
	}
}

// line copies one of the lines into t.one.
func (t *lines) line(lane int) []complex128 {
	for k := range t.in {
		t.one[k] = complex(t.in[k].re[lane], t.in[k].im[lane])
	}
	return t.one
}

// inBatches calls work for at most step lines lo <= i < hi of n at a time, each
// goroutine with a tool of its own from the pool.
func inBatches(pool *sync.Pool, n, step int, work func(t *lines, lo, hi int)) {
	InBlocks(n, func(lo, hi int) {
		t := pool.Get().(*lines)
		defer pool.Put(t)
		for ; lo < hi; lo += step {
			work(t, lo, min(lo+step, hi))
		}
	})
}
