package fft

import (
	"fmt"
	"testing"
)

// Every radix comes up, and 1680 = 7 x 240 is a length left to gonum.
var benchSizes = [][2]int{{1536, 1152}, {1024, 1024}, {1500, 2000}, {2160, 1620}, {2160, 1680}}

// perSize runs both ways on each size: compare "fast" with "gonum lines".
func perSize(b *testing.B, fast, lines func(w, h int) func()) {
	for _, s := range benchSizes {
		for _, way := range []struct {
			name string
			make func(w, h int) func()
		}{{"fast", fast}, {"gonum lines", lines}} {
			b.Run(fmt.Sprintf("%dx%d/%s", s[0], s[1], way.name), func(b *testing.B) {
				run := way.make(s[0], s[1])
				for b.Loop() {
					run()
				}
			})
		}
	}
}

func BenchmarkReal2D(b *testing.B) {
	perSize(b, func(w, h int) func() {
		p, _ := NewReal2D(w, h)
		x, f := noise(w, h), make([]complex64, h*p.HalfWidth())
		return func() { p.Forward(f, x) }
	}, func(w, h int) func() {
		p, x, f := newGonum(w, h), noise(w, h), make([]complex64, h*(w/2+1))
		return func() { p.forward(f, x) }
	})
}

func BenchmarkReal2DInverse(b *testing.B) {
	perSize(b, func(w, h int) func() {
		p, _ := NewReal2D(w, h)
		x := noise(w, h)
		f := p.Forward(nil, x)
		return func() { p.Inverse(x, f) }
	}, func(w, h int) func() {
		p, x, f := newGonum(w, h), noise(w, h), make([]complex64, h*(w/2+1))
		p.forward(f, x)
		return func() { p.inverse(x, f) }
	})
}

// BenchmarkComplex2D transforms zeros, in place and again and again: noise would
// soon grow out of range, and the work does not depend on the values.
func BenchmarkComplex2D(b *testing.B) {
	perSize(b, func(w, h int) func() {
		p, _ := NewComplex2D(w, h)
		x := make([]complex128, w*h)
		return func() { p.Forward(x) }
	}, func(w, h int) func() {
		p, x := newGonum(w, h), make([]complex128, w*h)
		return func() { p.complexForward(x) }
	})
}

// BenchmarkComplexSingle2D is BenchmarkComplex2D in single precision; gonum has
// none and works in double.
func BenchmarkComplexSingle2D(b *testing.B) {
	perSize(b, func(w, h int) func() {
		p, _ := NewComplexSingle2D(w, h)
		x := make([]complex64, w*h)
		return func() { p.Forward(x) }
	}, func(w, h int) func() {
		p, x := newGonum(w, h), make([]complex128, w*h)
		return func() { p.complexForward(x) }
	})
}
