//go:build !race

package cause_test

import (
	"fmt"
	"math"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/unit"
)

// The causes of the right eye of the case that is built in.
func ExampleResolve() {
	c, err := casefile.Demo()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := cause.Resolve(c, unit.Right)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, k := range e.Causes {
		fmt.Println(k.ID)
	}
	// Output:
	// lens
	// cylinder
	// cornea
	// scatter
	// field
}

// Strengths outside 0 to 3 are refused with a sentence that says so.
func ExampleStrengths_Check() {
	eyes, err := built()
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = eyes[unit.Right].State(cause.Only(cause.Lens, 4), cause.Viewing{DistanceM: math.Inf(1)}, cause.Refracted)
	fmt.Println(err)
	// Output: strength of lens: must be between 0 and 3 (got 4)
}
