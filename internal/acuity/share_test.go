package acuity_test

import (
	"math"
	"sync"
	"testing"

	"simview/internal/acuity"
)

// TestAnyTransferGivesAnAcuity that is a number with a standard error below half a
// line, whatever the phases; and the same one from several goroutines at once.
func TestAnyTransferGivesAnAcuity(t *testing.T) {
	o := observer(t, nil, 4, chart)
	odd := func(k float64) acuity.Transfer {
		return acuity.TransferFunc(func(fx, fy float64) complex128 {
			s, c := math.Sincos(k * (fx*fx - 0.7*fx*fy + math.Sin(fy)) / 20)
			return acuity.MeanEye(4).At(fx, fy) * complex(c, s)
		})
	}
	const eyes = 6
	var once, again [eyes]acuity.Result
	var wait sync.WaitGroup
	for k := range eyes {
		wait.Go(func() { again[k], _ = o.LogMAR(odd(float64(k)), acuity.Task{}) })
	}
	wait.Wait()
	for k := range eyes {
		r, err := o.LogMAR(odd(float64(k)), acuity.Task{})
		once[k] = r
		if err != nil || math.IsNaN(r.LogMAR) || !(r.SE >= 0 && r.SE <= 0.05) {
			t.Errorf("eye %d: %+v, %v", k, r, err)
		}
	}
	if once != again {
		t.Errorf("one after another %v, at once %v", once, again)
	}
	t.Logf("%+v", once)
}
