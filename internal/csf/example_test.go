package csf_test

import (
	"fmt"

	"simview/internal/csf"
)

func ExampleWatsonAhumada_Threshold() {
	m := csf.WatsonAhumada{}
	fmt.Printf("%.3f at fixation, %.3f at 10 degrees\n", m.Threshold(4, 0, 400), m.Threshold(4, 10, 400))
	// Output: 0.018 at fixation, 0.075 at 10 degrees
}

func ExampleNamed() {
	m, err := csf.Named("barten")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.3f in daylight, %.3f by moonlight\n", m.Name(), m.Threshold(4, 0, 1000), m.Threshold(4, 0, 1))
	// Output: Barten 1999: 0.020 in daylight, 0.280 by moonlight
}

func ExampleRemaining() {
	fmt.Printf("%.2f of contrast sensitivity is left\n", csf.Remaining(4, 10))
	// Output: 0.10 of contrast sensitivity is left
}
