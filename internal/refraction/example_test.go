package refraction_test

import (
	"fmt"

	"simview/internal/refraction"
)

// A spectacle refraction written in plus form, at the cornea.
func ExamplePowerVector_ToCornea() {
	s := refraction.SphereCylinder{Sphere: -8, Cylinder: 1.5, AxisDeg: 100}
	fmt.Println(s)
	p, err := s.PowerVector().ToCornea(12)
	fmt.Println(p, err)
	// Output:
	// -6.50 / -1.50 x 10
	// -6.03 / -1.27 x 10 <nil>
}

// A toric lens for 2.00 D that sits 10 degrees off leaves a third of it.
func ExamplePowerVector_Misaligned() {
	eye := refraction.SphereCylinder{Cylinder: -2, AxisDeg: 180}.PowerVector()
	fmt.Println(eye.Misaligned(10))
	// Output: +0.35 / -0.69 x 140
}
