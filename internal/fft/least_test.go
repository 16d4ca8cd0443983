package fft

import (
	"fmt"
	"testing"
	"time"
)

// BenchmarkLeast reports the least time of one forward transform, which on a
// machine with other work says more than the mean. bench/fft/compare reads it.
func BenchmarkLeast(b *testing.B) {
	ways := map[string]*vectors{"plain": nil}
	for _, v := range available() {
		ways[v.name] = v
	}
	for _, s := range [][2]int{{1536, 1200}, {1536, 1152}, {2048, 2048}} {
		for name, v := range ways {
			b.Run(fmt.Sprintf("%s/%dx%d", name, s[0], s[1]), func(b *testing.B) { least(b, s[0], s[1], v) })
		}
	}
}

func least(b *testing.B, w, h int, v *vectors) {
	p, err := newReal2D(w, h, v)
	if err != nil {
		b.Fatal(err)
	}
	x, f := noise(w, h), make([]complex64, h*p.HalfWidth())
	best := time.Hour
	for b.Loop() {
		began := time.Now()
		p.Forward(f, x)
		best = min(best, time.Since(began))
	}
	b.ReportMetric(best.Seconds()*1e3, "least-ms")
}
