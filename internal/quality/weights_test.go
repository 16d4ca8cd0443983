package quality

import (
	"math"
	"testing"

	"simview/internal/refraction"
)

// TestAPupilWeighedBeforeHasTheSameRatio: to the last bit, since the sums are
// the same ones.
func TestAPupilWeighedBeforeHasTheSameRatio(t *testing.T) {
	path := func(x, y float64) float64 { return 0.1*x*x*y + 0.2*y*y }
	ratio := func(mm float64) float64 {
		p, err := NewPupil(mm, path)
		if err != nil {
			t.Fatal(err)
		}
		return p.VisualStrehl(refraction.PowerVector{M: 0.25})
	}
	first, other, again := ratio(4.321), ratio(4.322), ratio(4.321)
	if first != again {
		t.Errorf("%v, then %v", first, again)
	}
	if first == other || math.IsNaN(first) {
		t.Errorf("two diameters share a weighing: %v", first)
	}
}

func TestTheStoreOfWeighingsStaysSmall(t *testing.T) {
	var s store
	for mm := range 3 * manyDiameters {
		s.keep(weights{diameterMM: float64(mm)})
	}
	if _, ok := s.of(0); ok || len(s.kept) != manyDiameters {
		t.Errorf("%d kept", len(s.kept))
	}
	if _, ok := s.of(3*manyDiameters - 1); !ok {
		t.Error("the newest is gone")
	}
}
