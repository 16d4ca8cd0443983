package inspect_test

import (
	"fmt"
	"math"
	"strings"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/inspect"
	"simview/internal/unit"
)

// The parts of the wavefront of the built-in case's right eye.
func ExampleEye() {
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
	r, err := inspect.Eye(e, e.All(), cause.Viewing{DistanceM: math.Inf(1)}, []float64{10})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range r.Parts {
		fmt.Printf("%s: %s\n", p.By, strings.Join(p.From, ", "))
	}
	// Output:
	// typical: typical
	// lens: traced
	// cornea: generated
	// cylinder: measured
	// focus: computed
	// fixation: computed
}

// A frequency that is none is refused.
func ExampleEye_refused() {
	e, err := built()
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = inspect.Eye(e, nil, cause.Viewing{DistanceM: 4}, []float64{-10})
	fmt.Println(err)
	// Output: spatial frequency: must be 0 or more cycles per degree (got -10)
}
