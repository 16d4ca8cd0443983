package quality

import (
	"sync"
	"testing"

	"simview/internal/refraction"
)

// TestPupilsWeighedAtOnceHaveTheRatiosOfOneAfterAnother: the store is shared by all
// who ask.
func TestPupilsWeighedAtOnceHaveTheRatiosOfOneAfterAnother(t *testing.T) {
	const each = 3
	ratio := func(k int) float64 {
		mm := 2 + 0.01*float64(k%each) // some ask for the same diameter
		p, err := NewPupil(mm, func(x, y float64) float64 { return 0.1 * float64(k) * x * y })
		if err != nil {
			t.Error(err)
			return 0
		}
		return p.VisualStrehl(refraction.PowerVector{})
	}
	var once, again [2 * each]float64
	var wait sync.WaitGroup
	for k := range once {
		wait.Go(func() { once[k] = ratio(k) })
	}
	wait.Wait()
	for k := range again {
		again[k] = ratio(k)
	}
	if once != again {
		t.Errorf("at once %v, one after another %v", once, again)
	}
}
