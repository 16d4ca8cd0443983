package csf_test

import (
	"fmt"

	"simview/internal/csf"
)

func ExampleThreshold() {
	m := csf.WatsonAhumada{}
	fmt.Printf("%.3f at fixation, %.3f at 10 degrees\n", csf.Threshold(m, 4, 0), csf.Threshold(m, 4, 10))
	// Output: 0.018 at fixation, 0.075 at 10 degrees
}

func ExampleRemaining() {
	fmt.Printf("%.2f of contrast sensitivity is left\n", csf.Remaining(4, 10))
	// Output: 0.10 of contrast sensitivity is left
}
