package scenes_test

import (
	"fmt"

	"simview/scenes"
)

func ExampleBuiltins() {
	list, err := scenes.Builtins()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range list[:3] {
		fmt.Printf("%-14s %s\n", s.ID, s.Title)
	}
	// Output:
	// letters        Letter chart at 4 m
	// letters-faint  Faint letters at 4 m
	// letters-fading Fading letters at 1 m
}

func ExampleBuiltin() {
	s, err := scenes.Builtin("tide-table")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f x %.0f degrees at %.1f m, window %.0f x %.0f\n", s.WidthDeg, s.HeightDeg, s.DistanceM, s.Window.WidthDeg, s.Window.HeightDeg)
	// Output:
	// 30 x 22 degrees at 0.4 m, window 4 x 3
}
