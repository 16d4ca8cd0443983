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

// A card that is 309 pixels wide, and a picture of one minute of arc a sample.
func ExampleTrueDistanceMM() {
	pitch, err := light.PitchFromCard(309)
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := light.TrueDistanceMM(pitch, 1.0/60)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f mm a pixel: true size from %.0f mm\n", pitch, d)
	// Output:
	// 0.277 mm a pixel: true size from 952 mm
}

// What an eye of 75 lets through of what one of 25 does, red, green and blue.
func ExampleLensTint() {
	f, err := light.LensTint(75, 25)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %.2f %.2f\n", f[0], f[1], f[2])
	// Output:
	// 0.92 0.81 0.54
}
