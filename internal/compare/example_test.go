package compare_test

import (
	"fmt"

	"simview/internal/casefile"
	"simview/internal/compare"
	"simview/internal/scene"
	"simview/internal/unit"
)

// The views of the built-in case's sheet.
func ExampleShots() {
	c, err := casefile.Demo()
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := compare.Shots(c, compare.Options{Eye: unit.Right})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range list {
		fmt.Printf("%s: %s\n", s.ID, s.Name)
	}
	// Output:
	// reference: Nothing wrong
	// lens: Displaced lens
	// cylinder: Leftover cylinder
	// cornea: Irregular cornea
	// scatter: Scattered light
	// field: Lost visual field
	// all: All together
	// fellow: The left eye
}

// By night lamps span more than a display, so the curve bends.
func ExampleCurve() {
	fmt.Println(compare.Curve(compare.ByScene, &scene.Scene{Night: true}))
	fmt.Println(compare.Curve("linear", &scene.Scene{Night: true}))
	// Output:
	// photographic
	// linear
}
