package doubt_test

import (
	"fmt"
	"math"

	"simview/internal/doubt"
)

// A lens measured 1.0 mm off, ± 0.1 mm, whose blur goes with the square.
func ExamplePropagate() {
	off := doubt.Input{Name: "decentration", Unit: "mm", Measured: 1, SD: 0.1, Prior: doubt.Prior{SD: 1, High: 5}}
	blur := func(x []float64) []float64 { return []float64{x[0] * x[0]} }
	d, err := doubt.Propagate([]doubt.Input{off}, blur, doubt.Usual)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f to %.1f, settled %v\n", d.Numbers[0].Low, d.Numbers[0].High, d.Settled)
	// Output: 0.7 to 1.4, settled true
}

// Three runs of a slow model stand in for all others.
func ExampleSurface() {
	in := []doubt.Input{{Name: "pupil", Unit: "mm", Measured: 3, SD: 0.5}}
	slow := func(x []float64) []float64 { return []float64{math.Sqrt(x[0])} }
	var numbers [][]float64
	for _, x := range doubt.Places(in) {
		numbers = append(numbers, slow(x))
	}
	s, err := doubt.NewSurface(in, numbers)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, in truth %.2f\n", s.At([]float64{3.5})[0], slow([]float64{3.5})[0])
	// Output: 1.87, in truth 1.87
}
