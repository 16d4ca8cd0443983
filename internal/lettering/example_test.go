package lettering_test

import (
	"fmt"

	"simview/internal/lettering"
)

func ExampleStyle_Wrap() {
	for _, line := range (lettering.Style{PX: 16}).Wrap("Lens as measured, no other cause", 140) {
		fmt.Println(line)
	}
	// Output:
	// Lens as measured,
	// no other cause
}

func ExampleStyle_Has() {
	s := lettering.Style{PX: 16}
	fmt.Println(s.Has('µ'), s.Has('漢'))
	// Output: true false
}
