//go:build !race

package psf

import "testing"

// White light through every kind of aberration: nothing negative, all of it
// there, weights normalised.
func TestASpreadIsNeverNegativeAndAddsToOne(t *testing.T) {
	a, lines, opt := numpyCase()
	opt.N, opt.StepDeg = 0, 0
	p := compute(t, a, append(lines, Line{700, 0}), opt)
	sum := 0.0
	for _, v := range p.Pix {
		if v < 0 {
			t.Fatal("a negative sample")
		}
		sum += float64(v)
	}
	near(t, "sum", sum, 1, 1e-6) // float32 samples, rounding at random
	weights := 0.0
	for _, l := range p.Lines {
		weights += l.Weight
	}
	near(t, "weights", weights, 1, 1e-12)
	if len(p.Lines) != 3 {
		t.Errorf("%d lines kept, want the 3 that carry light", len(p.Lines))
	}
}
