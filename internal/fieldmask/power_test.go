//go:build !race

package fieldmask

import (
	"math"
	"testing"
)

// Tolerance: 3e-6 of an octave times a power of 2 is 4e-6, plus 1e-6 and what
// float32 rounds of exponents up to 40 (4e-6 × 0.7).
func TestPowerIsThatOfTheLibrary(t *testing.T) {
	const tol = 1e-5
	for x := 1e-6; x < 1e6; x *= 1.0137 {
		for _, p := range []float32{0, 0.1, 0.5, 1, 2} {
			if got, want := float64(power(float32(x), p)), math.Pow(float64(float32(x)), float64(p)); math.Abs(got/want-1) > tol {
				t.Fatalf("%v to the %v: %v, want %v", x, p, got, want)
			}
		}
	}
	if power(1, 0.3) != 1 || power(8, 0) != 1 {
		t.Error("one to any power, and anything to the power of zero, is one")
	}
}
