//go:build !race

package acuity_test

import (
	"fmt"
	"math"

	"simview/internal/acuity"
)

// The mean healthy eye reads the chart through 4 mm, black letters and grey ones.
func ExampleObserver_LogMAR() {
	o, err := acuity.New(nil, 100*math.Pi*4, nil)
	if err != nil {
		panic(err)
	}
	for _, contrast := range []float64{1, 0.25} {
		r, err := o.LogMAR(acuity.MeanEye(4), acuity.Task{Contrast: contrast})
		if err != nil {
			panic(err)
		}
		fmt.Printf("contrast %.2f: %+.2f logMAR\n", contrast, r.LogMAR)
	}
	// Output:
	// contrast 1.00: -0.03 logMAR
	// contrast 0.25: +0.22 logMAR
}

// What an eye reads whose visual Strehl ratio is a tenth.
func ExampleFromVisualStrehl() {
	v, ok := acuity.FromVisualStrehl(0.1)
	fmt.Printf("%+.2f logMAR %v\n", v, ok)
	// Output: +0.23 logMAR true
}
