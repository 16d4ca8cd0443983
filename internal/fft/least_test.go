package fft

import (
	"fmt"
	"testing"
	"time"
)

// leastSizes are those that bench/fft/compare knows.
var leastSizes = [][2]int{{1536, 1200}, {1536, 1152}, {2048, 2048}, {1024, 1024}, {640, 480}}

// BenchmarkLeast reports the least time of one forward transform, which on a
// machine with other work says more than the mean. bench/fft/compare reads it.
func BenchmarkLeast(b *testing.B) {
	for _, v := range append(available(), nil) {
		name := "plain"
		if v != nil {
			name = v.name
		}
		eachLeast(b, name, func(w, h int) func() {
			p := mustReal(w, h, v)
			x, f := noise(w, h), make([]complex64, h*p.HalfWidth())
			return func() { p.Forward(f, x) }
		})
	}
	eachLeast(b, "gonum", func(w, h int) func() {
		p, x, f := newGonum(w, h), noise(w, h), make([]complex64, h*(w/2+1))
		return func() { p.forward(f, x) }
	})
}

func eachLeast(b *testing.B, name string, make func(w, h int) func()) {
	for _, s := range leastSizes {
		b.Run(fmt.Sprintf("%s/%dx%d", name, s[0], s[1]), func(b *testing.B) {
			run, best := make(s[0], s[1]), time.Hour
			for b.Loop() {
				began := time.Now()
				run()
				best = min(best, time.Since(began))
			}
			b.ReportMetric(best.Seconds()*1e3, "least-ms")
		})
	}
}
