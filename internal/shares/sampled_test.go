package shares_test

import (
	"math"
	"testing"

	"simview/internal/shares"
)

// TestSampledSharesLieWithinTheirError holds them to the exact ones over many
// seeds: of shares estimated from at least 32 orders, 95 in 100 lie within two
// standard errors, here within 92 to 98 in 100 (400 shares that partly hang
// together, standard deviation of the count about 1.5 in 100).
func TestSampledSharesLieWithinTheirError(t *testing.T) {
	const n, seeds = 4, 100
	v := anyGame(n, 5)
	want := exact(t, n, v)
	within := 0
	for seed := range uint64(seeds) {
		r, err := shares.Sampled(n, v, shares.Sampling{Seed: seed, Within: 1e-6, MaxOrders: 200})
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range r.Error {
			if math.Abs(r.Share[i]-want.Share[i]) <= 2*e {
				within++
			}
		}
	}
	if share := float64(within) / (n * seeds); share < 0.92 || share > 0.98 {
		t.Errorf("%.3f of the shares lie within two standard errors", share)
	}
}

func TestSamplingStopsAtTheErrorAskedFor(t *testing.T) {
	v := anyGame(6, 9)
	for _, within := range []float64{0.5, 0.1} {
		r, err := shares.Sampled(6, v, shares.Sampling{Seed: 1, Within: within, MaxOrders: 1e5})
		if err != nil {
			t.Fatal(err)
		}
		if worst := max(r.Error[0], r.Error[1], r.Error[2], r.Error[3], r.Error[4], r.Error[5]); worst > within || r.Orders == 1e5 {
			t.Errorf("asked for %g: error %g after %d orders", within, worst, r.Orders)
		}
	}
	short, err := shares.Sampled(6, v, shares.Sampling{Seed: 1, Within: 1e-9, MaxOrders: 40})
	if err != nil || short.Orders != 40 || short.Error[0] < 1e-3 {
		t.Errorf("%v: %d orders, error %v", err, short.Orders, short.Error)
	}
}

// TestTenCausesAreSampled: too many for all sets; the shares still add up, and
// the same seed gives the same.
func TestTenCausesAreSampled(t *testing.T) {
	const n = 10
	v := anyGame(n, 21)
	how := shares.Sampling{Seed: 3, Within: 0.1, MaxOrders: 5000}
	r, err := shares.Sampled(n, v, how)
	if err != nil {
		t.Fatal(err)
	}
	again, _ := shares.Sampled(n, v, how)
	var sum float64
	for i, s := range r.Share {
		sum += s
		if s != again.Share[i] {
			t.Errorf("share of %d: %v, then %v", i, s, again.Share[i])
		}
	}
	if !near(sum, r.Total()) || r.Pair != nil {
		t.Errorf("shares add up to %v of %v", sum, r.Total())
	}
}

func TestAnAdditiveGameNeedsNoLuck(t *testing.T) {
	worth := []float64{3, -1, 0, 2}
	r, err := shares.Sampled(4, func(s shares.Set) float64 {
		var sum float64
		for i, w := range worth {
			if s.Has(i) {
				sum += w
			}
		}
		return sum
	}, shares.Sampling{Seed: 1, Within: 0.01, MaxOrders: 100})
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range worth {
		if !near(r.Share[i], w) || r.Error[i] > rounding {
			t.Errorf("share of %d: %v ± %v", i, r.Share[i], r.Error[i])
		}
	}
}
