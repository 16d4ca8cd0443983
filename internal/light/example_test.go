package light_test

import (
	"fmt"

	"simview/internal/light"
)

// An eye of 68 with a measured straylight of log s 1.45 at 7 degrees.
func ExampleGlareFromLogS() {
	g, err := light.GlareFromLogS(1.45, light.NormAtDeg, 0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("scale %.2f, of a normal eye %.2f\n", g.Scale, light.AgeScale(68))
	fmt.Printf("%.0f %% of the light leaves the core\n", 100*g.Leaving())
	// Output:
	// scale 4.99, of a normal eye 2.40
	// 47 % of the light leaves the core
}

// The wavelengths of the white-light PSF.
func ExampleWhite() {
	for _, l := range light.White(5) {
		fmt.Printf("%.0f nm %.3f\n", l.NM, l.Weight)
	}
	// Output:
	// 468 nm 0.045
	// 515 nm 0.218
	// 552 nm 0.440
	// 596 nm 0.223
	// 636 nm 0.074
}
