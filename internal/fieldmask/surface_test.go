//go:build !race

package fieldmask

import (
	"math"
	"testing"

	"simview/internal/unit"
)

// Without noise the estimate is what was measured: a check of the algebra.
func TestASurfaceOfCountlessTestsPassesThroughThePlaces(t *testing.T) {
	_, fields := realFields(t, 12)
	for _, f := range fields {
		f.Tests = 1e9
		s := mustSurface(t, f)
		for _, p := range f.Points {
			want := NeuralLoss(p.DB, 0)
			if got := s.LossDB(float64(p.At.X), float64(p.At.Y)); math.Abs(got-want) > 1e-3 { // noise left over, float32
				t.Fatalf("at %v: %v dB, measured %v", p.At, got, want)
			}
		}
	}
}

func TestSurfaceNeverOvershootsItsNeighbours(t *testing.T) {
	_, fields := realFields(t, 12)
	for _, f := range fields {
		s := mustSurface(t, f)
		for x := -24.0; x <= 24; x += 1.1 {
			for y := -20.0; y <= 20; y += 1.1 {
				lo, hi := math.Inf(1), 0.0
				for _, p := range f.Points { // places within two and a half grid steps
					if math.Hypot(float64(p.At.X)-x, float64(p.At.Y)-y) < 15 {
						lo, hi = math.Min(lo, NeuralLoss(p.DB, 0)), math.Max(hi, NeuralLoss(p.DB, 0))
					}
				}
				if v := s.LossDB(x, y); s.Tested(x, y) && (v < lo-1e-4 || v > hi+1e-4) {
					t.Fatalf("at (%v, %v): %v dB outside %v to %v", x, y, v, lo, hi)
				}
			}
		}
	}
}

func TestNoLossIsExactlyNone(t *testing.T) {
	s := mustSurface(t, patternField(t, "24-2", unit.Left, TotalDeviation, func(x, y float64) float64 { return 1.5 }),
		patternField(t, "10-2", unit.Left, TotalDeviation, func(x, y float64) float64 { return 0 }))
	if !s.None() {
		t.Error("every place is unharmed, yet the surface holds loss")
	}
}

func TestLossStopsAtTheNasalMidline(t *testing.T) {
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		s := mustSurface(t, patternField(t, "24-2", side, TotalDeviation, upperLoss))
		nose := -temple(side)
		if a, b := s.LossDB(12*nose, 0.5), s.LossDB(12*nose, -0.5); a < 23.9 || b > 0.1 {
			t.Errorf("%v eye, nasal: %v above and %v below the midline", side, a, b)
		}
		if a, b := s.LossDB(-12*nose, 0.5), s.LossDB(-12*nose, -0.5); a > 20 || b < 4 {
			t.Errorf("%v eye, temporal: %v above and %v below; should pass gradually", side, a, b)
		}
	}
}

func TestFineGridWinsNearFixation(t *testing.T) {
	wide := patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -4 })
	fine := patternField(t, "10-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -16 })
	s := mustSurface(t, fine, wide)
	if v := s.LossDB(1, 1); math.Abs(v-16) > 1e-4 {
		t.Errorf("near fixation %v dB, the fine grid says 16", v)
	}
	if v := s.LossDB(-21, 9); math.Abs(v-4) > 1.5 { // a quarter of the contradiction, under the noise of one test
		t.Errorf("far out %v dB, the wide grid says 4", v)
	}
	if at := fine.Points[0].At; math.Abs(s.LossDB(float64(at.X), float64(at.Y))-16) > RetestSD(17)+0.1 { // a coarse place two degrees off says 4; 17 dB of sensitivity are left
		t.Errorf("at the border of the fine grid %v dB, it says 16", s.LossDB(float64(at.X), float64(at.Y)))
	}
	const most = 2 * spanDB / (fadeSpacings * 6) * surfaceStep * 0.7 // dB a node: how fast the bounds of a 6-degree pattern give way before they lie 25 dB off
	for x := -20.0; x < 20; x += surfaceStep {
		if d := math.Abs(s.LossDB(x+surfaceStep, 1) - s.LossDB(x, 1)); d > most {
			t.Errorf("a step of %v dB at x = %v", d, x)
		}
	}
}

func TestLossIsHeldThenForgottenOutsideTheTest(t *testing.T) {
	s := mustSurface(t, patternField(t, "10-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -10 }))
	for x, want := range map[float64]float64{9: 10, 11.9: 10, 13.5: 5, 15: 0, 40: 0} {
		if got := s.LossDB(x, 0); math.Abs(got-want) > 0.01 {
			t.Errorf("at %v degrees: %v dB, want %v", x, got, want)
		}
	}
	if !s.Tested(8, 0) || s.Tested(10, 0) || s.Tested(80, 0) {
		t.Error("the tested area of a 10-2 ends at 9 degrees")
	}
}

func TestDeepLossIsUncertain(t *testing.T) {
	s := mustSurface(t, patternField(t, "24-2", unit.Right, Sensitivity, func(x, y float64) float64 {
		if x < 0 {
			return 8
		}
		return 30
	}))
	if !s.AtLeast(-9, 9) || s.AtLeast(9, 9) || s.AtLeast(-60, 9) {
		t.Error("below 15 dB, and only there and where tested, the depth is uncertain")
	}
}

func TestStrengthScalesDecibels(t *testing.T) {
	s := mustSurface(t, patternField(t, "24-2", unit.Right, TotalDeviation, upperLoss))
	if a, b := s.LossDB(-9, 9), s.Scaled(0.5).LossDB(-9, 9); math.Abs(b-a/2) > 1e-9 {
		t.Errorf("half strength of %v dB is %v", a, b)
	}
	if !s.Scaled(0).None() {
		t.Error("strength 0 must remove the loss")
	}
}

func TestFieldsOfTwoEyesAreNotMerged(t *testing.T) {
	r := patternField(t, "24-2", unit.Right, TotalDeviation, upperLoss)
	l := patternField(t, "10-2", unit.Left, TotalDeviation, upperLoss)
	if _, err := NewSurface(60, 0, r, l); err == nil {
		t.Error("two eyes were merged")
	}
	if _, err := NewSurface(60, 0); err == nil {
		t.Error("no field was accepted")
	}
	if _, err := NewSurface(math.NaN(), 0, r); err == nil {
		t.Error("an age of NaN was accepted")
	}
}
