package unit_test

import (
	"fmt"

	"simview/internal/unit"
)

// A loss of 20 dB in the field test is a hundredfold luminance; the same number
// of contrast decibels is a tenfold contrast.
func ExamplePerimetricDB() {
	fmt.Printf("%.0f\n", unit.PerimetricDB(20).Factor())
	fmt.Printf("%.0f\n", unit.ContrastDB(20).Factor())
	// Output:
	// 100
	// 10
}

// What is not known is filled in with a reason, and what is known is kept.
func ExampleValue() {
	var pupil unit.Value[unit.MM]
	fmt.Println(pupil.Given())
	pupil = pupil.Or(5.1, unit.Typical, "usual at 68 years")
	fmt.Printf("%.1f mm, %s: %s\n", pupil.V, pupil.From, pupil.Source)
	// Output:
	// false
	// 5.1 mm, typical: usual at 68 years
}
