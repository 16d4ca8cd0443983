//go:build !race

package fieldmask

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Second route: the extreme taken sample by sample.
func TestRunningExtremeIsThatOfTheSamples(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for n := 1; n < 40; n++ {
		src, got := make([]float32, n), make([]float32, n)
		for i := range src {
			src[i] = rng.Float32()
		}
		for r := range 9 {
			runExtreme(got, src, r, func(a, b float32) float32 { return max(a, b) })
			for i := range src {
				if want := slices.Max(src[max(i-r, 0):min(i+r+1, n)]); got[i] != want {
					t.Fatalf("%d samples, reach %d, at %d: %v, want %v", n, r, i, got[i], want)
				}
			}
		}
	}
}
