//go:build !race

package quality_test

import (
	"fmt"

	"simview/internal/quality"
	"simview/internal/refraction"
)

// The visual Strehl ratio of a clear 3 mm pupil in focus and a quarter dioptre
// out of it.
func ExamplePupil_VisualStrehl() {
	p, err := quality.NewPupil(3, func(x, y float64) float64 { return 0 })
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range []refraction.PowerVector{{}, {M: 0.25}, {M: 1}} {
		fmt.Printf("%+.2f D: %.2f\n", float64(d.M), p.VisualStrehl(d))
	}
	// Output:
	// +0.00 D: 1.00
	// +0.25 D: 0.57
	// +1.00 D: 0.03
}

// An eye that needs -1.50 D is put right by adding an error of +1.50 D.
func ExamplePupil_Refract() {
	eye := refraction.Sphere(-1.5)
	p, err := quality.NewPupil(4, eye.PathUM)
	if err != nil {
		fmt.Println(err)
		return
	}
	e, ratio := p.Refract(p.FlatStart())
	fmt.Printf("%s, ratio %.2f\n", e, ratio)
	// Output: +1.50, ratio 1.00
}
