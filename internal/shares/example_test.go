package shares_test

import (
	"fmt"

	"simview/internal/shares"
)

// Two causes that each cost one line of letters, and three together.
func ExampleExact() {
	lines := []float64{0, 1, 1, 3}
	r, err := shares.Exact(2, func(s shares.Set) float64 { return lines[s] })
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("shares %.1f and %.1f, put right %.0f and %.0f, together %+.0f\n", r.Share[0], r.Share[1], r.PutRight[0], r.PutRight[1], r.Pair[0][1])
	// Output: shares 1.5 and 1.5, put right 2 and 2, together +1
}

// Ten causes are too many for all sets.
func ExampleSampled() {
	most := func(s shares.Set) float64 { // the worst cause alone counts
		for i := 9; i >= 0; i-- {
			if s.Has(i) {
				return float64(i)
			}
		}
		return 0
	}
	_, err := shares.Exact(10, most)
	fmt.Println(err)
	r, _ := shares.Sampled(10, most, shares.Sampling{Seed: 1, Within: 0.05, MaxOrders: 100000})
	fmt.Println(r.Error[9] <= 0.05, r.Share[9] > r.Share[3])
	// Output:
	// shares: exact for at most 8 causes (got 10, which would take 1024 values); hint: take sampled shares, which say their error
	// true true
}
