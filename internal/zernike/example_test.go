package zernike_test

import (
	"fmt"

	"simview/internal/zernike"
)

// An eye measured over 6 mm, seen through its 4 mm pupil.
func ExampleTerms_Scale() {
	w := zernike.Terms{RadiusMM: 3, WavelengthNM: 555}.With(4, 0, 0.20)
	small, err := w.Scale(2)
	fmt.Printf("c(4,0) = %.3f µm, c(2,0) = %.3f µm, %v\n", small.At(4, 0), small.At(2, 0), err)
	_, err = w.Scale(4)
	fmt.Println(err)
	// Output:
	// c(4,0) = 0.040 µm, c(2,0) = -0.191 µm, <nil>
	// zernike: pupil radius 4 mm is wider than the measured 3 mm: nothing is known out there
}

// A coefficient from an instrument that writes Fringe terms.
func ExampleFromScheme() {
	j, c, err := zernike.FromScheme("fringe", 9, 0.5)
	n, m := zernike.NM(j)
	fmt.Printf("j=%d (%d,%d): %.4f µm, %v\n", j, n, m, c, err)
	// Output: j=12 (4,0): 0.2236 µm, <nil>
}
