package raytrace

import (
	"testing"
	"time"
)

// BenchmarkWavefrontAt6mm times the wavefront of the eyes of [allEyes] whose
// lenses are out of place. The baseline of the same run is the cheapest eye of
// the table, Le Grand's four spheres in their place: x-baseline says how many of
// its wavefronts one of the others costs.
func BenchmarkWavefrontAt6mm(b *testing.B) {
	eyes := allEyes(b)
	var baseline time.Duration
	for _, row := range []struct {
		name string
		eye  System
	}{{"baseline-four-spheres", eyes[0]}, {"displaced-implant", eyes[6]}, {"displaced-gradient-lens", eyes[5]}} {
		b.Run(row.name, func(b *testing.B) {
			for b.Loop() {
				must(row.eye.Wavefront(row.eye.OnAxis(), 6))(b)
			}
			each := b.Elapsed() / time.Duration(b.N)
			if baseline == 0 {
				baseline = each
			}
			b.ReportMetric(float64(each)/float64(baseline), "x-baseline")
		})
	}
}
