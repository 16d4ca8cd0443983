package quality

import (
	"sync"
	"testing"
)

// TestTheStoreOfWeighingsMayBeAskedBySeveralAtOnce: what is found is what was kept
// for that diameter.
func TestTheStoreOfWeighingsMayBeAskedBySeveralAtOnce(t *testing.T) {
	var s store
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for k := range 20 * manyDiameters {
				mm := float64(k % (2 * manyDiameters))
				if w, ok := s.of(mm); ok && w.ideal != mm {
					t.Errorf("the weights of %g mm are handed out for %g", w.ideal, mm)
				}
				s.keep(weights{diameterMM: mm, ideal: mm})
			}
		})
	}
	wait.Wait()
	if len(s.kept) != manyDiameters {
		t.Errorf("%d kept", len(s.kept))
	}
}
